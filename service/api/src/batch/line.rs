//! One line of a batch, and its answer.

use std::panic::{AssertUnwindSafe, catch_unwind};

use serde::Serialize;
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;

use super::lines::Line;
use super::tally::Tally;
use crate::json;
use crate::problem::{Problem, ProblemBody, ProblemCode};
use crate::routes::comparisons::compare;
use crate::telemetry::Metrics;
use crate::telemetry::RequestContext;
use crate::telemetry::metrics::{ComparisonOutcome, Outcome as _};
use crate::wire::v1::batch::{BatchLine, ComparisonSummary};
use crate::wire::v1::reference_of;

/// How much of each comparison a caller wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// All of it.
    Whole,
    /// All but the workings.
    WithoutWorkings,
    /// The figures of both schemes and the codes of the warnings.
    Summary,
}

impl Form {
    /// The workings that go with it.
    pub fn workings(self) -> fn() -> Workings {
        match self {
            Self::Whole => Workings::kept,
            Self::WithoutWorkings | Self::Summary => Workings::not_kept,
        }
    }
}

/// What the lines of a batch have in common.
#[derive(Clone, Debug)]
pub(super) struct Setting {
    pub form: Form,
    pub most_bytes: usize,
    pub context: RequestContext,
}

/// Answers some lines one after the other, as lines of JSON at the end of what is written.
pub(super) fn answer_lines(
    law: &Law,
    metrics: Option<&Metrics>,
    setting: &Setting,
    lines: &[Line],
    written: &mut Vec<u8>,
) -> Tally {
    let mut tally = Tally::default();
    for line in lines {
        // A panic over one line must not end the others.
        let outcome = catch_unwind(AssertUnwindSafe(|| answer_line(law, setting, line, written)));
        let outcome = outcome.unwrap_or_else(|_| {
            if let Some(metrics) = metrics {
                metrics.count_panic();
            }
            write_problem(setting, line, &Problem::internal(), written);
            None
        });
        if let (Some(metrics), Some(outcome)) = (metrics, outcome) {
            metrics.count_outcome(outcome);
        }
        tally.count(outcome);
    }
    tally
}

fn answer_line(law: &Law, setting: &Setting, line: &Line, written: &mut Vec<u8>) -> Option<ComparisonOutcome> {
    let compared = match &line.text {
        Some(text) => compare(law, text, setting.form.workings()),
        None => Err(Problem::new(
            ProblemCode::BodyTooLarge,
            format!(
                "A line may have {} bytes, and this one has more: send totals, and one period a line.",
                setting.most_bytes
            ),
        )),
    };
    match compared {
        Ok((comparison, outcome)) => {
            let reference = comparison.reference.clone();
            let mut answer = BatchLine { line: Some(line.number), reference, ..BatchLine::default() };
            match setting.form {
                Form::Whole | Form::WithoutWorkings => answer.answer = Some(Box::new(comparison)),
                Form::Summary => answer.summary = Some(Box::new(ComparisonSummary::from(comparison))),
            }
            write(&answer, written).then_some(outcome)
        }
        Err(problem) => {
            write_problem(setting, line, &problem, written);
            match problem.status().as_u16() {
                422 => Some(ComparisonOutcome::REFUSED),
                400..=499 => Some(ComparisonOutcome::NOT_VALID),
                _ => None,
            }
        }
    }
}

fn write_problem(setting: &Setting, line: &Line, problem: &Problem, written: &mut Vec<u8>) {
    let RequestContext { request_id, trace_id } = &setting.context;
    let answer = BatchLine {
        line: Some(line.number),
        reference: line.text.as_deref().and_then(reference_of),
        problem: Some(ProblemBody::new(problem, request_id, trace_id.as_deref())),
        ..BatchLine::default()
    };
    write(&answer, written);
}

/// Writes a line whole, or nothing of it.
pub(super) fn write(line: &impl Serialize, written: &mut Vec<u8>) -> bool {
    let before = written.len();
    match json::write_to(written, line) {
        Ok(()) => {
            written.push(b'\n');
            true
        }
        Err(error) => {
            tracing::error!(%error, "a line of a batch could not be written");
            written.truncate(before);
            false
        }
    }
}
