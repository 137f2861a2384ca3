//! Goods on hand when a business leaves the scheme.

use crate::answer::LeavingAdjustment;
use crate::figures::{Figures, Leaving};
use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Percentage, Rounding};
use crate::period::{Period, next_day, previous_day};
use crate::refusal::{LeavingField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::Adjusted;

static STOCK: Rule = Rule {
    says: "Where standard-rated stock on leaving on which VAT was not recovered is worth more than that on joining on which it was, VAT on the difference \
           is claimed on the first return after leaving; otherwise nothing is.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55S, cite::DECISION_STOCK_ON_LEAVING],
};
static CAPITAL_GOODS: Rule = Rule {
    says: "Capital goods on hand on which VAT was claimed in the scheme are deemed supplied by and to the business when it leaves: VAT is due on their \
           value, and a fully taxable business recovers it on the same return.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55R, cite::FRS6600],
};

/// Works out what goods on hand mean for the first ordinary return after leaving. It is shown apart: which scheme costs less
/// in a period does not turn on the once-for-all cost of a change.
pub(super) fn on_hand(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
    adjusted: &mut Adjusted,
) -> Result<(), Vec<Refusal>> {
    let Some(leaving) = &figures.adjustments.leaving else { return Ok(()) };
    check(leaving, figures)?;
    adjusted.answer.leaving = Some(work_out(run, leaving, period).map_err(|refusal| vec![refusal])?);
    Ok(())
}

fn check(leaving: &Leaving, figures: &Figures) -> Result<(), Vec<Refusal>> {
    let mut refusals = Vec::new();
    let starts = figures.business.flat_rate_from.unwrap_or(figures.period.start);
    if leaving.on < starts {
        refusals.push(Refusal::new(
            Place::Leaving(LeavingField::On),
            RefusalCode::DatesOutOfOrder,
            format!("The business cannot leave the scheme on {} before it starts on {starts}. Give the last day in the scheme.", leaving.on),
        ));
    }
    if let Some(until) = figures.business.flat_rate_until
        && until != leaving.on
    {
        refusals.push(Refusal::new(
            Place::Leaving(LeavingField::On),
            RefusalCode::DatesOutOfOrder,
            format!(
                "The business is said to leave the scheme on {}, and by flat_rate_until on {until}. Give the same last day in both.",
                leaving.on
            ),
        ));
    }
    // What is on hand stands on the first ordinary return: of this period, or of the next where the scheme ends with this one.
    let (first, last) = (previous_day(figures.period.start), figures.period.end);
    if leaving.on < first || leaving.on > last {
        refusals.push(Refusal::new(
            Place::Leaving(LeavingField::On),
            RefusalCode::BelongsToAnotherPeriod,
            format!(
                "The last day in the scheme is {}, which is neither in this period nor the day before it. Ask with the period in which the business \
                 leaves.",
                leaving.on
            ),
        ));
    }
    let stock = [
        (leaving.stock_on_joining, LeavingField::StockOnJoining),
        (leaving.stock_on_leaving, LeavingField::StockOnLeaving),
    ];
    let capital = leaving
        .capital_goods
        .iter()
        .enumerate()
        .map(|(index, value)| (Some(*value), LeavingField::CapitalGoods(index)));
    for (value, field) in stock.into_iter().chain(capital) {
        if value.is_some_and(Money::is_negative) {
            refusals.push(Refusal::new(
                Place::Leaving(field),
                RefusalCode::AmountNegative,
                "Goods on hand have no value below nought. Give their value without VAT.",
            ));
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

fn work_out(run: &mut Run<'_>, leaving: &Leaving, period: Period) -> Result<LeavingAdjustment, Refusal> {
    let name = |id, label, rule, figures| Name::new(Scope::Leaving, id, label, rule).gives(figures);
    let given = |value, field| Traced::given(value, Place::Leaving(field));
    // The charge and the claim fall in the first period of ordinary accounting.
    let on = next_day(leaving.on).max(period.start());
    let rate = run.percentage(ParameterId::VatRateStandard, on, "Rate of VAT")?;
    let joining = leaving.stock_on_joining.map(|value| given(value, LeavingField::StockOnJoining));
    let now = leaving.stock_on_leaving.map(|value| given(value, LeavingField::StockOnLeaving));
    let stock_claim = claim_on_stock(run, joining, now, rate)?;
    let values: Vec<_> = leaving
        .capital_goods
        .iter()
        .enumerate()
        .map(|(index, value)| given(*value, LeavingField::CapitalGoods(index)))
        .collect();
    let value =
        run.total(Name::new(Scope::Leaving, "capital_goods", "Capital goods on hand", &CAPITAL_GOODS), &values)?;
    let capital_goods_vat = run.step(
        name("capital_goods_vat", "VAT due on capital goods on hand", &CAPITAL_GOODS, &["capital_goods_vat"]),
        value.value.share(rate.value)?.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        "{} × {} ÷ 100",
        &[value.operand(), rate.operand()],
    );
    Ok(LeavingAdjustment { stock_claim, capital_goods_vat: capital_goods_vat.value })
}

/// VAT on what stock on leaving is worth more than stock on joining; what was not given counts for nothing.
fn claim_on_stock(
    run: &mut Run<'_>,
    joining: Option<Traced<Money>>,
    now: Option<Traced<Money>>,
    rate: Traced<Percentage>,
) -> Result<Money, Refusal> {
    let name = Name::new(Scope::Leaving, "stock_claim", "VAT to claim on stock", &STOCK).gives(&["stock_claim"]);
    let Some(now) = now else { return Ok(run.total(name, &[])?.value) };
    let before = joining.map_or(Money::ZERO, |joining| joining.value);
    let claim = now.value.minus(before)?.max(Money::ZERO).share(rate.value)?.to_money(Rounding::NearestPenny)?;
    let (formula, operands) = match joining {
        Some(joining) => ("max({} − {}, 0) × {} ÷ 100", vec![now.operand(), joining.operand(), rate.operand()]),
        None => ("{} × {} ÷ 100", vec![now.operand(), rate.operand()]),
    };
    Ok(run.step(name, claim, Rounding::NearestPenny, formula, &operands).value)
}
