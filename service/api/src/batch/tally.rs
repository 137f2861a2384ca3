//! How the lines of a batch came out.

use crate::telemetry::metrics::ComparisonOutcome;
use crate::wire::v1::batch::BatchEnd;

/// Counts of lines.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Tally {
    standard: u64,
    flat_rate: u64,
    equal: u64,
    refused: u64,
    not_valid: u64,
    failed: u64,
}

impl Tally {
    /// A line came out like this; none where the service failed.
    pub fn count(&mut self, outcome: Option<ComparisonOutcome>) {
        let count = match outcome {
            Some(ComparisonOutcome::Standard) => &mut self.standard,
            Some(ComparisonOutcome::FlatRate) => &mut self.flat_rate,
            Some(ComparisonOutcome::Equal) => &mut self.equal,
            Some(ComparisonOutcome::Refused) => &mut self.refused,
            Some(ComparisonOutcome::NotValid) => &mut self.not_valid,
            None => &mut self.failed,
        };
        *count += 1;
    }

    /// Adds the counts of other lines.
    pub fn add(&mut self, other: &Self) {
        self.standard += other.standard;
        self.flat_rate += other.flat_rate;
        self.equal += other.equal;
        self.refused += other.refused;
        self.not_valid += other.not_valid;
        self.failed += other.failed;
    }

    /// The closing line of a batch.
    pub fn end(
        &self,
        blank: u64,
        broken_off: Option<&'static str>,
        cautions: Vec<std::borrow::Cow<'static, str>>,
    ) -> BatchEnd {
        let answered = self.standard + self.flat_rate + self.equal;
        BatchEnd {
            lines: answered + self.refused + self.not_valid + self.failed,
            answered,
            standard: self.standard,
            flat_rate: self.flat_rate,
            equal: self.equal,
            refused: self.refused,
            not_valid: self.not_valid,
            failed: self.failed,
            blank,
            complete: broken_off.is_none(),
            broken_off,
            cautions,
        }
    }
}
