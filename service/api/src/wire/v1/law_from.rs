//! From the tables of law to the wire.

use std::borrow::Cow;

use vat_schemes::law::{self, InForce, Law, NotInForce, ParameterValue, SectorMatch};

use super::law::{
    Authority, AuthorityList, DatedPercentage, DatedValue, ParameterHistory, ParameterList, ParameterOnDay,
    SectorHistory, SectorList, SectorOnDay, Trade,
};
use super::scalars::{AuthorityId, Date, ParameterId, Percentage, SectorId};
use super::vocabulary::{AuthorityKind, Evidence, ParameterKind};

const HOW_TO_CHOOSE: &str = "The category is that of the main business activity, by the largest expected share of turnover, in the ordinary meaning of the words. The choice is the business's own: keep the reasons with the date. Trades are what the named sources say, not a ruling; HMRC and a qualified adviser decide.";
const NOTHING_FOUND: &str = "No category and no trade known here holds all of these words. Try fewer or plainer words, or read the whole list. Only where none fits do the categories named in not_listed_elsewhere come in.";

impl SectorList {
    /// All categories, or those that words of a trade lead to, with their percentages on a day.
    pub fn new(law: &Law, on: jiff::civil::Date, words: Option<&str>) -> Result<Self, NotInForce> {
        let items: Vec<SectorOnDay> = match words {
            None => law.sectors().map(|sector| on_day(sector, on, sector.trades().iter())).collect::<Result<_, _>>()?,
            Some(words) => law
                .find_sectors(words)
                .into_iter()
                .map(|SectorMatch { sector, trades }| on_day(sector, on, trades.into_iter()))
                .collect::<Result<_, _>>()?,
        };
        let mut note = HOW_TO_CHOOSE.to_owned();
        if items.is_empty() {
            note = format!("{NOTHING_FOUND} {note}");
        }
        if on > law.checked_on() {
            note =
                format!("{note} The tables were last checked on {}: later changes are not in them.", law.checked_on());
        }
        let not_listed_elsewhere = law
            .sectors()
            .filter(|sector| sector.is_not_listed_elsewhere())
            .map(|sector| sector_id(sector.id()))
            .collect();
        Ok(Self { on: Date(on), items, not_listed_elsewhere, note })
    }
}

fn on_day<'law>(
    sector: &'law law::Sector,
    on: jiff::civil::Date,
    trades: impl Iterator<Item = &'law law::Trade>,
) -> Result<SectorOnDay, NotInForce> {
    let row = sector.percentage(on)?;
    Ok(SectorOnDay {
        id: sector_id(sector.id()),
        name: sector.name().to_owned(),
        percentage: Percentage(row.value),
        from: Date(row.from),
        to: row.to.map(Date),
        evidence: Evidence(row.evidence),
        checked_on: Date(row.checked_on),
        authority: cited(row.authority),
        trades: trades.map(Into::into).collect(),
    })
}

impl From<&law::Sector> for SectorHistory {
    fn from(sector: &law::Sector) -> Self {
        let history = sector.history().rows().iter().map(|row| DatedPercentage {
            percentage: Percentage(row.value),
            from: Date(row.from),
            to: row.to.map(Date),
            evidence: Evidence(row.evidence),
            checked_on: Date(row.checked_on),
            authority: cited(&row.authority),
            note: row.note.clone(),
        });
        Self {
            id: sector_id(sector.id()),
            name: sector.name().to_owned(),
            history: history.collect(),
            trades: sector.trades().iter().map(Into::into).collect(),
        }
    }
}

impl From<&law::Trade> for Trade {
    fn from(trade: &law::Trade) -> Self {
        Self {
            trade: trade.name().to_owned(),
            authority: cited(trade.authority()),
            evidence: Evidence(trade.evidence()),
            note: trade.note().map(str::to_owned),
        }
    }
}

impl ParameterList {
    /// The numbers in force on a day; those that the law had not yet or no longer are left out.
    pub fn new(law: &Law, on: jiff::civil::Date) -> Self {
        let items =
            law.parameters().filter_map(|parameter| Some(value_on_day(parameter, parameter.value(on).ok()?))).collect();
        Self { on: Date(on), items }
    }
}

fn value_on_day(parameter: &law::Parameter, row: InForce<'_, ParameterValue>) -> ParameterOnDay {
    ParameterOnDay {
        id: parameter_id(parameter),
        title: parameter.title().to_owned(),
        kind: ParameterKind(parameter.kind()),
        value: row.value.to_string(),
        unit: parameter.unit().to_owned(),
        comparison: parameter.comparison().map(str::to_owned),
        from: Date(row.from),
        to: row.to.map(Date),
        evidence: Evidence(row.evidence),
        checked_on: Date(row.checked_on),
        authority: cited(row.authority),
        note: row.note.map(str::to_owned),
    }
}

impl From<&law::Parameter> for ParameterHistory {
    fn from(parameter: &law::Parameter) -> Self {
        let history = parameter.history().into_iter().map(|row| DatedValue {
            value: row.value.to_string(),
            from: Date(row.from),
            to: row.to.map(Date),
            evidence: Evidence(row.evidence),
            checked_on: Date(row.checked_on),
            authority: cited(row.authority),
            note: row.note.map(str::to_owned),
        });
        Self {
            id: parameter_id(parameter),
            title: parameter.title().to_owned(),
            kind: ParameterKind(parameter.kind()),
            unit: parameter.unit().to_owned(),
            comparison: parameter.comparison().map(str::to_owned),
            history: history.collect(),
        }
    }
}

impl From<&Law> for AuthorityList {
    fn from(law: &Law) -> Self {
        let items = law.authorities().map(|authority| Authority {
            id: authority.id().into(),
            title: authority.title().to_owned(),
            kind: AuthorityKind(authority.kind()),
            url: authority.url().map(str::to_owned),
        });
        Self { items: items.collect() }
    }
}

fn cited(ids: &[law::AuthorityId]) -> Vec<AuthorityId> {
    ids.iter().map(Into::into).collect()
}

fn sector_id(id: &str) -> SectorId {
    SectorId(Cow::Owned(id.to_owned()))
}

fn parameter_id(parameter: &law::Parameter) -> ParameterId {
    ParameterId(Cow::Borrowed(parameter.id().as_str()))
}
