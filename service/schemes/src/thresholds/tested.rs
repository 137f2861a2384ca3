//! A figure against a limit, exactly.

use jiff::civil::Date;

use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Rounding};
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::answer::{Limit, LimitCheck, Outcome, Status, TestedDay};
use super::figures::Basis;

static HEADROOM: Rule = Rule {
    says: "The limit in force on the day, less the figure measured; a negative amount is what lies over it.",
    authority: &[cite::DECISION_LIMIT_ON_THE_DAY],
};
static SHOWN: Rule = Rule {
    says: "The figure that decides, and the limit in force on its day.",
    authority: &[cite::DECISION_LIMIT_ON_THE_DAY],
};

/// A figure tested on a day.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tested {
    pub on: Date,
    pub basis: Basis,
    pub measured: Traced<Money>,
    pub limit: Traced<Money>,
    pub headroom: Traced<Money>,
}

impl Tested {
    /// Tests a figure; `scope` is where its headroom stands in the answer.
    pub fn of(
        run: &mut Run<'_>,
        scope: Scope,
        (limit, label): (ParameterId, &'static str),
        (on, basis): (Date, Basis),
        measured: Traced<Money>,
    ) -> Result<Self, Refusal> {
        let limit = run.amount(limit, on, label)?;
        let name = Name::new(scope, "headroom", "Limit less figure", &HEADROOM).gives(&["headroom"]);
        let headroom = run.difference(name, limit, measured)?;
        Ok(Self { on, basis, measured, limit, headroom })
    }

    /// Whether the figure is more than the limit: exactly the limit is not.
    pub fn is_over(&self) -> bool {
        self.measured.value > self.limit.value
    }

    /// Whether the figure is not over the limit, and within a tenth of it (this service's own measure).
    pub fn is_close(&self) -> bool {
        !self.is_over() && self.measured.value.pence() * 10 >= self.limit.value.pence() * 9
    }

    /// How a figure that is no forecast stands.
    pub fn status(&self) -> Status {
        if self.is_over() {
            Status::Crossed
        } else if self.is_close() {
            Status::Close
        } else {
            Status::Clear
        }
    }

    pub fn answer(&self) -> TestedDay {
        TestedDay {
            on: self.on,
            basis: self.basis,
            measured: self.measured.value,
            limit: self.limit.value,
            headroom: self.headroom.value,
        }
    }

    /// Records that a check shows this limit, whose figure and headroom already stand there.
    pub fn show_limit(&self, run: &mut Run<'_>, scope: Scope) {
        shown(run, scope, "limit", "Limit", &["limit"], self.limit);
    }

    /// Records that a check shows this tested day as the one that decides.
    pub fn show(&self, run: &mut Run<'_>, scope: Scope) {
        shown(run, scope, "measured", "Figure that decides", &["measured"], self.measured);
        self.show_limit(run, scope);
        shown(run, scope, "headroom", "Limit less figure", &["headroom"], self.headroom);
    }
}

fn shown(
    run: &mut Run<'_>,
    scope: Scope,
    id: &'static str,
    label: &'static str,
    gives: &'static [&'static str],
    figure: Traced<Money>,
) {
    let name = Name::new(scope, id, label, &SHOWN).gives(gives);
    run.step(name, figure.value, Rounding::None, "{}", &[figure.operand()]);
}

impl LimitCheck {
    /// A check of which nothing is known yet.
    pub(super) fn new(
        limit: Limit,
        status: Status,
        outcome: Outcome,
        finding: impl Into<String>,
        authority: &'static [&'static str],
    ) -> Self {
        Self {
            limit,
            status,
            outcome,
            finding: finding.into(),
            figures_needed: Vec::new(),
            decisive: None,
            days: Vec::new(),
            outlook: Vec::new(),
            crossed_on: None,
            liable_on: None,
            notify_by: None,
            effective_from: None,
            what_to_do: String::new(),
            authority,
        }
    }

    /// A check that says nothing to this business now.
    pub(super) fn not_applicable(limit: Limit, why: &'static str, authority: &'static [&'static str]) -> Self {
        Self::new(limit, Status::NotApplicable, Outcome::Nothing, why, authority)
    }

    /// A check for which figures are wanting.
    pub(super) fn not_checked(limit: Limit, needed: &[&'static str], authority: &'static [&'static str]) -> Self {
        let finding = "This limit was not tested: figures are wanting.";
        Self {
            figures_needed: needed.to_vec(),
            what_to_do: "Give the figures named, and ask again.".to_owned(),
            ..Self::new(limit, Status::NotChecked, Outcome::Nothing, finding, authority)
        }
    }
}
