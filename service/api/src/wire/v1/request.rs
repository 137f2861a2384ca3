//! The request of a comparison. The schemas state every bound; `decode` keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::refusal::{ActivityField, Place};

use super::adjustments_request::GivenAdjustments;
use super::cash_accounting_request::GivenCashAccounting;
use super::partial_exemption_request::GivenPartialExemption;
use super::scalars::{ActivityDescription, GivenAmount, GivenDate, GivenPercentage, Reference, SectorId, SectorReason};
use super::threshold_request::Turnover;
use super::vocabulary::{
    InputTaxEvidence, PurchaseTreatment, SaleNature, SaleTreatment, SectorChangeReason, SpendKind, SplitEstimate,
    Supply, TurnoverMethod, UsedFor,
};

/// The most lines of sales, and of purchases.
pub const MAX_LINES: usize = 5000;
/// The most changes of the category of business.
pub const MAX_SECTOR_CHANGES: usize = 12;
/// The most activities of the business.
pub const MAX_ACTIVITIES: usize = 20;

/// One VAT period's totals and the facts of the business that go with them. Unknown fields are refused, and so is `null`:
/// leave out what does not apply.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ComparisonRequest {
    /// The caller's own name for the request; it comes back in the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The VAT period.
    pub period: GivenPeriod,
    /// The business.
    pub business: Business,
    /// Totals of sales. Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5000, required = false)]
    pub sales: Vec<Sale>,
    /// Totals of purchases; each purchase of capital goods is a line of its own. Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5000, required = false)]
    pub purchases: Vec<Purchase>,
    /// The same period by money received and paid, where `sales` and `purchases` are invoices: the comparison is then worked out
    /// on both bases. Only where `turnover_method` is `basic` or absent. Absent: it is worked out once.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub received: Option<GivenReceived>,
    /// What stands on the return beside the period's own figures, or is asked about with it. Absent means nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub adjustments: Option<GivenAdjustments>,
    /// The marginal rate of income tax or corporation tax on the business's profit, in per cent: the difference between the schemes is
    /// then shown after tax too (HMRC manual BIM31585). Absent: it is not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub marginal_tax_percentage: Option<GivenPercentage>,
    /// What is asked about the cash accounting scheme of standard accounting. Absent: nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cash_accounting: Option<GivenCashAccounting>,
    /// Turnover of the past and the future, seen from the period's last day: the limits for joining and leaving the Flat Rate Scheme,
    /// for cash accounting and for ending the registration are then tested. Absent: none of them is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turnover: Option<Turnover>,
    /// What the year before and the year to come say of partial exemption. Absent: the period's own supplies and tests decide for
    /// the time being.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub partial_exemption: Option<GivenPartialExemption>,
    /// How totals that do not say their part of the period are to be shared out where the percentage changes inside it, or where
    /// the scheme covers only some of its days. Absent: such totals are refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub split_estimate: Option<SplitEstimate>,
}

/// The period's totals by money received and paid (VAT Regulations 1995 regulations 55G and 57): the cash turnover method of the
/// Flat Rate Scheme beside the cash accounting scheme.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenReceived {
    /// Totals of money received for sales. Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5000, required = false)]
    pub sales: Vec<Sale>,
    /// Totals of purchases paid; each purchase of capital goods is a line of its own. Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5000, required = false)]
    pub purchases: Vec<Purchase>,
}

/// A run of days, both ends included.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenPeriod {
    /// The first day. A VAT period starts on 2011-01-04 at the earliest.
    pub start: GivenDate,
    /// The last day.
    pub end: GivenDate,
}

/// The facts of the business that its percentage depends on.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Business {
    /// Effective date of registration for VAT. The first-year reduction runs to the day before its first anniversary (VAT
    /// Regulations 1995 regulation 55JB).
    pub registered_on: GivenDate,
    /// The category of business of the main activity, as the business has chosen it (VAT Regulations 1995 regulation 55K); where
    /// `sector_changes` are given, the one before the first of them.
    pub sector: SectorId,
    /// Changes of the category of business, in the order of their days; those of earlier periods may stand too. From which day
    /// each counts is worked out (VAT Regulations 1995 regulation 55A(3), 55H). Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 12, required = false)]
    pub sector_changes: Vec<SectorChange>,
    /// The day on which the Flat Rate Scheme started or would start; inside the period, the days before it are accounted for in
    /// the ordinary way on the same return (VAT Regulations 1995 regulation 55B). Absent: the period's first day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat_rate_from: Option<GivenDate>,
    /// The last day in the scheme, where the business leaves it; inside the period, the days after it are accounted for in the
    /// ordinary way on the same return (VAT Regulations 1995 regulation 55Q). Absent: it stays.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat_rate_until: Option<GivenDate>,
    /// The day on which HMRC were told of the liability to register, or became fully aware of it, if later than registration
    /// (VAT Regulations 1995 regulation 55JB). Absent: not later.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liability_notified_on: Option<GivenDate>,
    /// How flat rate turnover is counted. Absent: `basic`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turnover_method: Option<TurnoverMethod>,
    /// The activities between which the category was chosen. Their shares of expected turnover come back as `category`, with what
    /// sources say; the choice stays the business's own (VAT Regulations 1995 regulation 55K). Absent: no shares are shown.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 20, required = false)]
    pub activities: Vec<Activity>,
    /// Why the business chose its category, for the record; it comes back in the answer's `category`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sector_reason: Option<SectorReason>,
}

/// One activity of the business, for the choice of its category (VAT Regulations 1995 regulation 55K).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Activity {
    /// What it is.
    pub description: ActivityDescription,
    /// The category of business that fits it.
    pub sector: SectorId,
    /// Turnover with VAT that is reasonably expected from it in the coming year, in pounds; not negative.
    pub expected_turnover: GivenAmount,
    /// For building work: the value of the materials supplied in it, in pounds; not negative. Below a tenth of the turnover the
    /// work is labour-only (note to the Table in regulation 55K). Absent: no share of materials is shown.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub materials: Option<GivenAmount>,
}

/// A change of the category of business (VAT Regulations 1995 regulations 55A(3), 55H, 55N).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SectorChange {
    /// The day on which the activities or their balance changed.
    pub on: GivenDate,
    /// The new category of business.
    pub sector: SectorId,
    /// What changed: it decides from which day the new category counts.
    pub reason: SectorChangeReason,
}

/// A total of sales of one kind. It gives one, two or three of `net`, `vat` and `gross`: two give the third, three must add up,
/// and one is completed at the rate of its treatment on the line's dates.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Sale {
    /// How VAT treats it.
    pub treatment: SaleTreatment,
    /// What was sold. Absent: `ordinary`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nature: Option<SaleNature>,
    /// Without VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub net: Option<GivenAmount>,
    /// The VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat: Option<GivenAmount>,
    /// With VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gross: Option<GivenAmount>,
    /// The days that the total belongs to, with the cash turnover method those on which the supplies were made; needed where the
    /// percentage applied changes inside the period, or where the scheme covers only some of its days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<GivenPeriod>,
    /// With the cash turnover method, for receipts that belong to supplies of an earlier period: the flat rate percentage in force
    /// when these were made, in per cent (VAT Regulations 1995 regulation 55G). A goods test does not look at it. Absent: the
    /// supplies were made in the period.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percentage_at_supply: Option<GivenPercentage>,
    /// Whether they are goods sent from Northern Ireland to the European Union, or costs of sending them: they stand in box 8 too (VAT
    /// Notice 700/12); services never, and income that is not from business in neither. Absent: false.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub northern_ireland_to_eu: Option<bool>,
}

/// A total of purchases of one kind; for `capital_goods`, one purchase. It gives one, two or three of `net`, `vat` and `gross`
/// like a sale.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Purchase {
    /// What was bought.
    pub spend: SpendKind,
    /// What a lone figure is completed at. Absent: `standard_rated`, and `outside_scope` for `wages_and_other_outside_scope`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub treatment: Option<PurchaseTreatment>,
    /// Who accounts for the VAT. For all but `ordinary`, `vat` is the VAT to account for. Absent: `ordinary`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply: Option<Supply>,
    /// Which supplies it was used for. Absent: `taxable`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub used_for: Option<UsedFor>,
    /// The share used for the business, in per cent. Absent: 100.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub business_use_percentage: Option<GivenPercentage>,
    /// For goods for resale or for hire out: whether selling or hiring out such goods is what the main business activity
    /// ordinarily does; for fuel and parts of vehicles in the transport category: whether the business owns or leases a vehicle
    /// for it (VAT Regulations 1995 regulation 55A(4)). Absent: true, but for `goods_for_hire_out` true only in the category
    /// `hiring-or-renting-goods`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub for_main_activity: Option<bool>,
    /// Whether its VAT is no input tax for a reason that the kind of spend does not tell: bought under a margin scheme, fitted into
    /// new houses, travel bought to sell on, or charged by someone who should not have charged it (VATA 1994 section 24; Input Tax
    /// Order 1992). Absent: false.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat_blocked: Option<bool>,
    /// What shows that its input tax may be claimed (VAT Regulations 1995 regulation 29). Absent: `vat_invoice`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub evidence: Option<InputTaxEvidence>,
    /// Without VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub net: Option<GivenAmount>,
    /// The VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat: Option<GivenAmount>,
    /// With VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gross: Option<GivenAmount>,
    /// The days that the total belongs to; needed only where the scheme covers only some of the period's days, or where the
    /// period straddles 2017-04-01, when the goods test began.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<GivenPeriod>,
}

impl ComparisonRequest {
    /// The category of business given at a place.
    pub fn sector_at(&self, place: Place) -> Option<&str> {
        let business = &self.business;
        match place {
            Place::Sector => Some(&business.sector.0),
            Place::SectorChangeSector(index) => business.sector_changes.get(index).map(|change| &*change.sector.0),
            Place::Activity(index, ActivityField::Sector) => {
                business.activities.get(index).map(|activity| &*activity.sector.0)
            }
            _ => None,
        }
    }
}
