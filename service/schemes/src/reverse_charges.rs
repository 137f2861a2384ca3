//! VAT that the customer accounts for: reverse charges and postponed imports, alike under both schemes.

use crate::figures::Supply;
use crate::law::rule as cite;
use crate::lines::PurchaseLine;
use crate::money::{Money, Overflow};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

static ACCOUNTED_FOR: Rule = Rule {
    says: "The customer accounts for the VAT on services bought from abroad, on domestic reverse charge purchases and on postponed imports.",
    authority: &[cite::VATA_1994_SECTION_8, cite::VATREVCON31000, cite::IMPORT_VAT_ON_THE_RETURN],
};

/// The VAT on reverse charges and postponed imports, for box 1; none where there are no such purchases.
pub(crate) fn box1_vat(
    run: &mut Run<'_>,
    scope: Scope,
    purchases: &[PurchaseLine],
) -> Result<Option<Traced<Money>>, Overflow> {
    let vat: Vec<_> = purchases
        .iter()
        .filter(|line| match line.supply {
            Supply::PostponedImport | Supply::OverseasServicesReverseCharge | Supply::DomesticReverseCharge => true,
            Supply::Ordinary | Supply::NorthernIrelandAcquisition => false,
        })
        .filter_map(|line| line.amounts.vat)
        .collect();
    if vat.is_empty() {
        return Ok(None);
    }
    let name = Name::new(
        scope,
        "reverse_charges_and_imports",
        "VAT accounted for on reverse charges and postponed imports",
        &ACCOUNTED_FOR,
    );
    run.total(name, &vat).map(Some)
}

/// The value of services bought from abroad, which stands among the outputs too, line by line.
pub(crate) fn overseas_services(purchases: &[PurchaseLine]) -> impl Iterator<Item = Traced<Money>> + '_ {
    purchases.iter().filter(|line| line.supply == Supply::OverseasServicesReverseCharge).map(|line| line.amounts.net)
}
