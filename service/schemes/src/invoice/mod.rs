//! The VAT of one invoice, credit note or till receipt, rounded in a way that HMRC allow, and the VAT in a payment on it
//! (VATA 1994 s 19; Notice 700 section 17; Notice 731).

mod answer;
mod check;
mod figures;
mod lines;
mod payment;
mod place;
mod shares;
mod totals;
mod way;

pub use answer::{InvoiceAnswer, InvoiceTotals, LineTotals, PaymentShare, PaymentTotals, RateTotals};
pub use figures::{Charge, InvoiceFigures, InvoiceLine, InvoiceRounding, InvoiceTreatment, IssuedBy, Prices};
pub use place::{InvoiceLineField, InvoicePlace};

use crate::cautions;
use crate::law::Law;
use crate::money::{Money, Overflow};
use crate::refusal::{Place, Refusals};
use crate::run::{Run, Scope};
use crate::warnings;
use crate::workings::{Traced, Workings};

use check::{Charged, Checked, CheckedLine, check};
use payment::apportion_payment;
use shares::{Share, apportion, weights_so_far};
use totals::add_up;

/// Works the VAT of an invoice out, and that in a payment on it.
///
/// ```
/// use jiff::civil::date;
/// use vat_schemes::invoice::{Charge, InvoiceFigures, InvoiceLine, InvoiceRounding, InvoiceTreatment, IssuedBy};
/// use vat_schemes::law::Law;
/// use vat_schemes::workings::Workings;
///
/// let law = Law::built_in().expect("the built-in tables are sound");
/// let figures = InvoiceFigures {
///     date: date(2026, 6, 30),
///     issued_by: IssuedBy::InvoiceTrader,
///     rounding: InvoiceRounding::InvoiceTotalDown,
///     price: None,
///     lines: vec![InvoiceLine {
///         treatment: InvoiceTreatment::StandardRated,
///         charge: Charge::Net("99.99".parse().expect("an amount")),
///     }],
///     payment: None,
/// };
/// let answer = vat_schemes::work_out_invoice(&law, &figures, Workings::kept()).expect("an answer");
/// // 19.998 pounds, rounded down.
/// assert_eq!(answer.invoice.vat.to_string(), "19.99");
/// ```
///
/// # Errors
/// [`Refusals`] where the law or the figures admit no answer: a way of rounding that its issuer may not use, a rate that
/// was not in force, prices of two kinds, a payment of more than the invoice.
pub fn work_out_invoice(law: &Law, figures: &InvoiceFigures, workings: Workings) -> Result<InvoiceAnswer, Refusals> {
    let mut run = Run::new(law, workings);
    let Checked { prices, mut lines } = check(&mut run, figures).map_err(Refusals)?;
    if let Some(price) = figures.price {
        share_price(&mut run, price, &mut lines)?;
    }
    let lines = lines
        .iter()
        .map(|line| lines::work_out(&mut run, prices, figures.rounding, line))
        .collect::<Result<Vec<_>, Overflow>>()?;
    let totals = add_up(&mut run, prices, figures.rounding, &lines)?;
    let payment = figures.payment.map(|payment| apportion_payment(&mut run, &totals, payment)).transpose()?;
    Ok(InvoiceAnswer {
        date: figures.date,
        rounding: figures.rounding,
        invoice: InvoiceTotals {
            prices,
            lines: lines.iter().map(|line| line.answer).collect(),
            net: totals.net.value,
            vat: totals.vat.value,
            gross: totals.gross.value,
            by_rate: totals.by_rate.into_iter().map(|rate| rate.answer).collect(),
        },
        payment,
        warnings: warnings::of_invoice(law, figures, prices),
        cautions: cautions::of_invoice(law),
        law: run.law_behind(),
        workings: run.workings.into_steps(),
    })
}

/// Shares one price out over the lines, by what each costs alone (VATA 1994 s 19(4); VATVAL03800).
fn share_price(run: &mut Run<'_>, price: Money, lines: &mut [CheckedLine]) -> Result<(), Overflow> {
    let shares: Vec<Share> =
        lines.iter().map(|line| Share { scope: Scope::InvoiceLine(line.index), gives: &[] }).collect();
    let alone: Vec<Traced<Money>> = lines
        .iter()
        .filter_map(|line| match line.charged {
            Charged::Amount(amount) => Some(amount),
            Charged::Units(..) => None,
        })
        .collect();
    let so_far = weights_so_far(run, &shares, "shelf_prices_so_far", "Shelf prices up to and with this line", &alone)?;
    let Some(whole) = so_far.last().copied() else { return Ok(()) };
    let price = Traced::given(price, Place::Invoice(InvoicePlace::Price));
    let named = ("shares_so_far", "share", "Share of the price");
    let shared = apportion(run, &shares, named, price, &so_far, whole)?;
    for (line, share) in lines.iter_mut().zip(shared) {
        line.charged = Charged::Amount(share);
    }
    Ok(())
}
