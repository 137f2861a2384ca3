//! The standard method of partial exemption, with the three tests that let small exempt input tax through. It works from totals, so
//! that a return and a year are worked out alike.

mod annual_test;
mod answer;
mod de_minimis;
mod monthly;
mod percentage;
mod totals;
mod turning;

pub(crate) use annual_test::Expectation;
pub use answer::{DeMinimis, DeMinimisTest, PartialExemption, RecoveryBasis};
pub(crate) use totals::{Attributed, Totals};

use crate::figures::PartialExemptionGiven;
use crate::law::rule as cite;
use crate::lines::SaleLine;
use crate::money::{Money, Percentage, Rounding};
use crate::period::Period;
use crate::refusal::{PartialExemptionField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::input_tax::Claimable;
use de_minimis::Tests;
use monthly::MonthlyLimits;

/// What comes of attributing input tax.
pub(crate) enum Attribution {
    /// There are no exempt supplies and nothing was bought for any: all input tax is recovered.
    Fully,
    /// There is a partial exemption calculation.
    Partly { recoverable: Traced<Money>, calculation: Box<PartialExemption> },
}

static RESIDUAL: Rule = Rule {
    says: "The recoverable part of residual input tax, to the nearest penny.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::DECISION_ROUNDING],
};
static EXEMPT_INPUT_TAX: Rule = Rule {
    says: "Exempt input tax is what was used for exempt supplies and the part of residual input tax that is not recoverable.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::VAT_REGULATIONS_1995_REGULATION_106],
};
static ALL_RECOVERED: Rule = Rule {
    says: "A test is passed, so all input tax of the period is recovered.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_105A, cite::VAT_REGULATIONS_1995_REGULATION_106],
};
static RECOVERED_BY_ANNUAL_TEST: Rule = Rule {
    says: "The annual test may be used, so all input tax of the period is recovered, and the year's own tests decide.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_106ZA],
};
static PART_RECOVERED: Rule = Rule {
    says: "No test is passed, so what was used for taxable supplies and the recoverable part of residual input tax are recovered.",
    authority: &[cite::VATA_1994_SECTION_26, cite::VAT_REGULATIONS_1995_REGULATION_101],
};
static NOT_RECOVERED: Rule = Rule {
    says: "What the calculation does not give back of all input tax.",
    authority: &[cite::VATA_1994_SECTION_26, cite::VAT_REGULATIONS_1995_REGULATION_101],
};

/// What the year before and the year to come say of a period, where the request says it.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct OfTheYear {
    /// The percentage of the longer period before.
    pub previous_percentage: Option<Traced<Percentage>>,
    /// What the annual test is judged by.
    pub expectation: Option<Expectation>,
}

impl OfTheYear {
    /// What a request gives, each figure at its place.
    pub fn given(given: &PartialExemptionGiven, place: fn(PartialExemptionField) -> Place) -> Self {
        use PartialExemptionField::{ExpectedInputTax, PreviousYearDeMinimis, PreviousYearPercentage};
        Self {
            previous_percentage: given
                .previous_year_percentage
                .map(|percentage| Traced::given(percentage, place(PreviousYearPercentage))),
            expectation: given.annual_test.map(|test| Expectation {
                previous_year_de_minimis: Traced::given(test.previous_year_de_minimis, place(PreviousYearDeMinimis)),
                expected_input_tax: Traced::given(test.expected_input_tax, place(ExpectedInputTax)),
            }),
        }
    }
}

/// Attributes the input tax of lines to supplies (VATA 1994 s 26; VAT Regulations 1995 regs 101, 105A, 106 and 106ZA; Notice 706).
///
/// # Errors
/// Refuses where residual input tax cannot be attributed because the period has no supplies to form the fraction from, and
/// no simplified test is passed.
pub(crate) fn attribute(
    run: &mut Run<'_>,
    scope: Scope,
    (sales, input_tax): (&[SaleLine], &[Claimable]),
    period: Period,
    of_the_year: &OfTheYear,
) -> Result<Attribution, Refusal> {
    let attributed = Attributed::of_lines(sales, input_tax);
    // A business that was partly exempt shares its residual input tax by last year's percentage even before its first exempt
    // supplies of this year. Without that percentage its taxable supplies alone recover all of it; where there are none, no fraction
    // can be formed.
    let shared = attributed.has_residual()
        && (of_the_year.previous_percentage.is_some() || !attributed.has_taxable_supplies()?);
    if !attributed.is_partly_exempt() && !shared {
        return Ok(Attribution::Fully);
    }
    let totals = Totals::of(run, scope, &attributed)?;
    let (recoverable, calculation) = calculate(run, scope, &totals, (period, Place::Sales), of_the_year)?;
    Ok(Attribution::Partly { recoverable, calculation: Box::new(calculation) })
}

/// Works out what is recovered from the totals of a period or a year. `place` is where a refusal points.
///
/// # Errors
/// As [`attribute`].
pub(crate) fn calculate(
    run: &mut Run<'_>,
    scope: Scope,
    totals: &Totals,
    (period, place): (Period, Place),
    of_the_year: &OfTheYear,
) -> Result<(Traced<Money>, PartialExemption), Refusal> {
    let name = |id, label, rule| Name::new(scope, id, label, rule);
    let mut limits = MonthlyLimits::of(period);
    let mut tests = Tests { run: &mut *run, scope, totals, limits: &mut limits };
    let [first, second] = tests.simplified()?;
    let de_minimis_limit = tests.limit()?;

    let (percentage, basis) = match of_the_year.previous_percentage {
        Some(given) => (Some(percentage::of_previous_year(run, scope, given)), RecoveryBasis::PreviousYear),
        None => (percentage::of_supplies(run, scope, totals, &mut limits)?, RecoveryBasis::Period),
    };
    let residual = recoverable_residual(run, scope, totals.input_tax_both, percentage)?;
    let exempt_input_tax = match residual {
        Some(residual) => {
            let (exempt, both) = (totals.input_tax_exempt, totals.input_tax_both);
            let value = exempt.value.plus(both.value)?.minus(residual.value)?;
            let name = name("exempt_input_tax", "Exempt input tax", &EXEMPT_INPUT_TAX).gives(&[
                "exempt_input_tax",
                "tests/2/input_tax",
                "tests/2/exempt_part",
            ]);
            let operands = [exempt.operand(), both.operand(), residual.operand()];
            Some(run.step(name, value, Rounding::None, "{} + {} − {}", &operands))
        }
        None => None,
    };
    let mut tests = Tests { run: &mut *run, scope, totals, limits: &mut limits };
    let main = match exempt_input_tax {
        Some(exempt_input_tax) => tests.main(exempt_input_tax)?,
        None => tests.main_without_fraction()?,
    };
    let annual = match of_the_year.expectation {
        Some(expectation) => Some(annual_test::judge(run, scope, expectation, period)?),
        None => None,
    };

    let (rule, recovered) = if annual.as_ref().is_some_and(|(met, _)| *met) {
        (&RECOVERED_BY_ANNUAL_TEST, vec![totals.all_input_tax])
    } else if first.passed || second.passed || main.passed {
        (&ALL_RECOVERED, vec![totals.all_input_tax])
    } else if let Some(residual) = residual {
        (&PART_RECOVERED, vec![totals.input_tax_taxable, residual])
    } else {
        return Err(without_fraction(place));
    };
    let recoverable =
        run.total(name("recoverable", "Input tax recovered", rule).gives(&["recoverable"]), &recovered)?;
    let not_recovered = run.difference(
        name("not_recovered", "Input tax not recovered", &NOT_RECOVERED).gives(&["not_recovered"]),
        totals.all_input_tax,
        recoverable,
    )?;
    let (annual_test, annual_test_reason) = annual.unzip();
    let calculation = PartialExemption {
        percentage: percentage.map(|percentage| percentage.value),
        percentage_basis: percentage.map(|_| basis),
        taxable_supplies: totals.taxable_supplies.value,
        exempt_supplies: totals.exempt_supplies.value,
        input_tax_taxable: totals.input_tax_taxable.value,
        input_tax_exempt: totals.input_tax_exempt.value,
        input_tax_both: totals.input_tax_both.value,
        residual_recoverable: residual.map(|residual| residual.value),
        exempt_input_tax: exempt_input_tax.map(|tax| tax.value),
        de_minimis_limit,
        annual_test,
        annual_test_reason,
        simplified_test_1: first.passed,
        simplified_test_2: second.passed,
        main_test: main.passed,
        tests: [first, second, main],
        recoverable: recoverable.value,
        not_recovered: not_recovered.value,
    };
    Ok((recoverable, calculation))
}

/// The recoverable part of residual input tax; none where there is some and no percentage to share it by.
fn recoverable_residual(
    run: &mut Run<'_>,
    scope: Scope,
    both: Traced<Money>,
    percentage: Option<Traced<Percentage>>,
) -> Result<Option<Traced<Money>>, Refusal> {
    let name = |label| Name::new(scope, "residual_recoverable", label, &RESIDUAL).gives(&["residual_recoverable"]);
    Ok(match percentage {
        Some(percentage) => {
            let exact = both.value.share(percentage.value)?.to_money(Rounding::NearestPenny)?;
            let operands = [both.operand(), percentage.operand()];
            let name = name("Recoverable part of residual input tax");
            Some(run.step(name, exact, Rounding::NearestPenny, "{} × {} ÷ 100", &operands))
        }
        None if both.value.is_zero() => Some(run.total(name("Residual input tax: none"), &[both])?),
        None => None,
    })
}

fn without_fraction(place: Place) -> Refusal {
    Refusal::new(
        place,
        RefusalCode::PartialExemptionPercentageUnknown,
        "Input tax was used for both taxable and exempt supplies, but the period's supplies give no fraction to share it by: \
         they must be nought or more, and together more than nought. Give the period's supplies, or the percentage of the year before as \
         previous_year_percentage, or attribute the input tax by use to taxable or to exempt supplies.",
    )
}
