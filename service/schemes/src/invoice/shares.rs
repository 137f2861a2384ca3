//! Figures in pence that make their whole to the penny: each runs from the rounded total before it to the rounded total
//! with it, so that no penny is lost or made by rounding the shares one by one.

use crate::law::rule as cite;
use crate::money::{Money, Overflow, Rounding};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

static IN_PROPORTION: Rule = Rule {
    says: "One amount for several supplies is apportioned so that each gets what is properly attributable to it: in proportion to their prices, up to \
           and with this one, to the nearest penny.",
    authority: &[cite::VATA_1994_SECTION_19, cite::VATVAL03800, cite::NOTICE_731, cite::DECISION_SHARES_TO_THE_PENNY],
};
static WEIGHTS_SO_FAR: Rule = Rule {
    says: "What the share is measured by, up to and with this one.",
    authority: &[cite::DECISION_SHARES_TO_THE_PENNY],
};
static ADDS_TO_THOSE_BEFORE: Rule = Rule {
    says: "What it adds to those before it: so the shares make the whole to the penny.",
    authority: &[cite::DECISION_SHARES_TO_THE_PENNY],
};

/// A share: where its steps are named, and which figures of the answer it is.
#[derive(Clone, Copy)]
pub(super) struct Share {
    pub scope: Scope,
    pub gives: &'static [&'static str],
}

/// What the steps of shares are called.
#[derive(Clone, Copy)]
pub(super) struct Called {
    pub share: &'static str,
    pub label: &'static str,
    pub so_far: &'static str,
    pub so_far_label: &'static str,
    /// The rule by which a total up to a share is made and rounded.
    pub rule: &'static Rule,
}

/// The shares of a total that `up_to` works out, rounded, up to and with each of them.
pub(super) fn stepwise(
    run: &mut Run<'_>,
    shares: &[Share],
    called: Called,
    mut up_to: impl FnMut(&mut Run<'_>, usize, Name) -> Result<Traced<Money>, Overflow>,
) -> Result<Vec<Traced<Money>>, Overflow> {
    let mut made = Vec::with_capacity(shares.len());
    let mut before: Option<Traced<Money>> = None;
    for (position, share) in shares.iter().enumerate() {
        let with = match before {
            None => {
                let first = Name::new(share.scope, called.share, called.label, called.rule).gives(share.gives);
                let with = up_to(run, position, first)?;
                made.push(with);
                with
            }
            Some(less) => {
                let so_far = Name::new(share.scope, called.so_far, called.so_far_label, called.rule);
                let with = up_to(run, position, so_far)?;
                let this = Name::new(share.scope, called.share, called.label, &ADDS_TO_THOSE_BEFORE).gives(share.gives);
                made.push(run.difference(this, with, less)?);
                with
            }
        };
        before = Some(with);
    }
    Ok(made)
}

/// The weights up to and with each.
pub(super) fn weights_so_far(
    run: &mut Run<'_>,
    shares: &[Share],
    id: &'static str,
    label: &'static str,
    weights: &[Traced<Money>],
) -> Result<Vec<Traced<Money>>, Overflow> {
    let mut so_far: Vec<Traced<Money>> = Vec::with_capacity(weights.len());
    for (share, weight) in shares.iter().zip(weights) {
        let with = match so_far.last() {
            None => *weight,
            Some(before) => run.total(Name::new(share.scope, id, label, &WEIGHTS_SO_FAR), &[*before, *weight])?,
        };
        so_far.push(with);
    }
    Ok(so_far)
}

/// An amount apportioned by weights, each given with those before it; the weights make `whole`, which is more than nothing.
pub(super) fn apportion(
    run: &mut Run<'_>,
    shares: &[Share],
    (called, share, label): (&'static str, &'static str, &'static str),
    amount: Traced<Money>,
    so_far: &[Traced<Money>],
    whole: Traced<Money>,
) -> Result<Vec<Traced<Money>>, Overflow> {
    let called = Called { share, label, so_far: called, so_far_label: "Shares up to this one", rule: &IN_PROPORTION };
    stepwise(run, shares, called, |run, position, name| {
        let weight = so_far.get(position).copied().ok_or(Overflow)?;
        let part = weight.value.exact().over(whole.value.exact())?;
        let value = amount.value.exact().times(part)?.to_money(Rounding::NearestPenny)?;
        let operands = [amount.operand(), weight.operand(), whole.operand()];
        Ok(run.step(name, value, Rounding::NearestPenny, "{} × {} ÷ {}", &operands))
    })
}
