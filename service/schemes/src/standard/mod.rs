//! Standard accounting: output tax less recoverable input tax.

mod input_tax;
mod partial_exemption;

pub(crate) use input_tax::{Claimable, claimable, claimable_of_shares};
pub(crate) use partial_exemption::{Attributed, Attribution, OfTheYear, Totals, attribute, calculate};
pub use partial_exemption::{DeMinimis, DeMinimisTest, PartialExemption, RecoveryBasis};

use crate::answer::StandardAccounting;
use crate::figures::{Spend, Treatment};
use crate::law::rule as cite;
use crate::lines::{Lines, PurchaseLine, SaleLine};
use crate::money::{Money, Overflow};
use crate::northern_ireland::{box2_vat, box8_values, box9_values};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::reverse_charges::{box1_vat, overseas_services};
use crate::run::{Name, Run, Scope};
use crate::vat_return::{Contents, Return, fill};
use crate::workings::{Rule, Traced};

static BOX_4: Rule = Rule {
    says: "Box 4 is the input tax that may be recovered, with relief for bad debts, VAT from before registration and the annual adjustment of partial \
           exemption, less input tax repaid on unpaid purchases.",
    authority: &[cite::VATA_1994_SECTION_24, cite::VATA_1994_SECTION_26, cite::VAT_REGULATIONS_1995_REGULATION_39],
};
static BOX_6: Rule = Rule {
    says: "Box 6 is the value without VAT of all supplies, exempt ones and those outside the scope with them, of services bought from abroad \
           and of road fuel scale charges, pence cut off; non-business income stays out.",
    authority: &[cite::NOTICE_700_12, cite::DECISION_WHOLE_POUNDS],
};
static BOX_7: Rule = Rule {
    says: "Box 7 is the value without VAT of all purchases in full, pence cut off; wages and the like stay out.",
    authority: &[cite::NOTICE_700_12, cite::DECISION_WHOLE_POUNDS],
};

static OUTPUT_TAX: Rule = Rule {
    says: "Output tax is the VAT on all supplies made, assets of the business included.",
    authority: &[cite::VATA_1994_SECTION_24, cite::VATA_1994_SECTION_2],
};
static ON_PURCHASES: Rule = Rule {
    says: "All VAT on purchases, charged by the supplier or accounted for by the customer.",
    authority: &[cite::VATA_1994_SECTION_24],
};
static NOT_RECOVERED: Rule = Rule {
    says: "What of the VAT on purchases standard accounting does not give back: it is lost under both schemes, or not claimed yet for want of evidence, so it does not stand in the comparison.",
    authority: &[cite::VATA_1994_SECTION_24, cite::VATA_1994_SECTION_26],
};

/// The VAT on all sales, whatever was sold, line by line.
pub(crate) fn vat_on(sales: &[SaleLine]) -> Vec<Traced<Money>> {
    sales.iter().filter_map(|sale| sale.amounts.vat).collect()
}

/// The values of box 6 on the ordinary rules, line by line: every sale but non-business income.
pub(crate) fn box6_values(sales: &[SaleLine]) -> impl Iterator<Item = Traced<Money>> + '_ {
    sales.iter().filter(|sale| sale.treatment != Treatment::NonBusiness).map(|sale| sale.amounts.net)
}

/// The values of box 7 on the ordinary rules, line by line: every purchase but wages and the like.
pub(crate) fn box7_values(purchases: &[PurchaseLine]) -> impl Iterator<Item = Traced<Money>> + '_ {
    purchases.iter().filter(|line| line.spend != Spend::WagesAndOtherOutsideScope).map(|line| line.amounts.net)
}

/// The period under standard accounting, with the figures that the comparison goes on with.
pub(crate) struct Accounted {
    pub answer: StandardAccounting,
    pub vat_return: Return,
    pub input_tax: Traced<Money>,
    /// Whether partial exemption cuts nothing of the input tax.
    pub input_tax_uncut: bool,
}

/// What stands in the boxes beside the period's own figures.
#[derive(Clone, Copy)]
pub(crate) struct Beside<'a> {
    pub box1: &'a [Traced<Money>],
    pub box4: &'a [Traced<Money>],
    pub box6: &'a [Traced<Money>],
}

/// Works out the period under standard accounting.
pub(crate) fn account(
    run: &mut Run<'_>,
    lines: &Lines,
    claimable: &[Claimable],
    beside: Beside<'_>,
    period: Period,
    of_the_year: &OfTheYear,
) -> Result<Accounted, Refusal> {
    let scope = Scope::Standard;
    let name = Name::new(scope, "vat_on_sales", "VAT on sales", &OUTPUT_TAX);
    let mut box1 = vec![run.total(name, &vat_on(&lines.sales))?];
    box1.extend(box1_vat(run, scope, &lines.purchases)?);
    box1.extend_from_slice(beside.box1);

    let attribution = attribute(run, Scope::StandardPartialExemption, (&lines.sales, claimable), period, of_the_year)?;
    let name = Name::new(scope, "box4", "Box 4: input tax recovered", &BOX_4).gives(&["boxes/box4", "input_tax"]);
    let (mut reclaimed, partial_exemption): (Vec<_>, _) = match attribution {
        Attribution::Fully => (claimable.iter().map(|tax| tax.vat).collect(), None),
        Attribution::Partly { recoverable, calculation } => (vec![recoverable], Some(*calculation)),
    };
    let (vat_on_purchases, vat_not_recovered) = not_recovered(run, lines, &reclaimed)?;
    reclaimed.extend_from_slice(beside.box4);
    let box4 = run.total(name, &reclaimed)?;

    let vat_return = fill(
        run,
        Contents {
            scope,
            box1,
            box2: box2_vat(&lines.purchases),
            box4,
            box6: box6_values(&lines.sales)
                .chain(overseas_services(&lines.purchases))
                .chain(beside.box6.iter().copied())
                .collect(),
            box7: box7_values(&lines.purchases).collect(),
            box8: box8_values(&lines.sales),
            box9: box9_values(&lines.purchases),
            box6_rule: &BOX_6,
            box7_rule: &BOX_7,
        },
    )?;
    let answer = StandardAccounting {
        output_tax: vat_return.output_tax.value,
        input_tax: box4.value,
        vat_payable: vat_return.vat_payable.value,
        vat_on_purchases,
        vat_not_recovered,
        boxes: vat_return.boxes,
        partial_exemption,
    };
    let input_tax_uncut = answer.partial_exemption.as_ref().is_none_or(PartialExemption::recovers_all);
    Ok(Accounted { answer, vat_return, input_tax: box4, input_tax_uncut })
}

/// The VAT on all purchases, and what of it is not recovered.
fn not_recovered(run: &mut Run<'_>, lines: &Lines, recovered: &[Traced<Money>]) -> Result<(Money, Money), Overflow> {
    let name = |id, label, rule| Name::new(Scope::Standard, id, label, rule);
    let vat: Vec<_> = lines.purchases.iter().filter_map(|line| line.amounts.vat).collect();
    let all =
        run.total(name("vat_on_purchases", "VAT on all purchases", &ON_PURCHASES).gives(&["vat_on_purchases"]), &vat)?;
    let recovered = run.total(name("vat_recovered", "VAT recovered on purchases", &BOX_4), recovered)?;
    let lost = run.difference(
        name("vat_not_recovered", "VAT on purchases that is not recovered", &NOT_RECOVERED)
            .gives(&["vat_not_recovered"]),
        all,
        recovered,
    )?;
    Ok((all.value, lost.value))
}
