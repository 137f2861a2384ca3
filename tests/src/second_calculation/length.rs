//! How long a run of days is. Whole months count as months: HMRC give £250 for three months of £1,000 a year (VAT Notice 733).
//! What is not whole months counts by days, held against the year that begins with it: our reading.

use super::money::{Exact, whole};
use super::request::Days;
use crate::calendar;

/// The run as a share of a year.
pub fn share_of_year(days: Days) -> Exact {
    match calendar::whole_months(days.start, days.end) {
        Some(months) => Exact::new(i128::from(months), 12),
        None => Exact::new(i128::from(days.count()), i128::from(calendar::days_of_year_from(days.start))),
    }
}

/// Its months.
pub fn months(days: Days) -> Exact {
    share_of_year(days) * whole(12)
}
