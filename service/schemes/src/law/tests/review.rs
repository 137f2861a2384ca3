//! Which rows are due for review, and why.

use super::soundness::edited;
use super::{day, law};
use crate::law::{Law, Review, ReviewedRow, ReviewedTable, Tables, WhyDue};

/// The reasons for a row.
fn due(law: &Law, review: Review, id: &str, from: &str) -> Vec<WhyDue> {
    let from = Some(day(from));
    let rows: Vec<ReviewedRow<'_>> =
        law.review(&review).into_iter().filter(|row| row.id == id && row.from == from).collect();
    assert_eq!(rows.len(), 1, "{id}");
    rows[0].due.clone()
}

fn on(text: &str) -> Review {
    Review { on: day(text), months: 12, around: 3 }
}

#[test]
fn every_row_of_the_tables_is_looked_at() {
    let law = law();
    let rows = law.review(&on("2026-11-26"));
    let count = |table| rows.iter().filter(|row| row.table == table).count();
    // A row has its beginning, and a trade its name.
    let written = |text: &str, line: &str| text.lines().filter(|written| written.starts_with(line)).count();
    let tables = Tables::BUILT_IN;
    assert_eq!(count(ReviewedTable::Parameters), written(tables.parameters, "[[parameter.row]]"));
    assert_eq!(count(ReviewedTable::FlatRatePercentages), written(tables.flat_rate_percentages, "[[sector.row]]"));
    assert_eq!(count(ReviewedTable::FuelScaleCharges), written(tables.fuel_scale_charges, "[[table]]"));
    assert_eq!(count(ReviewedTable::Trades), written(tables.trades, "[[trade]]"));
    assert_eq!(count(ReviewedTable::BankHolidays), 1);
}

#[test]
fn a_row_is_due_when_it_was_last_checked_so_many_months_ago() {
    let anchor = "value = \"90000.00\"\nfrom = \"2024-04-01\"";
    let (old, new) = ("checked_on = \"2026-11-25\"", "checked_on = \"2025-11-26\"");
    let text = edited(Tables::BUILT_IN.parameters, anchor, old, new);
    let law = Law::from_tables(&Tables { parameters: &text, ..Tables::BUILT_IN }).expect("a sound set");
    assert_eq!(due(&law, on("2026-11-25"), "vat_registration", "2024-04-01"), []);
    assert_eq!(due(&law, on("2026-11-26"), "vat_registration", "2024-04-01"), [WhyDue::NotCheckedLately]);
    let sooner = Review { months: 11, ..on("2026-10-26") };
    assert_eq!(due(&law, sooner, "vat_registration", "2024-04-01"), [WhyDue::NotCheckedLately]);
    // The other rows were checked on the day before.
    assert_eq!(due(&law, on("2026-11-26"), "vat_rate_standard", "2011-01-04"), []);
}

#[test]
fn a_row_is_due_where_no_official_text_was_opened_for_it() {
    let law = law();
    for row in law.review(&on("2026-11-26")) {
        let opened = matches!(row.evidence.as_str(), "law" | "official_guidance");
        assert_eq!(row.due.contains(&WhyDue::TextNotOpened), !opened, "{}", row.id);
    }
}

#[test]
fn a_row_is_due_around_the_days_on_which_it_begins_and_ends() {
    let law = law();
    // The percentage of a limited cost business begins on 1 April 2017, and the limit for registration of 85,000 ends on 31 March 2024.
    for (on_day, expected) in [("2016-12-31", false), ("2017-01-01", true), ("2017-07-01", true), ("2017-07-02", false)]
    {
        let why = due(&law, on(on_day), "limited_cost_business", "2017-04-01");
        assert_eq!(why.contains(&WhyDue::Begins), expected, "{on_day}");
    }
    for (on_day, expected) in [("2023-12-30", false), ("2023-12-31", true), ("2024-06-30", true), ("2024-07-01", false)]
    {
        let why = due(&law, on(on_day), "vat_registration", "2017-04-01");
        assert_eq!(why.contains(&WhyDue::Ends), expected, "{on_day}");
        assert!(!why.contains(&WhyDue::NothingFollows), "the limit of 90,000 follows");
    }
}

#[test]
fn a_table_that_runs_out_is_due_until_another_follows() {
    let law = law();
    let why = |on_day| due(&law, on(on_day), "fuel_scale_charges", "2025-05-01");
    assert!(!why("2026-01-29").contains(&WhyDue::NothingFollows));
    assert!(why("2026-01-30").contains(&WhyDue::NothingFollows));
    assert!(why("2030-01-01").contains(&WhyDue::NothingFollows));
    let holidays = |on_day| due(&law, on(on_day), "bank_holidays", "2011-01-01");
    assert!(!holidays("2026-09-29").contains(&WhyDue::NothingFollows));
    assert!(holidays("2026-10-01").contains(&WhyDue::NothingFollows));
    // The temporary rate of hospitality was meant to end.
    assert!(
        law.review(&on("2026-11-26"))
            .iter()
            .filter(|row| row.id == "vat_rate_hospitality")
            .all(|row| !row.due.contains(&WhyDue::NothingFollows))
    );
}
