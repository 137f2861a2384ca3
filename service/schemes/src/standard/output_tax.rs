use crate::law::rule as cite;
use crate::lines::SaleLine;
use crate::money::{Money, Overflow};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

static OUTPUT_TAX: Rule = Rule {
    says: "Output tax is the VAT on all supplies made, assets of the business included.",
    authority: &[cite::VATA_1994_SECTION_24, cite::VATA_1994_SECTION_2],
};

/// The VAT on all sales, whatever was sold.
pub(super) fn on_sales(run: &mut Run<'_>, sales: &[SaleLine]) -> Result<Traced<Money>, Overflow> {
    let vat: Vec<_> = sales.iter().filter_map(|sale| sale.amounts.vat).collect();
    run.total(Name::new(Scope::Standard, "vat_on_sales", "VAT on sales", &OUTPUT_TAX), &vat)
}
