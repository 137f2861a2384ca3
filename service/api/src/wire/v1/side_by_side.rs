//! Both schemes side by side, on the wire.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::answer as calculated;

use super::scalars::Amount;
use super::vocabulary::{Cheaper, CommonKind};

/// Both schemes side by side.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SideBySide {
    /// Which costs less in the period.
    pub cheaper: Cheaper,
    /// By how much, in pounds; never negative.
    pub saving: Amount,
    /// VAT payable under the Flat Rate Scheme less VAT payable under standard accounting, in pounds.
    pub flat_rate_minus_standard: Amount,
    /// The recoverable VAT on costs at which both schemes cost the same, in pounds.
    pub break_even_input_tax: Amount,
    /// The difference after income tax or corporation tax; absent where the request gives no marginal rate.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub after_tax: Option<AfterTax>,
    /// What stands on the returns of both schemes alike, so that the choice does not turn on it; empty where there is nothing.
    #[schema(max_items = 10)]
    pub common_to_both: Vec<CommonItem>,
}

/// The difference after tax at the marginal rate given (HMRC manual BIM31585): VAT saved is profit.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct AfterTax {
    /// The saving after tax, in pounds.
    pub saving: Amount,
    /// The Flat Rate Scheme less standard accounting, after tax, in pounds.
    pub flat_rate_minus_standard: Amount,
}

/// Something that stands on the returns of both schemes alike.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct CommonItem {
    /// What it is.
    pub item: CommonKind,
    /// The VAT due on both returns, in pounds; absent where it has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub output_tax: Option<Amount>,
    /// The VAT reclaimed on both returns, in pounds; absent where it has none, or where one return reclaims less than the other.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub input_tax: Option<Amount>,
}

impl From<calculated::Comparison> for SideBySide {
    fn from(comparison: calculated::Comparison) -> Self {
        Self {
            cheaper: Cheaper(comparison.cheaper),
            saving: Amount(comparison.saving),
            flat_rate_minus_standard: Amount(comparison.flat_rate_minus_standard),
            break_even_input_tax: Amount(comparison.break_even_input_tax),
            after_tax: comparison.after_tax.map(|after| AfterTax {
                saving: Amount(after.saving),
                flat_rate_minus_standard: Amount(after.flat_rate_minus_standard),
            }),
            common_to_both: comparison.common_to_both.into_iter().map(Into::into).collect(),
        }
    }
}

impl From<calculated::CommonItem> for CommonItem {
    fn from(item: calculated::CommonItem) -> Self {
        Self {
            item: CommonKind(item.item),
            output_tax: item.output_tax.map(Amount),
            input_tax: item.input_tax.map(Amount),
        }
    }
}
