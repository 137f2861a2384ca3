//! The tables of road fuel scale charges: each whole, and all of them without a gap.

use super::findings::{File, Findings};
use super::rows;
use crate::law::dated::{Dated, Timeline};
use crate::law::fuel_scale::{FuelScaleBand, FuelScaleCharges, FuelScaleEngine, FuelScaleLength, Named};
use crate::law::tables::{FuelScaleBandEntry, FuelScaleEngineEntry, FuelScaleEntry, FuelScaleTables};
use crate::money::Money;

const FILE: File = File::FuelScaleCharges;
/// The largest emissions figure, step and engine that can be meant.
const LARGEST: i32 = 20_000;

/// Reads the tables; `None` where they are no timeline, which is then among the findings.
pub(super) fn read(findings: &mut Findings, table: FuelScaleTables) -> Option<Timeline<FuelScaleCharges>> {
    let count = table.table.len();
    if count == 0 {
        findings.add(FILE, None, "there is no table");
    }
    let rows: Vec<_> = table.table.into_iter().filter_map(|entry| row(findings, entry)).collect();
    let whole = rows.len() == count && rows::is_contiguous(findings, FILE, None, &rows);
    if whole { Timeline::new(rows) } else { None }
}

fn row(findings: &mut Findings, entry: FuelScaleEntry) -> Option<Dated<FuelScaleCharges>> {
    let id = entry.from.clone();
    let at = Some(id.as_str());
    let from = findings.date(FILE, at, "from", &entry.from);
    let to = entry.to.as_deref().map(|text| findings.date(FILE, at, "to", text));
    let authority = findings.authorities(FILE, at, &entry.authority);
    let evidence = findings.evidence(FILE, at, &entry.evidence);
    let checked_on = findings.checked_on(FILE, at, &entry.checked_on);
    findings.optional_text(FILE, at, "note", entry.note.as_deref());
    if !(1..=LARGEST).contains(&entry.band_step) {
        findings.add(FILE, at, format!("the step of the bands, {}, is out of all proportion", entry.band_step));
    }
    let bands = bands(findings, at, entry.band_step, entry.band);
    let engines = bands.as_deref().map(|bands| engines(findings, at, bands, entry.engine));
    let to = match to {
        None => None,
        Some(to) => Some(to?),
    };
    Some(Dated {
        value: FuelScaleCharges { step: entry.band_step, bands: bands?, engines: engines? },
        from: from?,
        to,
        authority,
        evidence: evidence?,
        checked_on: checked_on?,
        note: entry.note,
    })
}

/// The bands, each one step above the one before, with charges that never fall.
fn bands(
    findings: &mut Findings,
    at: Option<&str>,
    step: i32,
    entries: Vec<FuelScaleBandEntry>,
) -> Option<Vec<FuelScaleBand>> {
    let count = entries.len();
    if count == 0 {
        findings.add(FILE, at, "there is no band");
        return None;
    }
    let bands: Vec<_> = entries.into_iter().filter_map(|entry| band(findings, at, entry)).collect();
    if bands.len() < count {
        return None;
    }
    // The band of a car is found as a multiple of the step.
    if let Some(first) = bands.first()
        && step > 0
        && first.co2 % step != 0
    {
        findings.add(FILE, at, format!("the band {} is no multiple of the step {step}", first.co2));
    }
    for pair in bands.windows(2) {
        let [before, after] = pair else { continue };
        if Some(after.co2) != before.co2.checked_add(step) {
            findings.add(FILE, at, format!("the band {} is not one step above the band {}", after.co2, before.co2));
        }
        if before.charges.iter().zip(&after.charges).any(|(before, after)| after.value <= before.value) {
            findings.add(FILE, at, format!("the charges of the band {} are not above those before", after.co2));
        }
    }
    Some(bands)
}

fn band(findings: &mut Findings, at: Option<&str>, entry: FuelScaleBandEntry) -> Option<FuelScaleBand> {
    let co2 = entry.co2;
    if !(1..=LARGEST).contains(&co2) {
        findings.add(FILE, at, format!("the band {co2} is out of all proportion"));
    }
    let mut charge = |text: &str, length: FuelScaleLength| -> Option<Named<Money>> {
        let value = rows::amount(text).map_err(|what| findings.add(FILE, at, format!("band {co2}: {what}"))).ok()?;
        Some(Named { id: format!("fuel_scale_charge_{co2}_{}", length.as_str()), value })
    };
    let one_month = charge(&entry.one_month, FuelScaleLength::OneMonth);
    let three_months = charge(&entry.three_months, FuelScaleLength::ThreeMonths);
    let twelve_months = charge(&entry.twelve_months, FuelScaleLength::TwelveMonths);
    let charges = [one_month?, three_months?, twelve_months?];
    if charges.windows(2).any(|pair| pair[1].value <= pair[0].value) {
        findings.add(FILE, at, format!("band {co2}: a longer period has no larger charge"));
    }
    Some(FuelScaleBand { co2, charges })
}

/// The bands of engines, which rise with them and stand in the table.
fn engines(
    findings: &mut Findings,
    at: Option<&str>,
    bands: &[FuelScaleBand],
    entries: Vec<FuelScaleEngineEntry>,
) -> Vec<FuelScaleEngine> {
    if entries.is_empty() {
        findings.add(FILE, at, "there is no band for a car without an emissions figure");
    }
    let mut engines: Vec<FuelScaleEngine> = Vec::with_capacity(entries.len());
    for entry in entries {
        let FuelScaleEngineEntry { up_to, co2 } = entry;
        if !bands.iter().any(|band| band.co2 == co2) {
            findings.add(FILE, at, format!("engines up to {up_to} have the band {co2}, which is not in the table"));
        }
        let above = engines.last().map_or((0, 0), |before| (before.up_to, before.band.value));
        if up_to <= above.0 || up_to > LARGEST || co2 <= above.1 {
            findings.add(
                FILE,
                at,
                format!("engines up to {up_to} do not rise above those before, or out of all proportion"),
            );
        }
        let band = Named { id: format!("fuel_scale_engine_{up_to}"), value: co2 };
        engines.push(FuelScaleEngine { up_to, band });
    }
    engines
}
