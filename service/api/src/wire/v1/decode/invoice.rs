//! The request of an invoice.

use vat_schemes::invoice;

use super::scalars::{amount, date, quantity, reference, unit_price, unsigned_amount};
use super::words;
use crate::json::{Decoder, Given, Node};
use crate::problem::ProblemCode;
use crate::wire::v1::invoice_request::{InvoiceLine, InvoiceRequest, MAX_INVOICE_LINES};
use crate::wire::v1::vocabulary::{InvoiceRounding, InvoiceTreatment, IssuedBy};

const REQUEST: &[&str] = &["reference", "date", "issued_by", "rounding", "price", "lines", "payment"];
const LINE: &[&str] = &["treatment", "net", "gross", "unit_price", "quantity"];
const CHARGES: [&str; 3] = ["net", "gross", "unit_price"];

/// What to do about too many lines.
const ADD_UP: &str = "Work a longer invoice out in parts only where its VAT is rounded by line or by unit.";

/// An invoice's request.
pub(super) fn request(decoder: &mut Decoder, node: &Node<'_>) -> Option<InvoiceRequest> {
    let (mut reference_given, mut date_given, mut issued_by, mut rounding) = (None, None, None, None);
    let (mut price, mut lines, mut payment) = (None, None, None);
    let given = decoder.object(node, REQUEST, |decoder, field, node| match field {
        "reference" => reference_given = reference(decoder, node),
        "date" => date_given = date(decoder, node),
        "issued_by" => issued_by = words!(decoder, node, invoice::IssuedBy, IssuedBy),
        "rounding" => rounding = words!(decoder, node, invoice::InvoiceRounding, InvoiceRounding),
        "price" => price = amount(decoder, node),
        "lines" => lines = decoder.list(node, MAX_INVOICE_LINES, ADD_UP, line),
        _ => payment = unsigned_amount(decoder, node),
    })?;
    decoder.require(given, "date", "give the tax point, for example \"2026-06-30\".");
    decoder.require(given, "issued_by", "say who issues the document: \"invoice_trader\" or \"retailer\".");
    decoder.require(given, "rounding", "say how its VAT is rounded, for example \"line_nearest_penny\".");
    decoder.require(given, "lines", "give the lines as a list.");
    Some(InvoiceRequest {
        reference: reference_given,
        date: date_given?,
        issued_by: issued_by?,
        rounding: rounding?,
        price,
        lines: lines?,
        payment,
    })
}

fn line(decoder: &mut Decoder, node: &Node<'_>) -> Option<InvoiceLine> {
    let (mut treatment, mut net, mut gross) = (None, None, None);
    let (mut price, mut number) = (None, None);
    let given = decoder.object(node, LINE, |decoder, field, node| match field {
        "treatment" => treatment = words!(decoder, node, invoice::InvoiceTreatment, InvoiceTreatment),
        "net" => net = amount(decoder, node),
        "gross" => gross = amount(decoder, node),
        "unit_price" => price = unit_price(decoder, node),
        _ => number = quantity(decoder, node),
    })?;
    decoder.require(given, "treatment", "say how VAT treats the line, for example \"standard_rated\".");
    require_one_charge(decoder, given);
    Some(InvoiceLine { treatment: treatment?, net, gross, unit_price: price, quantity: number })
}

/// Exactly one charge, and a quantity beside a unit price and nowhere else.
fn require_one_charge(decoder: &mut Decoder, given: Given) {
    let charges: Vec<&str> = CHARGES.into_iter().filter(|field| given.has(field)).collect();
    match charges[..] {
        [] => decoder.fault(
            ProblemCode::AmountMissing,
            "This line has no amount: give net, gross, or unit_price with quantity.",
        ),
        ["unit_price"] => decoder.require(given, "quantity", "give the number of units, for example \"12\"."),
        [_] if given.has("quantity") => {
            decoder.require(
                given,
                "unit_price",
                "give the price of one unit instead of the line's, or leave quantity out.",
            );
        }
        [_] => {}
        _ => decoder.fault(
            ProblemCode::FieldsExcludeEachOther,
            format!("{} are both given, and a line has one price: keep one of them.", charges.join(" and ")),
        ),
    }
}
