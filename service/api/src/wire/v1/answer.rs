//! The answer of a comparison. Answers may grow: clients ignore members that they don't know.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;

use super::adjustments_answer::Adjustments;
use super::cash_accounting_answer::CashAccounting;
use super::category_answer::CategoryChoice;
use super::partial_exemption_answer::PartialExemption;
use super::received::Received;
use super::scalars::{Amount, AuthorityId, Date, Percentage, Reference, SectorId, Share, WholePounds};
use super::side_by_side::SideBySide;
use super::threshold_answer::Limits;
use super::vocabulary::{PercentageBasis, Severity, SpendKind, WarningKind};
use super::workings::{Step, Workings};

/// One VAT period under standard accounting and under the Flat Rate Scheme. A calculation, not advice: HMRC and a qualified
/// adviser decide. Members may be added: ignore those you don't know.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[schema(as = ComparisonAnswer)]
pub struct Comparison {
    /// The caller's own name for the request, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The VAT period.
    pub period: Period,
    /// The period under standard accounting.
    pub standard: StandardAccounting,
    /// The period under the Flat Rate Scheme.
    pub flat_rate: FlatRate,
    /// The goods test: whether this is a limited cost business in the period (VAT Regulations 1995 regulation 55A(4)). `null`
    /// before 1 April 2017, when the test began (SI 2017/295).
    #[schema(required = true)]
    pub goods_test: Option<GoodsTest>,
    /// Both schemes side by side.
    pub comparison: SideBySide,
    /// The same period by money received and paid; absent where the request gives none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub received: Option<Received>,
    /// Bad debts, VAT from before registration, road fuel scale charges, leaving the scheme and errors of earlier returns; absent where
    /// the request asks of none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub adjustments: Option<Adjustments>,
    /// Whether the cash accounting scheme may be used, and what leaving it costs; absent where the request asks nothing of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cash_accounting: Option<CashAccounting>,
    /// How the category of business was chosen; absent where the request gives neither activities nor a reason.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub category: Option<CategoryChoice>,
    /// The limits on turnover, as seen from the period's last day; absent where the request gives no turnover.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limits: Option<Limits>,
    /// What the reader should know or do.
    #[schema(max_items = 100000)]
    pub warnings: Vec<Warning>,
    /// Every sum that was made, in order, so that a reviewer can follow each figure to the request and to the law.
    #[schema(value_type = Vec<Step<'static>>, max_items = 100000)]
    pub workings: Workings,
    /// What the answer leaves out, and who decides, in plain English.
    #[schema(max_items = 100)]
    pub cautions: Vec<Cow<'static, str>>,
    /// The tables of law that were used.
    pub law: LawUsed,
}

/// A run of days, both ends included.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Period {
    /// The first day.
    pub start: Date,
    /// The last day.
    pub end: Date,
}

/// The period under standard accounting (VATA 1994 sections 24 to 26).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct StandardAccounting {
    /// Output tax, in pounds: box 3.
    pub output_tax: Amount,
    /// Input tax recovered, in pounds: box 4.
    pub input_tax: Amount,
    /// Output tax less input tax, in pounds; negative for a repayment.
    pub vat_payable: Amount,
    /// The VAT on all purchases, charged by the supplier or accounted for by the business, in pounds.
    pub vat_on_purchases: Amount,
    /// What of it is not recovered, in pounds: blocked, not for the business, or used for exempt supplies. It does not stand in the
    /// comparison, for it is lost under both schemes.
    pub vat_not_recovered: Amount,
    /// The VAT Return.
    pub boxes: Boxes,
    /// The partial exemption calculation; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub partial_exemption: Option<PartialExemption>,
}

/// The nine boxes of the VAT Return (VAT Regulations 1995 regulation 39; VAT Notice 700/12).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Boxes {
    /// VAT due on sales and other outputs, in pounds.
    pub box1: Amount,
    /// VAT due on goods acquired into Northern Ireland from the European Union, in pounds.
    pub box2: Amount,
    /// Box 1 + box 2, in pounds.
    pub box3: Amount,
    /// VAT reclaimed, in pounds.
    pub box4: Amount,
    /// The difference of boxes 3 and 4, in pounds; never negative.
    pub box5: Amount,
    /// Value of sales and other outputs, in whole pounds: without VAT under standard accounting, flat rate turnover with VAT.
    pub box6: WholePounds,
    /// Value of purchases and other inputs without VAT, in whole pounds.
    pub box7: WholePounds,
    /// Value of goods supplied from Northern Ireland to the European Union, in whole pounds.
    pub box8: WholePounds,
    /// Value of goods acquired into Northern Ireland from the European Union, in whole pounds.
    pub box9: WholePounds,
}

/// The period under the Flat Rate Scheme (VATA 1994 section 26B; VAT Regulations 1995 part VIIA).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct FlatRate {
    /// Flat rate turnover with VAT, in pounds (section 26B(2)).
    pub turnover: Amount,
    /// The parts of the period, or of its days in the scheme, one where the percentage applied does not change.
    #[schema(max_items = 1000, min_items = 1)]
    pub parts: Vec<FlatRatePart>,
    /// The category of business on each day of the period in the scheme, resolved from `business.sector` and its changes (VAT
    /// Regulations 1995 regulations 55A(3), 55K); also where a change of it changes no percentage.
    #[schema(max_items = 13, min_items = 1)]
    pub sector_at: Vec<SectorAt>,
    /// Receipts for supplies of earlier periods with the cash turnover method, one entry for each percentage; absent where there
    /// are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5000, required = false)]
    pub earlier_supplies: Vec<EarlierSupplies>,
    /// What is accounted for in the ordinary way on the same return; absent where the scheme covers the whole period.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outside_scheme: Option<OutsideScheme>,
    /// Input tax recovered, in pounds: box 4.
    pub input_tax: Amount,
    /// Box 3 less box 4, in pounds; negative for a repayment.
    pub vat_payable: Amount,
    /// The VAT Return.
    pub boxes: Boxes,
    /// The partial exemption calculation on reverse charge purchases; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub partial_exemption: Option<PartialExemption>,
}

/// A category of business and the first day from which it applies (VAT Regulations 1995 regulation 55A(3)).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SectorAt {
    /// The first day: of the period's days in the scheme, or of a change.
    pub from: Date,
    /// The category.
    pub sector: SectorId,
}

/// Receipts for supplies of earlier periods, at the percentage in force when they were made (VAT Regulations 1995 regulation 55G).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct EarlierSupplies {
    /// The percentage, in per cent, as the request gives it.
    pub percentage: Percentage,
    /// The receipts with VAT, in pounds: part of `turnover`.
    pub turnover: Amount,
    /// Flat rate VAT on them, in pounds to the nearest penny.
    pub vat: Amount,
}

/// The days of the period that are not in the scheme, accounted for in the ordinary way on the same return (VAT Regulations 1995
/// regulations 55B, 55C(2), 55Q).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct OutsideScheme {
    /// The days before the scheme's start and after its end.
    #[schema(max_items = 2, min_items = 1)]
    pub days: Vec<Period>,
    /// Ordinary VAT on the sales of these days, in pounds: in box 1 beside flat rate VAT.
    pub vat_on_sales: Amount,
}

/// A part of the period in which one percentage applies (VAT Regulations 1995 regulations 55D, 55H).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct FlatRatePart {
    /// The first day.
    pub start: Date,
    /// The last day.
    pub end: Date,
    /// Flat rate turnover of the part with VAT, in pounds.
    pub turnover: Amount,
    /// The percentage applied, in per cent, after any first-year reduction.
    pub percentage: Percentage,
    /// Where the percentage comes from.
    pub basis: PercentageBasis,
    /// The category of business on the part's first day, also where the limited cost percentage takes its place.
    pub sector: SectorId,
    /// The first-year reduction in it, in percentage points (regulation 55JB); absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first_year_reduction: Option<Percentage>,
    /// Flat rate VAT of the part, in pounds to the nearest penny.
    pub vat: Amount,
}

/// The goods test (VAT Regulations 1995 regulation 55A(4)), also called the limited cost test.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct GoodsTest {
    /// The first day tested: later than the period's where the scheme starts inside it, or where it straddles 1 April 2017.
    pub start: Date,
    /// The last day tested: earlier than the period's where the scheme ends inside it.
    pub end: Date,
    /// Whether this is a limited cost business in the period, so that the limited cost percentage applies.
    pub limited_cost_business: bool,
    /// Spending on relevant goods with VAT, in pounds.
    pub relevant_goods: Amount,
    /// Flat rate turnover of the days tested with VAT, in pounds.
    pub turnover: Amount,
    /// Relevant goods in per cent of turnover; `null` where turnover is not positive.
    #[schema(required = true)]
    pub share_percentage: Option<Share>,
    /// 2 per cent of turnover, in pounds to the nearest penny.
    pub two_percent_of_turnover: Amount,
    /// £1,000 a year in proportion to the length of the period, in pounds to the nearest penny.
    pub minimum_for_period: Amount,
    /// The smallest spending in whole pence that passes, in pounds.
    pub required: Amount,
    /// Relevant goods less what is required, in pounds; negative where the test is failed.
    pub headroom: Amount,
    /// Each purchase line, and why it counts or not; empty where spending was given as one figure.
    #[schema(max_items = 5000)]
    pub lines: Vec<TestedLine>,
}

/// One purchase line in the goods test.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct TestedLine {
    /// The line: a JSON Pointer (RFC 6901) into the request.
    #[schema(max_length = 32, pattern = "^(/received)?/purchases/[0-9]{1,4}$", example = "/purchases/0")]
    pub line: String,
    /// What was bought.
    pub spend: SpendKind,
    /// Whether it counts as relevant goods.
    pub relevant: bool,
    /// What it counts for with VAT, in pounds: `0.00` where it does not count.
    pub amount: Amount,
    /// Why, in plain English.
    #[schema(max_length = 1000)]
    pub reason: &'static str,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'static [&'static str],
}

/// Something that the reader should know or do.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Warning {
    /// What it is about.
    pub code: WarningKind,
    /// How much it asks.
    pub severity: Severity,
    /// In plain English.
    #[schema(max_length = 4000)]
    pub message: String,
    /// The figure measured, in pounds or per cent as the message says; absent where nothing was measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 32)]
    pub measured: Option<String>,
    /// The limit that it was measured against, in the same unit; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 32)]
    pub limit: Option<String>,
    /// The day to act by; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub act_by: Option<Date>,
    /// The lines that it is about: JSON Pointers (RFC 6901) into the request. Absent where it is about no line in particular.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 10000, required = false)]
    pub lines: Vec<String>,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'static [&'static str],
}

/// The tables of law that an answer used.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LawUsed {
    /// The name of the set of tables.
    #[schema(max_length = 64, example = "2026-11-25")]
    pub edition: String,
    /// The day on which the tables were last checked.
    pub checked_on: Date,
    /// The numbers of the law that were used.
    #[schema(max_items = 1000)]
    pub parameters: Vec<NumberUsed>,
}

/// A number of the law that an answer used.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct NumberUsed {
    /// The id of a dated number of the law, of a category of business, or of a band or charge of the road fuel scale charges.
    #[schema(max_length = 100, pattern = "^[a-z0-9_-]+$", example = "limited_cost_business")]
    pub id: String,
    /// Its value: an amount in pounds, a percentage in per cent, a number of days or a day.
    #[schema(max_length = 32, example = "16.5")]
    pub value: String,
    /// The first day on which it applied.
    pub from: Date,
    /// The last day on which it applied; absent while it is in force.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Date>,
    /// Where its history is to be read.
    #[schema(
        format = "uri-reference",
        max_length = 200,
        pattern = "^/v1/((parameters|sectors)/[a-z0-9_-]+|fuel-scale-charges\\?on=[0-9-]{10})$",
        example = "/v1/parameters/limited_cost_business"
    )]
    pub link: String,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: Vec<&'static str>,
}
