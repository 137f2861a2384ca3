//! The request for dates.

use vat_schemes::{due_dates, law};

use super::scalars::{amount, date, period, reference, unsigned_amount};
use super::words;
use crate::json::{Decoder, Node};
use crate::wire::v1::dates_request::{
    DatesBusiness, DatesRequest, GivenAnnualAccounting, GivenEvent, GivenLiability, MAX_EVENTS, MAX_PERIODS,
};
use crate::wire::v1::dates_vocabulary::{EventKind, Instalments, Nation, ReturnPeriods};

const REQUEST: &[&str] = &["reference", "from", "until", "business", "events"];
const BUSINESS: &[&str] = &[
    "registered_on",
    "nation",
    "return_periods",
    "annual_accounting",
    "vat_periods",
    "flat_rate_from",
    "flat_rate_until",
    "liability_notified_on",
];
const ANNUAL: &[&str] = &["year_ends_on", "from", "instalments", "liability"];
const LIABILITY: &[&str] = &["expected", "actual"];
const EVENT: &[&str] = &["kind", "on"];

/// The request for dates.
pub(super) fn request(decoder: &mut Decoder, node: &Node<'_>) -> Option<DatesRequest> {
    let (mut reference_given, mut from, mut until) = (None, None, None);
    let (mut business_given, mut events) = (None, None);
    let given = decoder.object(node, REQUEST, |decoder, field, node| match field {
        "reference" => reference_given = reference(decoder, node),
        "from" => from = date(decoder, node),
        "until" => until = date(decoder, node),
        "business" => business_given = business(decoder, node),
        _ => events = decoder.list(node, MAX_EVENTS, "Ask for some of them apart.", event),
    })?;
    decoder.require(given, "from", "give the first day of the window, for example \"2026-04-01\".");
    decoder.require(given, "until", "give its last day, for example \"2027-03-31\".");
    decoder.require(
        given,
        "business",
        "give the business as an object with registered_on, nation and its VAT periods.",
    );
    Some(DatesRequest {
        reference: reference_given,
        from: from?,
        until: until?,
        business: business_given?,
        events: events.unwrap_or_default(),
    })
}

fn business(decoder: &mut Decoder, node: &Node<'_>) -> Option<DatesBusiness> {
    let (mut registered_on, mut nation, mut return_periods) = (None, None, None);
    let (mut annual_accounting, mut vat_periods) = (None, None);
    let (mut flat_rate_from, mut flat_rate_until, mut liability_notified_on) = (None, None, None);
    let given = decoder.object(node, BUSINESS, |decoder, field, node| match field {
        "registered_on" => registered_on = date(decoder, node),
        "nation" => nation = words!(decoder, node, law::Nation, Nation),
        "return_periods" => return_periods = words!(decoder, node, due_dates::ReturnPeriods, ReturnPeriods),
        "annual_accounting" => annual_accounting = annual(decoder, node),
        "vat_periods" => vat_periods = decoder.list(node, MAX_PERIODS, "Give those around the window.", period),
        "flat_rate_from" => flat_rate_from = date(decoder, node),
        "flat_rate_until" => flat_rate_until = date(decoder, node),
        _ => liability_notified_on = date(decoder, node),
    })?;
    decoder.require(given, "registered_on", "give the effective date of registration, for example \"2019-02-01\".");
    decoder.require(given, "nation", "say whose bank holidays count.");
    decoder.require_one_of(
        given,
        ["return_periods", "annual_accounting", "vat_periods"],
        "give HMRC's ordinary periods, or annual accounting, or the periods one by one.",
    );
    Some(DatesBusiness {
        registered_on: registered_on?,
        nation: nation?,
        return_periods,
        annual_accounting,
        vat_periods,
        flat_rate_from,
        flat_rate_until,
        liability_notified_on,
    })
}

fn annual(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenAnnualAccounting> {
    let (mut year_ends_on, mut from, mut instalments, mut liability_given) = (None, None, None, None);
    let given = decoder.object(node, ANNUAL, |decoder, field, node| match field {
        "year_ends_on" => year_ends_on = date(decoder, node),
        "from" => from = date(decoder, node),
        "instalments" => instalments = words!(decoder, node, due_dates::Instalments, Instalments),
        _ => liability_given = liability(decoder, node),
    })?;
    decoder.require(
        given,
        "year_ends_on",
        "give the last day of a year of annual accounting, for example \"2027-03-31\".",
    );
    decoder.require(given, "instalments", "say whether nine or three are paid.");
    Some(GivenAnnualAccounting {
        year_ends_on: year_ends_on?,
        from,
        instalments: instalments?,
        liability: liability_given,
    })
}

fn liability(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenLiability> {
    let (mut expected, mut actual) = (None, None);
    let given = decoder.object(node, LIABILITY, |decoder, field, node| match field {
        "expected" => expected = unsigned_amount(decoder, node),
        _ => actual = amount(decoder, node),
    })?;
    decoder.require(given, "expected", "give the VAT expected for the year, for example \"8000.00\".");
    Some(GivenLiability { expected: expected?, actual })
}

fn event(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenEvent> {
    let (mut kind, mut on) = (None, None);
    let given = decoder.object(node, EVENT, |decoder, field, node| match field {
        "kind" => kind = words!(decoder, node, due_dates::EventKind, EventKind),
        _ => on = date(decoder, node),
    })?;
    decoder.require(given, "kind", "say what happened.");
    decoder.require(given, "on", "give the day that the kind names, for example \"2026-04-30\".");
    Some(GivenEvent { kind: kind?, on: on? })
}
