//! What a request may ask about the cash accounting scheme. The schemas state every bound; `decode` keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::figures::{CashAccounting, CashLeaving, Outstanding};

use super::scalars::{GivenDate, GivenPercentage, UnsignedAmount};
use super::vocabulary::OutstandingTreatment;

/// The most totals that customers owe, and that are owed to suppliers.
pub const MAX_OUTSTANDING: usize = 100;

/// Whether the cash accounting scheme of standard accounting may be used, and what leaving it costs (VAT Regulations 1995 regulations
/// 56 to 65; VAT Notice 731). A fact that is not given comes back as a question. Whether the totals of the request are invoices or money
/// is said by `turnover_method`, not here.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenCashAccounting {
    /// Taxable supplies expected in the next twelve months, without VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expected_turnover: Option<UnsignedAmount>,
    /// Taxable supplies of the twelve months to the end of the period, without VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub past_turnover: Option<UnsignedAmount>,
    /// Where past supplies are above the limit: whether that happened for the first time and is not expected again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub not_to_be_repeated: Option<bool>,
    /// Where past supplies are above the limit: whether that came from genuine commercial activity.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub genuine_commercial_activity: Option<bool>,
    /// Whether all VAT Returns have been made, and all that is due has been paid or its payment agreed with HMRC.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub returns_and_payments_up_to_date: Option<bool>,
    /// Whether the past year is free of a conviction for a VAT offence, of a sum paid to compound proceedings, of a penalty for evasion
    /// and of removal from the scheme by HMRC.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no_vat_offence_in_past_year: Option<bool>,
    /// What is outstanding on leaving the scheme. Absent: the business does not leave.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaving: Option<GivenCashLeaving>,
}

/// What is outstanding when a business leaves the cash accounting scheme (VAT Regulations 1995 regulations 61, 64; HMRC manuals
/// VCAS6100, VCAS6250).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenCashLeaving {
    /// The last day in the scheme: within the period, and as a rule its last day.
    pub on: GivenDate,
    /// What customers owe for supplies made in the scheme. Absent means nothing.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub debtors: Vec<GivenDebtor>,
    /// What is owed to suppliers for supplies received in the scheme. Absent means nothing.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub creditors: Vec<GivenCreditor>,
    /// Taxable supplies of the three months to that day, without VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turnover_last_three_months: Option<UnsignedAmount>,
    /// Whether the business left later than at the end of the period in which it passed the limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_late: Option<bool>,
    /// Whether HMRC removed it from the scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub removed: Option<bool>,
    /// Whether its registration ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub deregistered: Option<bool>,
}

/// A total that customers owe.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenDebtor {
    /// How VAT treats what it is owed for.
    pub treatment: OutstandingTreatment,
    /// What is owed, with VAT, in pounds.
    pub gross: UnsignedAmount,
}

/// A total that is owed to suppliers.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenCreditor {
    /// How VAT treats what it is owed for.
    pub treatment: OutstandingTreatment,
    /// What is owed, with VAT, in pounds.
    pub gross: UnsignedAmount,
    /// The share of its VAT that may be recovered, in per cent: less than all where VAT is blocked, for private use or for exempt
    /// supplies. Absent: `100`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recoverable_percentage: Option<GivenPercentage>,
}

impl From<&GivenCashAccounting> for CashAccounting {
    fn from(given: &GivenCashAccounting) -> Self {
        Self {
            expected_turnover: given.expected_turnover.as_ref().map(|amount| amount.0),
            past_turnover: given.past_turnover.as_ref().map(|amount| amount.0),
            not_to_be_repeated: given.not_to_be_repeated,
            genuine_commercial_activity: given.genuine_commercial_activity,
            returns_and_payments_up_to_date: given.returns_and_payments_up_to_date,
            no_vat_offence_in_past_year: given.no_vat_offence_in_past_year,
            leaving: given.leaving.as_ref().map(Into::into),
        }
    }
}

impl From<&GivenCashLeaving> for CashLeaving {
    fn from(given: &GivenCashLeaving) -> Self {
        let debtors = given.debtors.iter();
        let creditors = given.creditors.iter();
        Self {
            on: given.on.0,
            debtors: debtors
                .map(|owed| Outstanding { treatment: owed.treatment.0, gross: owed.gross.0, recoverable: None })
                .collect(),
            creditors: creditors
                .map(|owed| Outstanding {
                    treatment: owed.treatment.0,
                    gross: owed.gross.0,
                    recoverable: owed.recoverable_percentage.as_ref().map(|share| share.0),
                })
                .collect(),
            turnover_last_three_months: given.turnover_last_three_months.as_ref().map(|amount| amount.0),
            left_late: given.left_late,
            removed: given.removed,
            deregistered: given.deregistered,
        }
    }
}
