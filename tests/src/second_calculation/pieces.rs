//! Which days a line belongs to, where a period falls into parts.

use super::lines::Amounts;
use super::money::{Exact, to_penny, whole};
use super::refused::Refused;
use super::request::Days;

/// A line with the days that it belongs to, cut at the runs into which a period falls. A line within one run is whole; one that
/// lies across several is refused, or shared out by days where an estimate is asked for.
pub fn cut(
    line: Amounts,
    part: Option<Days>,
    runs: &[Days],
    by_days: bool,
    pointer: &str,
) -> Result<Vec<(Days, Amounts)>, Refused> {
    let runs = runs_of_line(line.net == whole(0) && line.vat == whole(0), part, runs, by_days, pointer)?;
    let (nets, vats) = (shares(line.net, &runs), shares(line.vat, &runs));
    Ok(runs
        .iter()
        .zip(nets.iter().zip(&vats))
        .map(|(run, (net, vat))| (*run, Amounts { net: *net, vat: *vat }))
        .collect())
}

/// One amount, cut in the same way.
pub fn cut_amount(
    amount: Exact,
    part: Option<Days>,
    runs: &[Days],
    by_days: bool,
    pointer: &str,
) -> Result<Vec<(Days, Exact)>, Refused> {
    let runs = runs_of_line(amount == whole(0), part, runs, by_days, pointer)?;
    let shares = shares(amount, &runs);
    Ok(runs.into_iter().zip(shares).collect())
}

/// The days of the line in each run that it lies in.
fn runs_of_line(
    nothing: bool,
    part: Option<Days>,
    runs: &[Days],
    by_days: bool,
    pointer: &str,
) -> Result<Vec<Days>, Refused> {
    let mut shared: Vec<Days> =
        runs.iter().filter_map(|run| part.map_or(Some(*run), |part| part.shared_with(*run))).collect();
    if nothing {
        // Nothing lies on either side.
        shared.truncate(1);
    }
    match part {
        _ if shared.len() < 2 || by_days => Ok(shared),
        Some(_) => Err(Refused::one("part_spans_change", &format!("{pointer}/part"))),
        None => Err(Refused::one("period_must_be_split", pointer)),
    }
}

/// An amount shared out by days: each share but the last to the penny, and the last takes the rest.
fn shares(amount: Exact, runs: &[Days]) -> Vec<Exact> {
    let all: i64 = runs.iter().map(|run| run.count()).sum();
    let mut rest = amount;
    let mut shares: Vec<Exact> = Vec::new();
    for (index, run) in runs.iter().enumerate() {
        let last = index + 1 == runs.len();
        let share = if last { rest } else { to_penny(amount * whole(run.count()) / whole(all)) };
        rest -= share;
        shares.push(share);
    }
    shares
}
