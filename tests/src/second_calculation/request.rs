//! What the second calculation reads of a request; a request with anything else in it is beyond it.

use crate::calendar::Day;
use serde::{Deserialize, Deserializer};

/// A comparison.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Request {
    /// The VAT period.
    pub period: Days,
    /// The business.
    pub business: Business,
    /// Totals of sales.
    #[serde(default)]
    pub sales: Vec<Sale>,
    /// Totals of purchases.
    #[serde(default)]
    pub purchases: Vec<Purchase>,
    /// How totals without a part are shared out.
    pub split_estimate: Option<String>,
    /// What the year tells of partial exemption.
    #[serde(default)]
    pub partial_exemption: GivenPartialExemption,
    /// What stands on the return beside the period's own figures.
    #[serde(default)]
    pub adjustments: Adjustments,
    /// The marginal rate of tax.
    pub marginal_tax_percentage: Option<String>,
    /// The caller's own name for it.
    pub reference: Option<String>,
}

/// A run of days.
#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
#[serde(deny_unknown_fields)]
pub struct Days {
    /// The first.
    #[serde(deserialize_with = "day")]
    pub start: Day,
    /// The last.
    #[serde(deserialize_with = "day")]
    pub end: Day,
}

impl Days {
    /// How many.
    pub fn count(self) -> i64 {
        crate::calendar::days(self.start, self.end)
    }

    /// Whether the day is one of them.
    pub fn hold(self, on: Day) -> bool {
        self.start <= on && on <= self.end
    }

    /// Those that both runs have.
    pub fn shared_with(self, other: Days) -> Option<Days> {
        let (start, end) = (self.start.max(other.start), self.end.min(other.end));
        (start <= end).then_some(Days { start, end })
    }
}

/// The business.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Business {
    /// Effective date of registration.
    #[serde(deserialize_with = "day")]
    pub registered_on: Day,
    /// First day in the scheme.
    #[serde(default, deserialize_with = "some_day")]
    pub flat_rate_from: Option<Day>,
    /// Last day in the scheme.
    #[serde(default, deserialize_with = "some_day")]
    pub flat_rate_until: Option<Day>,
    /// Day on which HMRC were told.
    #[serde(default, deserialize_with = "some_day")]
    pub liability_notified_on: Option<Day>,
    /// Category of business.
    pub sector: String,
    /// Its changes.
    #[serde(default)]
    pub sector_changes: Vec<SectorChange>,
    /// How turnover is counted.
    #[serde(default = "basic")]
    pub turnover_method: String,
}

fn basic() -> String {
    "basic".to_owned()
}

/// A change of the category.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SectorChange {
    /// Its day.
    #[serde(deserialize_with = "day")]
    pub on: Day,
    /// The new category.
    pub sector: String,
    /// What changed.
    pub reason: String,
}

/// A total of sales.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sale {
    /// How VAT treats it.
    pub treatment: String,
    /// What was sold.
    #[serde(default = "ordinary")]
    pub nature: String,
    /// Without VAT.
    pub net: Option<String>,
    /// The VAT.
    pub vat: Option<String>,
    /// With VAT.
    pub gross: Option<String>,
    /// Its days.
    pub part: Option<Days>,
    /// The percentage of earlier supplies.
    pub percentage_at_supply: Option<String>,
    /// Goods from Northern Ireland to the European Union.
    #[serde(default)]
    pub northern_ireland_to_eu: bool,
}

/// A total of purchases.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Purchase {
    /// What was bought.
    pub spend: String,
    /// Without VAT.
    pub net: Option<String>,
    /// The VAT.
    pub vat: Option<String>,
    /// With VAT.
    pub gross: Option<String>,
    /// What a lone figure is completed at.
    pub treatment: Option<String>,
    /// Who accounts for the VAT.
    #[serde(default = "ordinary")]
    pub supply: String,
    /// Which supplies it was used for.
    #[serde(default = "taxable")]
    pub used_for: String,
    /// The share used for the business.
    pub business_use_percentage: Option<String>,
    /// Whether the main activity is such.
    pub for_main_activity: Option<bool>,
    /// Its days.
    pub part: Option<Days>,
    /// What shows the claim.
    pub evidence: Option<String>,
    /// Blocked for another reason.
    #[serde(default)]
    pub vat_blocked: bool,
}

fn ordinary() -> String {
    "ordinary".to_owned()
}

fn taxable() -> String {
    "taxable".to_owned()
}

/// What the year tells of partial exemption.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GivenPartialExemption {
    /// The percentage of the year before.
    pub previous_year_percentage: Option<String>,
    /// What the annual test goes by.
    pub annual_test: Option<AnnualTest>,
}

/// What the annual test goes by.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AnnualTest {
    /// Whether the year before was de minimis.
    pub previous_year_de_minimis: bool,
    /// Input tax expected in the year.
    pub expected_input_tax: String,
}

/// What stands on the return beside the period's own figures.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Adjustments {
    /// Debts written off.
    #[serde(default)]
    pub bad_debts: Vec<BadDebt>,
    /// Purchases before registration.
    #[serde(default)]
    pub pre_registration: Vec<BoughtBefore>,
    /// Payments after relief.
    #[serde(default)]
    pub relief_repaid: Vec<ReliefRepaid>,
    /// Purchases unpaid for six months.
    #[serde(default)]
    pub unpaid_purchases: Vec<UnpaidPurchase>,
    /// Such purchases, paid after all.
    #[serde(default)]
    pub purchases_paid_later: Vec<PaidLater>,
    /// Cars with a road fuel scale charge.
    #[serde(default)]
    pub fuel_scale_charges: Vec<Car>,
    /// The annual adjustment of partial exemption.
    pub partial_exemption_year: Option<String>,
}

/// A debt written off.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BadDebt {
    /// Day of the supply.
    #[serde(deserialize_with = "day")]
    pub supplied_on: Day,
    /// Day on which payment was due.
    #[serde(default, deserialize_with = "some_day")]
    pub due_on: Option<Day>,
    /// VAT on what is unpaid.
    pub vat: String,
    /// What is unpaid with VAT.
    pub gross: String,
    /// The flat rate percentage when it was supplied.
    pub percentage_at_supply: Option<String>,
}

/// A purchase before registration.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BoughtBefore {
    /// Goods or services.
    pub kind: String,
    /// Day of the purchase.
    #[serde(deserialize_with = "day")]
    pub bought_on: Day,
    /// The VAT on it.
    pub vat: String,
    /// Whether still on hand.
    pub on_hand: Option<bool>,
}

/// A payment by a debtor after relief.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReliefRepaid {
    /// The relief.
    pub relief_claimed: String,
    /// What was unpaid then.
    pub outstanding_at_claim: String,
    /// The payment.
    pub payment: String,
    /// What of it went to other supplies.
    pub allocated_elsewhere: Option<String>,
}

/// A purchase unpaid for six months.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnpaidPurchase {
    /// Day of the supply.
    #[serde(deserialize_with = "day")]
    pub supplied_on: Day,
    /// Day on which payment was due.
    #[serde(default, deserialize_with = "some_day")]
    pub due_on: Option<Day>,
    /// Input tax claimed on it.
    pub input_tax_claimed: String,
    /// Its price with VAT.
    pub gross: String,
    /// What was paid.
    pub paid: String,
    /// Whether a flat rate user claimed it too.
    #[serde(default)]
    pub claimed_under_flat_rate: bool,
}

/// A payment for a purchase on which input tax was repaid.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaidLater {
    /// The input tax repaid.
    pub input_tax_repaid: String,
    /// What was unpaid then.
    pub unpaid_at_repayment: String,
    /// The payment.
    pub payment: String,
    /// Whether a flat rate user repaid it too.
    #[serde(default)]
    pub claimed_under_flat_rate: bool,
}

/// A car with a road fuel scale charge.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Car {
    /// Grams a kilometre.
    pub co2_emissions: Option<i64>,
    /// Cubic centimetres.
    pub engine_capacity: Option<i64>,
}

fn day<'text, D: Deserializer<'text>>(deserializer: D) -> Result<Day, D::Error> {
    let text = String::deserialize(deserializer)?;
    Day::read(&text).ok_or_else(|| serde::de::Error::custom(format!("{text} is no day")))
}

fn some_day<'text, D: Deserializer<'text>>(deserializer: D) -> Result<Option<Day>, D::Error> {
    day(deserializer).map(Some)
}
