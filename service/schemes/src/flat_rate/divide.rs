//! A period that is only partly in the scheme: which lines fall on which side.

use crate::figures::{Spend, SplitEstimate, Treatment};
use crate::law::rule as cite;
use crate::lines::{Completed, LineId, Lines, List, PurchaseLine, SaleLine};
use crate::money::{Money, Rounding};
use crate::period::{Period, next_day};
use crate::refusal::Refusal;
use crate::run::Run;
use crate::spend;
use crate::workings::{Formula, Rule, Step, Traced};

use super::allot::{Allotted, Total, allot};

/// The lines of a period, by the side on which they fall.
#[derive(Debug)]
pub(crate) struct Sides {
    /// Of the days in the scheme.
    pub inside: Lines,
    /// Of the days before and after.
    pub outside: Lines,
    /// The days before and after.
    pub days_outside: Vec<Period>,
    /// Lines that were shared out by days.
    pub shared_by_days: Vec<LineId>,
}

static GROSS_SHARE: Rule =
    Rule { says: "The share of the price is the shares of its value and VAT.", authority: &[cite::COMMON_PRACTICE] };

/// Divides the lines of a period at the days on which the scheme starts and ends in it: supplies made and purchases received
/// while not a flat rate user follow the ordinary rules (VAT Regulations 1995 regs 55C(2) and 55E(3)).
///
/// # Errors
/// A line that matters on either side and does not say its part, while nobody asked for an estimate.
pub(crate) fn divide(
    run: &mut Run<'_>,
    lines: &Lines,
    (period, scheme): (Period, Period),
    estimate: Option<SplitEstimate>,
) -> Result<Sides, Vec<Refusal>> {
    let spans = period.cut_at(&[scheme.start(), next_day(scheme.end())]);
    let mut sides = Sides {
        inside: Lines::default(),
        outside: Lines::default(),
        days_outside: spans.iter().copied().filter(|span| !scheme.contains(*span)).collect(),
        shared_by_days: Vec::new(),
    };
    let mut refusals = Vec::new();
    let divider = Divider { spans: &spans, scheme, estimate };
    for sale in &lines.sales {
        // Income that stands on no return belongs to neither side.
        if sale.treatment == Treatment::NonBusiness {
            continue;
        }
        let line = LineId { list: List::Sales, index: sale.index };
        match divider.shares(run, line, sale.amounts, sale.part) {
            Ok(shares) => {
                if shares.len() > 1 {
                    sides.shared_by_days.push(line);
                }
                for share in shares {
                    let side = if share.inside { &mut sides.inside } else { &mut sides.outside };
                    side.sales.push(SaleLine { amounts: share.amounts, ..*sale });
                }
            }
            Err(refusal) => refusals.push(refusal),
        }
    }
    for purchase in &lines.purchases {
        if purchase.spend == Spend::WagesAndOtherOutsideScope {
            continue;
        }
        let line = LineId { list: List::Purchases, index: purchase.index };
        // One line of capital goods is one purchase: a share of it would not be measured against the limit.
        let estimate = if spend::may_give_claim(purchase.spend) { None } else { estimate };
        let divider = Divider { estimate, ..divider };
        match divider.shares(run, line, purchase.amounts, purchase.part) {
            Ok(shares) => {
                if shares.len() > 1 {
                    sides.shared_by_days.push(line);
                }
                for share in shares {
                    let side = if share.inside { &mut sides.inside } else { &mut sides.outside };
                    let share_of = share.of;
                    side.purchases.push(PurchaseLine { amounts: share.amounts, share_of, ..*purchase });
                }
            }
            Err(refusal) => refusals.push(refusal),
        }
    }
    if refusals.is_empty() { Ok(sides) } else { Err(refusals) }
}

#[derive(Clone, Copy)]
struct Divider<'a> {
    spans: &'a [Period],
    scheme: Period,
    estimate: Option<SplitEstimate>,
}

struct Share {
    inside: bool,
    amounts: Completed,
    /// The days that it is the share of, where the line was shared out.
    of: Option<Period>,
}

impl Divider<'_> {
    fn shares(
        &self,
        run: &mut Run<'_>,
        line: LineId,
        amounts: Completed,
        part: Option<Period>,
    ) -> Result<Vec<Share>, Refusal> {
        let nought = |figure: Traced<Money>| figure.value.is_zero();
        if nought(amounts.net) && nought(amounts.gross) && amounts.vat.is_none_or(nought) {
            return Ok(vec![Share { inside: true, amounts, of: None }]);
        }
        let total = |amount| Total { amount, part, percentage_at_supply: None, line };
        let nets = match allot(run, "net_share", &total(amounts.net), self.spans, self.estimate)? {
            Allotted::To(position) => return Ok(vec![Share { inside: self.is_inside(position), amounts, of: None }]),
            Allotted::Shared(shares) => shares,
        };
        let vats = match amounts.vat {
            None => None,
            Some(vat) => match allot(run, "vat_share", &total(vat), self.spans, self.estimate)? {
                Allotted::Shared(shares) => Some(shares),
                Allotted::To(_) => None,
            },
        };
        let mut shares = Vec::with_capacity(nets.len());
        for (position, (span, net)) in self.spans.iter().zip(nets).enumerate() {
            let vat = vats.as_ref().and_then(|vats| vats.get(position)).copied();
            let gross = match vat {
                None => net,
                Some(vat) => run.workings.trace(net.value.plus(vat.value)?, |gross| {
                    Step::new(
                        line.id(&format!("gross_share/{}", span.start())),
                        line.label(&format!("Gross from {} to {}", span.start(), span.end())),
                        Formula::Total,
                        vec![net.operand(), vat.operand()],
                        (*gross, Rounding::None),
                        &GROSS_SHARE,
                    )
                }),
            };
            let amounts = Completed { net, vat, gross };
            shares.push(Share { inside: self.is_inside(position), amounts, of: Some(*span) });
        }
        Ok(shares)
    }

    fn is_inside(&self, position: usize) -> bool {
        self.spans.get(position).is_some_and(|span| self.scheme.contains(*span))
    }
}
