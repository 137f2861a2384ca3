//! The tables of categories of business and of trades.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::findings::{File, Findings};
use super::rows;
use crate::law::sector::Sector;
use crate::law::tables::{SectorsTable, TradesTable};
use crate::law::trade::Trade;
use crate::law::words::words_of;

const FILE: File = File::FlatRatePercentages;

/// The categories of the table.
pub(super) struct Sectors {
    /// Those that could be read, by id.
    pub read: Vec<Sector>,
    /// The ids of all: a trade may name a category in which something else is wrong.
    ids: BTreeSet<String>,
}

/// Reads the categories.
pub(super) fn read(findings: &mut Findings, table: SectorsTable, earliest: Option<Date>) -> Sectors {
    if table.sector.is_empty() {
        findings.add(FILE, None, "there is no category of business");
    }
    let mut ids = BTreeSet::new();
    let mut sectors = Vec::with_capacity(table.sector.len());
    for entry in table.sector {
        let id = entry.id.as_str();
        findings.id(FILE, id, '-');
        findings.text(FILE, Some(id), "name", &entry.name);
        if !ids.insert(entry.id.clone()) {
            findings.add(FILE, Some(id), "the id stands twice");
        }
        let Some(history) = rows::timeline(findings, FILE, id, entry.row, rows::percentage) else { continue };
        let (from, to) = (history.known_from(), history.known_to());
        if let Some(earliest) = earliest.filter(|earliest| from > *earliest) {
            findings.add(FILE, Some(id), format!("it begins on {from}, after the earliest period start, {earliest}"));
        }
        if let Some(to) = to {
            findings.add(FILE, Some(id), format!("it ends on {to}, and nothing follows"));
        }
        let words = words_of(&entry.name);
        sectors.push(Sector { id: entry.id, name: entry.name, history, trades: Vec::new(), words });
    }
    sectors.sort_by(|left, right| left.id.cmp(&right.id));
    Sectors { read: sectors, ids }
}

/// Puts each trade into its category, by name.
pub(super) fn add_trades(findings: &mut Findings, sectors: &mut Sectors, table: TradesTable) {
    for entry in table.trade {
        let at = Some(entry.trade.as_str());
        findings.text(File::Trades, at, "trade", &entry.trade);
        findings.optional_text(File::Trades, at, "note", entry.note.as_deref());
        let authority = findings.authorities(File::Trades, at, &entry.authority);
        let evidence = findings.evidence(File::Trades, at, &entry.evidence);
        if !sectors.ids.contains(&entry.sector) {
            findings.add(File::Trades, at, format!("there is no category \"{}\"", entry.sector));
        }
        let Ok(index) = sectors.read.binary_search_by(|sector| sector.id.cmp(&entry.sector)) else { continue };
        let trades = &mut sectors.read[index].trades;
        if trades.iter().any(|trade| trade.name == entry.trade) {
            findings.add(File::Trades, at, format!("it stands twice in \"{}\"", entry.sector));
        }
        if let Some(evidence) = evidence {
            let words = words_of(&entry.trade);
            trades.push(Trade { name: entry.trade, authority, evidence, note: entry.note, words });
        }
    }
    for sector in &mut sectors.read {
        sector.trades.sort_by(|left, right| left.name.cmp(&right.name));
    }
}
