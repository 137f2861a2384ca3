//! From the tables as written to the law as used: every entry is read, and the set is checked as a whole. Nothing stops
//! at the first problem, so that whoever edits a table sees all of them at once.

mod authorities;
mod bank_holidays;
mod findings;
mod fuel_scale;
mod parameters;
mod rows;
mod sectors;

use jiff::civil::Date;
use serde::de::DeserializeOwned;

use self::findings::{File, Findings};
use super::error::LawError;
use super::look_up::Law;
use super::parameter::{Parameter, ParameterId, ParameterTimeline};
use super::tables::{
    AuthoritiesTable, BankHolidaysTable, EditionTable, FuelScaleTables, ParametersTable, SectorsTable, Tables,
    TradesTable,
};

/// Reads and checks a set of tables.
pub(super) fn law(tables: &Tables<'_>) -> Result<Law, LawError> {
    let mut findings = Findings::default();

    let edition: Option<EditionTable> = read(&mut findings, File::Edition, tables.edition);
    let checked_on = edition.as_ref().and_then(|table| {
        if table.edition.trim().is_empty() {
            findings.add(File::Edition, None, "the edition has no name");
        }
        findings.date(File::Edition, None, "checked_on", &table.checked_on)
    });
    findings.last_checked = checked_on;

    let authorities = read::<AuthoritiesTable>(&mut findings, File::Authorities, tables.authorities)
        .map(|table| authorities::read(&mut findings, table));
    authorities::check_rules(&mut findings);

    let parameters = read::<ParametersTable>(&mut findings, File::Parameters, tables.parameters)
        .map(|table| parameters::read(&mut findings, table));
    let earliest = parameters.as_deref().and_then(earliest_period_start);
    if let (Some(parameters), Some(earliest)) = (&parameters, earliest) {
        parameters::check_coverage(&mut findings, parameters, earliest);
    }

    let sectors = read::<SectorsTable>(&mut findings, File::FlatRatePercentages, tables.flat_rate_percentages)
        .map(|table| sectors::read(&mut findings, table, earliest));
    let trades = read::<TradesTable>(&mut findings, File::Trades, tables.trades);
    let sectors = match (sectors, trades) {
        (Some(mut sectors), Some(trades)) => {
            sectors::add_trades(&mut findings, &mut sectors, trades);
            Some(sectors.read)
        }
        _ => None,
    };

    let fuel_scale = read::<FuelScaleTables>(&mut findings, File::FuelScaleCharges, tables.fuel_scale_charges)
        .and_then(|table| fuel_scale::read(&mut findings, table));
    let bank_holidays = read::<BankHolidaysTable>(&mut findings, File::BankHolidays, tables.bank_holidays)
        .and_then(|table| bank_holidays::read(&mut findings, table));

    match (edition, checked_on, authorities, parameters, sectors, fuel_scale, bank_holidays) {
        (
            Some(edition),
            Some(checked_on),
            Some(authorities),
            Some(parameters),
            Some(sectors),
            Some(fuel_scale),
            Some(bank_holidays),
        ) if findings.is_clean() => Ok(Law {
            edition: edition.edition,
            checked_on,
            parameters,
            sectors,
            fuel_scale,
            authorities,
            bank_holidays,
        }),
        _ => Err(findings.into_error()),
    }
}

fn read<T: DeserializeOwned>(findings: &mut Findings, file: File, text: &str) -> Option<T> {
    match toml::from_str(text) {
        Ok(table) => Some(table),
        Err(error) => {
            let line = error.span().map(|span| {
                let before = text.get(..span.start).unwrap_or(text);
                before.matches('\n').count() + 1
            });
            let what = match line {
                Some(line) => format!("line {line}: {}", error.message()),
                None => error.message().to_owned(),
            };
            findings.add(file, None, what);
            None
        }
    }
}

/// The day from which everything else must be known, as the parameters state it.
fn earliest_period_start(parameters: &[Parameter]) -> Option<Date> {
    let parameter = parameters.iter().find(|parameter| parameter.id == ParameterId::EarliestPeriodStart)?;
    match &parameter.timeline {
        ParameterTimeline::Date(timeline) => timeline.rows().first().map(|row| row.value),
        _ => None,
    }
}
