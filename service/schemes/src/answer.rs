//! What a comparison answers: both liabilities, the goods test, warnings and the workings.

use std::borrow::Cow;

use jiff::civil::Date;

pub use crate::adjustments::{BothSides, PartialExemptionYearAdjustment, UnpaidPurchaseAnswer};
pub use crate::cash_accounting::answer::{
    CashAccountingAnswer, CashCondition, CashConditionAnswer, CashConditionKind, CashLeavingAnswer, LeavingTime,
};
use crate::figures::Spend;
use crate::money::{Money, Percentage, Share, WholePounds};
use crate::period::Period;
use crate::thresholds::Limits;
use crate::words::words;
use crate::workings::Step;

pub use crate::standard::{DeMinimis, DeMinimisTest, PartialExemption, RecoveryBasis};

/// The nine boxes of the VAT Return (VAT Regulations 1995 reg 39; layout in VAT Notice 700/12).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Boxes {
    /// VAT due on sales and other outputs, with reverse charges and postponed imports.
    pub box1: Money,
    /// VAT due on goods acquired into Northern Ireland from the European Union.
    pub box2: Money,
    /// Box 1 + box 2.
    pub box3: Money,
    /// VAT reclaimed.
    pub box4: Money,
    /// The difference of boxes 3 and 4, never negative.
    pub box5: Money,
    /// Value of sales and other outputs.
    pub box6: WholePounds,
    /// Value of purchases and other inputs.
    pub box7: WholePounds,
    /// Value of goods supplied from Northern Ireland to the European Union.
    pub box8: WholePounds,
    /// Value of goods acquired into Northern Ireland from the European Union.
    pub box9: WholePounds,
}

/// The period under standard accounting.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StandardAccounting {
    /// Box 3.
    pub output_tax: Money,
    /// Box 4.
    pub input_tax: Money,
    /// Output tax less input tax; negative for a repayment.
    pub vat_payable: Money,
    /// The VAT on all purchases, whoever accounts for it.
    pub vat_on_purchases: Money,
    /// What of it is not recovered: blocked, not for the business, or used for exempt supplies.
    pub vat_not_recovered: Money,
    /// The return.
    pub boxes: Boxes,
    /// The partial exemption calculation, where there is one.
    pub partial_exemption: Option<PartialExemption>,
}

words! {
    /// Where the percentage of a part comes from.
    Basis {
        /// The category of business.
        Sector => "sector",
        /// The limited cost percentage.
        LimitedCost => "limited_cost",
    }
}

/// A part of the period in which one percentage applies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// Its days.
    pub days: Period,
    /// Flat rate turnover, with VAT.
    pub turnover: Money,
    /// The percentage applied, after any first-year reduction.
    pub percentage: Percentage,
    /// Where it comes from.
    pub basis: Basis,
    /// Id of the category of business on the part's first day.
    pub sector: String,
    /// The first-year reduction in it, in percentage points.
    pub first_year_reduction: Option<Percentage>,
    /// Flat rate VAT.
    pub vat: Money,
}

/// A category of business and the first day from which it applies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SectorAt {
    /// The first day: of the scheme's days in the period, or of a change.
    pub from: Date,
    /// Id of the category.
    pub sector: String,
}

/// Receipts for supplies of an earlier period, with the percentage in force when they were made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EarlierSupplies {
    /// The percentage.
    pub percentage: Percentage,
    /// The receipts, with VAT.
    pub turnover: Money,
    /// Flat rate VAT on them.
    pub vat: Money,
}

/// The days of a period that are not in the scheme.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutsideScheme {
    /// The days before the scheme's start and after its end.
    pub days: Vec<Period>,
    /// Ordinary VAT on the supplies made then.
    pub vat_on_sales: Money,
}

/// The period under the Flat Rate Scheme.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FlatRate {
    /// Flat rate turnover, with VAT.
    pub turnover: Money,
    /// The parts of the period.
    pub parts: Vec<Part>,
    /// The category of business on each day, also where a change of it changes no percentage.
    pub sector_at: Vec<SectorAt>,
    /// Receipts for supplies of earlier periods, with the cash method.
    pub earlier_supplies: Vec<EarlierSupplies>,
    /// What is accounted for on the ordinary rules, where the scheme covers only some of the days.
    pub outside_scheme: Option<OutsideScheme>,
    /// Box 4.
    pub input_tax: Money,
    /// Box 3 less box 4; negative for a repayment.
    pub vat_payable: Money,
    /// The return.
    pub boxes: Boxes,
    /// The partial exemption calculation on reverse charge purchases, where there is one.
    pub partial_exemption: Option<PartialExemption>,
}

/// One purchase line in the goods test.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TestedLine {
    /// Its position among the purchases.
    pub purchase: usize,
    /// What was bought.
    pub spend: Spend,
    /// Whether it counts as relevant goods.
    pub relevant: bool,
    /// What it counts for, with VAT: nothing where it does not count.
    pub amount: Money,
    /// Why.
    pub reason: &'static str,
    /// On what authority.
    pub authority: &'static [&'static str],
}

/// The limited cost test (VAT Regulations 1995 reg 55A(4)).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GoodsTest {
    /// The days tested.
    pub days: Period,
    /// Whether this is a limited cost business in the period.
    pub limited_cost_business: bool,
    /// Spending on relevant goods, with VAT.
    pub relevant_goods: Money,
    /// Flat rate turnover of the days tested.
    pub turnover: Money,
    /// Relevant goods as a percentage of turnover, two decimals; none where turnover is not positive.
    pub share_percentage: Option<Share>,
    /// 2% of turnover, to the nearest penny.
    pub two_percent_of_turnover: Money,
    /// £1,000 a year in proportion to the period, to the nearest penny.
    pub minimum_for_period: Money,
    /// The smallest spending in whole pence that passes.
    pub required: Money,
    /// Relevant goods less what is required.
    pub headroom: Money,
    /// Each purchase line, and why it counts or not.
    pub lines: Vec<TestedLine>,
}

/// What would turn the outcome of a goods test round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WhatWouldChange {
    /// The further spending on relevant goods that the test needs before the period ends; nothing where it is passed.
    pub spend_needed: Money,
    /// The most turnover with which the spending still passes; none where it passes with none.
    pub most_turnover: Option<Money>,
    /// The percentage of the category on the last day of the period, before any first-year reduction.
    pub category_percentage: Percentage,
    /// The limited cost percentage, before any first-year reduction.
    pub limited_cost_percentage: Percentage,
}

/// The limited cost test alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GoodsAnswer {
    /// The VAT period.
    pub period: Period,
    /// The test.
    pub goods_test: GoodsTest,
    /// What would turn its outcome round.
    pub what_would_change: WhatWouldChange,
    /// What the reader should know or do.
    pub warnings: Vec<Warning>,
    /// Every sum, in order.
    pub workings: Vec<Step>,
    /// What the answer leaves out, and who decides.
    pub cautions: Vec<Cow<'static, str>>,
    /// The law that it rests on.
    pub law: LawBehind,
}

/// The law that an answer rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LawBehind {
    /// Name of the set of tables.
    pub edition: String,
    /// The day on which they were last checked.
    pub checked_on: Date,
    /// The numbers used.
    pub used: Vec<LawUsed>,
}

words! {
    /// Which scheme costs less in the period.
    Cheaper {
        /// Standard accounting.
        Standard => "standard",
        /// The Flat Rate Scheme.
        FlatRate => "flat_rate",
        /// Neither.
        Equal => "equal",
    }
}

words! {
    /// What stands on the returns of both schemes alike.
    CommonKind {
        /// VAT that the customer accounts for: reverse charges, postponed imports and acquisitions.
        ReverseChargesAndImports => "reverse_charges_and_imports",
        /// Capital goods claimed under both.
        CapitalGoods => "capital_goods",
        /// Assets and deemed supplies with ordinary VAT under both.
        AssetsWithVatClaimed => "assets_with_vat_claimed",
        /// VAT from before registration.
        PreRegistration => "pre_registration",
        /// The annual adjustment of partial exemption.
        PartialExemptionYear => "partial_exemption_year",
    }
}

/// What stands on the returns of both schemes alike, so that the choice between them does not turn on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CommonItem {
    /// What it is.
    pub item: CommonKind,
    /// VAT due on both returns.
    pub output_tax: Option<Money>,
    /// VAT reclaimed on both; none where the two returns reclaim different amounts.
    pub input_tax: Option<Money>,
}

/// The difference after income tax or corporation tax at the marginal rate given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AfterTax {
    /// The saving, after tax.
    pub saving: Money,
    /// The Flat Rate Scheme less standard accounting, after tax.
    pub flat_rate_minus_standard: Money,
}

/// Both schemes side by side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comparison {
    /// Which costs less.
    pub cheaper: Cheaper,
    /// By how much.
    pub saving: Money,
    /// VAT payable under the Flat Rate Scheme less that under standard accounting.
    pub flat_rate_minus_standard: Money,
    /// The recoverable VAT on costs at which both cost the same.
    pub break_even_input_tax: Money,
    /// The difference after tax, where the marginal rate was given.
    pub after_tax: Option<AfterTax>,
    /// What stands on both returns alike.
    pub common_to_both: Vec<CommonItem>,
}

words! {
    /// How much a warning asks of its reader.
    Severity {
        /// Something must be done or decided.
        Action => "action",
        /// Something should be looked at.
        Attention => "attention",
        /// Good to know.
        Information => "information",
    }
}

words! {
    /// What a warning is about. The word of each is stable.
    WarningCode {
        /// The business is a limited cost business this period.
        LimitedCostBusiness => "limited_cost_business",
        /// Relevant goods lie within a tenth of the limit, on either side.
        GoodsCloseToLimit => "goods_close_to_limit",
        /// An assumption about goods for resale, hire or transport decides the goods test.
        GoodsTestRestsOnDefault => "goods_test_rests_on_default",
        /// The first-year reduction ends in this period or the next.
        FirstYearReductionEnds => "first_year_reduction_ends",
        /// A capital purchase of exactly the limit.
        CapitalGoodsAtLimit => "capital_goods_at_limit",
        /// A capital purchase just under the limit.
        CapitalGoodsUnderLimit => "capital_goods_under_limit",
        /// Capital goods on which VAT is claimed, to be remembered when they are sold.
        CapitalGoodsClaimed => "capital_goods_claimed",
        /// Exempt income on which the Flat Rate Scheme charges its percentage.
        ExemptIncomeTaxed => "exempt_income_taxed",
        /// A given VAT amount that is not what its rate makes.
        VatDiffersFromRate => "vat_differs_from_rate",
        /// Standard accounting would be partly exempt.
        StandardPartlyExempt => "standard_partly_exempt",
        /// The period ends after the law was last checked.
        LawNotCheckedForPeriod => "law_not_checked_for_period",
        /// VAT in prices that include it is rounded down.
        RoundingDownOfGrossPrices => "rounding_down_of_gross_prices",
        /// Two reduced rates were in force at once.
        TwoReducedRates => "two_reduced_rates",
        /// Turnover to come is more than the limit for joining the Flat Rate Scheme.
        JoiningLimitExceeded => "joining_limit_exceeded",
        /// It is close to that limit.
        JoiningLimitClose => "joining_limit_close",
        /// Income is more than the limit for leaving the Flat Rate Scheme, or expected to be.
        LeavingLimitExceeded => "leaving_limit_exceeded",
        /// It is close to that limit.
        LeavingLimitClose => "leaving_limit_close",
        /// Turnover to come would allow the registration to end.
        DeregistrationPossible => "deregistration_possible",
        /// Turnover is more than the limit for using cash accounting, or expected to be.
        CashAccountingLimitExceeded => "cash_accounting_limit_exceeded",
        /// A debt, error or purchase whose claim or correction needs attention.
        AdjustmentNeedsAttention => "adjustment_needs_attention",
        /// Input tax whose evidence is not held, or may not be enough.
        InputTaxEvidence => "input_tax_evidence",
        /// The category used is not that of the largest expected turnover.
        CategoryNotTheLargest => "category_not_the_largest",
        /// The scheme covers only some of the days.
        SchemeCoversPart => "scheme_covers_part",
        /// The business leaves the scheme.
        SchemeEnds => "scheme_ends",
        /// A change of category, and the day by which to tell HMRC.
        CategoryChanges => "category_changes",
        /// Turnover was shared out by days.
        SplitEstimatedByDays => "split_estimated_by_days",
        /// VAT that the Flat Rate Scheme accounts for and does not give back.
        VatWithoutRecovery => "vat_without_recovery",
        /// The category's percentage has not been read in the law itself.
        PercentageNotConfirmed => "percentage_not_confirmed",
        /// Goods of a motor trade in the goods test.
        MotorTradeGoods => "motor_trade_goods",
        /// The kind of spend does not fit the way it was supplied.
        SupplyContradictsSpend => "supply_contradicts_spend",
        /// Scale charges for cars, with no VAT on fuel claimed.
        FuelScaleChargeWithoutClaim => "fuel_scale_charge_without_claim",
        /// Scale charges beside fuel that is claimed for its business part only.
        FuelInTwoWays => "fuel_in_two_ways",
        /// Scale charges that cost more than the claim which they allow.
        FuelScaleChargeAboveClaim => "fuel_scale_charge_above_claim",
        /// Figures that cash accounting does not reach, among totals of money.
        SupplyOutsideCashAccounting => "supply_outside_cash_accounting",
        /// A condition for joining cash accounting is not met.
        CashAccountingNotOpen => "cash_accounting_not_open",
        /// The business must leave cash accounting.
        CashAccountingMustLeave => "cash_accounting_must_leave",
        /// What is outstanding on leaving cash accounting, and when it is accounted for.
        CashAccountingLeft => "cash_accounting_left",
        /// The totals of both schemes must be on one basis.
        TurnoverBasis => "turnover_basis",
        /// The period is longer than any ordinary VAT period.
        LongPeriod => "long_period",
        /// A day that is not worked out, and where to take it from.
        DueDateNotComputed => "due_date_not_computed",
        /// Bank holidays are not known for a part of the time asked about.
        WorkingDaysNotKnown => "working_days_not_known",
        /// Bank holidays of a part of that time may still be moved or added.
        BankHolidaysNotProclaimed => "bank_holidays_not_proclaimed",
        /// A partial exemption year that ends on an unusual day or has less than twelve months.
        LongerPeriodUnusual => "longer_period_unusual",
        /// A claim of a period that is not what its partial exemption calculation gives.
        ClaimDiffersFromCalculation => "claim_differs_from_calculation",
        /// The annual test was used, and the year passes no de minimis test.
        AnnualTestNotUpheld => "annual_test_not_upheld",
        /// The year's own attribution has another sum of input tax than its periods.
        AttributionChangesTotal => "attribution_changes_total",
        /// Residual input tax above the limit of the standard method override.
        StandardMethodOverridePossible => "standard_method_override_possible",
    }
}

/// Something that the reader should know or do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// What it is about.
    pub code: WarningCode,
    /// How much it asks.
    pub severity: Severity,
    /// In plain English.
    pub message: String,
    /// The figure measured, in pounds or per cent as the message says.
    pub measured: Option<String>,
    /// The limit that it was measured against.
    pub limit: Option<String>,
    /// The day to act by.
    pub act_by: Option<Date>,
    /// The lines that it is about, as paths into the request.
    pub lines: Vec<String>,
    /// On what authority.
    pub authority: &'static [&'static str],
}

/// What sort of number of the law it is, by the table that holds it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NumberKind {
    /// A dated number.
    Parameter,
    /// The percentage of a category of business.
    Sector,
    /// A band or charge of the road fuel scale charges.
    FuelScale,
}

/// A number of the law that the answer used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LawUsed {
    /// A parameter's id, or a category's.
    pub id: String,
    /// What sort of number it is.
    pub kind: NumberKind,
    /// Its value.
    pub value: String,
    /// The first day on which it applied.
    pub from: Date,
    /// The last, where it has ended.
    pub to: Option<Date>,
    /// On what authority.
    pub authority: Vec<&'static str>,
}

/// Relief for one debt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BadDebtRelief {
    /// The first day on which it may be claimed.
    pub earliest_claim: Date,
    /// The last.
    pub latest_claim: Date,
    /// Relief under each scheme.
    pub relief: BothSides,
}

/// VAT on one purchase before registration.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PreRegistrationClaim {
    /// Whether it may be claimed.
    pub claimable: bool,
    /// Why.
    pub reason: &'static str,
}

/// VAT on purchases before registration, the same under both schemes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PreRegistrationClaims {
    /// What may be claimed altogether.
    pub claimed: Money,
    /// Each purchase.
    pub purchases: Vec<PreRegistrationClaim>,
}

/// What goods on hand mean for the first ordinary return after leaving the scheme. It stands on no return of this answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LeavingAdjustment {
    /// VAT to claim on stock.
    pub stock_claim: Money,
    /// VAT due on capital goods on hand, which a fully taxable business recovers on the same return.
    pub capital_goods_vat: Money,
}

/// Errors of earlier returns together, and how they are corrected. They stand on no return of this answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Corrections {
    /// The net of the errors that may still be corrected: under-declared, or negative where over-declared.
    pub net_error: Money,
    /// Whether the return of the period may carry it under standard accounting.
    pub on_return_standard: bool,
    /// Whether it may under the Flat Rate Scheme, whose box 6 is another.
    pub on_return_flat_rate: bool,
    /// The last day for correcting each error, in the order of the request.
    pub correct_by: Vec<Date>,
    /// Whether each is still in time at the end of the period.
    pub in_time: Vec<bool>,
}

/// What was asked beside the period's own figures.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct AdjustmentsAnswer {
    /// Relief for each debt.
    pub bad_debts: Vec<BadDebtRelief>,
    /// VAT before registration.
    pub pre_registration: Option<PreRegistrationClaims>,
    /// Goods on hand on leaving the scheme.
    pub leaving: Option<LeavingAdjustment>,
    /// Errors of earlier returns.
    pub errors: Option<Corrections>,
    /// Relief repaid for each payment, in box 1.
    pub relief_repaid: Vec<BothSides>,
    /// Input tax repaid on each unpaid purchase, negative in box 4.
    pub unpaid_purchases: Vec<UnpaidPurchaseAnswer>,
    /// Input tax restored by each payment, in box 4.
    pub purchases_paid_later: Vec<BothSides>,
    /// The annual adjustment of partial exemption.
    pub partial_exemption_year: Option<PartialExemptionYearAdjustment>,
    /// The scale charge of each car.
    pub fuel_scale_charges: Vec<FuelScaleCharge>,
}

/// The scale charge of one car, under standard accounting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FuelScaleCharge {
    /// The emissions figure of its band, in g/km.
    pub band: i32,
    /// The charge, with VAT.
    pub charge: Money,
    /// The VAT in it.
    pub vat: Money,
    /// The charge without it.
    pub net: Money,
}

/// The share of an activity in expected turnover.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ActivityShare {
    /// Id of its category.
    pub sector: String,
    /// Its share, two decimals.
    pub share_percentage: Share,
    /// For building work, materials as a percentage of its turnover, two decimals.
    pub materials_percentage: Option<Share>,
    /// What sources say of such a category, and where they draw lines.
    pub notes: Vec<Cow<'static, str>>,
}

/// The choice of the category, for the user to make: shares of expected turnover, and what sources say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CategoryChoice {
    /// The category with the largest expected turnover; none where two are equal.
    pub largest: Option<String>,
    /// Whether it is the category that the calculation used on the period's first day.
    pub agrees: bool,
    /// Each activity, in the order of the request.
    pub shares: Vec<ActivityShare>,
    /// How the choice is made.
    pub notes: Vec<Cow<'static, str>>,
}

/// A comparison of both schemes for one period.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// The VAT period.
    pub period: Period,
    /// Standard accounting.
    pub standard: StandardAccounting,
    /// The Flat Rate Scheme.
    pub flat_rate: FlatRate,
    /// The limited cost test; none before April 2017.
    pub goods_test: Option<GoodsTest>,
    /// Both side by side.
    pub comparison: Comparison,
    /// What was asked beside the period's own figures.
    pub adjustments: AdjustmentsAnswer,
    /// The cash accounting scheme, where it was asked about.
    pub cash_accounting: Option<CashAccountingAnswer>,
    /// The activities between which the category was chosen, where they were given.
    pub category: Option<CategoryChoice>,
    /// The limits on turnover, where figures for them were given.
    pub limits: Option<Limits>,
    /// What the reader should know or do.
    pub warnings: Vec<Warning>,
    /// Every sum, in order.
    pub workings: Vec<Step>,
    /// What the answer leaves out, and who decides.
    pub cautions: Vec<Cow<'static, str>>,
    /// The law that it rests on.
    pub law: LawBehind,
}
