//! The lines of a request, checked and completed: net, VAT and gross of each, and the days that it belongs to.

mod amounts;
mod carries;
mod line_id;
mod rates;

pub(crate) use line_id::{LineId, List};

use crate::figures::{Dates, Nature, Purchase, Sale, Spend, Supply, Treatment, UsedFor};
use crate::money::{Money, Percentage};
use crate::period::Period;
use crate::refusal::{LineField, Place, Refusal, RefusalCode};
use crate::run::Run;
use crate::workings::Traced;

use amounts::complete_amounts;
use carries::Carries;

/// The three amounts of a line.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Completed {
    pub net: Traced<Money>,
    /// None where the line carries no VAT.
    pub vat: Option<Traced<Money>>,
    pub gross: Traced<Money>,
}

/// A total of sales, completed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SaleLine {
    pub index: usize,
    pub treatment: Treatment,
    pub nature: Nature,
    pub amounts: Completed,
    pub part: Option<Period>,
    pub percentage_at_supply: Option<Traced<Percentage>>,
    pub northern_ireland_to_eu: bool,
}

/// A total of purchases, completed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PurchaseLine {
    pub index: usize,
    pub spend: Spend,
    pub supply: Supply,
    pub used_for: UsedFor,
    pub business_use: Option<Traced<Percentage>>,
    pub for_main_activity: Option<bool>,
    pub vat_blocked: bool,
    pub amounts: Completed,
    pub part: Option<Period>,
    /// The days that the line is a share of, where a total was shared out between the scheme and the days outside it.
    pub share_of: Option<Period>,
}

/// A given VAT amount that its rate does not explain.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Mismatch {
    pub place: Place,
    pub given: Money,
    pub expected: Money,
}

/// All lines of a request.
#[derive(Debug, Default)]
pub(crate) struct Lines {
    pub sales: Vec<SaleLine>,
    pub purchases: Vec<PurchaseLine>,
    pub mismatches: Vec<Mismatch>,
}

/// Checks and completes every line; all refusals come together.
pub(crate) fn complete(
    run: &mut Run<'_>,
    sales: &[Sale],
    purchases: &[Purchase],
    period: Period,
) -> Result<Lines, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let mut lines = Lines {
        sales: Vec::with_capacity(sales.len()),
        purchases: Vec::with_capacity(purchases.len()),
        mismatches: Vec::new(),
    };
    for (index, sale) in sales.iter().enumerate() {
        match complete_sale(run, index, sale, period, &mut lines.mismatches) {
            Ok(line) => lines.sales.push(line),
            Err(refusal) => refusals.push(refusal),
        }
    }
    for (index, purchase) in purchases.iter().enumerate() {
        match complete_purchase(run, index, purchase, period, &mut lines.mismatches) {
            Ok(line) => lines.purchases.push(line),
            Err(refusal) => refusals.push(refusal),
        }
    }
    if refusals.is_empty() { Ok(lines) } else { Err(refusals) }
}

fn complete_sale(
    run: &mut Run<'_>,
    index: usize,
    sale: &Sale,
    period: Period,
    mismatches: &mut Vec<Mismatch>,
) -> Result<SaleLine, Refusal> {
    let line = LineId { list: List::Sales, index };
    let part = part_within(sale.part, period, line)?;
    let amounts = complete_amounts(run, line, sale.amounts, sale.treatment.into(), part.unwrap_or(period), mismatches)?;
    let percentage_at_supply = sale
        .percentage_at_supply
        .map(|percentage| Traced::given(percentage, line.place(LineField::PercentageAtSupply)));
    Ok(SaleLine {
        index,
        treatment: sale.treatment,
        nature: sale.nature,
        amounts,
        part,
        percentage_at_supply,
        northern_ireland_to_eu: sale.northern_ireland_to_eu,
    })
}

fn complete_purchase(
    run: &mut Run<'_>,
    index: usize,
    purchase: &Purchase,
    period: Period,
    mismatches: &mut Vec<Mismatch>,
) -> Result<PurchaseLine, Refusal> {
    let line = LineId { list: List::Purchases, index };
    let part = part_within(purchase.part, period, line)?;
    let carries = Carries::of_purchase(purchase);
    let amounts = complete_amounts(run, line, purchase.amounts, carries, part.unwrap_or(period), mismatches)?;
    Ok(PurchaseLine {
        index,
        spend: purchase.spend,
        // What is outside the scope is neither imported nor under a reverse charge.
        supply: if purchase.spend == Spend::WagesAndOtherOutsideScope { Supply::Ordinary } else { purchase.supply },
        used_for: purchase.used_for,
        business_use: purchase.business_use.map(|share| Traced::given(share, line.place(LineField::BusinessUse))),
        for_main_activity: purchase.for_main_activity,
        vat_blocked: purchase.vat_blocked,
        amounts,
        part,
        share_of: None,
    })
}

fn part_within(part: Option<Dates>, period: Period, line: LineId) -> Result<Option<Period>, Refusal> {
    let Some(dates) = part else { return Ok(None) };
    let Some(days) = Period::new(dates.start, dates.end) else {
        return Err(Refusal::new(
            line.place(LineField::PartEnd),
            RefusalCode::PeriodEndBeforeStart,
            format!(
                "The part ends on {} before it starts on {}. Give its first day as start and its last as end.",
                dates.end, dates.start
            ),
        ));
    };
    if period.contains(days) {
        Ok(Some(days))
    } else {
        Err(Refusal::new(
            line.place(LineField::Part),
            RefusalCode::PartOutsidePeriod,
            format!(
                "The part from {} to {} does not lie within the period from {} to {}. Give dates within the period.",
                days.start(),
                days.end(),
                period.start(),
                period.end()
            ),
        ))
    }
}
