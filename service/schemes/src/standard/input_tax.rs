use jiff::civil::Date;

use crate::figures::{Supply, UsedFor};
use crate::law::{ParameterId, rule as cite};
use crate::lines::PurchaseLine;
use crate::money::{Money, Percentage, Rounding};
use crate::refusal::Refusal;
use crate::run::Run;
use crate::spend::{self, Recovery};
use crate::workings::{Formula, Operand, Rule, Step, Traced};

/// Input tax of a line of the request, after what is blocked or not for business is out, before any partial exemption.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Claimable {
    pub index: usize,
    pub vat: Traced<Money>,
    pub used_for: UsedFor,
    pub supply: Supply,
}

static BUSINESS_SHARE: Rule = Rule {
    says: "Where a purchase is only partly for the business, that share of its VAT is input tax, to the nearest penny.",
    authority: &[cite::VATA_1994_SECTION_24, cite::VIT41600, cite::DECISION_ROUNDING],
};
static HALF_BLOCKED: Rule = Rule {
    says: "Half of the VAT on a car's rental is input tax while private use is possible, to the nearest penny.",
    authority: &[cite::INPUT_TAX_ORDER_1992_ARTICLE_7, cite::COMMON_PRACTICE, cite::DECISION_ROUNDING],
};

/// The input tax of each purchase line that bears any (VATA 1994 s 24; Input Tax Order 1992 arts 5 and 7).
pub(crate) fn claimable(run: &mut Run<'_>, purchases: &[PurchaseLine], on: Date) -> Result<Vec<Claimable>, Refusal> {
    let mut found = Vec::with_capacity(purchases.len());
    for line in purchases {
        if !line.vat_blocked
            && let Some(vat) = line.amounts.vat
            && let Some(vat) = after_blocks(run, line, vat, on)?
        {
            found.push(Claimable { index: line.index, vat, used_for: line.used_for, supply: line.supply });
        }
    }
    Ok(found)
}

/// The input tax of lines some of which are shares of a total: that of whole lines is already known.
pub(crate) fn claimable_of_shares(
    run: &mut Run<'_>,
    purchases: &[PurchaseLine],
    known: &[Claimable],
    on: Date,
) -> Result<Vec<Claimable>, Refusal> {
    let mut found = Vec::with_capacity(purchases.len());
    for line in purchases {
        if line.share_of.is_some() {
            found.extend(claimable(run, std::slice::from_ref(line), on)?);
        } else if let Ok(position) = known.binary_search_by_key(&line.index, |tax| tax.index) {
            found.push(known[position]);
        }
    }
    Ok(found)
}

/// The VAT of a line less what is blocked and what is not for business; none where all is blocked.
fn after_blocks(
    run: &mut Run<'_>,
    line: &PurchaseLine,
    vat: Traced<Money>,
    on: Date,
) -> Result<Option<Traced<Money>>, Refusal> {
    let half: Option<Traced<Percentage>> = match spend::rules(line.spend).recovery.finding {
        Recovery::None => return Ok(None),
        Recovery::All => None,
        Recovery::Half => Some(run.percentage(
            ParameterId::CarLeaseRecoverableShare,
            on,
            "Recoverable share of the VAT on a car's rental",
        )?),
    };
    let (formula, rule): (&'static str, &'static Rule) = match (half, line.business_use) {
        (None, None) => return Ok(Some(vat)),
        (None, Some(_)) => ("{} × {} ÷ 100", &BUSINESS_SHARE),
        (Some(_), None) => ("{} × {} ÷ 100", &HALF_BLOCKED),
        (Some(_), Some(_)) => ("{} × {} ÷ 100 × {} ÷ 100", &HALF_BLOCKED),
    };
    let shares = || half.iter().chain(&line.business_use);
    let mut exact = vat.value.exact();
    for share in shares() {
        exact = exact.times(share.value.as_fraction())?;
    }
    let value = exact.to_money(Rounding::NearestPenny)?;
    Ok(Some(run.workings.trace(value, |value| {
        let operands: Vec<Operand> =
            std::iter::once(vat.operand()).chain(shares().map(|share| share.operand())).collect();
        let share = line.share_of.map(|days| format!("/{}", days.start())).unwrap_or_default();
        Step::new(
            format!("purchases/{}/input_tax{share}", line.index),
            format!("Input tax of purchases line {}", line.index + 1),
            Formula::Text(formula),
            operands,
            (*value, Rounding::NearestPenny),
            rule,
        )
    })))
}
