//! The totals of an invoice by rate, to the penny, and those of the whole.

use crate::law::rule as cite;
use crate::money::{FinePounds, Money, Overflow, Percentage, Ratio, Rounding};
use crate::run::{Name, Run, Scope};
use crate::workings::{Formula, Rule, Traced};

use super::answer::RateTotals;
use super::figures::{InvoiceRounding, InvoiceTreatment, Prices};
use super::lines::{Line, exact_vat, vat_formula, vat_operands};
use super::shares::{Called, Share, stepwise};
use super::way::Level;

static VALUES: Rule = Rule { says: "What is charged at the rate.", authority: &[cite::VATA_1994_SECTION_2] };
static VAT_OF_LINES: Rule = Rule { says: "The VAT of the lines at the rate.", authority: &[cite::VATA_1994_SECTION_2] };
static TO_THE_PENNY: Rule = Rule {
    says: "What is charged up to and with this rate, to the nearest penny.",
    authority: &[cite::DECISION_SHARES_TO_THE_PENNY],
};
static RATE: Rule =
    Rule { says: "The rate of VAT in force at the tax point.", authority: &[cite::VATA_1994_SECTION_2] };
static ADDS_UP: Rule =
    Rule { says: "The price with VAT is the price without it and the VAT.", authority: &[cite::VATA_1994_SECTION_19] };
static WHOLE: Rule = Rule { says: "The total of all rates.", authority: &[cite::VATA_1994_SECTION_2] };

/// The totals of a rate, with where they come from.
#[derive(Debug, Clone, Copy)]
pub(super) struct RateTotal {
    pub treatment: InvoiceTreatment,
    pub vat: Option<Traced<Money>>,
    pub gross: Traced<Money>,
    pub answer: RateTotals,
}

/// The totals of an invoice, with where they come from.
#[derive(Debug)]
pub(super) struct Totals {
    pub by_rate: Vec<RateTotal>,
    pub net: Traced<Money>,
    pub vat: Traced<Money>,
    pub gross: Traced<Money>,
}

/// The lines of a rate together.
struct Group {
    treatment: InvoiceTreatment,
    rate: Option<Traced<Percentage>>,
    value: Traced<FinePounds>,
    /// The VAT of its lines, where the way of rounding works by lines.
    vat: Option<Traced<FinePounds>>,
    position: usize,
}

/// Adds the lines up.
pub(super) fn add_up(
    run: &mut Run<'_>,
    prices: Prices,
    way: InvoiceRounding,
    lines: &[Line],
) -> Result<Totals, Overflow> {
    let groups = groups(run, lines)?;
    let charged = charged(run, prices, &groups)?;
    let mut vat = vat(run, prices, way, &groups)?.into_iter();
    let mut by_rate = Vec::with_capacity(groups.len());
    for (group, charged) in groups.iter().zip(charged) {
        let scope = Scope::InvoiceRate(group.position);
        let vat = if group.rate.is_some() { vat.next() } else { None };
        let (net, gross) = match (vat, prices) {
            (None, _) => (charged, charged),
            (Some(vat), Prices::Net) => {
                let name = Name::new(scope, "gross", "Total with VAT", &ADDS_UP).gives(&["gross"]);
                (charged, run.total(name, &[charged, vat])?)
            }
            (Some(vat), Prices::Gross) => {
                let name = Name::new(scope, "net", "Total without VAT", &ADDS_UP).gives(&["net"]);
                (run.difference(name, charged, vat)?, charged)
            }
        };
        let percentage = group.rate.map(|rate| {
            let name = Name::new(scope, "percentage", "Rate of VAT", &RATE).gives(&["percentage"]);
            run.step(name, rate.value, Rounding::None, "{}", &[rate.operand()]).value
        });
        let answer = RateTotals {
            treatment: group.treatment,
            percentage,
            net: net.value,
            vat: vat.map(|vat| vat.value),
            gross: gross.value,
        };
        by_rate.push((net, RateTotal { treatment: group.treatment, vat, gross, answer }));
    }
    let total = |id, label, figure| Name::new(Scope::Invoice, id, label, &WHOLE).gives(figure);
    let nets: Vec<_> = by_rate.iter().map(|(net, _)| *net).collect();
    let by_rate: Vec<RateTotal> = by_rate.into_iter().map(|(_, rate)| rate).collect();
    let vats: Vec<_> = by_rate.iter().filter_map(|rate| rate.vat).collect();
    let grosses: Vec<_> = by_rate.iter().map(|rate| rate.gross).collect();
    Ok(Totals {
        net: run.total(total("net", "Total without VAT", &["net"]), &nets)?,
        vat: run.total(total("vat", "VAT", &["vat"]), &vats)?,
        gross: run.total(total("gross", "Total with VAT", &["gross"]), &grosses)?,
        by_rate,
    })
}

fn groups(run: &mut Run<'_>, lines: &[Line]) -> Result<Vec<Group>, Overflow> {
    let mut groups: Vec<Group> = Vec::with_capacity(InvoiceTreatment::ALL.len());
    for treatment in InvoiceTreatment::ALL.iter().copied() {
        let of_rate: Vec<&Line> = lines.iter().filter(|line| line.treatment == treatment).collect();
        let Some(first) = of_rate.first() else { continue };
        let position = groups.len();
        let named = |id, label, rule| Name::new(Scope::InvoiceRate(position), id, label, rule);
        let values: Vec<_> = of_rate.iter().map(|line| line.value).collect();
        let value = add(run, named("charged_exactly", "Prices of the lines at the rate", &VALUES), &values)?;
        let vats: Option<Vec<_>> = of_rate.iter().map(|line| line.vat).collect();
        let vat = match vats {
            Some(vats) => Some(add(run, named("vat_of_lines", "VAT of the lines at the rate", &VAT_OF_LINES), &vats)?),
            None => None,
        };
        groups.push(Group { treatment, rate: first.rate, value, vat, position });
    }
    Ok(groups)
}

fn add(run: &mut Run<'_>, name: Name, figures: &[Traced<FinePounds>]) -> Result<Traced<FinePounds>, Overflow> {
    let sum = figures.iter().try_fold(FinePounds::ZERO, |sum, figure| sum.plus(figure.value))?;
    let operands = figures.iter().map(|figure| figure.operand()).collect();
    Ok(run.sum(name, (sum, Rounding::None), Formula::Total, operands))
}

/// What is charged at each rate, to the penny.
fn charged(run: &mut Run<'_>, prices: Prices, groups: &[Group]) -> Result<Vec<Traced<Money>>, Overflow> {
    let shares: Vec<Share> = groups
        .iter()
        .map(|group| Share {
            scope: Scope::InvoiceRate(group.position),
            gives: match (group.rate, prices) {
                (None, _) => &["net", "gross"],
                (Some(_), Prices::Net) => &["net"],
                (Some(_), Prices::Gross) => &["gross"],
            },
        })
        .collect();
    let called = Called {
        share: "charged",
        label: "Charged at the rate",
        so_far: "charged_so_far",
        so_far_label: "Charged up to and with this rate",
        rule: &TO_THE_PENNY,
    };
    stepwise(run, &shares, called, |run, position, name| {
        let groups = groups.get(..=position).ok_or(Overflow)?;
        let sum = groups.iter().try_fold(FinePounds::ZERO, |sum, group| sum.plus(group.value.value))?;
        let value = sum.exact().to_money(Rounding::NearestPenny)?;
        let operands = groups.iter().map(|group| group.value.operand()).collect();
        Ok(run.sum(name, (value, Rounding::NearestPenny), Formula::Total, operands))
    })
}

/// The VAT of each rate that has one, to the penny: together they are the VAT of the whole, rounded once at the end.
fn vat(
    run: &mut Run<'_>,
    prices: Prices,
    way: InvoiceRounding,
    groups: &[Group],
) -> Result<Vec<Traced<Money>>, Overflow> {
    let rated: Vec<(&Group, Traced<Percentage>)> =
        groups.iter().filter_map(|group| Some((group, group.rate?))).collect();
    let shares: Vec<Share> =
        rated.iter().map(|(group, _)| Share { scope: Scope::InvoiceRate(group.position), gives: &["vat"] }).collect();
    let called = Called {
        share: "vat",
        label: "VAT at the rate",
        so_far: "vat_so_far",
        so_far_label: "VAT up to and with this rate",
        rule: way.rule(),
    };
    let rounding = way.of_the_whole();
    stepwise(run, &shares, called, |run, position, name| {
        let rated = rated.get(..=position).ok_or(Overflow)?;
        let mut exact = Ratio::whole(0);
        let mut operands = Vec::with_capacity(3 * rated.len());
        for (group, rate) in rated {
            match group.vat {
                Some(vat) => {
                    exact = exact.plus(vat.value.exact())?;
                    operands.push(vat.operand());
                }
                None => {
                    exact = exact.plus(exact_vat(prices, group.value.value, rate.value)?)?;
                    operands.extend(vat_operands(prices, group.value, *rate));
                }
            }
        }
        let formula = match way.level() {
            Level::Whole => Formula::Each(vat_formula(prices)),
            Level::Line(_) | Level::Unit(_) => Formula::Total,
        };
        Ok(run.sum(name, (exact.to_money(rounding)?, rounding), formula, operands))
    })
}
