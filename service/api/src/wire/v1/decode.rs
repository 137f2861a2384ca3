//! Decoding a comparison's request: every error at once, in the caller's words.

use vat_schemes::figures;
use vat_schemes::money::{Money, Percentage};

use super::explain;
use super::request::{Business, ComparisonRequest, GivenPeriod, MAX_LINES, Purchase, Sale};
use super::scalars::{GivenAmount, GivenDate, GivenPercentage, MAX_IDENTIFIER, MAX_REFERENCE, Reference, SectorId};
use super::vocabulary::{
    PurchaseTreatment, SaleNature, SaleTreatment, SpendKind, SplitEstimate, Supply, TurnoverMethod, UsedFor,
};
use crate::json::{self, Decoder, Given, Node, shown};
use crate::problem::{Problem, ProblemCode};

const REQUEST: &[&str] = &["reference", "period", "business", "sales", "purchases", "split_estimate"];
const PERIOD: &[&str] = &["start", "end"];
const BUSINESS: &[&str] = &["registered_on", "sector", "flat_rate_from", "liability_notified_on", "turnover_method"];
const SALE: &[&str] = &["treatment", "nature", "net", "vat", "gross", "part"];
const PURCHASE: &[&str] = &[
    "spend",
    "treatment",
    "supply",
    "used_for",
    "business_use_percentage",
    "for_main_activity",
    "net",
    "vat",
    "gross",
    "part",
];

/// A word of one of the calculation's lists.
macro_rules! words {
    ($decoder:expr, $node:expr, $type:ty, $wrap:path) => {
        $decoder.word($node, <$type>::ALL.iter().map(|value| value.as_str()), <$type>::from_word).map($wrap)
    };
}
/// Reads the request of a comparison out of a body.
pub fn comparison_request(body: &[u8]) -> Result<ComparisonRequest, Problem> {
    let node = json::read(body)?;
    let mut decoder = Decoder::new();
    let request = request(&mut decoder, &node);
    decoder.finish(request)
}

/// Reads a date out of a query parameter.
pub fn date_in_query(name: &str, text: &str) -> Result<jiff::civil::Date, Problem> {
    explain::date(text).map_err(|(code, detail)| Problem::of_query(name, code, detail))
}

fn request(decoder: &mut Decoder, node: &Node<'_>) -> Option<ComparisonRequest> {
    let (mut reference_given, mut period_given, mut business_given) = (None, None, None);
    let (mut sales, mut purchases, mut split_estimate) = (None, None, None);
    let given = decoder.object(node, REQUEST, |decoder, field, node| match field {
        "reference" => reference_given = reference(decoder, node),
        "period" => period_given = period(decoder, node),
        "business" => business_given = business(decoder, node),
        "sales" => sales = decoder.list(node, MAX_LINES, sale),
        "purchases" => purchases = decoder.list(node, MAX_LINES, purchase),
        _ => split_estimate = words!(decoder, node, figures::SplitEstimate, SplitEstimate),
    })?;
    decoder.require(given, "period", "give the VAT period as an object with start and end.");
    decoder.require(given, "business", "give the business as an object with at least registered_on and sector.");
    Some(ComparisonRequest {
        reference: reference_given,
        period: period_given?,
        business: business_given?,
        sales: sales.unwrap_or_default(),
        purchases: purchases.unwrap_or_default(),
        split_estimate,
    })
}

fn period(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenPeriod> {
    let (mut start, mut end) = (None, None);
    let given = decoder.object(node, PERIOD, |decoder, field, node| match field {
        "start" => start = date(decoder, node),
        _ => end = date(decoder, node),
    })?;
    decoder.require(given, "start", "give the first day, for example \"2026-04-01\".");
    decoder.require(given, "end", "give the last day, for example \"2026-06-30\".");
    Some(GivenPeriod { start: start?, end: end? })
}

fn business(decoder: &mut Decoder, node: &Node<'_>) -> Option<Business> {
    let (mut registered_on, mut sector_given, mut flat_rate_from) = (None, None, None);
    let (mut liability_notified_on, mut turnover_method) = (None, None);
    let given = decoder.object(node, BUSINESS, |decoder, field, node| match field {
        "registered_on" => registered_on = date(decoder, node),
        "sector" => sector_given = sector(decoder, node),
        "flat_rate_from" => flat_rate_from = date(decoder, node),
        "liability_notified_on" => liability_notified_on = date(decoder, node),
        _ => turnover_method = words!(decoder, node, figures::TurnoverMethod, TurnoverMethod),
    })?;
    decoder.require(
        given,
        "registered_on",
        "give the effective date of registration for VAT, for example \"2019-02-01\".",
    );
    decoder.require(given, "sector", "give the id of the category of business; GET /v1/sectors lists them.");
    Some(Business {
        registered_on: registered_on?,
        sector: sector_given?,
        flat_rate_from,
        liability_notified_on,
        turnover_method,
    })
}

fn sale(decoder: &mut Decoder, node: &Node<'_>) -> Option<Sale> {
    let (mut treatment, mut nature, mut part) = (None, None, None);
    let (mut net, mut vat, mut gross) = (None, None, None);
    let given = decoder.object(node, SALE, |decoder, field, node| match field {
        "treatment" => treatment = words!(decoder, node, figures::Treatment, SaleTreatment),
        "nature" => nature = words!(decoder, node, figures::Nature, SaleNature),
        "net" => net = amount(decoder, node),
        "vat" => vat = amount(decoder, node),
        "gross" => gross = amount(decoder, node),
        _ => part = period(decoder, node),
    })?;
    decoder.require(given, "treatment", "say how VAT treats the sale, for example \"standard_rated\".");
    require_amount(decoder, given);
    Some(Sale { treatment: treatment?, nature, net, vat, gross, part })
}

fn purchase(decoder: &mut Decoder, node: &Node<'_>) -> Option<Purchase> {
    let (mut spend, mut treatment, mut supply, mut used_for) = (None, None, None, None);
    let (mut business_use_percentage, mut for_main_activity, mut part) = (None, None, None);
    let (mut net, mut vat, mut gross) = (None, None, None);
    let given = decoder.object(node, PURCHASE, |decoder, field, node| match field {
        "spend" => spend = words!(decoder, node, figures::Spend, SpendKind),
        "treatment" => treatment = words!(decoder, node, figures::PurchaseTreatment, PurchaseTreatment),
        "supply" => supply = words!(decoder, node, figures::Supply, Supply),
        "used_for" => used_for = words!(decoder, node, figures::UsedFor, UsedFor),
        "business_use_percentage" => business_use_percentage = percentage(decoder, node),
        "for_main_activity" => for_main_activity = decoder.boolean(node),
        "net" => net = amount(decoder, node),
        "vat" => vat = amount(decoder, node),
        "gross" => gross = amount(decoder, node),
        _ => part = period(decoder, node),
    })?;
    decoder.require(given, "spend", "say what was bought, for example \"services\"; GET /v1/spend-kinds lists them.");
    require_amount(decoder, given);
    Some(Purchase {
        spend: spend?,
        treatment,
        supply,
        used_for,
        business_use_percentage,
        for_main_activity,
        net,
        vat,
        gross,
        part,
    })
}

fn require_amount(decoder: &mut Decoder, given: Given) {
    if !["net", "vat", "gross"].into_iter().any(|field| given.has(field)) {
        decoder.fault(
            ProblemCode::AmountMissing,
            "This line has no amount: give one, two or three of net, vat and gross.",
        );
    }
}

fn amount(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenAmount> {
    if let Node::Number(number) = node {
        decoder.fault(ProblemCode::AmountMustBeString, explain::number_for_amount(number));
        return None;
    }
    let text = decoder.text(node)?;
    let money = if explain::is_amount(text) { text.parse::<Money>().ok() } else { None };
    if money.is_none() {
        decoder.fault(ProblemCode::AmountNotValid, explain::amount(text));
    }
    money.map(GivenAmount)
}

fn percentage(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenPercentage> {
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

fn date(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenDate> {
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

fn sector(decoder: &mut Decoder, node: &Node<'_>) -> Option<SectorId> {
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

fn reference(decoder: &mut Decoder, node: &Node<'_>) -> Option<Reference> {
    let text = decoder.text(node)?;
    let length = text.chars().count();
    let detail = if text.chars().any(char::is_control) {
        "reference holds control characters, such as the end of a line: leave them out.".to_owned()
    } else if (1..=MAX_REFERENCE).contains(&length) {
        return Some(Reference(text.to_owned()));
    } else {
        format!("reference has {length} characters: give 1 to {MAX_REFERENCE}, or leave it out.")
    };
    decoder.fault(ProblemCode::TextNotValid, detail);
    None
}
