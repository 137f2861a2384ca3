//! What amounts and days of adjustments cannot be.

use jiff::civil::Date;

use crate::money::{Money, Overflow};
use crate::period::Period;
use crate::refusal::{Place, Refusal, RefusalCode};

/// Refuses an amount below nought.
pub(super) fn not_negative(amount: Money, place: Place, what: &str) -> Option<Refusal> {
    amount.is_negative().then(|| {
        Refusal::new(
            place,
            RefusalCode::AmountNegative,
            format!("{what} is nought or more. Give it without a minus sign."),
        )
    })
}

/// Refuses an amount of nought or less.
pub(super) fn positive(amount: Money, place: Place, what: &str) -> Option<Refusal> {
    if amount.is_zero() {
        return Some(Refusal::new(
            place,
            RefusalCode::AmountNotPositive,
            format!("{what} is nothing, so there is nothing to adjust. Give the amount, or leave the entry out."),
        ));
    }
    not_negative(amount, place, what)
}

/// Refuses a part that is more than the whole.
pub(super) fn part_of(part: (Money, Place, &str), whole: (Money, &str)) -> Option<Refusal> {
    let (part, place, part_is) = part;
    let (whole, whole_is) = whole;
    (part > whole).then(|| {
        Refusal::new(
            place,
            RefusalCode::PartMoreThanWhole,
            format!("{part_is} is {part}, more than {whole_is}, {whole}. Correct one of the two."),
        )
    })
}

/// Refuses a day outside the period: what happened on it stands on the return of another.
pub(super) fn in_period(day: Date, place: Place, what: &str, period: Period) -> Option<Refusal> {
    let one_day = Period::new(day, day)?;
    (!period.contains(one_day)).then(|| {
        Refusal::new(
            place,
            RefusalCode::BelongsToAnotherPeriod,
            format!(
                "{what} on {day}, so the entry belongs to the period of that day, and this one is from {} to {}. Give it with that period.",
                period.start(),
                period.end()
            ),
        )
    })
}

/// An amount less another, where there is one.
pub(super) fn less(from: Money, amount: Option<Money>) -> Result<Money, Overflow> {
    amount.map_or(Ok(from), |amount| from.minus(amount))
}
