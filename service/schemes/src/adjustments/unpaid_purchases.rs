//! Input tax repaid on purchases that stay unpaid, and restored when they are paid after all.

use crate::figures::{Figures, PurchasePaidLater, TurnoverMethod, UnpaidPurchase};
use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Overflow, Ratio, Rounding};
use crate::period::Period;
use crate::refusal::{PaidLaterField, Place, Refusal, UnpaidField};
use crate::run::{Run, Scope};
use crate::workings::{Rule, Traced};

use super::answer::UnpaidPurchaseAnswer;
use super::checks::{in_period, not_negative, part_of, positive};
use super::sides::{Sides, Stands, Sum};
use super::{Adjusted, months_after};

static REPAID: Rule = Rule {
    says: "What of a purchase is unpaid six months after the later of the supply and the day on which payment was due takes its part of the input tax \
           back: input tax × unpaid ÷ price, to the nearest penny, as a negative entry in box 4 of the period in which the six months end. It is no \
           error.",
    authority: &[
        cite::VATA_1994_SECTION_26A,
        cite::VAT_REGULATIONS_1995_REGULATION_172G,
        cite::VAT_REGULATIONS_1995_REGULATION_172H,
        cite::DECISION_UNPAID_PURCHASES,
        cite::DECISION_ROUNDING,
    ],
};
static RESTORED: Rule = Rule {
    says: "Where a purchase is paid after its input tax was repaid, that part of it is claimed again which the payment is of what was unpaid, to the \
           nearest penny, in box 4 of the period of the payment.",
    authority: &[
        cite::VATA_1994_SECTION_26A,
        cite::VAT_REGULATIONS_1995_REGULATION_172I,
        cite::DECISION_UNPAID_PURCHASES,
        cite::DECISION_ROUNDING,
    ],
};
static CLAIMED_WHEN_PAID: Rule = Rule {
    says: "With cash accounting input tax is claimed only on what is paid, so none of it is repaid for what is unpaid, and none restored.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_57,
        cite::VAT_REGULATIONS_1995_REGULATION_172G,
        cite::DECISION_UNPAID_PURCHASES,
    ],
};
static NOT_CLAIMED: Rule = Rule {
    says: "Under the Flat Rate Scheme no input tax was claimed on the purchase, so none is repaid, and none restored.",
    authority: &[cite::VATA_1994_SECTION_26B, cite::VATA_1994_SECTION_26A, cite::DECISION_UNPAID_PURCHASES],
};

/// Repays input tax on unpaid purchases, in box 4 (VATA 1994 s 26A; VAT Regulations 1995 reg 172H).
pub(super) fn repay(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
    adjusted: &mut Adjusted,
) -> Result<(), Vec<Refusal>> {
    let mut refusals = Vec::new();
    for (index, purchase) in figures.adjustments.unpaid_purchases.iter().enumerate() {
        match repay_one(run, index, purchase, figures.business.turnover_method, period) {
            Ok((sides, answer)) => {
                adjusted.standard_box4.push(sides.standard);
                adjusted.flat_rate_box4.push(sides.flat_rate);
                adjusted.answer.unpaid_purchases.push(answer);
            }
            Err(found) => refusals.extend(found),
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

/// Restores input tax on purchases paid later, in box 4 (VAT Regulations 1995 reg 172I).
pub(super) fn restore(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
    adjusted: &mut Adjusted,
) -> Result<(), Vec<Refusal>> {
    let mut refusals = Vec::new();
    for (index, paid) in figures.adjustments.purchases_paid_later.iter().enumerate() {
        match restore_one(run, index, paid, figures.business.turnover_method, period) {
            Ok(sides) => {
                adjusted.standard_box4.push(sides.standard);
                adjusted.flat_rate_box4.push(sides.flat_rate);
                adjusted.answer.purchases_paid_later.push(sides.answer);
            }
            Err(found) => refusals.extend(found),
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

/// On which returns input tax was claimed at all.
fn where_claimed(method: TurnoverMethod, claimed_under_flat_rate: bool) -> (Stands, Stands) {
    let standard = match method {
        TurnoverMethod::Basic | TurnoverMethod::Retailer => Stands::Yes,
        TurnoverMethod::Cash => Stands::No(&CLAIMED_WHEN_PAID),
    };
    (standard, if claimed_under_flat_rate { Stands::Yes } else { Stands::No(&NOT_CLAIMED) })
}

fn one(overflow: Overflow) -> Vec<Refusal> {
    vec![overflow.into()]
}

/// That part of an amount which one figure is of another, to the nearest penny.
fn part(amount: Money, of: Money, whole: Money) -> Result<Money, Overflow> {
    amount.exact().times(Ratio::new(of.pence(), whole.pence())?)?.to_money(Rounding::NearestPenny)
}

fn repay_one(
    run: &mut Run<'_>,
    index: usize,
    purchase: &UnpaidPurchase,
    method: TurnoverMethod,
    period: Period,
) -> Result<(Sides, UnpaidPurchaseAnswer), Vec<Refusal>> {
    let place = |field| Place::UnpaidPurchase(index, field);
    let counted_from = purchase.due_on.map_or(purchase.supplied_on, |due| due.max(purchase.supplied_on));
    let months = run.law.months(ParameterId::UnpaidPurchaseMonths, period.start());
    let six_months_end = months_after(counted_from, months).map_err(|refusal| vec![refusal])?;
    let mut refusals = Vec::new();
    refusals.extend(in_period(six_months_end, place(UnpaidField::SuppliedOn), "The six months end", period));
    refusals.extend(positive(purchase.gross, place(UnpaidField::Gross), "The price of the purchase"));
    for (amount, field, what) in [
        (purchase.input_tax_claimed, UnpaidField::InputTaxClaimed, "The input tax claimed"),
        (purchase.paid, UnpaidField::Paid, "What was paid"),
    ] {
        match not_negative(amount, place(field), what) {
            Some(refusal) => refusals.push(refusal),
            None if purchase.gross.is_positive() => {
                refusals.extend(part_of((amount, place(field), what), (purchase.gross, "the price of the purchase")));
            }
            None => {}
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let given = |value, field| Traced::given(value, place(field)).operand();
    let gross = given(purchase.gross, UnpaidField::Gross);
    let value = purchase
        .gross
        .minus(purchase.paid)
        .and_then(|unpaid| part(purchase.input_tax_claimed, unpaid, purchase.gross))
        .map_err(one)?
        .negated();
    let sum = Sum {
        scope: Scope::UnpaidPurchase(index),
        label: "Input tax repaid on an unpaid purchase",
        rule: &REPAID,
        value,
        rounding: Rounding::NearestPenny,
        formula: "0 − {} × ({} − {}) ÷ {}",
        operands: &[
            given(purchase.input_tax_claimed, UnpaidField::InputTaxClaimed),
            gross,
            given(purchase.paid, UnpaidField::Paid),
            gross,
        ],
    };
    let (standard, flat_rate) = where_claimed(method, purchase.claimed_under_flat_rate);
    let sides = sum.on(run, standard, flat_rate).map_err(one)?;
    Ok((sides, UnpaidPurchaseAnswer { six_months_end, repaid: sides.answer }))
}

fn restore_one(
    run: &mut Run<'_>,
    index: usize,
    paid: &PurchasePaidLater,
    method: TurnoverMethod,
    period: Period,
) -> Result<Sides, Vec<Refusal>> {
    let place = |field| Place::PurchasePaidLater(index, field);
    let unpaid = paid.unpaid_at_repayment;
    let mut refusals = Vec::new();
    refusals.extend(positive(unpaid, place(PaidLaterField::UnpaidAtRepayment), "What was unpaid at the repayment"));
    for (amount, field, what) in [
        (paid.input_tax_repaid, PaidLaterField::InputTaxRepaid, "The input tax repaid"),
        (paid.payment, PaidLaterField::Payment, "The payment"),
    ] {
        match positive(amount, place(field), what) {
            Some(refusal) => refusals.push(refusal),
            None if unpaid.is_positive() => {
                refusals.extend(part_of((amount, place(field), what), (unpaid, "what was unpaid at the repayment")));
            }
            None => {}
        }
    }
    if let Some(day) = paid.paid_on {
        refusals.extend(in_period(day, place(PaidLaterField::PaidOn), "The purchase was paid", period));
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let given = |value, field| Traced::given(value, place(field)).operand();
    let sum = Sum {
        scope: Scope::PurchasePaidLater(index),
        label: "Input tax restored on a purchase paid later",
        rule: &RESTORED,
        value: part(paid.input_tax_repaid, paid.payment, unpaid).map_err(one)?,
        rounding: Rounding::NearestPenny,
        formula: "{} × {} ÷ {}",
        operands: &[
            given(paid.input_tax_repaid, PaidLaterField::InputTaxRepaid),
            given(paid.payment, PaidLaterField::Payment),
            given(unpaid, PaidLaterField::UnpaidAtRepayment),
        ],
    };
    let (standard, flat_rate) = where_claimed(method, paid.claimed_under_flat_rate);
    sum.on(run, standard, flat_rate).map_err(one)
}
