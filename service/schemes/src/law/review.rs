//! Which rows of the tables are due for review on a day: a Budget day, or any other on which someone sits down to it.

use jiff::ToSpan as _;
use jiff::civil::Date;

use super::authority::AuthorityId;
use super::dated::{Dated, Timeline};
use super::evidence::Evidence;
use super::look_up::Law;
use super::parameter::Coverage;
use crate::words::words;

words! {
    /// A table whose rows are reviewed.
    ReviewedTable {
        /// The dated numbers.
        Parameters => "parameters.toml",
        /// The percentages of the categories of business.
        FlatRatePercentages => "flat_rate_percentages.toml",
        /// Road fuel scale charges.
        FuelScaleCharges => "fuel_scale_charges.toml",
        /// Trades and their categories.
        Trades => "trades.toml",
        /// The bank holidays.
        BankHolidays => "bank_holidays.toml",
    }
}

words! {
    /// Why a row is due.
    WhyDue {
        /// It was last checked too long ago.
        NotCheckedLately => "not_checked_lately",
        /// No official text was opened for it: it is known from practice, from memory or through a quotation.
        TextNotOpened => "text_not_opened",
        /// It begins to apply near the day.
        Begins => "begins",
        /// It ceases to apply near the day.
        Ends => "ends",
        /// It has ceased to apply, or is about to, and no row follows where one should.
        NothingFollows => "nothing_follows",
    }
}

/// When a row is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Review {
    /// The day of the review.
    pub on: Date,
    /// After how many months a row wants to be checked again.
    pub months: u16,
    /// How many months before and after the day a beginning or an end is near.
    pub around: u16,
}

impl Review {
    /// The last day of checking that is too long ago.
    #[must_use]
    pub fn checked_by(&self) -> Date {
        self.on.saturating_sub(i64::from(self.months).months())
    }

    /// The first and the last of the days that are near.
    #[must_use]
    pub fn near(&self) -> (Date, Date) {
        let around = i64::from(self.around).months();
        (self.on.saturating_sub(around), self.on.saturating_add(around))
    }
}

/// A row of the tables, and why it is due; not at all where there is no reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviewedRow<'law> {
    /// The table that it stands in.
    pub table: ReviewedTable,
    /// The id by which the table finds it; of a trade that of its category.
    pub id: &'law str,
    /// What it is.
    pub name: &'law str,
    /// Its value as the table writes it.
    pub value: String,
    /// What the value counts or measures.
    pub unit: &'law str,
    /// The first day on which it applies; none of a trade, which has no dates.
    pub from: Option<Date>,
    /// The last day on which it applies; none while it is in force.
    pub to: Option<Date>,
    /// The day on which it was last checked; none of a trade.
    pub checked_on: Option<Date>,
    /// The authorities that it cites.
    pub authority: Vec<AuthorityId>,
    /// How well they support it; of the bank holidays, the weakest support that one of them has.
    pub evidence: Evidence,
    /// What a reader should know besides.
    pub note: Option<&'law str>,
    /// Why it is due.
    pub due: Vec<WhyDue>,
}

impl Law {
    /// Every row of the tables, with the reasons for which it is due for review.
    #[must_use]
    pub fn review(&self, review: &Review) -> Vec<ReviewedRow<'_>> {
        let mut rows = Vec::new();
        for parameter in self.parameters() {
            let history = parameter.history();
            let last = history.len().saturating_sub(1);
            let is_to_end = matches!(parameter.id().coverage(), Coverage::ForATime);
            for (index, row) in history.into_iter().enumerate() {
                rows.push(ReviewedRow {
                    table: ReviewedTable::Parameters,
                    id: parameter.id().as_str(),
                    name: parameter.title(),
                    value: row.value.to_string(),
                    unit: parameter.unit(),
                    from: Some(row.from),
                    to: row.to,
                    checked_on: Some(row.checked_on),
                    authority: row.authority.to_vec(),
                    evidence: row.evidence,
                    note: row.note,
                    due: due(review, row.from, row.to, row.checked_on, row.evidence, index == last && !is_to_end),
                });
            }
        }
        for sector in self.sectors() {
            let row = |value: &_| (sector.id(), sector.name(), format!("{value}"), "per cent of turnover with VAT");
            rows.extend(of_timeline(review, ReviewedTable::FlatRatePercentages, sector.history(), row));
        }
        let row = |_: &_| {
            ("fuel_scale_charges", "Road fuel scale charges", "the table as a whole".to_owned(), "pounds with VAT")
        };
        rows.extend(of_timeline(review, ReviewedTable::FuelScaleCharges, &self.fuel_scale, row));
        for sector in self.sectors() {
            rows.extend(sector.trades().iter().map(|trade| ReviewedRow {
                table: ReviewedTable::Trades,
                id: sector.id(),
                name: trade.name(),
                value: sector.name().to_owned(),
                unit: "category of business",
                from: None,
                to: None,
                checked_on: None,
                authority: trade.authority().to_vec(),
                evidence: trade.evidence(),
                note: trade.note(),
                due: text_not_opened(trade.evidence()).into_iter().collect(),
            }));
        }
        rows.push(self.bank_holidays_reviewed(review));
        rows
    }

    /// The bank holidays as one row, which ends with the last day for which proclamations were looked at.
    fn bank_holidays_reviewed(&self, review: &Review) -> ReviewedRow<'_> {
        let holidays = self.bank_holidays();
        let (from, known_to) = holidays.known_days();
        let (to, checked_on, evidence) = (holidays.proclaimed_to(), holidays.checked_on(), holidays.weakest_evidence());
        ReviewedRow {
            table: ReviewedTable::BankHolidays,
            id: "bank_holidays",
            name: "Bank holidays as proclaimed",
            value: format!("by their rules alone to {known_to}"),
            unit: "days",
            from: Some(from),
            to: Some(to),
            checked_on: Some(checked_on),
            authority: holidays.authority().copied().collect(),
            evidence,
            note: None,
            due: due(review, from, Some(to), checked_on, evidence, true),
        }
    }
}

fn of_timeline<'law, T>(
    review: &Review,
    table: ReviewedTable,
    timeline: &'law Timeline<T>,
    row: impl Fn(&'law T) -> (&'law str, &'law str, String, &'law str),
) -> Vec<ReviewedRow<'law>> {
    let last = timeline.rows().len().saturating_sub(1);
    let of_row = |(index, dated): (usize, &'law Dated<T>)| {
        let (id, name, value, unit) = row(&dated.value);
        ReviewedRow {
            table,
            id,
            name,
            value,
            unit,
            from: Some(dated.from),
            to: dated.to,
            checked_on: Some(dated.checked_on),
            authority: dated.authority.clone(),
            evidence: dated.evidence,
            note: dated.note.as_deref(),
            due: due(review, dated.from, dated.to, dated.checked_on, dated.evidence, index == last),
        }
    };
    timeline.rows().iter().enumerate().map(of_row).collect()
}

fn due(
    review: &Review,
    from: Date,
    to: Option<Date>,
    checked_on: Date,
    evidence: Evidence,
    should_be_followed: bool,
) -> Vec<WhyDue> {
    let (first, last) = review.near();
    let mut due = Vec::new();
    if checked_on <= review.checked_by() {
        due.push(WhyDue::NotCheckedLately);
    }
    due.extend(text_not_opened(evidence));
    if (first..=last).contains(&from) {
        due.push(WhyDue::Begins);
    }
    if to.is_some_and(|to| (first..=last).contains(&to)) {
        due.push(WhyDue::Ends);
    }
    if should_be_followed && to.is_some_and(|to| to <= last) {
        due.push(WhyDue::NothingFollows);
    }
    due
}

fn text_not_opened(evidence: Evidence) -> Option<WhyDue> {
    match evidence {
        Evidence::Law | Evidence::OfficialGuidance => None,
        Evidence::OfficialGuidanceQuoted | Evidence::Practice | Evidence::Memory => Some(WhyDue::TextNotOpened),
    }
}
