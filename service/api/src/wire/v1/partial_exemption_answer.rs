//! The partial exemption calculation of a period or a year, and the answer of a year.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::answer as calculated;
use vat_schemes::partial_exemption_year::answer as year;

use super::answer::{LawUsed, Period, Warning};
use super::scalars::{Amount, Date, Percentage, Reference};
use super::vocabulary::{AdjustmentReturn, DeMinimis, RecoveryBasis};
use super::workings::{Step, Workings};

/// The partial exemption calculation of a period or a year by the standard method (VAT Regulations 1995 regulations 101, 105A, 106,
/// 106ZA).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PartialExemption {
    /// The recoverable percentage of residual input tax, rounded up to a whole per cent, or to two decimals in a large business
    /// (regulation 101(4), (5)). Absent where no fraction can be formed and none is needed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percentage: Option<Percentage>,
    /// Where the percentage comes from. Absent with `percentage`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percentage_basis: Option<RecoveryBasis>,
    /// Taxable supplies and those treated like them, without VAT, in pounds.
    pub taxable_supplies: Amount,
    /// Exempt supplies, in pounds.
    pub exempt_supplies: Amount,
    /// Input tax used only for taxable supplies, in pounds.
    pub input_tax_taxable: Amount,
    /// Input tax used only for exempt supplies, in pounds.
    pub input_tax_exempt: Amount,
    /// Input tax used for both, in pounds: residual.
    pub input_tax_both: Amount,
    /// The recoverable part of residual input tax, in pounds. Absent where residual input tax has no percentage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub residual_recoverable: Option<Amount>,
    /// Input tax attributed to exempt supplies, in pounds. Absent where residual input tax has no percentage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exempt_input_tax: Option<Amount>,
    /// £625 for each month of the period, in pounds to the nearest penny (regulation 106).
    pub de_minimis_limit: Amount,
    /// Whether the annual test may be used, so that all input tax is recovered until the year decides (regulation 106ZA). Absent
    /// where the request does not ask.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub annual_test: Option<bool>,
    /// Why, in plain English. Absent with `annual_test`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 1000)]
    pub annual_test_reason: Option<String>,
    /// Whether the first simplified test is passed (VAT Notice 706 section 11).
    pub simplified_test_1: bool,
    /// Whether the second simplified test is passed (VAT Notice 706 section 11).
    pub simplified_test_2: bool,
    /// Whether the main test is passed (regulation 106); `false` where it cannot be formed.
    pub main_test: bool,
    /// The three tests in the order in which they are made, with their measures.
    #[schema(max_items = 3, min_items = 3)]
    pub tests: Vec<DeMinimisTest>,
    /// The input tax recovered, in pounds.
    pub recoverable: Amount,
    /// The input tax that is not recovered, in pounds.
    pub not_recovered: Amount,
}

/// One test that lets small exempt input tax through. Its limits are inclusive.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct DeMinimisTest {
    /// Which test.
    pub test: DeMinimis,
    /// Whether it is passed.
    pub passed: bool,
    /// The input tax that it measures, in pounds. Absent where the main test cannot be formed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub input_tax: Option<Amount>,
    /// The most of it that passes, in pounds: £625 for each month, down to a whole penny.
    pub limit: Amount,
    /// `limit` less `input_tax`, in pounds; negative where the test fails on it. Absent with `input_tax`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub headroom: Option<Amount>,
    /// Exempt supplies, or in the main test exempt input tax, in pounds. Absent with `input_tax`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exempt_part: Option<Amount>,
    /// The most of it that passes, in pounds: half of all supplies, or in the main test of all input tax, down to a whole penny.
    pub exempt_part_limit: Amount,
    /// `exempt_part_limit` less `exempt_part`, in pounds; negative where the test fails on it. Absent with `input_tax`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exempt_part_headroom: Option<Amount>,
    /// What would turn the outcome, or how far it is from turning, in plain English.
    #[schema(max_length = 1000)]
    pub what_would_change: String,
}

/// A partial exemption year: the provisional recovery of its periods, its own calculation and the annual adjustment (VAT Regulations
/// 1995 regulations 99, 107). A calculation, not advice: HMRC and a qualified adviser decide. Members may be added: ignore those you
/// don't know.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PartialExemptionYearAnswer {
    /// The caller's own name for the request, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The year.
    pub year: Period,
    /// Its periods, in the order of the request.
    #[schema(max_items = 24)]
    pub periods: Vec<PeriodInYear>,
    /// The year as a whole.
    pub annual: AnnualAdjustment,
    /// Whether residual input tax is too small for the standard method override.
    pub standard_method_override: StandardMethodOverride,
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

/// A VAT period of a partial exemption year.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PeriodInYear {
    /// Its days.
    pub period: Period,
    /// Its calculation: provisional, until the year decides.
    pub partial_exemption: PartialExemption,
    /// What was claimed in it, in pounds.
    pub claimed: Amount,
}

/// The year's own calculation and the annual adjustment (VAT Regulations 1995 regulation 107).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct AnnualAdjustment {
    /// The calculation on the year's totals, with a percentage of their own.
    pub partial_exemption: PartialExemption,
    /// What was claimed in the periods altogether, in pounds.
    pub claimed: Amount,
    /// What may be recovered of the year's input tax, in pounds.
    pub entitlement: Amount,
    /// `entitlement` less `claimed`, in pounds: to claim, or negative to repay.
    pub adjustment: Amount,
    /// How the year comes out, in plain English.
    #[schema(max_length = 1000)]
    pub outcome: String,
    /// What is to be done with the adjustment, in plain English. It is no correction of errors (PE37600).
    #[schema(max_length = 1000)]
    pub what_to_do: String,
    /// The returns of which one carries it.
    #[schema(max_items = 2, min_items = 1)]
    pub returns: Vec<ReturnForAdjustment>,
}

/// A return that may carry the annual adjustment (VAT Regulations 1995 regulations 107(1), 107B(2), (3)).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ReturnForAdjustment {
    /// Which return.
    pub kind: AdjustmentReturn,
    /// The first day of its period.
    pub period_start: Date,
    /// The last day of its period; absent where it is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub period_end: Option<Date>,
}

/// Whether residual input tax is too small for the standard method override (VAT Regulations 1995 regulation 107E).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct StandardMethodOverride {
    /// Residual input tax of the year, in pounds.
    pub residual_input_tax: Amount,
    /// £50,000 a year in proportion to its length, in pounds, down to a whole penny. A group undertaking has half of it.
    pub limit: Amount,
    /// Whether residual input tax is at most that: the override then does not apply.
    pub within_limit: bool,
}

impl From<calculated::PartialExemption> for PartialExemption {
    fn from(method: calculated::PartialExemption) -> Self {
        Self {
            percentage: method.percentage.map(Percentage),
            percentage_basis: method.percentage_basis.map(RecoveryBasis),
            taxable_supplies: Amount(method.taxable_supplies),
            exempt_supplies: Amount(method.exempt_supplies),
            input_tax_taxable: Amount(method.input_tax_taxable),
            input_tax_exempt: Amount(method.input_tax_exempt),
            input_tax_both: Amount(method.input_tax_both),
            residual_recoverable: method.residual_recoverable.map(Amount),
            exempt_input_tax: method.exempt_input_tax.map(Amount),
            de_minimis_limit: Amount(method.de_minimis_limit),
            annual_test: method.annual_test,
            annual_test_reason: method.annual_test_reason,
            simplified_test_1: method.simplified_test_1,
            simplified_test_2: method.simplified_test_2,
            main_test: method.main_test,
            tests: method.tests.into_iter().map(Into::into).collect(),
            recoverable: Amount(method.recoverable),
            not_recovered: Amount(method.not_recovered),
        }
    }
}

impl From<calculated::DeMinimisTest> for DeMinimisTest {
    fn from(test: calculated::DeMinimisTest) -> Self {
        Self {
            test: DeMinimis(test.test),
            passed: test.passed,
            input_tax: test.input_tax.map(Amount),
            limit: Amount(test.limit),
            headroom: test.headroom.map(Amount),
            exempt_part: test.exempt_part.map(Amount),
            exempt_part_limit: Amount(test.exempt_part_limit),
            exempt_part_headroom: test.exempt_part_headroom.map(Amount),
            what_would_change: test.what_would_change,
        }
    }
}

impl PartialExemptionYearAnswer {
    /// The answer to a request with this reference.
    pub fn new(reference: Option<Reference>, answer: year::YearAnswer) -> Self {
        Self {
            reference,
            year: answer.year.into(),
            periods: answer.periods.into_iter().map(Into::into).collect(),
            annual: answer.annual.into(),
            standard_method_override: answer.standard_method_override.into(),
            warnings: answer.warnings.into_iter().map(Into::into).collect(),
            workings: Workings::new(answer.workings),
            cautions: answer.cautions,
            law: answer.law.into(),
        }
    }
}

impl From<year::PeriodInYear> for PeriodInYear {
    fn from(period: year::PeriodInYear) -> Self {
        Self {
            period: period.days.into(),
            partial_exemption: period.partial_exemption.into(),
            claimed: Amount(period.claimed),
        }
    }
}

impl From<year::Annual> for AnnualAdjustment {
    fn from(annual: year::Annual) -> Self {
        Self {
            partial_exemption: annual.partial_exemption.into(),
            claimed: Amount(annual.claimed),
            entitlement: Amount(annual.entitlement),
            adjustment: Amount(annual.adjustment),
            outcome: annual.outcome,
            what_to_do: annual.what_to_do,
            returns: annual.returns.into_iter().map(Into::into).collect(),
        }
    }
}

impl From<year::ReturnForAdjustment> for ReturnForAdjustment {
    fn from(carried: year::ReturnForAdjustment) -> Self {
        Self {
            kind: AdjustmentReturn(carried.kind),
            period_start: Date(carried.period_start),
            period_end: carried.period_end.map(Date),
        }
    }
}

impl From<year::MethodOverride> for StandardMethodOverride {
    fn from(measured: year::MethodOverride) -> Self {
        Self {
            residual_input_tax: Amount(measured.residual_input_tax),
            limit: Amount(measured.limit),
            within_limit: measured.within_limit,
        }
    }
}
