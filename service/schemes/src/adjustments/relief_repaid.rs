//! Relief repaid where a debtor pays after it was claimed.

use crate::figures::{Figures, ReliefRepaid, TurnoverMethod};
use crate::law::rule as cite;
use crate::money::{Ratio, Rounding};
use crate::period::Period;
use crate::refusal::{Place, Refusal, RepaidField};
use crate::run::{Run, Scope};
use crate::workings::{Operand, Rule, Traced};

use super::Adjusted;
use super::checks::{in_period, less, not_negative, part_of, positive};
use super::sides::{Sides, Stands, Sum};

static REPAID: Rule = Rule {
    says: "Where a debtor pays after relief was claimed, that part of the relief is repaid which the payment is of what was outstanding at the claim, \
           to the nearest penny, in box 1; what went to supplies without relief is left out.",
    authority: &[
        cite::VATA_1994_SECTION_36,
        cite::VAT_REGULATIONS_1995_REGULATION_171,
        cite::VBDR4100,
        cite::VBDR4200,
        cite::DECISION_RELIEF_REPAID,
        cite::DECISION_ROUNDING,
    ],
};
static NONE_CLAIMED: Rule = Rule {
    says: "With cash accounting no relief was ever claimed, so there is none to repay; the payment is accounted for as money received.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_57, cite::DECISION_RELIEF_REPAID],
};

/// Repays relief, in box 1 (VATA 1994 s 36; VAT Regulations 1995 reg 171).
pub(super) fn repay(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
    adjusted: &mut Adjusted,
) -> Result<(), Vec<Refusal>> {
    let mut refusals = Vec::new();
    for (index, repaid) in figures.adjustments.relief_repaid.iter().enumerate() {
        match repay_one(run, index, repaid, figures.business.turnover_method, period) {
            Ok(sides) => {
                adjusted.standard_box1.push(sides.standard);
                adjusted.flat_rate_box1.push(sides.flat_rate);
                adjusted.answer.relief_repaid.push(sides.answer);
            }
            Err(found) => refusals.extend(found),
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

fn repay_one(
    run: &mut Run<'_>,
    index: usize,
    repaid: &ReliefRepaid,
    method: TurnoverMethod,
    period: Period,
) -> Result<Sides, Vec<Refusal>> {
    let place = |field| Place::ReliefRepaid(index, field);
    check(repaid, period, place)?;
    let given = |value, field| Traced::given(value, place(field)).operand();
    let relief = given(repaid.relief_claimed, RepaidField::ReliefClaimed);
    let payment = given(repaid.payment, RepaidField::Payment);
    let outstanding = given(repaid.outstanding_at_claim, RepaidField::OutstandingAtClaim);
    let (formula, operands): (&'static str, Vec<Operand>) = match repaid.allocated_elsewhere {
        None => ("{} × {} ÷ {}", vec![relief, payment, outstanding]),
        Some(elsewhere) => (
            "{} × ({} − {}) ÷ {}",
            vec![relief, payment, given(elsewhere, RepaidField::AllocatedElsewhere), outstanding],
        ),
    };
    let value = less(repaid.payment, repaid.allocated_elsewhere)
        .and_then(|counts| Ratio::new(counts.pence(), repaid.outstanding_at_claim.pence()))
        .and_then(|share| repaid.relief_claimed.exact().times(share)?.to_money(Rounding::NearestPenny))
        .map_err(|overflow| vec![overflow.into()])?;
    let sum = Sum {
        scope: Scope::ReliefRepaid(index),
        label: "Relief repaid",
        rule: &REPAID,
        value,
        rounding: Rounding::NearestPenny,
        formula,
        operands: &operands,
    };
    let standard = match method {
        TurnoverMethod::Basic | TurnoverMethod::Retailer => Stands::Yes,
        TurnoverMethod::Cash => Stands::No(&NONE_CLAIMED),
    };
    sum.on(run, standard, Stands::Yes).map_err(|overflow| vec![overflow.into()])
}

fn check(repaid: &ReliefRepaid, period: Period, place: impl Fn(RepaidField) -> Place) -> Result<(), Vec<Refusal>> {
    let mut refusals = Vec::new();
    refusals.extend(positive(repaid.relief_claimed, place(RepaidField::ReliefClaimed), "The relief claimed"));
    refusals.extend(positive(
        repaid.outstanding_at_claim,
        place(RepaidField::OutstandingAtClaim),
        "What was outstanding at the claim",
    ));
    refusals.extend(positive(repaid.payment, place(RepaidField::Payment), "The payment"));
    if let Some(elsewhere) = repaid.allocated_elsewhere {
        refusals.extend(not_negative(elsewhere, place(RepaidField::AllocatedElsewhere), "What went elsewhere"));
    }
    if let Some(day) = repaid.paid_on {
        refusals.extend(in_period(day, place(RepaidField::PaidOn), "The debtor paid", period));
    }
    if refusals.is_empty() {
        let outstanding = (repaid.outstanding_at_claim, "what was outstanding at the claim");
        refusals.extend(part_of(
            (repaid.relief_claimed, place(RepaidField::ReliefClaimed), "The relief claimed"),
            outstanding,
        ));
        if let Some(elsewhere) = repaid.allocated_elsewhere {
            let part = (elsewhere, place(RepaidField::AllocatedElsewhere), "What of the payment went elsewhere");
            refusals.extend(part_of(part, (repaid.payment, "the payment")));
        }
        match less(repaid.payment, repaid.allocated_elsewhere) {
            Ok(counts) => refusals.extend(part_of(
                (counts, place(RepaidField::Payment), "What of the payment counts against the debt"),
                outstanding,
            )),
            Err(overflow) => refusals.push(overflow.into()),
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}
