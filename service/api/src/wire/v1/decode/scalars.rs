//! Amounts, percentages, days and texts, each with the sentence that puts a wrong one right.

use std::ops::RangeInclusive;

use vat_schemes::money::{FinePounds, Money, Percentage, Quantity};

use crate::json::{Decoder, Node, shown};
use crate::problem::ProblemCode;
use crate::wire::v1::explain;
use crate::wire::v1::request::GivenPeriod;
use crate::wire::v1::scalars::{
    ActivityDescription, GivenAmount, GivenDate, GivenPercentage, GivenQuantity, GivenUnitPrice, MAX_DESCRIPTION,
    MAX_IDENTIFIER, MAX_REASON, MAX_REFERENCE, Month, Reference, SectorId, SectorReason, UnsignedAmount,
};

const PERIOD: &[&str] = &["start", "end"];

/// A first and a last day.
pub(super) fn period(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenPeriod> {
    let (mut start, mut end) = (None, None);
    let given = decoder.object(node, PERIOD, |decoder, field, node| match field {
        "start" => start = date(decoder, node),
        _ => end = date(decoder, node),
    })?;
    decoder.require(given, "start", "give the first day, for example \"2026-04-01\".");
    decoder.require(given, "end", "give the last day, for example \"2026-06-30\".");
    Some(GivenPeriod { start: start?, end: end? })
}

/// An amount.
pub(super) fn amount(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenAmount> {
    if let Node::Number(number) = node {
        decoder.fault(ProblemCode::AmountMustBeString, explain::number_for_amount(number));
        return None;
    }
    let text = decoder.text(node)?;
    let money = text.parse::<Money>().ok();
    if money.is_none() {
        decoder.fault(ProblemCode::AmountNotValid, explain::amount(text));
    }
    money.map(GivenAmount)
}

/// An amount that is not negative.
pub(super) fn unsigned_amount(decoder: &mut Decoder, node: &Node<'_>) -> Option<UnsignedAmount> {
    let amount = amount(decoder, node)?;
    if matches!(node, Node::Text(text) if text.starts_with('-')) {
        let detail = format!("{} cannot be negative: write it without a minus sign.", decoder.name());
        decoder.fault(ProblemCode::AmountNotValid, detail);
        return None;
    }
    Some(UnsignedAmount(amount.0))
}

/// The price of one unit.
pub(super) fn unit_price(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenUnitPrice> {
    let text = quoted(decoder, node)?;
    let price = if explain::is_unit_price(text) { text.parse::<FinePounds>().ok() } else { None };
    if price.is_none() {
        decoder.fault(ProblemCode::AmountNotValid, explain::unit_price(text));
    }
    price.map(GivenUnitPrice)
}

/// A number of units.
pub(super) fn quantity(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenQuantity> {
    let text = quoted(decoder, node)?;
    let quantity = if explain::is_quantity(text) { text.parse::<Quantity>().ok() } else { None };
    if quantity.is_none() {
        decoder.fault(ProblemCode::AmountNotValid, explain::quantity(text));
    }
    quantity.map(GivenQuantity)
}

/// The text of a number that is finer than an amount.
fn quoted<'n>(decoder: &mut Decoder, node: &'n Node<'_>) -> Option<&'n str> {
    if let Node::Number(_) = node {
        let detail = format!("{} is a text, not a number: write it in quotation marks.", decoder.name());
        decoder.fault(ProblemCode::AmountMustBeString, detail);
        return None;
    }
    decoder.text(node)
}

/// A percentage.
pub(super) fn percentage(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenPercentage> {
    if let Node::Number(number) = node {
        decoder.fault(ProblemCode::PercentageMustBeString, explain::number_for_percentage(number));
        return None;
    }
    let text = decoder.text(node)?;
    let percentage = if explain::is_percentage(text) { text.parse::<Percentage>().ok() } else { None };
    if percentage.is_none() {
        decoder.fault(ProblemCode::PercentageNotValid, explain::percentage(text));
    }
    percentage.map(GivenPercentage)
}

/// A whole number within bounds: a JSON number, since it is no amount and has no decimals to lose.
pub(super) fn whole_number(decoder: &mut Decoder, node: &Node<'_>, bounds: RangeInclusive<i32>) -> Option<i32> {
    let Node::Number(digits) = node else {
        decoder.wrong_type("a whole number without quotation marks", node);
        return None;
    };
    let number = digits.parse::<i32>().ok().filter(|number| bounds.contains(number));
    if number.is_none() {
        let (name, least, most) = (decoder.name(), bounds.start(), bounds.end());
        let detail = format!("{name} must be a whole number from {least} to {most}, without decimals.");
        decoder.fault(ProblemCode::NumberNotValid, detail);
    }
    number
}

/// A day.
pub(super) fn date(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenDate> {
    let text = match node {
        Node::Number(_) => {
            let detail = format!("{} must be a text in quotation marks, as in \"2026-06-30\".", decoder.name());
            decoder.fault(ProblemCode::WrongType, detail);
            return None;
        }
        node => decoder.text(node)?,
    };
    match explain::date(text) {
        Ok(date) => Some(GivenDate(date)),
        Err((code, detail)) => {
            decoder.fault(code, detail);
            None
        }
    }
}

/// A month, written as the beginning of a date.
pub(super) fn month(decoder: &mut Decoder, node: &Node<'_>) -> Option<Month> {
    if let Node::Number(_) = node {
        let detail = format!("{} must be a text in quotation marks, as in \"2026-04\".", decoder.name());
        decoder.fault(ProblemCode::WrongType, detail);
        return None;
    }
    let text = decoder.text(node)?;
    let is_month = text.len() == 7 && text.starts_with("20");
    let first = is_month.then(|| explain::date(&format!("{text}-01")).ok()).flatten();
    if first.is_none() {
        let detail =
            format!("{} is not a month from 2000-01 to 2099-12: write year and month, as in \"2026-04\".", shown(text));
        decoder.fault(ProblemCode::DateNotValid, detail);
    }
    first.map(Month::of)
}

/// The id of a category of business.
pub(super) fn sector(decoder: &mut Decoder, node: &Node<'_>) -> Option<SectorId> {
    let text = decoder.text(node)?;
    if is_identifier(text) {
        return Some(SectorId(text.to_owned().into()));
    }
    decoder.fault(
        ProblemCode::IdentifierNotValid,
        format!(
            "{} is not an identifier: write 1 to {MAX_IDENTIFIER} lower-case letters and digits joined by single hyphens, for example \"management-consultancy\". GET /v1/sectors lists them.",
            shown(text)
        ),
    );
    None
}

/// Lower-case letters and digits, joined by single hyphens.
fn is_identifier(text: &str) -> bool {
    text.len() <= MAX_IDENTIFIER
        && text
            .split('-')
            .all(|word| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit()))
}

/// The caller's own name for a request.
pub(super) fn reference(decoder: &mut Decoder, node: &Node<'_>) -> Option<Reference> {
    free_text(decoder, node, MAX_REFERENCE).map(Reference)
}

/// What an activity is.
pub(super) fn description(decoder: &mut Decoder, node: &Node<'_>) -> Option<ActivityDescription> {
    free_text(decoder, node, MAX_DESCRIPTION).map(ActivityDescription)
}

/// Why the category was chosen.
pub(super) fn reason(decoder: &mut Decoder, node: &Node<'_>) -> Option<SectorReason> {
    free_text(decoder, node, MAX_REASON).map(SectorReason)
}

/// A text in the caller's own words, in one line.
fn free_text(decoder: &mut Decoder, node: &Node<'_>, most: usize) -> Option<String> {
    let text = decoder.text(node)?;
    let (has_controls, length) = (text.chars().any(char::is_control), text.chars().count());
    if !has_controls && (1..=most).contains(&length) {
        return Some(text.to_owned());
    }
    let name = decoder.name();
    let detail = if has_controls {
        format!("{name} holds control characters, such as the end of a line: leave them out.")
    } else {
        format!("{name} has {length} characters: give 1 to {most}.")
    };
    decoder.fault(ProblemCode::TextNotValid, detail);
    None
}
