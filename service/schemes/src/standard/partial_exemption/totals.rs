//! The five totals that a partial exemption calculation is made from.

use crate::figures::{Nature, Treatment, UsedFor};
use crate::law::rule as cite;
use crate::lines::SaleLine;
use crate::money::{Money, Overflow};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::super::input_tax::Claimable;

static TAXABLE_SUPPLIES: Rule = Rule {
    says: "Taxable supplies, and those outside the scope that carry the right to deduct, without VAT; capital assets sold, deemed \
           supplies and non-business income are left out.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_101,
        cite::VAT_REGULATIONS_1995_REGULATION_103,
        cite::DECISION_PARTIAL_EXEMPTION_FRACTION,
    ],
};
static EXEMPT_SUPPLIES: Rule = Rule {
    says: "Exempt supplies; capital assets sold and deemed supplies are left out.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::DECISION_PARTIAL_EXEMPTION_FRACTION],
};
static ATTRIBUTED: Rule = Rule {
    says: "Input tax is attributed by use: to taxable supplies, to exempt supplies, or, as residual input tax, to both.",
    authority: &[cite::VATA_1994_SECTION_26, cite::VAT_REGULATIONS_1995_REGULATION_101],
};

/// The figures that make the five totals.
#[derive(Debug, Default)]
pub(crate) struct Attributed {
    pub taxable_supplies: Vec<Traced<Money>>,
    pub exempt_supplies: Vec<Traced<Money>>,
    pub input_tax_taxable: Vec<Traced<Money>>,
    pub input_tax_exempt: Vec<Traced<Money>>,
    pub input_tax_both: Vec<Traced<Money>>,
}

impl Attributed {
    /// From the lines of a period (VAT Regulations 1995 regs 101, 103).
    pub fn of_lines(sales: &[SaleLine], input_tax: &[Claimable]) -> Self {
        let mut found = Self::default();
        for sale in sales.iter().filter(|sale| sale.nature == Nature::Ordinary) {
            if counts_as_taxable(sale.treatment) {
                found.taxable_supplies.push(sale.amounts.net);
            } else if sale.treatment == Treatment::Exempt {
                found.exempt_supplies.push(sale.amounts.net);
            }
        }
        for tax in input_tax {
            let used_for = match tax.used_for {
                UsedFor::Taxable => &mut found.input_tax_taxable,
                UsedFor::Exempt => &mut found.input_tax_exempt,
                UsedFor::Both => &mut found.input_tax_both,
            };
            used_for.push(tax.vat);
        }
        found
    }

    /// Whether there are exempt supplies, or anything was bought for some.
    pub fn is_partly_exempt(&self) -> bool {
        let any = |figures: &[Traced<Money>]| figures.iter().any(|figure| !figure.value.is_zero());
        any(&self.exempt_supplies) || any(&self.input_tax_exempt)
    }

    /// Whether there are taxable supplies, or those treated like them, after their credit notes.
    pub fn has_taxable_supplies(&self) -> Result<bool, Overflow> {
        let total = self.taxable_supplies.iter().try_fold(Money::ZERO, |total, supply| total.plus(supply.value))?;
        Ok(total > Money::ZERO)
    }

    /// Whether there is residual input tax.
    pub fn has_residual(&self) -> bool {
        self.input_tax_both.iter().any(|figure| !figure.value.is_zero())
    }
}

/// Whether supplies of this treatment stand with the taxable ones in the fraction (VAT Regulations 1995 regs 101, 103).
fn counts_as_taxable(treatment: Treatment) -> bool {
    match treatment {
        Treatment::StandardRated
        | Treatment::ReducedRated
        | Treatment::HospitalityRated
        | Treatment::ZeroRated
        | Treatment::DomesticReverseCharge
        | Treatment::OutsideScope => true,
        Treatment::Exempt | Treatment::NonBusiness => false,
    }
}

/// The five totals, with those of all supplies and of all input tax.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Totals {
    pub taxable_supplies: Traced<Money>,
    pub exempt_supplies: Traced<Money>,
    pub all_supplies: Traced<Money>,
    pub input_tax_taxable: Traced<Money>,
    pub input_tax_exempt: Traced<Money>,
    pub input_tax_both: Traced<Money>,
    pub all_input_tax: Traced<Money>,
}

impl Totals {
    pub fn of(run: &mut Run<'_>, scope: Scope, figures: &Attributed) -> Result<Self, Overflow> {
        let name = |id, label, rule| Name::new(scope, id, label, rule);
        let taxable_supplies = run.total(
            name("taxable_supplies", "Taxable supplies", &TAXABLE_SUPPLIES).gives(&["taxable_supplies"]),
            &figures.taxable_supplies,
        )?;
        let exempt_supplies = run.total(
            name("exempt_supplies", "Exempt supplies", &EXEMPT_SUPPLIES).gives(&[
                "exempt_supplies",
                "tests/0/exempt_part",
                "tests/1/exempt_part",
            ]),
            &figures.exempt_supplies,
        )?;
        let all_supplies =
            run.total(name("all_supplies", "All supplies", &TAXABLE_SUPPLIES), &[taxable_supplies, exempt_supplies])?;
        let input_tax_taxable = run.total(
            name("input_tax_taxable", "Input tax used for taxable supplies", &ATTRIBUTED).gives(&["input_tax_taxable"]),
            &figures.input_tax_taxable,
        )?;
        let input_tax_exempt = run.total(
            name("input_tax_exempt", "Input tax used for exempt supplies", &ATTRIBUTED).gives(&["input_tax_exempt"]),
            &figures.input_tax_exempt,
        )?;
        let input_tax_both = run.total(
            name("input_tax_both", "Residual input tax, used for both", &ATTRIBUTED).gives(&["input_tax_both"]),
            &figures.input_tax_both,
        )?;
        let all_input_tax = run.total(
            name("all_input_tax", "All input tax", &ATTRIBUTED).gives(&["tests/0/input_tax"]),
            &[input_tax_taxable, input_tax_exempt, input_tax_both],
        )?;
        Ok(Self {
            taxable_supplies,
            exempt_supplies,
            all_supplies,
            input_tax_taxable,
            input_tax_exempt,
            input_tax_both,
            all_input_tax,
        })
    }
}
