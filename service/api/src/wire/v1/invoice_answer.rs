//! The answer of an invoice.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::invoice as calculated;

use super::answer::{LawUsed, Warning};
use super::scalars::{Amount, AuthorityId, Date, FineAmount, Percentage, Reference};
use super::vocabulary::{InvoiceRounding, InvoiceTreatment, Prices};
use super::workings::{Step, Workings};

/// The VAT of an invoice, a credit note or a till receipt, and that in a payment on it. A calculation, not advice: HMRC and a
/// qualified adviser decide. Members may be added: ignore those you don't know.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct InvoiceAnswer {
    /// The caller's own name for the request, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The tax point.
    pub date: Date,
    /// How the VAT was rounded.
    pub rounding: InvoiceRoundingUsed,
    /// The document's figures.
    pub invoice: Invoice,
    /// The figures of the payment, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub payment: Option<Payment>,
    /// What the reader should know or do.
    #[schema(max_items = 100)]
    pub warnings: Vec<Warning>,
    /// Every sum that was made, in order, so that a reviewer can follow each figure to the request and to the law.
    #[schema(value_type = Vec<Step<'static>>, max_items = 100000)]
    pub workings: Workings,
    /// What the answer leaves out, and who decides, in plain English.
    #[schema(max_items = 100)]
    pub cautions: Vec<Cow<'static, str>>,
    /// The tables of law that were used.
    pub law: LawUsed,
}

/// How the VAT of a document was rounded.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct InvoiceRoundingUsed {
    /// The way.
    pub way: InvoiceRounding,
    /// What it does, in a sentence.
    #[schema(max_length = 2000)]
    pub rule: &'static str,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'static [&'static str],
}

/// The figures of an invoice, a credit note or a till receipt.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Invoice {
    /// Whether its prices are without VAT or with it.
    pub prices: Prices,
    /// The lines, in the order of the request.
    #[schema(max_items = 500)]
    pub lines: Vec<LineFigures>,
    /// The totals of each rate, to the penny. They add up to those of the whole.
    #[schema(max_items = 5)]
    pub by_rate: Vec<RateFigures>,
    /// The total without VAT, in pounds.
    pub net: Amount,
    /// The VAT, in pounds.
    pub vat: Amount,
    /// The total with VAT, in pounds.
    pub gross: Amount,
}

/// The figures of a line; they may be finer than a penny.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LineFigures {
    /// How VAT treats it.
    pub treatment: InvoiceTreatment,
    /// Its price without VAT. Absent where prices are with VAT and the VAT is rounded only for the whole.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub net: Option<FineAmount>,
    /// The VAT of one unit, where it is rounded by unit and the line has a unit price.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit_vat: Option<FineAmount>,
    /// Its VAT. Absent where the VAT is rounded only for the whole, and on what is exempt.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat: Option<FineAmount>,
    /// Its price with VAT; its share where one price stands for all lines. Absent where prices are without VAT and the VAT is rounded
    /// only for the whole.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gross: Option<FineAmount>,
}

/// The totals of a rate.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct RateFigures {
    /// How VAT treats the lines.
    pub treatment: InvoiceTreatment,
    /// The rate at the tax point, in per cent; absent for what is exempt.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percentage: Option<Percentage>,
    /// Without VAT, in pounds.
    pub net: Amount,
    /// The VAT, in pounds; absent for what is exempt.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat: Option<Amount>,
    /// With VAT, in pounds.
    pub gross: Amount,
}

/// The figures of a payment on an invoice: it is apportioned over the lines by their prices with VAT (Notice 731).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Payment {
    /// The amount received, in pounds.
    pub amount: Amount,
    /// The VAT in it, in pounds.
    pub vat: Amount,
    /// Its shares by rate.
    #[schema(max_items = 5)]
    pub by_rate: Vec<PaymentShare>,
}

/// What a payment pays of the lines of a rate.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PaymentShare {
    /// How VAT treats the lines.
    pub treatment: InvoiceTreatment,
    /// The amount paid on them, with VAT, in pounds.
    pub amount: Amount,
    /// The VAT in it, in pounds; absent for what is exempt.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat: Option<Amount>,
}

impl InvoiceAnswer {
    /// The answer to a request with this reference.
    pub fn new(reference: Option<Reference>, answer: calculated::InvoiceAnswer) -> Self {
        let rule = answer.rounding.rule();
        Self {
            reference,
            date: Date(answer.date),
            rounding: InvoiceRoundingUsed {
                way: InvoiceRounding(answer.rounding),
                rule: rule.says,
                authority: rule.authority,
            },
            invoice: answer.invoice.into(),
            payment: answer.payment.map(Into::into),
            warnings: answer.warnings.into_iter().map(Into::into).collect(),
            workings: Workings::new(answer.workings),
            cautions: answer.cautions,
            law: answer.law.into(),
        }
    }
}

impl From<calculated::InvoiceTotals> for Invoice {
    fn from(invoice: calculated::InvoiceTotals) -> Self {
        Self {
            prices: Prices(invoice.prices),
            lines: invoice.lines.into_iter().map(Into::into).collect(),
            by_rate: invoice.by_rate.into_iter().map(Into::into).collect(),
            net: Amount(invoice.net),
            vat: Amount(invoice.vat),
            gross: Amount(invoice.gross),
        }
    }
}

impl From<calculated::LineTotals> for LineFigures {
    fn from(line: calculated::LineTotals) -> Self {
        Self {
            treatment: InvoiceTreatment(line.treatment),
            net: line.net.map(FineAmount),
            unit_vat: line.unit_vat.map(FineAmount),
            vat: line.vat.map(FineAmount),
            gross: line.gross.map(FineAmount),
        }
    }
}

impl From<calculated::RateTotals> for RateFigures {
    fn from(rate: calculated::RateTotals) -> Self {
        Self {
            treatment: InvoiceTreatment(rate.treatment),
            percentage: rate.percentage.map(Percentage),
            net: Amount(rate.net),
            vat: rate.vat.map(Amount),
            gross: Amount(rate.gross),
        }
    }
}

impl From<calculated::PaymentTotals> for Payment {
    fn from(payment: calculated::PaymentTotals) -> Self {
        let share = |share: calculated::PaymentShare| PaymentShare {
            treatment: InvoiceTreatment(share.treatment),
            amount: Amount(share.amount),
            vat: share.vat.map(Amount),
        };
        Self {
            amount: Amount(payment.amount),
            vat: Amount(payment.vat),
            by_rate: payment.by_rate.into_iter().map(share).collect(),
        }
    }
}
