//! Changes of the category of business inside a period (VAT Regulations 1995 regs 55A(3), 55H, 55K and 55N).

use crate::support::*;
use vat_schemes::figures::{Figures, SectorChange, SectorChangeReason, SplitEstimate, Treatment};

const ACCOUNTANT: &str = "accountancy-or-book-keeping";
const SHOP: &str = "retailing-not-listed-elsewhere";

fn change(on: &str, sector: &str, reason: SectorChangeReason) -> SectorChange {
    SectorChange { on: day(on), sector: sector.to_owned(), reason }
}

/// An accountant's quarter, turnover of each half given.
fn accountant(change_on: &str, reason: SectorChangeReason) -> Figures {
    let mut figures = quarter();
    figures.business.sector = ACCOUNTANT.to_owned();
    figures.business.sector_changes = vec![change(change_on, SHOP, reason)];
    figures.sales = vec![sale(Treatment::ZeroRated, net("9000.00"))];
    figures.purchases = vec![goods("5000.00")];
    figures.split_estimate = Some(SplitEstimate::ByDays);
    figures
}

fn rates(figures: &Figures) -> Vec<(String, String)> {
    parts(&answer(figures))
}

fn owned(expected: &[(&str, &str)]) -> Vec<(String, String)> {
    expected.iter().map(|(from, rate)| ((*from).to_owned(), (*rate).to_owned())).collect()
}

/// The three steps of a change inside a period: old percentage to the day before, new one from the day, then together.
#[test]
fn an_activity_that_starts_or_stops_changes_the_category_on_that_day() {
    for reason in [SectorChangeReason::ActivityStarted, SectorChangeReason::ActivityStopped] {
        for (on, expected) in [
            ("2025-03-31", &[("2025-04-01", "7.5")][..]),
            ("2025-04-01", &[("2025-04-01", "7.5")]),
            ("2025-04-02", &[("2025-04-01", "14.5"), ("2025-04-02", "7.5")]),
            ("2025-06-30", &[("2025-04-01", "14.5"), ("2025-06-30", "7.5")]),
            ("2025-07-01", &[("2025-04-01", "14.5")]),
        ] {
            assert_eq!(rates(&accountant(on, reason)), owned(expected), "{on}");
        }
    }
    let mut figures = accountant("2025-05-16", SectorChangeReason::ActivityStarted);
    figures.split_estimate = None;
    figures.sales = vec![
        in_part(sale(Treatment::ZeroRated, net("4000.00")), "2025-04-01", "2025-05-15"),
        in_part(sale(Treatment::ZeroRated, net("6000.00")), "2025-05-16", "2025-06-30"),
    ];
    let answer = answer(&figures);
    // £580 and £450.
    assert_eq!(answer.flat_rate.vat_payable, money("1030.00"));
    assert_eq!(answer.flat_rate.parts[1].sector, SHOP);
}

/// A shift in balance waits for the first day of the period that contains the next anniversary of the start.
#[test]
fn a_shift_in_balance_waits_for_the_anniversary() {
    // Started on 15 May: the anniversary lies in the quarter from 1 April.
    for (on, expected) in [("2025-04-01", "7.5"), ("2025-04-02", "14.5"), ("2024-06-01", "7.5"), ("2024-04-02", "14.5")]
    {
        let mut figures = accountant(on, SectorChangeReason::BalanceShifted);
        figures.business.flat_rate_from = Some(day("2020-05-15"));
        let expected = if on == "2024-04-02" {
            // A day after the choice of 1 April 2024; that of 1 April 2025 is the next.
            "7.5"
        } else {
            expected
        };
        assert_eq!(rates(&figures), owned(&[("2025-04-01", expected)]), "{on}");
    }
}

/// The categories of the days are told even where a limited cost business pays one percentage throughout.
#[test]
fn the_category_of_each_day_is_told() {
    let mut figures = accountant("2025-05-16", SectorChangeReason::ActivityStarted);
    figures.purchases.clear();
    let answer = answer(&figures);
    assert_eq!(parts(&answer), owned(&[("2025-04-01", "16.5")]));
    let told: Vec<_> = answer.flat_rate.sector_at.iter().map(|at| (at.from.to_string(), at.sector.clone())).collect();
    assert_eq!(told, owned(&[("2025-04-01", ACCOUNTANT), ("2025-05-16", SHOP)]));
    // A change before the period: told of as from its first day.
    let answer = crate::support::answer(&accountant("2025-03-31", SectorChangeReason::ActivityStarted));
    let told: Vec<_> = answer.flat_rate.sector_at.iter().map(|at| (at.from.to_string(), at.sector.clone())).collect();
    assert_eq!(told, owned(&[("2025-04-01", SHOP)]));
}

/// Reg 55N: thirty days, in writing.
#[test]
fn hmrc_are_to_be_told_within_thirty_days() {
    for (on, reason, act_by) in [
        ("2025-05-16", SectorChangeReason::ActivityStarted, Some("2025-06-15")),
        ("2025-04-01", SectorChangeReason::ActivityStopped, Some("2025-05-01")),
        // In the quarter before: that was to be told of then.
        ("2025-03-31", SectorChangeReason::ActivityStopped, None),
        // The choice made on 1 April counts from that day.
        ("2025-01-10", SectorChangeReason::BalanceShifted, Some("2025-05-01")),
    ] {
        let mut figures = accountant(on, reason);
        figures.business.flat_rate_from = Some(day("2020-05-15"));
        let answer = answer(&figures);
        let found = answer.warnings.iter().find(|warning| warning.code.as_str() == "category_changes");
        assert_eq!(found.and_then(|warning| warning.act_by).map(|day| day.to_string()).as_deref(), act_by, "{on}");
    }
}

#[test]
fn changes_are_refused_where_they_cannot_be_followed() {
    let mut figures = accountant("2025-05-16", SectorChangeReason::ActivityStarted);
    figures.business.sector_changes.push(change("2025-05-16", "no-such-category", SectorChangeReason::ActivityStarted));
    assert_eq!(
        refused(&figures),
        [
            ("sector_changes_out_of_order".to_owned(), "/business/sector_changes/1".to_owned()),
            ("unknown_sector".to_owned(), "/business/sector_changes/1/sector".to_owned()),
        ]
    );
}

/// A caterer's change of the Table and a change of category in one period cut it three times.
#[test]
fn a_change_of_category_and_of_the_table_cut_together() {
    let mut figures = period("2020-07-01", "2020-09-30");
    figures.business.sector = "pubs".to_owned();
    figures.business.sector_changes =
        vec![change("2020-08-01", "hotel-or-accommodation", SectorChangeReason::ActivityStarted)];
    figures.sales = vec![sale(Treatment::ZeroRated, net("9200.00"))];
    figures.purchases = vec![goods("5000.00")];
    figures.split_estimate = Some(SplitEstimate::ByDays);
    assert_eq!(rates(&figures), owned(&[("2020-07-01", "6.5"), ("2020-07-15", "1"), ("2020-08-01", "0")]));
}

/// VAT Regulations 1995 reg 55KA: the limited cost percentage is no category, and is not to be chosen as one.
#[test]
fn no_category_is_called_limited_cost() {
    for (sector, says) in [
        (
            "limited-cost-business",
            "A limited cost business is no category of business: the goods test decides it each period.",
        ),
        ("limited-cost-businesses", "No category of business has the id \"limited-cost-businesses\"."),
    ] {
        let mut figures = quarter();
        figures.business.sector = sector.to_owned();
        let found = refusals(&figures);
        assert_eq!(
            (found[0].code.as_str(), found[0].place.to_string().as_str()),
            ("unknown_sector", "/business/sector")
        );
        assert!(found[0].detail.starts_with(says), "{}", found[0].detail);
    }
}
