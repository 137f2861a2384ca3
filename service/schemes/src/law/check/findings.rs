//! What has been found wrong so far, and the readers of the small things that every table holds.

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::law::authority::AuthorityId;
use crate::law::error::{LawError, TableProblem};
use crate::law::evidence::Evidence;

/// The table that a finding is about.
#[derive(Clone, Copy)]
pub(super) enum File {
    Edition,
    Authorities,
    Parameters,
    FlatRatePercentages,
    FuelScaleCharges,
    Trades,
    BankHolidays,
}

impl File {
    fn name(self) -> &'static str {
        match self {
            File::Edition => "edition.toml",
            File::Authorities => "authorities.toml",
            File::Parameters => "parameters.toml",
            File::FlatRatePercentages => "flat_rate_percentages.toml",
            File::FuelScaleCharges => "fuel_scale_charges.toml",
            File::Trades => "trades.toml",
            File::BankHolidays => "bank_holidays.toml",
        }
    }
}

#[derive(Default)]
pub(super) struct Findings {
    problems: Vec<TableProblem>,
    /// The day on which the set was last checked, once it is known.
    pub last_checked: Option<Date>,
    /// The authorities that may be cited, once they are known.
    pub known_authorities: Option<BTreeSet<AuthorityId>>,
}

impl Findings {
    pub fn add(&mut self, file: File, id: Option<&str>, what: impl Into<String>) {
        self.problems.push(TableProblem { file: file.name(), id: id.map(str::to_owned), what: what.into() });
    }

    pub fn is_clean(&self) -> bool {
        self.problems.is_empty()
    }

    pub fn into_error(self) -> LawError {
        LawError { problems: self.problems }
    }

    /// A text that must say something.
    pub fn text(&mut self, file: File, id: Option<&str>, field: &str, text: &str) {
        if text.trim().is_empty() || text.trim() != text {
            self.add(file, id, format!("{field} is empty, or begins or ends with a space"));
        }
    }

    /// An optional text, which must say something if it is there.
    pub fn optional_text(&mut self, file: File, id: Option<&str>, field: &str, text: Option<&str>) {
        if let Some(text) = text {
            self.text(file, id, field, text);
        }
    }

    /// An id in lower case words and digits, joined by the one character given.
    pub fn id(&mut self, file: File, id: &str, joint: char) {
        let well_formed = id.split(joint).all(|word| {
            !word.is_empty()
                && word.chars().all(|character| character.is_ascii_lowercase() || character.is_ascii_digit())
        });
        if !well_formed {
            self.add(file, Some(id), format!("an id is lower case words and digits joined by \"{joint}\""));
        }
    }

    /// A day in the form 2017-04-01.
    pub fn date(&mut self, file: File, id: Option<&str>, field: &str, text: &str) -> Option<Date> {
        // The parser alone would also take other forms of ISO 8601, and a time after the day.
        let date = text.parse::<Date>().ok().filter(|date| date.to_string() == text);
        if date.is_none() {
            self.add(file, id, format!("{field} \"{text}\" is no day in the form 2017-04-01"));
        }
        date
    }

    pub fn evidence(&mut self, file: File, id: Option<&str>, word: &str) -> Option<Evidence> {
        let evidence = Evidence::from_word(word);
        if evidence.is_none() {
            let words = Evidence::ALL.map(Evidence::as_str).join(", ");
            self.add(file, id, format!("evidence \"{word}\" is none of {words}"));
        }
        evidence
    }

    /// The authorities cited: at least one, each of them in the table of authorities, none twice.
    pub fn authorities(&mut self, file: File, id: Option<&str>, cited: &[String]) -> Vec<AuthorityId> {
        if cited.is_empty() {
            self.add(file, id, "no authority is cited");
        }
        let mut authorities = Vec::with_capacity(cited.len());
        for citation in cited {
            let authority = match &self.known_authorities {
                Some(known) => known.get(citation.as_str()).cloned(),
                // The table of authorities could not be read, which is reported once, not for every citation.
                None => Some(AuthorityId::new(citation)),
            };
            match authority {
                None => self.add(file, id, format!("the authority \"{citation}\" is not in authorities.toml")),
                Some(authority) if authorities.contains(&authority) => {
                    self.add(file, id, format!("the authority \"{citation}\" is cited twice"));
                }
                Some(authority) => authorities.push(authority),
            }
        }
        authorities
    }

    /// The day on which a row was checked: not later than the day on which the whole set was.
    pub fn checked_on(&mut self, file: File, id: Option<&str>, text: &str) -> Option<Date> {
        let date = self.date(file, id, "checked_on", text)?;
        if let Some(last) = self.last_checked.filter(|last| date > *last) {
            self.add(file, id, format!("checked_on {date} is later than the set's own, {last}"));
        }
        Some(date)
    }
}
