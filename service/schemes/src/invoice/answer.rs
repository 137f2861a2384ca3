//! What is worked out for an invoice.

use std::borrow::Cow;

use jiff::civil::Date;

use crate::answer::{LawBehind, Warning};
use crate::money::{FinePounds, Money, Percentage};
use crate::workings::Step;

use super::figures::{InvoiceRounding, InvoiceTreatment, Prices};

/// The VAT of an invoice, and of a payment on it.
#[derive(Debug, Clone)]
pub struct InvoiceAnswer {
    /// The tax point.
    pub date: Date,
    /// How the VAT was rounded.
    pub rounding: InvoiceRounding,
    /// The invoice.
    pub invoice: InvoiceTotals,
    /// The payment, where there is one.
    pub payment: Option<PaymentTotals>,
    /// What the reader should know or do.
    pub warnings: Vec<Warning>,
    /// What the answer leaves out.
    pub cautions: Vec<Cow<'static, str>>,
    /// The law that it rests on.
    pub law: LawBehind,
    /// Every sum.
    pub workings: Vec<Step>,
}

/// The figures of an invoice.
#[derive(Debug, Clone)]
pub struct InvoiceTotals {
    /// Whether its prices are without VAT or with it.
    pub prices: Prices,
    /// Its lines.
    pub lines: Vec<LineTotals>,
    /// Its totals by rate, to the penny.
    pub by_rate: Vec<RateTotals>,
    /// Without VAT.
    pub net: Money,
    /// The VAT.
    pub vat: Money,
    /// With VAT.
    pub gross: Money,
}

/// The figures of a line; they may be finer than a penny.
#[derive(Debug, Clone, Copy)]
pub struct LineTotals {
    /// How VAT treats it.
    pub treatment: InvoiceTreatment,
    /// Without VAT; none where the prices are with VAT and the VAT is rounded only for the whole.
    pub net: Option<FinePounds>,
    /// The VAT of one unit, where it is rounded by unit.
    pub unit_vat: Option<FinePounds>,
    /// The VAT; none where it is rounded only for the whole, and none on what is exempt.
    pub vat: Option<FinePounds>,
    /// With VAT; none where the prices are without VAT and the VAT is rounded only for the whole.
    pub gross: Option<FinePounds>,
}

/// The totals of a rate.
#[derive(Debug, Clone, Copy)]
pub struct RateTotals {
    /// How VAT treats its lines.
    pub treatment: InvoiceTreatment,
    /// The rate; none for what is exempt.
    pub percentage: Option<Percentage>,
    /// Without VAT.
    pub net: Money,
    /// The VAT; none for what is exempt.
    pub vat: Option<Money>,
    /// With VAT.
    pub gross: Money,
}

/// The figures of a payment.
#[derive(Debug, Clone)]
pub struct PaymentTotals {
    /// The amount received.
    pub amount: Money,
    /// The VAT in it.
    pub vat: Money,
    /// Its shares by rate.
    pub by_rate: Vec<PaymentShare>,
}

/// What a payment pays of the lines of a rate.
#[derive(Debug, Clone, Copy)]
pub struct PaymentShare {
    /// How VAT treats the lines.
    pub treatment: InvoiceTreatment,
    /// The amount paid on them, with VAT.
    pub amount: Money,
    /// The VAT in it; none for what is exempt.
    pub vat: Option<Money>,
}
