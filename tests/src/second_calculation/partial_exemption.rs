//! Input tax of a business with exempt supplies: the standard method and the three tests that let a little of it through.

use super::law;
use super::length;
use super::money::{Exact, percentage_text, pounds_text, read, to_penny, whole};
use super::refused::Refused;
use super::request::{Purchase, Request, Sale};
use serde_json::{Value, json};

/// Net supplies of the period by which input tax is shared. Assets sold are left out, and what is no business is no supply;
/// supplies made abroad with the right to deduct count as taxable (VAT Regulations 1995 regs 101(3), 103). What is only deemed to
/// be supplied is left out too: our reading of reg 101(3), from memory.
#[derive(Clone, Copy, Debug)]
pub struct Supplies {
    taxable: Exact,
    exempt: Exact,
}

/// The supplies of the period.
pub fn supplies<'sale>(sales: impl Iterator<Item = (&'sale Sale, Exact)>) -> Supplies {
    let mut supplies = Supplies { taxable: whole(0), exempt: whole(0) };
    for (sale, net) in sales {
        match sale.treatment.as_str() {
            _ if sale.nature != "ordinary" => {}
            "non_business" => {}
            "exempt" => supplies.exempt += net,
            _ => supplies.taxable += net,
        }
    }
    supplies
}

/// Input tax by what it was used for (VAT Regulations 1995 reg 101(2)(a) to (c)).
#[derive(Clone, Copy, Debug)]
pub struct Attributed {
    taxable: Exact,
    exempt: Exact,
    both: Exact,
}

impl Attributed {
    /// Nothing yet.
    pub fn nothing() -> Attributed {
        Attributed { taxable: whole(0), exempt: whole(0), both: whole(0) }
    }

    /// Adds the input tax of a purchase.
    pub fn add(&mut self, purchase: &Purchase, input_tax: Exact) {
        match purchase.used_for.as_str() {
            "exempt" => self.exempt += input_tax,
            "both" => self.both += input_tax,
            _ => self.taxable += input_tax,
        }
    }

    /// Whether there is no input tax at all.
    pub fn is_nothing(self) -> bool {
        self.all() == whole(0)
    }

    fn all(self) -> Exact {
        self.taxable + self.exempt + self.both
    }
}

/// What is recovered, and the calculation as an answer shows it; `null` where there is none.
pub struct Recovered {
    /// The input tax recovered.
    pub input_tax: Exact,
    /// The calculation.
    pub shown: Value,
}

/// What is recovered of the input tax.
pub fn recovered(request: &Request, supplies: Supplies, tax: Attributed) -> Result<Recovered, Refused> {
    let given = &request.partial_exemption;
    let previous = given.previous_year_percentage.as_deref().map(read);
    let zero = whole(0);
    // Wholly taxable: nothing exempt was sold or bought for, and what was used for both is shared by the year before alone.
    let shares_residual = tax.both != zero && (previous.is_some() || supplies.taxable <= zero);
    if supplies.exempt == zero && tax.exempt == zero && !shares_residual {
        return Ok(Recovered { input_tax: tax.all(), shown: Value::Null });
    }
    let months = length::months(request.period);
    let percentage = previous.or_else(|| own_percentage(supplies, tax, months));
    // Where nothing was used for both, nothing is to be shared and no percentage is needed.
    let shared = match percentage {
        Some(percentage) => Some(to_penny(tax.both * percentage / whole(100))),
        None if tax.both == zero => Some(zero),
        None => None,
    };
    let limit = law::de_minimis_a_month() * months;
    let half = whole(2);
    let exempt_supplies_half = supplies.exempt * half <= supplies.taxable + supplies.exempt;
    let simplified_1 = tax.all() <= limit && exempt_supplies_half;
    let simplified_2 = tax.all() - tax.taxable <= limit && exempt_supplies_half;
    let main = shared.is_some_and(|shared| {
        let exempt_input_tax = tax.exempt + tax.both - shared;
        exempt_input_tax <= limit && exempt_input_tax * half <= tax.all()
    });
    let annual = given.annual_test.as_ref().is_some_and(|test| {
        test.previous_year_de_minimis && read(&test.expected_input_tax) <= law::annual_test_input_tax()
    });
    let all = simplified_1 || simplified_2 || main || annual;
    let input_tax = match shared {
        _ if all => tax.all(),
        Some(shared) => tax.taxable + shared,
        None => return Err(Refused::one("partial_exemption_percentage_unknown", "/sales")),
    };
    let shown = json!({
        "taxable_supplies": pounds_text(supplies.taxable),
        "exempt_supplies": pounds_text(supplies.exempt),
        "input_tax_taxable": pounds_text(tax.taxable),
        "input_tax_exempt": pounds_text(tax.exempt),
        "input_tax_both": pounds_text(tax.both),
        "de_minimis_limit": pounds_text(to_penny(limit)),
        "simplified_test_1": simplified_1,
        "simplified_test_2": simplified_2,
        "main_test": main,
        "percentage": percentage.map(percentage_text),
        "residual_recoverable": shared.map(pounds_text),
        "recoverable": pounds_text(input_tax),
        "not_recovered": pounds_text(tax.all() - input_tax),
    });
    Ok(Recovered { input_tax, shown })
}

/// Taxable supplies in all supplies, in per cent: up to a whole per cent, or to two decimals where residual input tax is large
/// (VAT Regulations 1995 reg 101(2)(d), (4), (5)). None where there are no supplies, or
/// where credit notes leave less than none of a kind.
fn own_percentage(supplies: Supplies, tax: Attributed, months: Exact) -> Option<Exact> {
    let all = supplies.taxable + supplies.exempt;
    if all <= whole(0) || supplies.taxable < whole(0) || supplies.exempt < whole(0) {
        return None;
    }
    let exact = supplies.taxable * whole(100) / all;
    let fine = if tax.both <= law::large_residual_a_month() * months { whole(1) } else { whole(100) };
    Some((exact * fine).ceil() / fine)
}
