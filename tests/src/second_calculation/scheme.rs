//! The days in the Flat Rate Scheme, and the percentage of each.

use super::law;
use super::money::{Exact, whole};
use super::request::{Business, Days, Request, SectorChange};
use crate::calendar::Day;

/// The days of the period in the scheme (VAT Regulations 1995 regs 55B, 55Q).
pub fn days_in_scheme(request: &Request) -> Option<Days> {
    let business = &request.business;
    let start = business.flat_rate_from.unwrap_or(request.period.start);
    let end = business.flat_rate_until.unwrap_or(request.period.end);
    (start <= end).then_some(())?;
    request.period.shared_with(Days { start, end })
}

/// The newly registered period, in which a point comes off (VAT Regulations 1995 reg 55JB; FRS7100): from the later of the
/// scheme's start and the day on which HMRC were told, to the day before the first anniversary of registration. None where the
/// scheme starts, or HMRC were told, later than that.
pub fn newly_registered(business: &Business, period: Days) -> Option<Days> {
    let anniversary = business.registered_on.months_later(12);
    let start = business.flat_rate_from.unwrap_or(period.start);
    let told = business.liability_notified_on.unwrap_or(business.registered_on);
    let (start, end) = (start.max(told), anniversary.days_later(-1));
    (start <= end).then_some(Days { start, end })
}

/// Whether it is known here from when a change of category counts: where an activity starts or stops, from that day (VAT
/// Regulations 1995 regs 55A(3), 55H). A mere shift in balance counts from the period of an anniversary, and is not modelled.
pub fn is_known(change: &SectorChange) -> bool {
    change.reason != "balance_shifted"
}

/// The category on a day.
pub fn category_on(business: &Business, on: Day) -> &str {
    let changed = business.sector_changes.iter().rfind(|change| change.on <= on);
    changed.map_or(business.sector.as_str(), |change| change.sector.as_str())
}

/// The percentage on a day, where it comes from, and the point taken off it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Percentage {
    /// In per cent; never below nought.
    pub applied: Exact,
    /// `sector` or `limited_cost`.
    pub basis: &'static str,
}

/// The percentage applied on a day (VAT Regulations 1995 regs 55H, 55JB, 55K, 55KA).
pub fn percentage_on(business: &Business, period: Days, limited_cost: bool, on: Day) -> Percentage {
    let (base, basis) = if limited_cost && on >= law::goods_test_begins() {
        (law::limited_cost_percentage(), "limited_cost")
    } else {
        (law::category_percentage(category_on(business, on), on), "sector")
    };
    let reduced = newly_registered(business, period).is_some_and(|days| days.hold(on));
    let applied = if reduced { base - law::first_year_point() } else { base };
    Percentage { applied: applied.max(whole(0)), basis }
}

/// The parts of the days: runs in which the same percentage is applied.
pub fn parts(business: &Business, period: Days, days: Days, limited_cost: bool) -> Vec<(Days, Percentage)> {
    let mut parts: Vec<(Days, Percentage)> = Vec::new();
    let mut on = days.start;
    while on <= days.end {
        let percentage = percentage_on(business, period, limited_cost, on);
        match parts.last_mut() {
            Some((part, before)) if before.applied == percentage.applied => part.end = on,
            _ => parts.push((Days { start: on, end: on }, percentage)),
        }
        on = on.days_later(1);
    }
    parts
}
