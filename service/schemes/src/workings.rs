//! The trace that every rule writes to: each sum, its operands, its rounding and its authority.
//!
//! A rule records a step where it makes a sum, with the figures it used. What it gets back names the step, so that later
//! sums can point to it. When nobody asks for the workings nothing is kept, and steps are not even made.

use std::borrow::Cow;
use std::fmt;

use crate::law::{AuthorityId, InForce};
use crate::money::{FinePounds, Money, Percentage, Quantity, Rounding, Share, Shown, WholePounds};
use crate::refusal::Place;

/// A rule in one sentence, with the ids of its authorities.
#[derive(Debug, PartialEq, Eq)]
pub struct Rule {
    /// What the rule says.
    pub says: &'static str,
    /// Ids of the provisions and guidance that say it.
    pub authority: &'static [&'static str],
}

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A step, by its position.
    Step(u32),
    /// The request.
    Input(Place),
}

/// A figure that remembers where it comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Traced<T> {
    /// The figure.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}

impl<T: Into<Value> + Copy> Traced<T> {
    /// The figure as an operand of a step.
    pub fn operand(self) -> Operand {
        Operand { value: self.value.into(), source: self.source }
    }
}

impl<T> Traced<T> {
    /// A figure of the request.
    pub fn given(value: T, place: Place) -> Self {
        Self { value, source: Source::Input(place) }
    }
}

/// A value as a step shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Value {
    /// Pounds and pence.
    Money(Money),
    /// Pounds, finer than a penny.
    Fine(FinePounds),
    /// A number of units.
    Quantity(Quantity),
    /// Per cent.
    Percentage(Percentage),
    /// Per cent with two decimals.
    Share(Share),
    /// Whole pounds.
    WholePounds(WholePounds),
    /// A count of days or months.
    Count(i32),
    /// The outcome of a test.
    Truth(bool),
}

impl Value {
    /// The value as it stands in an answer.
    #[must_use]
    pub fn shown(self) -> Shown {
        match self {
            Self::Money(value) => value.shown(),
            Self::Fine(value) => value.shown(),
            Self::Quantity(value) => value.shown(),
            Self::Percentage(value) => value.shown(),
            Self::Share(value) => value.shown(),
            Self::WholePounds(value) => value.shown(),
            Self::Count(value) => Shown::count(value),
            Self::Truth(true) => Shown::word("true"),
            Self::Truth(false) => Shown::word("false"),
        }
    }

    fn is_negative(self) -> bool {
        match self {
            Self::Money(value) => value.is_negative(),
            Self::Fine(value) => value.is_negative(),
            Self::Share(value) => value.is_negative(),
            Self::WholePounds(value) => value.is_negative(),
            Self::Count(value) => value < 0,
            // None of these can be.
            Self::Quantity(_) | Self::Percentage(_) | Self::Truth(_) => false,
        }
    }
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.shown().fmt(f)
    }
}

macro_rules! value_from {
    ($($type:ty => $variant:ident),*) => {
        $(impl From<$type> for Value {
            fn from(value: $type) -> Self {
                Self::$variant(value)
            }
        })*
    };
}

value_from!(Money => Money, FinePounds => Fine, Quantity => Quantity, Percentage => Percentage, Share => Share, WholePounds => WholePounds, i32 => Count, bool => Truth);

/// A figure that a step uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Operand {
    /// The figure.
    pub value: Value,
    /// Where it comes from.
    pub source: Source,
}

/// The arithmetic of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Formula {
    /// The sum of all operands; nothing where there are none.
    Total,
    /// A template in which each `{}` stands for the next operand.
    Text(&'static str),
    /// The sum of such templates, as many as the operands fill.
    Each(&'static str),
}

/// One sum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// Its name, unique in an answer.
    pub id: Cow<'static, str>,
    /// What it works out.
    pub label: Cow<'static, str>,
    /// Its arithmetic.
    pub formula: Formula,
    /// The figures used, in the order of the arithmetic.
    pub operands: Vec<Operand>,
    /// How the result was rounded.
    pub rounding: Rounding,
    /// What came out.
    pub result: Value,
    /// The rule in a sentence.
    pub rule: Cow<'static, str>,
    /// Ids of the authorities.
    pub authority: Vec<Cow<'static, str>>,
    /// Paths of the figures of the answer that this result is.
    pub figures: Vec<Cow<'static, str>>,
}

impl Step {
    /// A step under a rule; figures of the answer are added by [`Step::gives`].
    pub fn new(
        id: impl Into<Cow<'static, str>>,
        label: impl Into<Cow<'static, str>>,
        formula: Formula,
        operands: Vec<Operand>,
        (result, rounding): (impl Into<Value>, Rounding),
        rule: &'static Rule,
    ) -> Self {
        Self {
            id: id.into(),
            label: label.into(),
            formula,
            operands,
            rounding,
            result: result.into(),
            rule: Cow::Borrowed(rule.says),
            authority: rule.authority.iter().map(|id| Cow::Borrowed(*id)).collect(),
            figures: Vec::new(),
        }
    }

    /// Names figures of the answer that this step's result is.
    #[must_use]
    pub fn gives<F: Into<Cow<'static, str>>>(mut self, figures: impl IntoIterator<Item = F>) -> Self {
        self.figures.extend(figures.into_iter().map(Into::into));
        self
    }

    /// The arithmetic with its figures, as a person reads it: `29400.00 × 16.5 ÷ 100`.
    #[must_use]
    pub fn sum(&self) -> Sum<'_> {
        Sum(self)
    }
}

/// The arithmetic of a step with its figures.
#[derive(Debug, Clone, Copy)]
pub struct Sum<'s>(&'s Step);

impl fmt::Display for Sum<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Step { formula, operands: all, result, .. } = self.0;
        let mut operands = all.iter();
        match *formula {
            Formula::Total if all.is_empty() => result.fmt(f),
            Formula::Total => {
                for (position, operand) in operands.enumerate() {
                    if position > 0 {
                        f.write_str(" + ")?;
                    }
                    write_number(f, operand.value)?;
                }
                Ok(())
            }
            Formula::Text(template) => write_filled(f, template, &mut operands),
            Formula::Each(template) => {
                let filled_by = template.matches("{}").count().max(1);
                for position in 0..all.len() / filled_by {
                    if position > 0 {
                        f.write_str(" + ")?;
                    }
                    write_filled(f, template, &mut operands)?;
                }
                Ok(())
            }
        }
    }
}

/// A template with the next operands in it.
fn write_filled<'o>(
    f: &mut fmt::Formatter<'_>,
    template: &str,
    operands: &mut impl Iterator<Item = &'o Operand>,
) -> fmt::Result {
    let mut rest = template;
    // A brace is always the first of two.
    while let Some(position) = rest.find('{') {
        f.write_str(&rest[..position])?;
        if let Some(operand) = operands.next() {
            write_number(f, operand.value)?;
        }
        rest = &rest[position + 2..];
    }
    f.write_str(rest)
}

/// A number within a sum: negative ones in brackets, so that signs and operators don't meet.
fn write_number(f: &mut fmt::Formatter<'_>, value: Value) -> fmt::Result {
    let shown = value.shown();
    if !value.is_negative() {
        return f.write_str(shown.as_ref());
    }
    f.write_str("(")?;
    f.write_str(shown.as_ref())?;
    f.write_str(")")
}

/// The steps of a calculation, kept or not.
#[derive(Debug)]
pub struct Workings {
    steps: Option<Vec<Step>>,
    /// Positions of the steps that several sums share: few among many.
    shared: Vec<usize>,
}

impl Workings {
    /// Workings that are kept.
    #[must_use]
    pub fn kept() -> Self {
        Self { steps: Some(Vec::with_capacity(64)), shared: Vec::with_capacity(16) }
    }

    /// Workings that nobody asked for: nothing is made or kept.
    #[must_use]
    pub fn not_kept() -> Self {
        Self { steps: None, shared: Vec::new() }
    }

    /// Records a step and says where its result comes from.
    pub fn record(&mut self, make: impl FnOnce() -> Step) -> Source {
        match &mut self.steps {
            Some(steps) => {
                let position = u32::try_from(steps.len()).unwrap_or(u32::MAX);
                steps.push(make());
                Source::Step(position)
            }
            None => Source::Step(0),
        }
    }

    /// Records a step and gives its result back with its source.
    pub fn trace<T>(&mut self, value: T, make: impl FnOnce(&T) -> Step) -> Traced<T> {
        let source = self.record(|| make(&value));
        Traced { value, source }
    }

    /// Records a step that several sums may want, once, and gives its result back with its source.
    pub fn once<T>(&mut self, value: T, make: impl FnOnce(&T) -> Step) -> Traced<T> {
        let Some(steps) = &mut self.steps else { return Traced { value, source: Source::Step(0) } };
        let step = make(&value);
        let known = self.shared.iter().copied().find(|position| steps[*position].id == step.id);
        let position = known.unwrap_or_else(|| {
            steps.push(step);
            self.shared.push(steps.len() - 1);
            steps.len() - 1
        });
        Traced { value, source: Source::Step(u32::try_from(position).unwrap_or(u32::MAX)) }
    }

    /// Records a number of the law, once, and gives it back with its source.
    pub fn law<T: Into<Value> + Copy>(&mut self, number: &InForce<'_, T>, label: &'static str) -> Traced<T> {
        self.once(number.value, |value| Step {
            id: Cow::Owned(format!("law/{}/{}", number.id.as_str(), number.from)),
            label: Cow::Borrowed(label),
            formula: Formula::Total,
            operands: Vec::new(),
            rounding: Rounding::None,
            result: (*value).into(),
            rule: Cow::Owned(format!("A number of the law, in force from {}.", number.from)),
            authority: number.authority.iter().map(AuthorityId::as_str).map(Cow::Borrowed).collect(),
            figures: Vec::new(),
        })
    }

    /// All steps, in the order in which they were made.
    #[must_use]
    pub fn into_steps(self) -> Vec<Step> {
        self.steps.unwrap_or_default()
    }
}
