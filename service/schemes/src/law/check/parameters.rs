//! The table of dated numbers.

use jiff::civil::Date;

use super::findings::{File, Findings};
use super::rows;
use crate::law::parameter::{Coverage, Parameter, ParameterId, ParameterKind, ParameterTimeline};
use crate::law::tables::{ParameterEntry, ParametersTable};

const FILE: File = File::Parameters;

/// The parameters that could be read, in the order of `ParameterId`. Without findings, that is each exactly once.
pub(super) fn read(findings: &mut Findings, table: ParametersTable) -> Vec<Parameter> {
    let mut parameters: Vec<Parameter> = Vec::with_capacity(ParameterId::ALL.len());
    let mut seen: Vec<ParameterId> = Vec::with_capacity(ParameterId::ALL.len());
    for entry in table.parameter {
        let Some(id) = ParameterId::from_id(&entry.id) else {
            findings.add(FILE, Some(&entry.id), "no such parameter is known");
            continue;
        };
        if seen.contains(&id) {
            findings.add(FILE, Some(&entry.id), "the id stands twice");
        }
        seen.push(id);
        parameters.extend(parameter(findings, id, entry));
    }
    for id in ParameterId::ALL {
        if !seen.contains(id) {
            findings.add(FILE, Some(id.as_str()), "the parameter is missing");
        }
    }
    parameters.sort_by_key(|parameter| parameter.id);
    parameters
}

fn parameter(findings: &mut Findings, id: ParameterId, entry: ParameterEntry) -> Option<Parameter> {
    let at = Some(id.as_str());
    findings.text(FILE, at, "title", &entry.title);
    findings.text(FILE, at, "unit", &entry.unit);
    findings.optional_text(FILE, at, "comparison", entry.comparison.as_deref());
    let kind = ParameterKind::from_word(&entry.kind);
    if kind != Some(id.kind()) {
        findings.add(FILE, at, format!("kind is \"{}\", where it must be \"{}\"", entry.kind, id.kind()));
        return None;
    }
    let timeline = match id.kind() {
        ParameterKind::Amount => {
            ParameterTimeline::Amount(rows::timeline(findings, FILE, id.as_str(), entry.row, rows::amount)?)
        }
        ParameterKind::Percentage => {
            ParameterTimeline::Percentage(rows::timeline(findings, FILE, id.as_str(), entry.row, rows::percentage)?)
        }
        ParameterKind::Days => {
            ParameterTimeline::Days(rows::timeline(findings, FILE, id.as_str(), entry.row, rows::days)?)
        }
        ParameterKind::Months => {
            ParameterTimeline::Months(rows::timeline(findings, FILE, id.as_str(), entry.row, rows::months)?)
        }
        ParameterKind::Date => {
            let timeline = rows::timeline(findings, FILE, id.as_str(), entry.row, rows::day)?;
            // It is asked for without a day, so there must be one answer.
            if timeline.rows().len() > 1 {
                findings.add(FILE, at, "a day that is itself the value has one row only");
            }
            ParameterTimeline::Date(timeline)
        }
    };
    Some(Parameter { id, title: entry.title, unit: entry.unit, comparison: entry.comparison, timeline })
}

/// Whether each parameter is known for the days for which it is needed.
pub(super) fn check_coverage(findings: &mut Findings, parameters: &[Parameter], earliest: Date) {
    for parameter in parameters {
        let id = Some(parameter.id.as_str());
        let (from, to) = parameter.timeline.known_days();
        let coverage = parameter.id.coverage();
        if coverage == Coverage::Throughout && from > earliest {
            findings.add(FILE, id, format!("it begins on {from}, after the earliest period start, {earliest}"));
        }
        if coverage != Coverage::ForATime
            && let Some(to) = to
        {
            findings.add(FILE, id, format!("it ends on {to}, and nothing follows"));
        }
    }
}
