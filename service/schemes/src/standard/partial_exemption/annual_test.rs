//! The annual test: full recovery in every period of a year that is expected to be small enough.

use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Rounding};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

static ANNUAL_TEST: Rule = Rule {
    says: "All input tax may be recovered in every period of a year whose input tax is not expected to exceed the limit, where the year before \
           was de minimis; the year's own tests decide at its end.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_106ZA],
};

/// What the conditions of the annual test are judged by.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Expectation {
    /// Whether the longer period before was de minimis.
    pub previous_year_de_minimis: Traced<bool>,
    /// Input tax expected in this longer period.
    pub expected_input_tax: Traced<Money>,
}

/// Whether both conditions are met, and why (VAT Regulations 1995 reg 106ZA).
pub(super) fn judge(
    run: &mut Run<'_>,
    scope: Scope,
    given: Expectation,
    period: Period,
) -> Result<(bool, String), Refusal> {
    let limit = run.amount(
        ParameterId::PartialExemptionAnnualTestInputTax,
        period.start(),
        "Input tax of a year up to which the annual test may be used",
    )?;
    let (previous, expected) = (given.previous_year_de_minimis, given.expected_input_tax);
    let within = expected.value <= limit.value;
    let met = run.step(
        Name::new(scope, "annual_test", "Whether the annual test may be used", &ANNUAL_TEST).gives(&["annual_test"]),
        previous.value && within,
        Rounding::None,
        "{} and {} ≤ {}",
        &[previous.operand(), expected.operand(), limit.operand()],
    );
    let limit = limit.value;
    let reason = match (previous.value, within) {
        (true, true) => format!(
            "The year before was de minimis and input tax of this year is not expected to exceed £{limit}, so all input tax of the period is \
             recovered, provided that the same is done in every period of the year. The year's own tests decide: what they don't let through is \
             repaid."
        ),
        (false, true) => {
            "The annual test may not be used: the year before was not de minimis. The period's own tests are made."
                .to_owned()
        }
        (true, false) => format!(
            "The annual test may not be used: input tax of £{} is expected in the year, which is more than £{limit}. The period's own tests are made.",
            expected.value
        ),
        (false, false) => format!(
            "The annual test may not be used: the year before was not de minimis, and input tax of £{} is expected in the year, which is more than \
             £{limit}. The period's own tests are made.",
            expected.value
        ),
    };
    Ok((met.value, reason))
}
