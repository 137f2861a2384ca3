//! The length of a period as limits in proportion to time use it, with its steps.

use crate::law::rule as cite;
use crate::money::{Money, Overflow, Ratio, Rounding};
use crate::period::{Length, Period};
use crate::run::Run;
use crate::workings::{Formula, Operand, Rule, Step, Traced};

static LENGTH: Rule = Rule {
    says: "Limits in proportion to a year count whole months; a period that is not whole months counts days of the year that begins at its start.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::DECISION_LENGTH_OF_PERIOD],
};

/// The length of a period, traced.
#[derive(Debug, Clone, Copy)]
pub(crate) enum TracedLength {
    Months(Traced<i32>),
    Days { days: Traced<i32>, year: Traced<i32> },
}

impl TracedLength {
    pub fn of(run: &mut Run<'_>, period: Period) -> Self {
        match period.length() {
            Length::Months(months) => Self::Months(count(run, "months", "Whole months", months, period)),
            Length::Days { days, year } => Self::Days {
                days: count(run, "days", "Days", days, period),
                year: count(run, "days_of_year", "Days of the year that begins with the first day", year, period),
            },
        }
    }

    /// A yearly amount in proportion to the length: exact value, formula with the amount first, and the operands after it.
    pub fn of_yearly(self, yearly: Traced<Money>) -> Result<(Ratio, &'static str, Vec<Operand>), Overflow> {
        match self {
            Self::Months(months) => {
                let share = Ratio::new(i128::from(months.value), 12)?;
                Ok((yearly.value.exact().times(share)?, "{} × {} ÷ 12", vec![yearly.operand(), months.operand()]))
            }
            Self::Days { days, year } => {
                let share = Ratio::new(i128::from(days.value), i128::from(year.value))?;
                let operands = vec![yearly.operand(), days.operand(), year.operand()];
                Ok((yearly.value.exact().times(share)?, "{} × {} ÷ {}", operands))
            }
        }
    }

    /// A monthly amount for the length. A period that is not whole months has 12 × its share of the year.
    pub fn of_monthly(self, monthly: Traced<Money>) -> Result<(Ratio, Vec<Operand>), Overflow> {
        match self {
            Self::Months(months) => {
                let exact = monthly.value.exact().times(Ratio::whole(i128::from(months.value)))?;
                Ok((exact, vec![monthly.operand(), months.operand()]))
            }
            Self::Days { days, year } => {
                let months = Ratio::new(i128::from(days.value) * 12, i128::from(year.value))?;
                let operands = vec![monthly.operand(), days.operand(), year.operand()];
                Ok((monthly.value.exact().times(months)?, operands))
            }
        }
    }

    /// Whether the length is in whole months, by which the formulas of [`Self::of_monthly`] are chosen.
    pub fn whole_months(self) -> bool {
        matches!(self, Self::Months(_))
    }
}

/// The days of a run of days, traced.
pub(crate) fn days(run: &mut Run<'_>, period: Period) -> Traced<i32> {
    count(run, "days", "Days", period.days(), period)
}

fn count(run: &mut Run<'_>, what: &'static str, label: &'static str, value: i32, period: Period) -> Traced<i32> {
    run.workings.once(value, |value| {
        let (start, end) = (period.start(), period.end());
        Step::new(
            format!("dates/{start}/{end}/{what}"),
            format!("{label} from {start} to {end}"),
            Formula::Total,
            Vec::new(),
            (*value, Rounding::None),
            &LENGTH,
        )
    })
}
