//! The VAT in a payment on an invoice: the payment is apportioned over what the invoice comes to.

use crate::law::rule as cite;
use crate::money::{Money, Overflow, Rounding};
use crate::refusal::{Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::answer::{PaymentShare, PaymentTotals};
use super::check::place;
use super::place::InvoicePlace;
use super::shares::{Share, apportion, weights_so_far};
use super::totals::{RateTotal, Totals};

static RECEIVED: Rule = Rule {
    says: "What was received on the invoice, which pays all its lines in proportion to their prices with VAT.",
    authority: &[cite::NOTICE_731, cite::VAT_REGULATIONS_1995_REGULATION_57, cite::COMMON_PRACTICE],
};
static VAT_RECEIVED: Rule = Rule {
    says: "The VAT in a payment: the shares of all rates together.",
    authority: &[cite::NOTICE_731, cite::VAT_REGULATIONS_1995_REGULATION_57],
};

/// Apportions a payment.
pub(super) fn apportion_payment(run: &mut Run<'_>, totals: &Totals, payment: Money) -> Result<PaymentTotals, Refusal> {
    let gross = totals.gross.value;
    let detail = if !gross.is_positive() {
        format!("The invoice comes to {gross} with VAT, so that nothing is to be paid on it. Leave payment out.")
    } else if payment > gross {
        format!(
            "The payment is {payment}, and the invoice comes to {gross} with VAT. Give what was received on this invoice alone."
        )
    } else {
        return Ok(shared_out(run, totals, payment)?);
    };
    Err(Refusal::new(place(InvoicePlace::Payment), RefusalCode::PaymentMoreThanInvoice, detail))
}

fn shared_out(run: &mut Run<'_>, totals: &Totals, payment: Money) -> Result<PaymentTotals, Overflow> {
    let given = Traced::given(payment, place(InvoicePlace::Payment));
    let received = Name::new(Scope::Payment, "amount", "Amount received", &RECEIVED).gives(&["amount"]);
    let amount = run.step(received, payment, Rounding::None, "{}", &[given.operand()]);
    let share = |position: usize, gives| Share { scope: Scope::PaymentRate(position), gives };
    let all: Vec<Share> = (0..totals.by_rate.len()).map(|position| share(position, &["amount"])).collect();
    let prices: Vec<Traced<Money>> = totals.by_rate.iter().map(|rate| rate.gross).collect();
    let so_far = weights_so_far(run, &all, "gross_so_far", "Prices up to and with this rate", &prices)?;
    let named = ("amount_so_far", "amount", "Paid at the rate");
    let amounts = apportion(run, &all, named, amount, &so_far, totals.gross)?;

    let rated =
        totals.by_rate.iter().enumerate().filter_map(|(position, rate)| Some((share(position, &["vat"]), rate.vat?)));
    let (rated, vats): (Vec<Share>, Vec<Traced<Money>>) = rated.unzip();
    let so_far = weights_so_far(run, &rated, "invoice_vat_so_far", "VAT up to and with this rate", &vats)?;
    let named = ("vat_so_far", "vat", "VAT in what is paid at the rate");
    let vats = apportion(run, &rated, named, amount, &so_far, totals.gross)?;
    let vat =
        run.total(Name::new(Scope::Payment, "vat", "VAT in the payment", &VAT_RECEIVED).gives(&["vat"]), &vats)?;

    let mut vats = vats.into_iter();
    let by_rate = totals.by_rate.iter().zip(amounts).map(|(RateTotal { treatment, vat, .. }, amount)| PaymentShare {
        treatment: *treatment,
        amount: amount.value,
        vat: vat.and_then(|_| vats.next()).map(|vat| vat.value),
    });
    Ok(PaymentTotals { amount: payment, by_rate: by_rate.collect(), vat: vat.value })
}
