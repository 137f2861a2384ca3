//! The request of an invoice. The schemas state every bound; `decode` keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::invoice::{Charge, InvoiceFigures, InvoiceLine as Figures};

use super::scalars::{GivenAmount, GivenDate, GivenQuantity, GivenUnitPrice, Reference, UnsignedAmount};
use super::vocabulary::{InvoiceRounding, InvoiceTreatment, IssuedBy};

/// The most lines of an invoice.
pub const MAX_INVOICE_LINES: usize = 500;

/// An invoice, a credit note (negative amounts) or a till receipt, whose VAT is to be worked out. Unknown fields are refused, and so
/// is `null`: leave out what does not apply.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct InvoiceRequest {
    /// The caller's own name for the request; it comes back in the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The tax point. It decides the rates; not before 2011-01-04.
    pub date: GivenDate,
    /// Who issues the document.
    pub issued_by: IssuedBy,
    /// How its VAT is rounded. A retailer rounds to the nearest penny.
    pub rounding: InvoiceRounding,
    /// One price with VAT for all lines together, in pounds. Each line's `gross` is then the price at which it is sold alone, by
    /// which this one is shared out (VATA 1994 section 19(4)).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<GivenAmount>,
    /// The lines. Their prices are all without VAT or all with it; what carries none fits both.
    #[schema(max_items = 500)]
    pub lines: Vec<InvoiceLine>,
    /// An amount received on the document, in pounds: at most what it comes to with VAT.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub payment: Option<UnsignedAmount>,
}

/// A line, with exactly one of `net`, `gross` and `unit_price`; `quantity` stands beside `unit_price`, and only there.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct InvoiceLine {
    /// How VAT treats it.
    pub treatment: InvoiceTreatment,
    /// Its price without VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub net: Option<GivenAmount>,
    /// Its price with VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gross: Option<GivenAmount>,
    /// The price of one unit without VAT.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit_price: Option<GivenUnitPrice>,
    /// The number of units.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quantity: Option<GivenQuantity>,
}

impl From<&InvoiceRequest> for InvoiceFigures {
    fn from(request: &InvoiceRequest) -> Self {
        Self {
            date: request.date.0,
            issued_by: request.issued_by.0,
            rounding: request.rounding.0,
            price: request.price.as_ref().map(|price| price.0),
            lines: request.lines.iter().filter_map(InvoiceLine::figures).collect(),
            payment: request.payment.as_ref().map(|payment| payment.0),
        }
    }
}

impl InvoiceLine {
    /// The line's figures. A line that was read has exactly one charge.
    fn figures(&self) -> Option<Figures> {
        let charge = match (&self.net, &self.gross, &self.unit_price, &self.quantity) {
            (Some(net), ..) => Charge::Net(net.0),
            (None, Some(gross), ..) => Charge::Gross(gross.0),
            (None, None, Some(price), Some(quantity)) => Charge::Units { unit_price: price.0, quantity: quantity.0 },
            (None, None, ..) => return None,
        };
        Some(Figures { treatment: self.treatment.0, charge })
    }
}
