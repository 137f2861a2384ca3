//! What a comparison answers: both liabilities, the goods test, warnings and the workings.

use std::borrow::Cow;

use jiff::civil::Date;

use crate::figures::Spend;
use crate::money::{Money, Percentage, Share, WholePounds};
use crate::period::Period;
use crate::words::words;
use crate::workings::Step;

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

/// The partial exemption calculation of the period (VAT Regulations 1995 regs 101, 105A, 106).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartialExemption {
    /// The recoverable percentage of residual input tax; none where no fraction can be formed and none is needed.
    pub percentage: Option<Percentage>,
    /// Taxable supplies, and those treated like them, without VAT.
    pub taxable_supplies: Money,
    /// Exempt supplies.
    pub exempt_supplies: Money,
    /// Input tax used only for taxable supplies.
    pub input_tax_taxable: Money,
    /// Input tax used only for exempt supplies.
    pub input_tax_exempt: Money,
    /// Input tax used for both: residual.
    pub input_tax_both: Money,
    /// The recoverable part of residual input tax.
    pub residual_recoverable: Option<Money>,
    /// Input tax attributed to exempt supplies.
    pub exempt_input_tax: Option<Money>,
    /// £625 for each month of the period, to the nearest penny.
    pub de_minimis_limit: Money,
    /// Whether the first simplified test is passed.
    pub simplified_test_1: bool,
    /// Whether the second simplified test is passed.
    pub simplified_test_2: bool,
    /// Whether the main de minimis test is passed.
    pub main_test: bool,
    /// The input tax recovered.
    pub recoverable: Money,
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
    /// The first-year reduction in it, in percentage points.
    pub first_year_reduction: Option<Percentage>,
    /// Flat rate VAT.
    pub vat: Money,
}

/// The period under the Flat Rate Scheme.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FlatRate {
    /// Flat rate turnover, with VAT.
    pub turnover: Money,
    /// The parts of the period.
    pub parts: Vec<Part>,
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

/// Both schemes side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Comparison {
    /// Which costs less.
    pub cheaper: Cheaper,
    /// By how much.
    pub saving: Money,
    /// VAT payable under the Flat Rate Scheme less that under standard accounting.
    pub flat_rate_minus_standard: Money,
    /// The recoverable VAT on costs at which both cost the same.
    pub break_even_input_tax: Money,
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
        /// Exempt income on which the Flat Rate Scheme charges its percentage.
        ExemptIncomeTaxed => "exempt_income_taxed",
        /// A given VAT amount that is not what its rate makes.
        VatDiffersFromRate => "vat_differs_from_rate",
        /// Standard accounting would be partly exempt.
        StandardPartlyExempt => "standard_partly_exempt",
        /// The period ends after the law was last checked.
        LawNotCheckedForPeriod => "law_not_checked_for_period",
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
        /// The totals of both schemes must be on one basis.
        TurnoverBasis => "turnover_basis",
        /// The period is longer than any ordinary VAT period.
        LongPeriod => "long_period",
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

/// A number of the law that the answer used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LawUsed {
    /// A parameter's id, or a category's.
    pub id: String,
    /// Whether it is the percentage of a category of business.
    pub is_sector: bool,
    /// Its value.
    pub value: String,
    /// The first day on which it applied.
    pub from: Date,
    /// The last, where it has ended.
    pub to: Option<Date>,
    /// On what authority.
    pub authority: Vec<String>,
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
    /// What the reader should know or do.
    pub warnings: Vec<Warning>,
    /// Every sum, in order.
    pub workings: Vec<Step>,
    /// What the answer leaves out, and who decides.
    pub cautions: Vec<Cow<'static, str>>,
    /// Name of the set of law tables used.
    pub law_edition: String,
    /// The day on which those tables were last checked.
    pub law_checked_on: Date,
    /// The numbers of the law used.
    pub law_used: Vec<LawUsed>,
}
