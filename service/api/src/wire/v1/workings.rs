//! The workings of an answer. They are most of it, so nothing of them is made twice: the steps of the calculation are kept as they are, and
//! put into words while they are written.

use std::borrow::Cow;
use std::fmt;

use serde::{Serialize, Serializer};
use utoipa::ToSchema;
use vat_schemes::refusal::Place;
use vat_schemes::workings::{self, Source};

use super::scalars::AuthorityId;
use super::vocabulary::RoundingRule;

/// The steps of a calculation.
#[derive(Clone, Debug, Default)]
pub struct Workings {
    steps: Vec<workings::Step>,
    basis: Basis,
}

/// Which of an answer's calculations steps belong to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Basis {
    /// The first, or the only one.
    #[default]
    First,
    /// The one by money received and paid.
    Received,
}

impl Workings {
    /// The steps of an answer's first or only calculation.
    pub fn new(steps: Vec<workings::Step>) -> Self {
        Self { steps, basis: Basis::First }
    }

    /// The steps of the calculation by money received and paid.
    pub fn received(steps: Vec<workings::Step>) -> Self {
        Self { steps, basis: Basis::Received }
    }

    fn step<'s>(&'s self, step: &'s workings::Step) -> Step<'s> {
        Step {
            id: &step.id,
            label: &step.label,
            sum: Shown(step.sum()),
            operands: Operands { workings: self, operands: &step.operands },
            rounding: RoundingRule(step.rounding),
            result: Value(step.result),
            rule: &step.rule,
            authority: &step.authority,
            figures: Figures { figures: &step.figures, basis: self.basis },
        }
    }

    fn operand(&self, operand: &workings::Operand) -> Operand<'_> {
        let (step, input) = match operand.source {
            Source::Step(position) => {
                (usize::try_from(position).ok().and_then(|position| self.steps.get(position)), None)
            }
            Source::Input(place) => (None, Some(Shown(Pointer { place, basis: self.basis }))),
        };
        Operand { step: step.map(|step| step.id.as_ref()), input, value: Value(operand.value) }
    }
}

impl Serialize for Workings {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.steps.iter().map(|step| self.step(step)))
    }
}

/// One sum.
#[derive(Debug, Serialize, ToSchema)]
pub struct Step<'s> {
    /// Its name, unique in its list.
    #[schema(max_length = 200, pattern = "^[a-z0-9_./-]+$", example = "standard/box1")]
    pub id: &'s str,
    /// What it works out.
    #[schema(max_length = 400)]
    pub label: &'s str,
    /// The arithmetic with its figures: decimal numbers, `+`, `−`, `×`, `÷`, brackets, `max`, `min`, `abs`, comparisons and `and`.
    /// A negative number stands in brackets with a hyphen. The numbers, read from the left, are the operands in their order;
    /// 0, 2, 12 and 100 may stand between them as they are.
    #[schema(value_type = String, max_length = 1048576, example = "29400.00 × 16.5 ÷ 100")]
    pub sum: Shown<workings::Sum<'s>>,
    /// The figures used, in the order of the sum. A step without any states a figure of the law.
    #[schema(value_type = Vec<Operand<'static>>, max_items = 20000)]
    pub operands: Operands<'s>,
    /// How the result was rounded. Every rounding is of the whole sum, once.
    pub rounding: RoundingRule,
    /// What came out, as it is written in the answer; `true` or `false` for a comparison.
    #[schema(value_type = String, max_length = 40, example = "4851.00")]
    pub result: Value,
    /// The rule, in a sentence.
    #[schema(max_length = 2000)]
    pub rule: &'s str,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'s [Cow<'static, str>],
    /// The figures of the answer that this result is: JSON Pointers (RFC 6901) into the answer.
    #[schema(value_type = Vec<String>, max_items = 100)]
    pub figures: Figures<'s>,
}

/// A figure that a step uses, with exactly one of `step` and `input`.
#[derive(Debug, Serialize, ToSchema)]
pub struct Operand<'s> {
    /// The id of the earlier step whose result it is; absent where it comes from the request.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 200, pattern = "^[a-z0-9_./-]+$", example = "flat_rate/turnover")]
    pub step: Option<&'s str>,
    /// Where in the request it stands: a JSON Pointer (RFC 6901). Absent where it is the result of a step.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = Option<String>, max_length = 64, example = "/sales/0/net")]
    pub input: Option<Shown<Pointer>>,
    /// The figure.
    #[schema(value_type = String, max_length = 40, example = "24000.00")]
    pub value: Value,
}

/// A figure of a step.
#[derive(Clone, Copy, Debug)]
pub struct Value(workings::Value);

impl Serialize for Value {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.shown().as_ref())
    }
}

/// What is written as it is shown.
#[derive(Clone, Copy, Debug)]
pub struct Shown<T>(T);

impl<T: fmt::Display> Serialize for Shown<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

/// A place in the request.
#[derive(Clone, Copy, Debug)]
pub struct Pointer {
    place: Place,
    basis: Basis,
}

impl fmt::Display for Pointer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.basis == Basis::Received && is_of_received_lines(self.place) {
            f.write_str(RECEIVED)?;
        }
        self.place.fmt(f)
    }
}

/// The figures used by a step.
#[derive(Debug)]
pub struct Operands<'s> {
    workings: &'s Workings,
    operands: &'s [workings::Operand],
}

impl Serialize for Operands<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.operands.iter().map(|operand| self.workings.operand(operand)))
    }
}

/// The figures of the answer that a step's result is.
#[derive(Debug)]
pub struct Figures<'s> {
    figures: &'s [Cow<'static, str>],
    basis: Basis,
}

impl Serialize for Figures<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.basis {
            Basis::First => self.figures.serialize(serializer),
            // Adjustments stand in the answer once, with the steps of the first basis.
            Basis::Received => serializer.collect_seq(
                self.figures
                    .iter()
                    .filter(|figure| !figure.starts_with("/adjustments/"))
                    .map(|figure| format!("{RECEIVED}{figure}")),
            ),
        }
    }
}

/// Where the lines of money received and paid stand in the request, and the figures of that calculation in the answer.
pub const RECEIVED: &str = "/received";

/// Whether a place is in the lines of the calculation by money received and paid, when that is the one that names it.
pub fn is_of_received_lines(place: Place) -> bool {
    matches!(place, Place::Sales | Place::Sale(..) | Place::Purchase(..))
}
