//! Invoices: the VAT of one document, and that in a payment on it.

use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::invoice::InvoiceFigures;
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;

use super::calculation;
use super::refused::{field_errors, not_accepted};
use crate::problem::Problem;
use crate::query::Query;
use crate::telemetry::metrics::InvoiceOutcome;
use crate::wire::v1::invoice_answer::InvoiceAnswer;
use crate::wire::v1::invoice_request::InvoiceRequest;
use crate::wire::v1::read_invoice;

/// Work out the VAT of one invoice, credit note or till receipt
///
/// At the rates of its tax point, rounded in one of the ways that HMRC allow (Notice 700 section 17): for the whole, by line or by
/// unit. One price for several supplies is shared out by what each costs alone (VATA 1994 section 19(4)), and a part payment gets its
/// VAT (Notice 731). A retailer may not round down and is refused with the reason. Nothing is stored, and the same request always
/// gives the same answer.
#[utoipa::path(
    post,
    path = "/v1/invoices",
    operation_id = "create_invoice",
    tag = "calculations",
    request_body(content = InvoiceRequest, description = "The document: JSON in UTF-8, 1 MiB at most unless the operator has set another bound.", content_type = "application/json"),
    responses((status = 200, description = "Its VAT.", body = InvoiceAnswer)),
)]
pub async fn create_invoice(request: HttpRequest, payload: web::Payload) -> Result<HttpResponse, Problem> {
    Query::read(&request, &[])?;
    calculation::answer(&request, payload, work_out_invoice).await
}

/// The VAT of the invoice that a body gives, and how it came out.
pub fn work_out_invoice(law: &Law, body: &[u8]) -> Result<(InvoiceAnswer, InvoiceOutcome), Problem> {
    let request = read_invoice(body)?;
    let figures = InvoiceFigures::from(&request);
    let answer = vat_schemes::work_out_invoice(law, &figures, Workings::kept())
        .map_err(|refusals| field_errors(law, refusals, |_| None, |place| place.to_string()))
        .map_err(not_accepted)?;
    Ok((InvoiceAnswer::new(request.reference, answer), InvoiceOutcome::WorkedOut))
}
