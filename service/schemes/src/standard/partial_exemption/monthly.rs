//! Limits of so much a month, for the length of the period.

use crate::law::ParameterId;
use crate::length::TracedLength;
use crate::money::Ratio;
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::Run;
use crate::workings::Operand;

/// A monthly limit for the period: its exact value, and the operands of the product that makes it.
pub(super) struct Limit {
    pub exact: Ratio,
    pub operands: Vec<Operand>,
    pub whole_months: bool,
}

/// Monthly limits of one period, whose length is counted once.
pub(super) struct MonthlyLimits {
    pub period: Period,
    length: Option<TracedLength>,
}

impl MonthlyLimits {
    pub fn of(period: Period) -> Self {
        Self { period, length: None }
    }

    pub fn limit(&mut self, run: &mut Run<'_>, parameter: ParameterId, label: &'static str) -> Result<Limit, Refusal> {
        let monthly = run.amount(parameter, self.period.start(), label)?;
        let length = match self.length {
            Some(length) => length,
            None => *self.length.insert(TracedLength::of(run, self.period)),
        };
        let (exact, operands) = length.of_monthly(monthly)?;
        Ok(Limit { exact, operands, whole_months: length.whole_months() })
    }
}
