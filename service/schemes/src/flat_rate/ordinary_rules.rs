//! Input tax that a flat rate user recovers on the ordinary rules: on reverse charge purchases, and on purchases received while
//! not a flat rate user.

use crate::answer::PartialExemption;
use crate::figures::Supply;
use crate::law::rule as cite;
use crate::lines::Lines;
use crate::money::Money;
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::standard::{Attribution, Claimable, OfTheYear, attribute, claimable_of_shares};
use crate::workings::{Rule, Traced};

use super::divide::Sides;

static REVERSE_CHARGES: Rule = Rule {
    says: "Reverse charge purchases, and those received while not a flat rate user, are outside the scheme, so their VAT is recovered as far as \
           the ordinary rules allow.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_55C,
        cite::VAT_REGULATIONS_1995_REGULATION_55E,
        cite::VATREVCON35100,
        cite::DECISION_OVERSEAS_SERVICES,
        cite::DECISION_REVERSE_CHARGE_ATTRIBUTION,
    ],
};

/// What is recovered on the ordinary rules.
#[derive(Default)]
pub(super) struct Recovered {
    /// What goes into box 4.
    pub vat: Vec<Traced<Money>>,
    pub partial_exemption: Option<PartialExemption>,
}

/// Recovers input tax on the ordinary rules (VAT Regulations 1995 regs 55C(2), (6) and 55E(3)). The fraction of partial exemption is
/// made from all supplies of the period, whichever side of the scheme they fall on.
pub(super) fn recover(
    run: &mut Run<'_>,
    lines: &Lines,
    sides: Option<&Sides>,
    claimable: &[Claimable],
    period: Period,
    of_the_year: &OfTheYear,
) -> Result<Recovered, Refusal> {
    let mut ordinary: Vec<Claimable> = match sides {
        None => claimable.to_vec(),
        Some(sides) => claimable_of_shares(run, &sides.inside.purchases, claimable, period.start())?,
    };
    ordinary.retain(|tax| is_reverse_charge(tax.supply));
    if let Some(sides) = sides {
        ordinary.extend(claimable_of_shares(run, &sides.outside.purchases, claimable, period.start())?);
    }
    ordinary.retain(|tax| !tax.vat.value.is_zero());
    if ordinary.is_empty() {
        return Ok(Recovered::default());
    }
    let name = Name::new(
        Scope::FlatRate,
        "recovered_on_ordinary_rules",
        "VAT recovered on the ordinary rules",
        &REVERSE_CHARGES,
    );
    let attribution = attribute(run, Scope::FlatRatePartialExemption, (&lines.sales, &ordinary), period, of_the_year)?;
    Ok(match attribution {
        Attribution::Fully => {
            let vat: Vec<_> = ordinary.iter().map(|tax| tax.vat).collect();
            Recovered { vat: vec![run.total(name, &vat)?], partial_exemption: None }
        }
        Attribution::Partly { recoverable, calculation } => {
            Recovered { vat: vec![run.total(name, &[recoverable])?], partial_exemption: Some(*calculation) }
        }
    })
}

fn is_reverse_charge(supply: Supply) -> bool {
    match supply {
        Supply::OverseasServicesReverseCharge | Supply::DomesticReverseCharge => true,
        Supply::Ordinary | Supply::PostponedImport | Supply::NorthernIrelandAcquisition => false,
    }
}
