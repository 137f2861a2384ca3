//! Goods that move between Northern Ireland and the European Union: boxes 2, 8 and 9, alike under both schemes (VATA 1994 Sch 9ZA).

use crate::figures::{Figures, Supply, Treatment};
use crate::law::ParameterId;
use crate::lines::{PurchaseLine, SaleLine};
use crate::money::Money;
use crate::period::Period;
use crate::refusal::{LineField, Place, Refusal, RefusalCode};
use crate::run::Run;
use crate::workings::Traced;

/// Refuses such goods in a period that ends before the rules for Northern Ireland began.
pub(crate) fn too_early(run: &Run<'_>, figures: &Figures, period: Period) -> Result<Vec<Refusal>, Refusal> {
    let begins = run.law.date(ParameterId::NorthernIrelandGoods)?.value;
    if period.end() >= begins {
        return Ok(Vec::new());
    }
    let sales = figures.sales.iter().enumerate().filter(|(_, sale)| sale.northern_ireland_to_eu);
    let purchases =
        figures.purchases.iter().enumerate().filter(|(_, line)| line.supply == Supply::NorthernIrelandAcquisition);
    let places = sales
        .map(|(index, _)| Place::Sale(index, LineField::NorthernIrelandToEu))
        .chain(purchases.map(|(index, _)| Place::Purchase(index, LineField::Supply)));
    Ok(places
        .map(|place| {
            Refusal::new(
                place,
                RefusalCode::NorthernIrelandTooEarly,
                format!(
                    "Goods between Northern Ireland and the European Union have rules of their own from {begins}; this period ends on {}. Trade with \
                     the European Union before that day is not covered here.",
                    period.end()
                ),
            )
        })
        .collect())
}

/// The value of goods sent to the European Union, for box 8, line by line. What stands in box 8 stands in box 6 too (VAT Notice 700/12), and
/// non-business income in neither.
pub(crate) fn box8_values(sales: &[SaleLine]) -> Vec<Traced<Money>> {
    sales
        .iter()
        .filter(|sale| sale.northern_ireland_to_eu && sale.treatment != Treatment::NonBusiness)
        .map(|sale| sale.amounts.net)
        .collect()
}

/// The VAT on acquisitions into Northern Ireland, for box 2, line by line.
pub(crate) fn box2_vat(purchases: &[PurchaseLine]) -> Vec<Traced<Money>> {
    acquisitions(purchases).filter_map(|line| line.amounts.vat).collect()
}

/// The value of acquisitions into Northern Ireland, for box 9, line by line.
pub(crate) fn box9_values(purchases: &[PurchaseLine]) -> Vec<Traced<Money>> {
    acquisitions(purchases).map(|line| line.amounts.net).collect()
}

fn acquisitions(purchases: &[PurchaseLine]) -> impl Iterator<Item = &PurchaseLine> {
    purchases.iter().filter(|line| line.supply == Supply::NorthernIrelandAcquisition)
}
