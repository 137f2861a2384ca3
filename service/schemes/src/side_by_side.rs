//! Both schemes side by side: what they differ by, before and after tax, and what stands on both returns alike.

use std::cmp::Ordering;

use crate::answer::{AfterTax, Cheaper, Comparison};
use crate::common_items;
use crate::flat_rate;
use crate::law::rule as cite;
use crate::lines::Lines;
use crate::money::{Money, Overflow, Percentage, Rounding};
use crate::refusal::Place;
use crate::run::{Name, Run, Scope};
use crate::standard::{self, Claimable};
use crate::workings::{Rule, Traced};

static DIFFERENCE: Rule = Rule {
    says: "What the Flat Rate Scheme costs more than standard accounting in the period; a negative amount is what it costs less.",
    authority: &[cite::VATA_1994_SECTION_25, cite::VATA_1994_SECTION_26B],
};
static SAVING: Rule = Rule {
    says: "The difference without its sign.",
    authority: &[cite::VATA_1994_SECTION_25, cite::VATA_1994_SECTION_26B],
};
static BREAK_EVEN: Rule = Rule {
    says: "The recoverable VAT on costs at which both schemes cost the same, the goods test standing as it is: standard accounting's payable and \
           input tax together, less what is payable under the Flat Rate Scheme.",
    authority: &[cite::VATA_1994_SECTION_25, cite::VATA_1994_SECTION_26B],
};
static AFTER_TAX: Rule = Rule {
    says: "VAT saved is profit before tax, so what is left of it is that less the marginal rate of tax on the profit, to the nearest penny; capital items and \
           disallowed costs are relieved differently.",
    authority: &[cite::BIM31585, cite::DECISION_ROUNDING],
};

/// What is set side by side.
pub(crate) struct Compared<'a> {
    pub lines: &'a Lines,
    pub claimable: &'a [Claimable],
    pub standard: &'a standard::Accounted,
    pub flat_rate: &'a flat_rate::Accounted<'a>,
    pub pre_registration: Option<Traced<Money>>,
    /// The marginal rate of income tax or corporation tax, where it was given.
    pub marginal_tax: Option<Percentage>,
}

/// Sets the schemes side by side (VATA 1994 ss 25 and 26B).
pub(crate) fn side_by_side(run: &mut Run<'_>, compared: &Compared<'_>) -> Result<Comparison, Overflow> {
    let Compared { standard, flat_rate, .. } = compared;
    let name = |id, label, rule| Name::new(Scope::Comparison, id, label, rule);
    let (standard_payable, flat_rate_payable) = (standard.vat_return.vat_payable, flat_rate.vat_return.vat_payable);
    let difference = run.difference(
        name("flat_rate_minus_standard", "Flat Rate Scheme less standard accounting", &DIFFERENCE)
            .gives(&["flat_rate_minus_standard"]),
        flat_rate_payable,
        standard_payable,
    )?;
    let saving = run.step(
        name("saving", "Saving by the cheaper scheme", &SAVING).gives(&["saving"]),
        difference.value.magnitude(),
        Rounding::None,
        "abs({})",
        &[difference.operand()],
    );
    let break_even = run.step(
        name("break_even_input_tax", "Break-even input tax", &BREAK_EVEN).gives(&["break_even_input_tax"]),
        standard_payable.value.plus(standard.input_tax.value)?.minus(flat_rate_payable.value)?,
        Rounding::None,
        "{} + {} − {}",
        &[standard_payable.operand(), standard.input_tax.operand(), flat_rate_payable.operand()],
    );
    let after_tax = match compared.marginal_tax {
        None => None,
        Some(percentage) => Some(after_tax(run, Traced::given(percentage, Place::MarginalTax), saving, difference)?),
    };
    Ok(Comparison {
        cheaper: match flat_rate_payable.value.cmp(&standard_payable.value) {
            Ordering::Less => Cheaper::FlatRate,
            Ordering::Equal => Cheaper::Equal,
            Ordering::Greater => Cheaper::Standard,
        },
        saving: saving.value,
        flat_rate_minus_standard: difference.value,
        break_even_input_tax: break_even.value,
        after_tax,
        common_to_both: common_items::find(run, compared)?,
    })
}

/// The difference is profit before tax, so a share of it goes in tax (BIM31585).
fn after_tax(
    run: &mut Run<'_>,
    marginal_tax: Traced<Percentage>,
    saving: Traced<Money>,
    difference: Traced<Money>,
) -> Result<AfterTax, Overflow> {
    let mut less_tax = |id, label, figure, amount: Traced<Money>| -> Result<Money, Overflow> {
        let exact = amount.value.exact().minus(amount.value.share(marginal_tax.value)?)?;
        let name = Name::new(Scope::AfterTax, id, label, &AFTER_TAX).gives(figure);
        let operands = [amount.operand(), marginal_tax.operand()];
        let money = exact.to_money(Rounding::NearestPenny)?;
        Ok(run.step(name, money, Rounding::NearestPenny, "{} × (100 − {}) ÷ 100", &operands).value)
    };
    Ok(AfterTax {
        saving: less_tax("saving", "Saving after tax", &["saving"], saving)?,
        flat_rate_minus_standard: less_tax(
            "flat_rate_minus_standard",
            "Flat Rate Scheme less standard accounting, after tax",
            &["flat_rate_minus_standard"],
            difference,
        )?,
    })
}
