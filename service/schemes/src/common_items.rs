//! What stands on the returns of both schemes alike, so that the choice between them does not turn on it.

use crate::answer::{CommonItem, CommonKind, PartialExemption};
use crate::figures::Supply;
use crate::flat_rate::{Standing, standing};
use crate::law::rule as cite;
use crate::money::{Money, Overflow};
use crate::run::{Name, Run, Scope, sum_of};
use crate::side_by_side::Compared;
use crate::workings::{Rule, Traced};

static COMMON: Rule = Rule {
    says: "What is accounted for or reclaimed on both returns alike makes no difference between the schemes; it is shown so that nobody looks for it.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_55C,
        cite::VAT_REGULATIONS_1995_REGULATION_55E,
        cite::VAT_REGULATIONS_1995_REGULATION_55F,
    ],
};

/// The items that come to something, in the order of their words. What is reclaimed is shown only where it is the same on both returns.
pub(crate) fn find(run: &mut Run<'_>, compared: &Compared<'_>) -> Result<Vec<CommonItem>, Overflow> {
    let mut items = Items { run, found: Vec::new() };
    items.reverse_charges_and_imports(compared)?;
    items.capital_goods(compared)?;
    items.assets_with_vat_claimed(compared)?;
    if let Some(claimed) = compared.pre_registration
        && !claimed.value.is_zero()
    {
        items.add(CommonKind::PreRegistration, None, Some(&[claimed]))?;
    }
    Ok(items.found)
}

struct Items<'run, 'law> {
    run: &'run mut Run<'law>,
    found: Vec<CommonItem>,
}

impl Items<'_, '_> {
    fn add(
        &mut self,
        item: CommonKind,
        output_tax: Option<&[Traced<Money>]>,
        input_tax: Option<&[Traced<Money>]>,
    ) -> Result<(), Overflow> {
        let scope = Scope::Common(self.found.len());
        let mut total = |id, label, figure, amounts: &[Traced<Money>]| {
            self.run.total(Name::new(scope, id, label, &COMMON).gives(figure), amounts).map(|total| total.value)
        };
        let output_tax = output_tax
            .map(|amounts| total("output_tax", "VAT due on both returns alike", &["output_tax"], amounts))
            .transpose()?;
        let input_tax = input_tax
            .map(|amounts| total("input_tax", "VAT reclaimed on both returns alike", &["input_tax"], amounts))
            .transpose()?;
        self.found.push(CommonItem { item, output_tax, input_tax });
        Ok(())
    }

    /// The customer accounts for this VAT on both returns. Only that on reverse charges is recovered by a flat rate user, and only as
    /// far as the ordinary rules allow.
    fn reverse_charges_and_imports(&mut self, compared: &Compared<'_>) -> Result<(), Overflow> {
        let accounted = compared.lines.purchases.iter().filter(|line| line.supply != Supply::Ordinary);
        let output_tax: Vec<_> = accounted.filter_map(|line| line.amounts.vat).collect();
        if sum_of(&output_tax)?.is_zero() {
            return Ok(());
        }
        let uncut = |method: Option<&PartialExemption>| method.is_none_or(PartialExemption::recovers_all);
        let alike = compared.standard.input_tax_uncut && uncut(compared.flat_rate.answer.partial_exemption.as_ref());
        let recovered: Vec<_> = compared
            .claimable
            .iter()
            .filter(|tax| match tax.supply {
                Supply::OverseasServicesReverseCharge | Supply::DomesticReverseCharge => true,
                Supply::Ordinary | Supply::PostponedImport | Supply::NorthernIrelandAcquisition => false,
            })
            .map(|tax| tax.vat)
            .collect();
        let input_tax = alike.then_some(recovered.as_slice());
        self.add(CommonKind::ReverseChargesAndImports, Some(&output_tax), input_tax)
    }

    /// A flat rate user claims the whole VAT on these; standard accounting may give less, for other use or exempt supplies.
    fn capital_goods(&mut self, compared: &Compared<'_>) -> Result<(), Overflow> {
        let claimed: Vec<_> = compared
            .flat_rate
            .capital_goods
            .claimed
            .iter()
            .filter_map(|line| line.amounts.vat.map(|vat| (line.index, vat)))
            .collect();
        let vat: Vec<_> = claimed.iter().map(|(_, vat)| *vat).collect();
        if sum_of(&vat)?.is_zero() {
            return Ok(());
        }
        let same = |(index, vat): &(usize, Traced<Money>)| {
            compared.claimable.iter().any(|tax| tax.index == *index && tax.vat.value == vat.value)
        };
        let alike = compared.standard.input_tax_uncut && claimed.iter().all(same);
        self.add(CommonKind::CapitalGoods, None, alike.then_some(vat.as_slice()))
    }

    /// Assets and deemed supplies of what VAT was claimed on carry ordinary VAT under both schemes.
    fn assets_with_vat_claimed(&mut self, compared: &Compared<'_>) -> Result<(), Overflow> {
        let sold = compared.lines.sales.iter().filter(|sale| standing(sale) == Standing::OwnVat);
        let output_tax: Vec<_> = sold.filter_map(|sale| sale.amounts.vat).collect();
        if sum_of(&output_tax)?.is_zero() {
            return Ok(());
        }
        self.add(CommonKind::AssetsWithVatClaimed, Some(&output_tax), None)
    }
}
