//! What a request may give beside the period's own figures. The schemas state every bound; `decode` keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;

use super::scalars::{GivenAmount, GivenDate, GivenPercentage};
use super::vocabulary::BoughtBefore;

/// The most bad debts, and purchases before registration.
pub const MAX_ADJUSTMENTS: usize = 100;
/// The most cars with a scale charge.
pub const MAX_CARS: usize = 100;
/// The largest emissions figure of a car, in g/km.
pub const MAX_CO2: i32 = 1000;
/// The largest cylinder capacity of a car, in cubic centimetres.
pub const MAX_ENGINE: i32 = 20_000;
/// The most errors of earlier returns, and capital goods on hand.
pub const MAX_ERRORS: usize = 50;

/// What stands on the return beside the period's own figures (bad debts and relief repaid, VAT from before registration, unpaid
/// purchases, the partial exemption year, road fuel scale charges), or is asked about with it (goods on hand on leaving the scheme,
/// errors of earlier returns).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenAdjustments {
    /// Debts that customers did not pay and that are written off: relief is claimed in box 4 (VATA 1994 section 36; VAT Regulations
    /// 1995 regulations 55V, 165A). Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub bad_debts: Vec<GivenBadDebt>,
    /// Purchases made before registration, for the first return: their VAT is claimed in box 4 (VAT Regulations 1995 regulations
    /// 55F, 111). Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub pre_registration: Vec<GivenPreRegistration>,
    /// What is on hand on leaving the scheme (VAT Regulations 1995 regulations 55R, 55S). Absent: the business does not leave.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaving: Option<GivenLeaving>,
    /// Errors found in earlier returns (VAT Regulations 1995 regulation 34; VAT Notice 700/45). Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 50, required = false)]
    pub errors: Vec<GivenError>,
    /// Payments by debtors for whose debts relief was claimed: relief is repaid in box 1 (VAT Regulations 1995 regulation 171).
    /// Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub relief_repaid: Vec<GivenReliefRepaid>,
    /// Purchases not paid in full when six months are over: input tax is repaid, a negative entry in box 4 (VATA 1994 section 26A;
    /// VAT Regulations 1995 regulation 172H). Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub unpaid_purchases: Vec<GivenUnpaidPurchase>,
    /// Payments for purchases on which input tax was repaid so: it is claimed again in box 4 (VAT Regulations 1995 regulation 172I).
    /// Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub purchases_paid_later: Vec<GivenPurchasePaidLater>,
    /// The annual adjustment of partial exemption that stands on this return, in pounds: positive to claim, negative to repay (VAT
    /// Regulations 1995 regulation 107). It is in box 4 of both schemes; `POST /v1/partial-exemption-years` works it out. Absent: none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub partial_exemption_year: Option<GivenAmount>,
    /// Cars for which road fuel scale charges stand in for private use (VATA 1994 sections 56, 57; VIT55400), one entry a car. For
    /// standard accounting there are four ways with the VAT on fuel:
    ///
    /// - claim all of it, where all fuel is for the business: no entry here;
    /// - claim all of it, and account for private use by a scale charge for each car that is used privately: the entries here;
    /// - claim the business part, from a record of mileage: `business_use_percentage` of the purchase, and no entry here;
    /// - claim none on any vehicle: `business_use_percentage` `0`, and no entry here.
    ///
    /// A flat rate user recovers no VAT on fuel and owes no scale charge, so the Flat Rate Scheme is the same with and without
    /// entries. Only for periods of 1, 3 or 12 months that lie wholly in the Flat Rate Scheme and begin on a day for which
    /// `GET /v1/fuel-scale-charges` has a table. Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub fuel_scale_charges: Vec<GivenFuelScaleCar>,
}

/// A car with a road fuel scale charge: its emissions, or where it has no such figure the size of its engine.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenFuelScaleCar {
    /// CO2 emissions in whole g/km, as a JSON number. A figure between two bands goes down. Of a bi-fuel car give the lower of its
    /// two figures.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(minimum = 1, maximum = 1000, example = 163)]
    pub co2_emissions: Option<i32>,
    /// Only for a car without a CO2 figure: cylinder capacity in whole cubic centimetres, as a JSON number.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(minimum = 1, maximum = 20000, example = 1600)]
    pub engine_capacity: Option<i32>,
}

/// A debt that a customer did not pay.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenBadDebt {
    /// The day of the supply: not before registration.
    pub supplied_on: GivenDate,
    /// The day on which payment was due: the times for the claim run from the later of the two (VAT Regulations 1995 regulation
    /// 165A). Absent: not later than the supply.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due_on: Option<GivenDate>,
    /// The VAT charged on what is unpaid, in pounds; not negative, and not more than `gross`.
    pub vat: GivenAmount,
    /// What is unpaid with VAT, in pounds; more than 0.
    pub gross: GivenAmount,
    /// The flat rate percentage in force when the supply was made, in per cent: needed with the cash turnover method, and refused
    /// with any other (VAT Regulations 1995 regulation 55V).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percentage_at_supply: Option<GivenPercentage>,
}

/// VAT on a purchase made before registration (VAT Regulations 1995 regulation 111).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenPreRegistration {
    /// What was bought.
    pub kind: BoughtBefore,
    /// The day on which it was bought: before registration.
    pub bought_on: GivenDate,
    /// The VAT on it, in pounds; not negative.
    pub vat: GivenAmount,
    /// For goods: whether they were still on hand on the day of registration; only then can their VAT be claimed. For services it
    /// changes nothing. Absent: `true`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_hand: Option<bool>,
}

/// What a business has on hand when it leaves the scheme (VAT Regulations 1995 regulations 55R, 55S).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenLeaving {
    /// The last day in the scheme: in the period, or the day before it.
    pub on: GivenDate,
    /// Value without VAT, in pounds, of standard-rated stock on the day of joining on which VAT was recovered; not negative. Absent:
    /// 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stock_on_joining: Option<GivenAmount>,
    /// Value without VAT, in pounds, of standard-rated stock on the day of leaving on which VAT was not recovered; not negative.
    /// Absent: 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stock_on_leaving: Option<GivenAmount>,
    /// Values without VAT, in pounds, of capital goods on hand on which VAT was claimed in the scheme; none negative. Absent means
    /// none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 50, required = false)]
    pub capital_goods: Vec<GivenAmount>,
}

/// An error found in an earlier return (VAT Regulations 1995 regulation 34).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenError {
    /// The last day of the period in which it was made.
    pub period_end: GivenDate,
    /// The VAT under-declared, in pounds; negative where over-declared.
    pub amount: GivenAmount,
}

/// A payment by a debtor after relief (VAT Regulations 1995 regulation 171; HMRC manual VBDR4200).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenReliefRepaid {
    /// The relief that was claimed, in pounds; more than 0.
    pub relief_claimed: GivenAmount,
    /// What was outstanding with VAT when it was claimed, of the supplies on which it was claimed, in pounds; more than 0.
    pub outstanding_at_claim: GivenAmount,
    /// The payment, in pounds; more than 0.
    pub payment: GivenAmount,
    /// What of the payment went to supplies on which no relief was claimed, in pounds: payments go to the earliest supply first. Absent:
    /// nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub allocated_elsewhere: Option<GivenAmount>,
    /// The day of the payment, to be held against the period. Absent: it is taken to be in the period.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub paid_on: Option<GivenDate>,
}

/// A purchase not paid in full when six months are over (VAT Regulations 1995 regulation 172H).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenUnpaidPurchase {
    /// The day of the supply. The six months run from the later of this day and the one on which payment was due, and must end in the
    /// period.
    pub supplied_on: GivenDate,
    /// The day on which payment was due. Absent: not later than the supply.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due_on: Option<GivenDate>,
    /// The input tax claimed on it under standard accounting, in pounds; not negative.
    pub input_tax_claimed: GivenAmount,
    /// Its price with VAT, in pounds; more than 0.
    pub gross: GivenAmount,
    /// What of the price was paid when the six months were over, in pounds; not negative.
    pub paid: GivenAmount,
    /// Whether a flat rate user claimed the input tax too, as on capital goods. Absent: false.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub claimed_under_flat_rate: Option<bool>,
}

/// A payment for a purchase on which input tax was repaid because it was unpaid (VAT Regulations 1995 regulation 172I).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenPurchasePaidLater {
    /// The input tax that was repaid, in pounds; more than 0.
    pub input_tax_repaid: GivenAmount,
    /// What was unpaid with VAT when it was repaid, in pounds; more than 0.
    pub unpaid_at_repayment: GivenAmount,
    /// The payment, in pounds; more than 0.
    pub payment: GivenAmount,
    /// The day of the payment, to be held against the period. Absent: it is taken to be in the period.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub paid_on: Option<GivenDate>,
    /// Whether a flat rate user claimed and repaid the input tax too. Absent: false.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub claimed_under_flat_rate: Option<bool>,
}
