//! Each line of an invoice: what it costs without VAT, its VAT and what it costs with it, as far as the way of rounding
//! works by lines.

use crate::law::rule as cite;
use crate::money::{FinePounds, Overflow, Percentage, Ratio, Rounding};
use crate::run::{Name, Run, Scope};
use crate::workings::{Formula, Operand, Rule, Traced};

use super::answer::LineTotals;
use super::check::{Charged, CheckedLine};
use super::figures::{InvoiceRounding, InvoiceTreatment, Prices};
use super::way::Level;

static AS_GIVEN: Rule = Rule { says: "What is charged for the line.", authority: &[cite::VATA_1994_SECTION_19] };
static UNITS: Rule =
    Rule { says: "The price of one unit times the number of units.", authority: &[cite::VATA_1994_SECTION_19] };
static VAT_OF_UNITS: Rule = Rule {
    says: "The VAT of one unit, rounded, times the number of units.",
    authority: &[cite::NOTICE_700_SECTION_17],
};
static ADDS_UP: Rule =
    Rule { says: "The price with VAT is the price without it and the VAT.", authority: &[cite::VATA_1994_SECTION_19] };

/// The formula of VAT on a price without it.
pub(super) const ON_NET: &str = "{} × {} ÷ 100";
/// The formula of VAT within a price that includes it.
pub(super) const IN_GROSS: &str = "{} × {} ÷ (100 + {})";

/// A line worked out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line {
    pub treatment: InvoiceTreatment,
    pub rate: Option<Traced<Percentage>>,
    /// What is charged, without or with VAT as the invoice's prices are.
    pub value: Traced<FinePounds>,
    /// The VAT, where the way of rounding works it out by line.
    pub vat: Option<Traced<FinePounds>>,
    pub answer: LineTotals,
}

/// The exact VAT of a price.
pub(super) fn exact_vat(prices: Prices, value: FinePounds, rate: Percentage) -> Result<Ratio, Overflow> {
    value.exact().times(match prices {
        Prices::Net => rate.as_fraction(),
        Prices::Gross => rate.vat_fraction()?,
    })
}

/// The operands of that VAT's formula.
pub(super) fn vat_operands(prices: Prices, value: Traced<FinePounds>, rate: Traced<Percentage>) -> Vec<Operand> {
    match prices {
        Prices::Net => vec![value.operand(), rate.operand()],
        Prices::Gross => vec![value.operand(), rate.operand(), rate.operand()],
    }
}

/// The formula of VAT for prices of a kind.
pub(super) fn vat_formula(prices: Prices) -> &'static str {
    match prices {
        Prices::Net => ON_NET,
        Prices::Gross => IN_GROSS,
    }
}

/// Works a line out.
pub(super) fn work_out(
    run: &mut Run<'_>,
    prices: Prices,
    way: InvoiceRounding,
    line: &CheckedLine,
) -> Result<Line, Overflow> {
    let value = value(run, prices, line)?;
    let mut answer = LineTotals { treatment: line.treatment, net: None, unit_vat: None, vat: None, gross: None };
    let Some(rate) = line.rate else {
        (answer.net, answer.gross) = (Some(value.value), Some(value.value));
        return Ok(Line { treatment: line.treatment, rate: None, value, vat: None, answer });
    };
    match prices {
        Prices::Net => answer.net = Some(value.value),
        Prices::Gross => answer.gross = Some(value.value),
    }
    let vat = match (way.level(), line.charged) {
        (Level::Whole, _) => None,
        (Level::Unit(rounding), Charged::Units(price, quantity)) => {
            let name = name(line, "unit_vat", "VAT of one unit", way.rule()).gives(&["unit_vat"]);
            let unit = exact_vat(Prices::Net, price.value, rate.value)?.to_fine(rounding)?;
            let unit = run.step(name, unit, rounding, ON_NET, &vat_operands(Prices::Net, price, rate));
            answer.unit_vat = Some(unit.value);
            let all = unit.value.times(quantity.value)?;
            let operands = [unit.operand(), quantity.operand()];
            Some(run.step(vat_name(line, &VAT_OF_UNITS), all, Rounding::None, "{} × {}", &operands))
        }
        (Level::Unit(rounding), Charged::Amount(_)) | (Level::Line(rounding), _) => {
            let vat = exact_vat(prices, value.value, rate.value)?.to_fine(rounding)?;
            let operands = vat_operands(prices, value, rate);
            Some(run.step(vat_name(line, way.rule()), vat, rounding, vat_formula(prices), &operands))
        }
    };
    if let Some(vat) = vat {
        answer.vat = Some(vat.value);
        match prices {
            Prices::Net => {
                let gross = value.value.plus(vat.value)?;
                let name = name(line, "gross", "Price of the line with VAT", &ADDS_UP).gives(&["gross"]);
                let operands = vec![value.operand(), vat.operand()];
                answer.gross = Some(run.sum(name, (gross, Rounding::None), Formula::Total, operands).value);
            }
            Prices::Gross => {
                let net = value.value.minus(vat.value)?;
                let name = name(line, "net", "Price of the line without VAT", &ADDS_UP).gives(&["net"]);
                let operands = [value.operand(), vat.operand()];
                answer.net = Some(run.step(name, net, Rounding::None, "{} − {}", &operands).value);
            }
        }
    }
    Ok(Line { treatment: line.treatment, rate: Some(rate), value, vat, answer })
}

fn name(line: &CheckedLine, id: &'static str, label: &'static str, rule: &'static Rule) -> Name {
    Name::new(Scope::InvoiceLine(line.index), id, label, rule)
}

fn vat_name(line: &CheckedLine, rule: &'static Rule) -> Name {
    name(line, "vat", "VAT of the line", rule).gives(&["vat"])
}

/// What is charged for the line. What carries no VAT costs the same without it and with it.
fn value(run: &mut Run<'_>, prices: Prices, line: &CheckedLine) -> Result<Traced<FinePounds>, Overflow> {
    let (id, gives): (_, &'static [&'static str]) = match (line.rate, prices) {
        (None, _) => ("net", &["net", "gross"]),
        (Some(_), Prices::Net) => ("net", &["net"]),
        (Some(_), Prices::Gross) => ("gross", &["gross"]),
    };
    let name = |rule| name(line, id, "Price of the line", rule).gives(gives);
    match line.charged {
        Charged::Amount(amount) => {
            let value = FinePounds::try_from(amount.value)?;
            Ok(run.step(name(&AS_GIVEN), value, Rounding::None, "{}", &[amount.operand()]))
        }
        Charged::Units(price, quantity) => {
            let value = price.value.times(quantity.value)?;
            let operands = [price.operand(), quantity.operand()];
            Ok(run.step(name(&UNITS), value, Rounding::None, "{} × {}", &operands))
        }
    }
}
