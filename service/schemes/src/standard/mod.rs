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
use crate::money::Money;
use crate::period::Period;
use crate::refusal::Refusal;
use crate::reverse_charges::{box1_vat, box2_vat, box9_values, overseas_services};
use crate::run::{Name, Run, Scope};
use crate::vat_return::{Contents, Return, fill};
use crate::workings::{Rule, Traced};

static BOX_4: Rule = Rule {
    says: "Box 4 is the input tax that may be recovered, with relief for bad debts and VAT from before registration.",
    authority: &[cite::VATA_1994_SECTION_24, cite::VATA_1994_SECTION_26, cite::VAT_REGULATIONS_1995_REGULATION_39],
};
static BOX_6: Rule = Rule {
    says: "Box 6 is the value without VAT of all supplies, exempt ones and those outside the scope with them, and of services bought from \
           abroad, pence cut off; non-business income stays out.",
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
}

/// Works out the period under standard accounting.
pub(crate) fn account(
    run: &mut Run<'_>,
    lines: &Lines,
    claimable: &[Claimable],
    adjustments: &[Traced<Money>],
    period: Period,
    of_the_year: &OfTheYear,
) -> Result<Accounted, Refusal> {
    let scope = Scope::Standard;
    let name = Name::new(scope, "vat_on_sales", "VAT on sales", &OUTPUT_TAX);
    let mut box1 = vec![run.total(name, &vat_on(&lines.sales))?];
    box1.extend(box1_vat(run, scope, &lines.purchases)?);

    let attribution = attribute(run, Scope::StandardPartialExemption, (&lines.sales, claimable), period, of_the_year)?;
    let name = Name::new(scope, "box4", "Box 4: input tax recovered", &BOX_4).gives(&["boxes/box4", "input_tax"]);
    let (mut reclaimed, partial_exemption): (Vec<_>, _) = match attribution {
        Attribution::Fully => (claimable.iter().map(|tax| tax.vat).collect(), None),
        Attribution::Partly { recoverable, calculation } => (vec![recoverable], Some(*calculation)),
    };
    reclaimed.extend_from_slice(adjustments);
    let box4 = run.total(name, &reclaimed)?;

    let vat_return = fill(
        run,
        Contents {
            scope,
            box1,
            box2: box2_vat(&lines.purchases),
            box4,
            box6: box6_values(&lines.sales).chain(overseas_services(&lines.purchases)).collect(),
            box7: box7_values(&lines.purchases).collect(),
            box9: box9_values(&lines.purchases),
            box6_rule: &BOX_6,
            box7_rule: &BOX_7,
        },
    )?;
    let answer = StandardAccounting {
        output_tax: vat_return.output_tax.value,
        input_tax: box4.value,
        vat_payable: vat_return.vat_payable.value,
        boxes: vat_return.boxes,
        partial_exemption,
    };
    Ok(Accounted { answer, vat_return, input_tax: box4 })
}
