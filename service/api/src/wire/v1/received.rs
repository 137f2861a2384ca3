//! The second basis of a comparison: the same period by money received and paid.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::answer::{self as calculated, WarningCode};
use vat_schemes::figures::{Adjustments, Figures, TurnoverMethod};
use vat_schemes::refusal::Place;

use super::answer::{FlatRate, GoodsTest, StandardAccounting, Warning};
use super::request::{ComparisonRequest, GivenReceived};
use super::side_by_side::SideBySide;
use super::workings::{Step, Workings, is_of_received_lines};

/// Where the lines of this basis stand in the request, and its figures in the answer.
pub use super::workings::RECEIVED as PREFIX;

/// The period by money received and paid: the cash turnover method of the Flat Rate Scheme beside the cash accounting scheme (VAT
/// Regulations 1995 regulations 55G and 57). Pointers to its lines and figures begin with `/received`.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Received {
    /// The period under standard accounting with the cash accounting scheme.
    pub standard: StandardAccounting,
    /// The period under the Flat Rate Scheme with the cash turnover method.
    pub flat_rate: FlatRate,
    /// The goods test by money paid. `null` before 1 April 2017, when the test began (SI 2017/295).
    #[schema(required = true)]
    pub goods_test: Option<GoodsTest>,
    /// Both schemes side by side.
    pub comparison: SideBySide,
    /// What the reader should know or do on this basis.
    #[schema(max_items = 100000)]
    pub warnings: Vec<Warning>,
    /// Every sum that was made on this basis, in order; each names only steps of this list.
    #[schema(value_type = Vec<Step<'static>>, max_items = 100000)]
    pub workings: Workings,
}

/// The figures of the second basis. VAT from before registration, the annual adjustment of partial exemption and road fuel scale charges
/// are the same on both; what is asked only once is left out: bad debts and unpaid purchases, of which cash accounting has none, goods on
/// hand on leaving, earlier errors, the use of cash accounting, and the activities.
pub fn figures(request: &ComparisonRequest, received: &GivenReceived) -> Figures {
    let invoiced = Figures::from(request);
    let mut business = invoiced.business;
    business.turnover_method = TurnoverMethod::Cash;
    business.activities.clear();
    Figures {
        period: invoiced.period,
        business,
        sales: received.sales.iter().map(Into::into).collect(),
        purchases: received.purchases.iter().map(Into::into).collect(),
        adjustments: Adjustments {
            pre_registration: invoiced.adjustments.pre_registration,
            partial_exemption_year: invoiced.adjustments.partial_exemption_year,
            fuel_scale_charges: invoiced.adjustments.fuel_scale_charges,
            ..Adjustments::default()
        },
        partial_exemption: invoiced.partial_exemption,
        marginal_tax: invoiced.marginal_tax,
        cash_accounting: None,
        // The limits are tested once, beside the invoices.
        turnover: None,
        split_estimate: invoiced.split_estimate,
    }
}

/// The pointer to a place in the request, for a calculation from the received lines.
pub fn pointer(place: Place) -> String {
    if is_of_received_lines(place) { format!("{PREFIX}{place}") } else { place.to_string() }
}

impl From<calculated::Answer> for Received {
    fn from(answer: calculated::Answer) -> Self {
        let mut goods_test: Option<GoodsTest> = answer.goods_test.map(Into::into);
        for tested in goods_test.iter_mut().flat_map(|test| &mut test.lines) {
            tested.line.insert_str(0, PREFIX);
        }
        // Both bases are given, so there is nothing to warn of in that.
        let warnings = answer.warnings.into_iter().filter(|warning| warning.code != WarningCode::TurnoverBasis);
        let mut warnings: Vec<Warning> = warnings.map(Into::into).collect();
        for line in warnings.iter_mut().flat_map(|warning| &mut warning.lines) {
            if line.starts_with("/sales/") || line.starts_with("/purchases/") {
                line.insert_str(0, PREFIX);
            }
        }
        Self {
            standard: answer.standard.into(),
            flat_rate: answer.flat_rate.into(),
            goods_test,
            comparison: answer.comparison.into(),
            warnings,
            workings: Workings::received(answer.workings),
        }
    }
}
