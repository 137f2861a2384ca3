//! An adjustment on the returns of both schemes, of one of them, or of neither.

use crate::money::{Money, Overflow, Rounding};
use crate::run::{Name, Run, Scope};
use crate::workings::{Operand, Rule, Traced};

use super::answer::BothSides;

/// Whether an adjustment stands on the return of a scheme.
#[derive(Clone, Copy)]
pub(super) enum Stands {
    Yes,
    /// The rule by which it does not.
    No(&'static Rule),
}

/// What an adjustment comes to where it stands on a return, and how.
pub(super) struct Sum<'a> {
    pub scope: Scope,
    pub label: &'static str,
    pub rule: &'static Rule,
    pub value: Money,
    pub rounding: Rounding,
    pub formula: &'static str,
    pub operands: &'a [Operand],
}

/// What an adjustment puts on each return.
#[derive(Clone, Copy)]
pub(super) struct Sides {
    pub standard: Traced<Money>,
    pub flat_rate: Traced<Money>,
    pub answer: BothSides,
}

impl Sum<'_> {
    /// Puts the sum on the returns on which it stands, and nothing on the others.
    pub fn on(&self, run: &mut Run<'_>, standard: Stands, flat_rate: Stands) -> Result<Sides, Overflow> {
        let mut put = |id, gives| {
            let name = Name::new(self.scope, id, self.label, self.rule).gives(gives);
            run.step(name, self.value, self.rounding, self.formula, self.operands)
        };
        let (on_standard, on_flat_rate) = match (standard, flat_rate) {
            (Stands::Yes, Stands::Yes) => {
                let both = put("amount", &["standard", "flat_rate"]);
                (both, both)
            }
            (Stands::Yes, Stands::No(rule)) => {
                (put("standard", &["standard"]), self.nothing(run, "flat_rate", &["flat_rate"], rule)?)
            }
            (Stands::No(rule), Stands::Yes) => {
                let there = put("flat_rate", &["flat_rate"]);
                (self.nothing(run, "standard", &["standard"], rule)?, there)
            }
            (Stands::No(standard), Stands::No(flat_rate)) => (
                self.nothing(run, "standard", &["standard"], standard)?,
                self.nothing(run, "flat_rate", &["flat_rate"], flat_rate)?,
            ),
        };
        let reason = |stands| match stands {
            Stands::Yes => self.rule.says,
            Stands::No(rule) => rule.says,
        };
        Ok(Sides {
            standard: on_standard,
            flat_rate: on_flat_rate,
            answer: BothSides {
                standard: on_standard.value,
                flat_rate: on_flat_rate.value,
                standard_reason: reason(standard),
                flat_rate_reason: reason(flat_rate),
            },
        })
    }

    fn nothing(
        &self,
        run: &mut Run<'_>,
        id: &'static str,
        gives: &'static [&'static str],
        rule: &'static Rule,
    ) -> Result<Traced<Money>, Overflow> {
        run.total(Name::new(self.scope, id, self.label, rule).gives(gives), &[])
    }
}
