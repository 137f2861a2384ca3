//! The lines of a batch of comparisons.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;

use super::answer::{Boxes, Comparison, FlatRate, Period, StandardAccounting, Warning};
use super::scalars::{Amount, Date, Reference};
use super::side_by_side::SideBySide;
use super::vocabulary::{Severity, WarningKind};
use crate::problem::ProblemBody;

/// One line of the answer to a batch. It holds one of `answer`, `summary` and `problem` with the number of its line, or, on the last
/// line, `end`. Members may be added: ignore those you don't know.
#[derive(Clone, Debug, Default, Serialize, ToSchema)]
pub struct BatchLine {
    /// The number of the line that it answers, from 1; blank lines count.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(minimum = 1, maximum = 9007199254740991_u64)]
    pub line: Option<u64>,
    /// The caller's own name for the line's request, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The comparison.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub answer: Option<Box<Comparison>>,
    /// The comparison's figures, where the query asks for `fields=summary`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub summary: Option<Box<ComparisonSummary>>,
    /// Why the line has no comparison.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub problem: Option<ProblemBody>,
    /// The end of the batch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end: Option<BatchEnd>,
}

/// The end of a batch: how its lines came out.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct BatchEnd {
    /// Lines that were not blank.
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub lines: u64,
    /// Those that were answered.
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub answered: u64,
    /// Answered: standard accounting costs less.
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub standard: u64,
    /// Answered: the Flat Rate Scheme costs less.
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub flat_rate: u64,
    /// Answered: both cost the same.
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub equal: u64,
    /// Refused, because the law or the figures admit no answer (status 422).
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub refused: u64,
    /// Not of the documented shape (other statuses from 400 to 499).
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub not_valid: u64,
    /// Not answered through a fault of the service.
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub failed: u64,
    /// Blank lines, which were passed over.
    #[schema(minimum = 0, maximum = 9007199254740991_u64)]
    pub blank: u64,
    /// Whether the body came to its end.
    pub complete: bool,
    /// Why it did not; absent where it did.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 400)]
    pub broken_off: Option<&'static str>,
    /// What every comparison of the batch leaves out, and who decides.
    #[schema(max_items = 20)]
    pub cautions: Vec<Cow<'static, str>>,
}

/// The figures of a comparison, without workings, reasons and law. What it leaves out, and who decides, stands at the end of the batch.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ComparisonSummary {
    /// The VAT period.
    pub period: Period,
    /// The period under standard accounting.
    pub standard: SchemeSummary,
    /// The period under the Flat Rate Scheme.
    pub flat_rate: SchemeSummary,
    /// Whether this is a limited cost business in the period; absent before 1 April 2017, when the test began.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limited_cost_business: Option<bool>,
    /// Both schemes side by side.
    pub comparison: SideBySide,
    /// What the warnings are about.
    #[schema(max_items = 100000)]
    pub warnings: Vec<WarningSummary>,
}

/// One scheme in a summary.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SchemeSummary {
    /// What is payable, in pounds; negative for a repayment.
    pub vat_payable: Amount,
    /// The VAT Return.
    pub boxes: Boxes,
}

/// A warning in a summary.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct WarningSummary {
    /// What it is about.
    pub code: WarningKind,
    /// How much it asks.
    pub severity: Severity,
    /// The day to act by; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub act_by: Option<Date>,
}

impl From<Comparison> for ComparisonSummary {
    fn from(comparison: Comparison) -> Self {
        Self {
            period: comparison.period,
            standard: comparison.standard.into(),
            flat_rate: comparison.flat_rate.into(),
            limited_cost_business: comparison.goods_test.map(|test| test.limited_cost_business),
            comparison: comparison.comparison,
            warnings: comparison.warnings.into_iter().map(Into::into).collect(),
        }
    }
}

impl From<StandardAccounting> for SchemeSummary {
    fn from(scheme: StandardAccounting) -> Self {
        Self { vat_payable: scheme.vat_payable, boxes: scheme.boxes }
    }
}

impl From<FlatRate> for SchemeSummary {
    fn from(scheme: FlatRate) -> Self {
        Self { vat_payable: scheme.vat_payable, boxes: scheme.boxes }
    }
}

impl From<Warning> for WarningSummary {
    fn from(warning: Warning) -> Self {
        Self { code: warning.code, severity: warning.severity, act_by: warning.act_by }
    }
}
