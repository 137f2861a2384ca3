//! The Flat Rate Scheme: one percentage of turnover with VAT, and little reclaimed (VATA 1994 s 26B; VAT Regulations 1995
//! Part VIIA).

mod allot;
mod capital_goods;
mod goods_test;
mod percentage;
mod scheme;
mod turnover;

pub(crate) use capital_goods::CapitalGoods;
pub(crate) use goods_test::Tested;
pub(crate) use scheme::Scheme;
pub(crate) use turnover::{Standing, standing};

use crate::answer::{FlatRate, Part, PartialExemption};
use crate::figures::{SplitEstimate, Supply};
use crate::law::{Sector, rule as cite};
use crate::lines::{LineId, Lines, List, PurchaseLine, SaleLine};
use crate::money::{Money, Rounding};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::reverse_charges::{box1_vat, box2_vat, box9_values, overseas_services};
use crate::run::{Name, Run, Scope};
use crate::standard::{Attribution, Claimable, attribute};
use crate::vat_return::{Contents, Return, fill};
use crate::workings::{Rule, Traced};

use allot::{Allotted, Total, allot};
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
static PART_TURNOVER: Rule = Rule {
    says: "Turnover goes to the part of the period in which it falls.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55H, cite::DECISION_CUTS],
};
static FLAT_RATE_VAT: Rule = Rule {
    says: "The VAT of a part is its percentage of its turnover, to the nearest penny.",
    authority: &[cite::VATA_1994_SECTION_26B, cite::VAT_REGULATIONS_1995_REGULATION_55D, cite::DECISION_ROUNDING],
};
static SUM_OF_PARTS: Rule = Rule {
    says: "The flat rate VAT of the period is that of its parts together.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55D, cite::VAT_REGULATIONS_1995_REGULATION_55H],
};
static ASSETS_SOLD: Rule = Rule {
    says: "Capital assets on which VAT was claimed are sold outside the scheme, with ordinary VAT.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55C, cite::DECISION_CAPITAL_ASSET_SALES],
};
static CLAIMED: Rule = Rule {
    says: "The whole VAT on capital goods at or above the limit is claimed, whatever they are used for.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55E, cite::FRS6500],
};
static REVERSE_CHARGES: Rule = Rule {
    says: "Reverse charge purchases are outside the scheme, so their VAT is recovered as far as the ordinary rules allow.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_55C,
        cite::VATREVCON35100,
        cite::DECISION_OVERSEAS_SERVICES,
        cite::DECISION_REVERSE_CHARGE_ATTRIBUTION,
    ],
};
static BOX_4: Rule = Rule {
    says: "Box 4 holds VAT on capital goods claimed and on reverse charge purchases; there is no credit for any other input tax.",
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
    /// Sales whose totals were shared out by days.
    pub shared_by_days: Vec<usize>,
}

/// The facts that the scheme needs beside the lines.
pub(crate) struct Setting<'a> {
    pub period: Period,
    pub sector: &'a Sector,
    pub scheme: &'a Scheme,
    pub estimate: Option<SplitEstimate>,
}

/// Works out the period under the Flat Rate Scheme.
pub(crate) fn account<'a>(
    run: &mut Run<'_>,
    lines: &'a Lines,
    claimable: &[Claimable],
    setting: &Setting<'_>,
) -> Result<Accounted<'a>, Vec<Refusal>> {
    let period = setting.period;
    let in_turnover: Vec<Total> = lines
        .sales
        .iter()
        .filter(|sale| standing(sale) == Standing::Turnover && !sale.amounts.gross.value.is_zero())
        .map(|sale| Total {
            amount: sale.amounts.gross,
            part: sale.part,
            line: LineId { list: List::Sales, index: sale.index },
        })
        .collect();
    let tested = match goods_test::tested_days(run, period) {
        Some(days) => {
            let dates = (period, days);
            Some(goods_test::test(run, lines, &in_turnover, dates, setting.sector.id(), setting.estimate)?)
        }
        None => None,
    };
    let limited_cost_from =
        tested.as_ref().filter(|tested| tested.answer.limited_cost_business).map(|tested| tested.answer.days.start());
    let rated = percentage::rate(run, period, setting.sector, setting.scheme, limited_cost_from).map_err(one)?;
    let parts = Parts::of(run, &rated, &in_turnover, setting.estimate)?;
    finish(run, lines, claimable, period, &rated, parts, tested).map_err(one)
}

fn one(refusal: Refusal) -> Vec<Refusal> {
    vec![refusal]
}

/// Turnover by part.
struct Parts {
    turnover: Vec<Vec<Traced<Money>>>,
    all: Vec<Traced<Money>>,
    shared_by_days: Vec<usize>,
}

impl Parts {
    fn of(
        run: &mut Run<'_>,
        rated: &[Rated],
        totals: &[Total],
        estimate: Option<SplitEstimate>,
    ) -> Result<Self, Vec<Refusal>> {
        let mut parts = Self {
            turnover: vec![Vec::new(); rated.len()],
            all: totals.iter().map(|total| total.amount).collect(),
            shared_by_days: Vec::new(),
        };
        if let [only] = parts.turnover.as_mut_slice() {
            only.clone_from(&parts.all);
            return Ok(parts);
        }
        let days: Vec<Period> = rated.iter().map(|part| part.days).collect();
        let mut refusals = Vec::new();
        for total in totals {
            match allot(run, "share", total, &days, estimate) {
                Ok(Allotted::To(part)) => parts.turnover[part].push(total.amount),
                Ok(Allotted::Shared(shares)) => {
                    parts.shared_by_days.push(total.line.index);
                    for (part, share) in parts.turnover.iter_mut().zip(shares) {
                        part.push(share);
                    }
                }
                Err(refusal) => refusals.push(refusal),
            }
        }
        if refusals.is_empty() { Ok(parts) } else { Err(refusals) }
    }
}

fn finish<'a>(
    run: &mut Run<'_>,
    lines: &'a Lines,
    claimable: &[Claimable],
    period: Period,
    rated: &[Rated],
    parts: Parts,
    tested: Option<Tested>,
) -> Result<Accounted<'a>, Refusal> {
    let scope = Scope::FlatRate;
    let name = |id, label, rule| Name::new(scope, id, label, rule);
    let turnover = run.total(name("turnover", "Flat rate turnover", &TURNOVER).gives(&["turnover"]), &parts.all)?;
    let mut answers = Vec::with_capacity(rated.len());
    let mut vat_of_parts = Vec::with_capacity(rated.len());
    for (index, (rated, turnover)) in rated.iter().zip(&parts.turnover).enumerate() {
        let (part, vat) = part_answer(run, index, rated, turnover)?;
        answers.push(part);
        vat_of_parts.push(vat);
    }
    let mut box1 = vec![run.total(name("vat", "Flat rate VAT", &SUM_OF_PARTS), &vat_of_parts)?];
    let assets: Vec<_> = lines
        .sales
        .iter()
        .filter(|sale| standing(sale) == Standing::OwnVat)
        .filter_map(|sale| sale.amounts.vat)
        .collect();
    if !assets.is_empty() {
        box1.push(run.total(name("vat_on_assets_sold", "VAT on capital assets sold", &ASSETS_SOLD), &assets)?);
    }
    box1.extend(box1_vat(run, scope, &lines.purchases)?);

    let capital_goods = capital_goods::find(run, &lines.purchases, period)?;
    let mut box4 = Vec::with_capacity(2);
    let claims: Vec<_> = capital_goods.claimed.iter().filter_map(|line| line.amounts.vat).collect();
    if !claims.is_empty() {
        box4.push(run.total(name("capital_goods", "VAT on capital goods claimed", &CLAIMED), &claims)?);
    }
    let (recovered, partial_exemption) = recover_reverse_charges(run, &lines.sales, claimable, period)?;
    box4.extend(recovered);
    let box4 = run.total(name("box4", "Box 4: VAT reclaimed", &BOX_4).gives(&["boxes/box4", "input_tax"]), &box4)?;

    let outside = lines.sales.iter().filter(|sale| matches!(standing(sale), Standing::OwnVat | Standing::ValueOnly));
    let box6 = std::iter::once(turnover)
        .chain(outside.map(|sale| sale.amounts.net))
        .chain(overseas_services(&lines.purchases))
        .collect();
    let vat_return = fill(
        run,
        Contents {
            scope,
            box1,
            box2: box2_vat(&lines.purchases),
            box4,
            box6,
            box7: box7_values(&lines.purchases, &capital_goods),
            box9: box9_values(&lines.purchases),
            box6_rule: &BOX_6,
            box7_rule: &BOX_7,
        },
    )?;
    let answer = FlatRate {
        turnover: turnover.value,
        parts: answers,
        input_tax: box4.value,
        vat_payable: vat_return.vat_payable.value,
        boxes: vat_return.boxes,
        partial_exemption,
    };
    Ok(Accounted { answer, vat_return, tested, capital_goods, shared_by_days: parts.shared_by_days })
}

fn part_answer(
    run: &mut Run<'_>,
    index: usize,
    rated: &Rated,
    turnover: &[Traced<Money>],
) -> Result<(Part, Traced<Money>), Refusal> {
    let scope = Scope::FlatRatePart(index);
    let turnover =
        run.total(Name::new(scope, "turnover", "Turnover of the part", &PART_TURNOVER).gives(&["turnover"]), turnover)?;
    let (percentage, first_year_reduction) = rated.record(run, index)?;
    let vat = run.step(
        Name::new(scope, "vat", "Flat rate VAT of the part", &FLAT_RATE_VAT).gives(&["vat"]),
        turnover.value.share(percentage.value)?.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        "{} × {} ÷ 100",
        &[turnover.operand(), percentage.operand()],
    );
    let part = Part {
        days: rated.days,
        turnover: turnover.value,
        percentage: percentage.value,
        basis: rated.basis,
        first_year_reduction,
        vat: vat.value,
    };
    Ok((part, vat))
}

/// The VAT on reverse charge purchases that the ordinary rules let a flat rate user recover.
fn recover_reverse_charges(
    run: &mut Run<'_>,
    sales: &[SaleLine],
    claimable: &[Claimable],
    period: Period,
) -> Result<(Option<Traced<Money>>, Option<PartialExemption>), Refusal> {
    let reverse_charges: Vec<Claimable> =
        claimable.iter().copied().filter(|tax| is_reverse_charge(tax.supply) && !tax.vat.value.is_zero()).collect();
    if reverse_charges.is_empty() {
        return Ok((None, None));
    }
    let name =
        Name::new(Scope::FlatRate, "reverse_charges_recovered", "Reverse charge VAT recovered", &REVERSE_CHARGES);
    match attribute(run, Scope::FlatRatePartialExemption, sales, &reverse_charges, period)? {
        Attribution::Fully => {
            let vat: Vec<_> = reverse_charges.iter().map(|tax| tax.vat).collect();
            Ok((Some(run.total(name, &vat)?), None))
        }
        Attribution::Partly { recoverable, calculation } => {
            Ok((Some(run.total(name, &[recoverable])?), Some(*calculation)))
        }
    }
}

fn is_reverse_charge(supply: Supply) -> bool {
    match supply {
        Supply::OverseasServicesReverseCharge | Supply::DomesticReverseCharge => true,
        Supply::Ordinary | Supply::PostponedImport | Supply::NorthernIrelandAcquisition => false,
    }
}

fn box7_values(purchases: &[PurchaseLine], capital_goods: &CapitalGoods<'_>) -> Vec<Traced<Money>> {
    purchases
        .iter()
        .filter(|line| line.supply != Supply::Ordinary || capital_goods.claims(line))
        .map(|line| line.amounts.net)
        .collect()
}
