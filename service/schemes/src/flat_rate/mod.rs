//! The Flat Rate Scheme: one percentage of turnover with VAT, and little reclaimed (VATA 1994 s 26B; VAT Regulations 1995
//! Part VIIA).

mod allot;
mod capital_goods;
mod category;
mod divide;
mod goods_test;
mod ordinary_rules;
mod parts;
mod percentage;
mod scheme;
mod turnover;

pub(crate) use allot::Total;
pub(crate) use capital_goods::CapitalGoods;
pub(crate) use category::{Categories, Change};
pub(crate) use divide::{Sides, divide};
pub(crate) use goods_test::{Tested, test_spending, tested_days};
pub(crate) use scheme::{Scheme, newly_registered};
pub(crate) use turnover::{Standing, standing};

use crate::answer::{FlatRate, OutsideScheme};
use crate::figures::{SplitEstimate, Supply};
use crate::law::rule as cite;
use crate::lines::{LineId, Lines, List, PurchaseLine, SaleLine};
use crate::money::Money;
use crate::northern_ireland::{box2_vat, box8_values, box9_values};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::reverse_charges::{box1_vat, overseas_services};
use crate::run::{Name, Run, Scope};
use crate::standard::{self, Claimable, OfTheYear};
use crate::vat_return::{Contents, Return, fill};
use crate::workings::{Rule, Traced};

use ordinary_rules::{Recovered, recover};
use parts::{Parts, earlier_answer, part_answer};
use percentage::Rated;

static TURNOVER: Rule = Rule {
    says: "Flat rate turnover is taxable supplies with their VAT and exempt supplies; what is outside the scope, under a reverse charge, not \
           business, or a capital asset on which VAT was claimed stays out.",
    authority: &[
        cite::VATA_1994_SECTION_26B,
        cite::VAT_REGULATIONS_1995_REGULATION_55C,
        cite::DECISION_EXEMPT_INCOME,
        cite::DECISION_CAPITAL_ASSET_SALES,
    ],
};
static SUM_OF_PARTS: Rule = Rule {
    says: "The flat rate VAT of the period is that of its parts together.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55D, cite::VAT_REGULATIONS_1995_REGULATION_55H],
};
static ASSETS_SOLD: Rule = Rule {
    says: "Capital assets on which VAT was claimed are sold outside the scheme, with ordinary VAT.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55C, cite::DECISION_CAPITAL_ASSET_SALES],
};
static OUTSIDE_SCHEME: Rule = Rule {
    says: "Supplies made while not a flat rate user carry ordinary VAT.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55C],
};
static CLAIMED: Rule = Rule {
    says: "The whole VAT on capital goods at or above the limit is claimed, whatever they are used for.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55E, cite::FRS6500],
};
static BOX_4: Rule = Rule {
    says: "Box 4 holds VAT on capital goods claimed, VAT recovered on the ordinary rules, relief for bad debts, VAT from before registration and the \
           annual adjustment of partial exemption, less input tax claimed and repaid; there is no credit for any other input tax.",
    authority: &[
        cite::VATA_1994_SECTION_26B,
        cite::VAT_REGULATIONS_1995_REGULATION_55E,
        cite::DECISION_POSTPONED_IMPORTS,
    ],
};
static BOX_6: Rule = Rule {
    says: "Box 6 is flat rate turnover with its VAT, and the value without VAT of what stays outside the sum and of services bought from abroad, \
           pence cut off.",
    authority: &[cite::NOTICE_700_12, cite::DECISION_OVERSEAS_SERVICES, cite::DECISION_WHOLE_POUNDS],
};
static BOX_7: Rule = Rule {
    says: "Box 7 is the value without VAT of capital goods claimed, reverse charge purchases, postponed imports and acquisitions, pence cut off.",
    authority: &[cite::NOTICE_700_12, cite::DECISION_POSTPONED_IMPORTS, cite::DECISION_WHOLE_POUNDS],
};

/// The period under the Flat Rate Scheme, with the figures that the comparison and the warnings go on with.
pub(crate) struct Accounted<'a> {
    pub answer: FlatRate,
    pub vat_return: Return,
    pub tested: Option<Tested>,
    pub capital_goods: CapitalGoods<'a>,
    /// Lines whose totals were shared out by days.
    pub shared_by_days: Vec<LineId>,
}

/// The facts that the scheme needs beside the lines.
pub(crate) struct Setting<'a> {
    pub period: Period,
    pub categories: &'a Categories<'a>,
    pub scheme: &'a Scheme,
    pub estimate: Option<SplitEstimate>,
    /// What stands in box 1 beside the period's own figures.
    pub adjustments_in_box1: &'a [Traced<Money>],
    /// What is reclaimed in box 4 beside the period's own purchases.
    pub adjustments: &'a [Traced<Money>],
    /// What partial exemption is told of the year.
    pub of_the_year: &'a OfTheYear,
}

/// Works out the period under the Flat Rate Scheme. Where only some of its days are in the scheme, the lines come divided, and the
/// return holds both calculations.
pub(crate) fn account<'a>(
    run: &mut Run<'_>,
    lines: &'a Lines,
    sides: Option<&'a Sides>,
    claimable: &[Claimable],
    setting: &Setting<'_>,
) -> Result<Accounted<'a>, Vec<Refusal>> {
    let period = setting.scheme.days;
    let inside = sides.map_or(lines, |sides| &sides.inside);
    let in_turnover = turnover_totals(&inside.sales);
    let tested = match tested_days(run, period) {
        Some(days) => {
            let dates = (period, days);
            Some(test_spending(run, inside, &in_turnover, dates, setting.categories, setting.estimate)?)
        }
        None => None,
    };
    let limited_cost_from =
        tested.as_ref().filter(|tested| tested.answer.limited_cost_business).map(|tested| tested.answer.days.start());
    let rated = percentage::rate(run, period, setting.categories, setting.scheme, limited_cost_from).map_err(one)?;
    let parts = Parts::of(run, &rated, &in_turnover, setting.estimate)?;
    let mut recovered = recover(run, lines, sides, claimable, setting.period, setting.of_the_year).map_err(one)?;
    recovered.vat.extend_from_slice(setting.adjustments);
    let mut accounted =
        finish(run, inside, sides, &rated, Worked { parts, tested, recovered, box1: setting.adjustments_in_box1 })
            .map_err(one)?;
    // What the figures are made of stands in the parts; this is for the reader.
    accounted.answer.sector_at = setting.categories.timeline(period);
    Ok(accounted)
}

/// The totals that make flat rate turnover. A total of nought belongs to no part.
pub(crate) fn turnover_totals(sales: &[SaleLine]) -> Vec<Total> {
    sales
        .iter()
        .filter(|sale| standing(sale) == Standing::Turnover && !sale.amounts.gross.value.is_zero())
        .map(|sale| Total {
            amount: sale.amounts.gross,
            part: sale.part,
            percentage_at_supply: sale.percentage_at_supply,
            line: LineId { list: List::Sales, index: sale.index },
        })
        .collect()
}

fn one(refusal: Refusal) -> Vec<Refusal> {
    vec![refusal]
}

/// What is known when the return is filled in.
struct Worked<'a> {
    parts: Parts,
    tested: Option<Tested>,
    recovered: Recovered,
    /// What stands in box 1 beside the period's own figures.
    box1: &'a [Traced<Money>],
}

fn finish<'a>(
    run: &mut Run<'_>,
    inside: &'a Lines,
    sides: Option<&Sides>,
    rated: &[Rated],
    worked: Worked<'_>,
) -> Result<Accounted<'a>, Refusal> {
    let Worked { parts, tested, recovered, box1: beside_in_box1 } = worked;
    let scope = Scope::FlatRate;
    let name = |id, label, rule| Name::new(scope, id, label, rule);
    let outside = sides.map(|sides| &sides.outside);
    let turnover = run.total(name("turnover", "Flat rate turnover", &TURNOVER).gives(&["turnover"]), &parts.all)?;
    let mut answers = Vec::with_capacity(rated.len());
    let mut vat_of_parts = Vec::with_capacity(rated.len());
    for (index, (rated, turnover)) in rated.iter().zip(&parts.turnover).enumerate() {
        let (part, vat) = part_answer(run, index, rated, turnover)?;
        answers.push(part);
        vat_of_parts.push(vat);
    }
    let mut earlier_supplies = Vec::with_capacity(parts.earlier.len());
    for (index, earlier) in parts.earlier.iter().enumerate() {
        let (answer, vat) = earlier_answer(run, index, earlier)?;
        earlier_supplies.push(answer);
        vat_of_parts.push(vat);
    }
    let mut box1 = vec![run.total(name("vat", "Flat rate VAT", &SUM_OF_PARTS), &vat_of_parts)?];
    let assets: Vec<_> = inside
        .sales
        .iter()
        .filter(|sale| standing(sale) == Standing::OwnVat)
        .filter_map(|sale| sale.amounts.vat)
        .collect();
    if !assets.is_empty() {
        box1.push(run.total(name("vat_on_assets_sold", "VAT on capital assets sold", &ASSETS_SOLD), &assets)?);
    }
    let mut outside_scheme = None;
    if let Some(sides) = sides {
        let name = name("vat_outside_scheme", "VAT on supplies made outside the scheme", &OUTSIDE_SCHEME)
            .gives(&["outside_scheme/vat_on_sales"]);
        let vat = run.total(name, &standard::vat_on(&sides.outside.sales))?;
        outside_scheme = Some(OutsideScheme { days: sides.days_outside.clone(), vat_on_sales: vat.value });
        box1.push(vat);
    }
    // Reverse charges, imports and acquisitions are accounted for alike on both sides.
    let mut purchases: Vec<PurchaseLine> = inside.purchases.clone();
    purchases.extend(outside.iter().flat_map(|outside| &outside.purchases));
    box1.extend(box1_vat(run, scope, &purchases)?);
    box1.extend_from_slice(beside_in_box1);

    let on = rated.first().map_or(jiff::civil::Date::MAX, |first| first.days.start());
    let capital_goods = capital_goods::find(run, &inside.purchases, on)?;
    let mut box4 = Vec::with_capacity(2);
    let claims: Vec<_> = capital_goods.claimed.iter().filter_map(|line| line.amounts.vat).collect();
    if !claims.is_empty() {
        box4.push(run.total(name("capital_goods", "VAT on capital goods claimed", &CLAIMED), &claims)?);
    }
    box4.extend(recovered.vat);
    let box4 = run.total(name("box4", "Box 4: VAT reclaimed", &BOX_4).gives(&["boxes/box4", "input_tax"]), &box4)?;

    let beside = inside.sales.iter().filter(|sale| matches!(standing(sale), Standing::OwnVat | Standing::ValueOnly));
    let mut box6: Vec<_> = std::iter::once(turnover).chain(beside.map(|sale| sale.amounts.net)).collect();
    let mut box7 = box7_values(&inside.purchases, &capital_goods);
    if let Some(outside) = outside {
        box6.extend(standard::box6_values(&outside.sales));
        box7.extend(standard::box7_values(&outside.purchases));
    }
    box6.extend(overseas_services(&purchases));
    let mut box8 = box8_values(&inside.sales);
    box8.extend(outside.iter().flat_map(|outside| box8_values(&outside.sales)));
    let vat_return = fill(
        run,
        Contents {
            scope,
            box1,
            box2: box2_vat(&purchases),
            box4,
            box6,
            box7,
            box8,
            box9: box9_values(&purchases),
            box6_rule: &BOX_6,
            box7_rule: &BOX_7,
        },
    )?;
    let answer = FlatRate {
        turnover: turnover.value,
        parts: answers,
        sector_at: Vec::new(),
        earlier_supplies,
        outside_scheme,
        input_tax: box4.value,
        vat_payable: vat_return.vat_payable.value,
        boxes: vat_return.boxes,
        partial_exemption: recovered.partial_exemption,
    };
    let mut shared_by_days = parts.shared_by_days;
    for line in sides.iter().flat_map(|sides| &sides.shared_by_days) {
        if !shared_by_days.contains(line) {
            shared_by_days.push(*line);
        }
    }
    Ok(Accounted { answer, vat_return, tested, capital_goods, shared_by_days })
}

fn box7_values(purchases: &[PurchaseLine], capital_goods: &CapitalGoods<'_>) -> Vec<Traced<Money>> {
    purchases
        .iter()
        .filter(|line| line.supply != Supply::Ordinary || capital_goods.claims(line))
        .map(|line| line.amounts.net)
        .collect()
}
