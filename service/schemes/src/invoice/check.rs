//! What an invoice must be before anything is worked out: rates in force, one kind of prices, a way of rounding that its
//! issuer may use. All refusals come together.

use jiff::civil::Date;

use crate::law::{Law, ParameterId};
use crate::money::{FinePounds, Money, Percentage, Quantity};
use crate::refusal::{Place, Refusal, RefusalCode};
use crate::run::Run;
use crate::workings::Traced;

use super::figures::{Charge, InvoiceFigures, InvoiceLine, InvoiceTreatment, IssuedBy, Prices};
use super::place::{InvoiceLineField, InvoicePlace};

/// What is charged for a line, with its place.
#[derive(Debug, Clone, Copy)]
pub(super) enum Charged {
    Amount(Traced<Money>),
    Units(Traced<FinePounds>, Traced<Quantity>),
}

/// A line that has been checked.
#[derive(Debug, Clone, Copy)]
pub(super) struct CheckedLine {
    pub index: usize,
    pub treatment: InvoiceTreatment,
    /// None for what is exempt.
    pub rate: Option<Traced<Percentage>>,
    pub charged: Charged,
}

/// An invoice that has been checked.
#[derive(Debug)]
pub(super) struct Checked {
    pub prices: Prices,
    pub lines: Vec<CheckedLine>,
}

pub(super) fn place(place: InvoicePlace) -> Place {
    Place::Invoice(place)
}

fn at(index: usize, field: InvoiceLineField) -> Place {
    place(InvoicePlace::Line(index, field))
}

/// Checks an invoice.
pub(super) fn check(run: &mut Run<'_>, figures: &InvoiceFigures) -> Result<Checked, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let (first, _) = run.law.parameter(ParameterId::VatRateStandard).timeline().known_days();
    if figures.date < first {
        refusals.push(Refusal::new(
            place(InvoicePlace::Date),
            RefusalCode::DateOutsideLaw,
            format!(
                "The tables of law hold no standard rate of VAT before {first}. Give a tax point on that day or later."
            ),
        ));
    }
    refusals.extend(not_for_retailers(figures));
    let prices = match figures.price {
        Some(_) => {
            refusals.extend(no_shelf_prices(&figures.lines));
            Prices::Gross
        }
        None => one_kind_of_prices(&figures.lines).unwrap_or_else(|refusal| {
            refusals.push(refusal);
            Prices::Net
        }),
    };
    for (index, line) in figures.lines.iter().enumerate() {
        if let Some(refusal) = not_in_force(run.law, figures.date, index, line.treatment) {
            refusals.push(refusal);
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let lines = figures.lines.iter().enumerate().map(|(index, line)| checked(run, figures.date, index, line));
    let lines = lines.collect::<Result<_, _>>().map_err(|refusal| vec![refusal])?;
    Ok(Checked { prices, lines })
}

fn checked(run: &mut Run<'_>, date: Date, index: usize, line: &InvoiceLine) -> Result<CheckedLine, Refusal> {
    let rate = match line.treatment.rate() {
        Some(parameter) => Some(run.percentage(parameter, date, "Rate of VAT")?),
        None => None,
    };
    let charged = match line.charge {
        Charge::Net(net) => Charged::Amount(Traced::given(net, at(index, InvoiceLineField::Net))),
        Charge::Gross(gross) => Charged::Amount(Traced::given(gross, at(index, InvoiceLineField::Gross))),
        Charge::Units { unit_price, quantity } => Charged::Units(
            Traced::given(unit_price, at(index, InvoiceLineField::UnitPrice)),
            Traced::given(quantity, at(index, InvoiceLineField::Quantity)),
        ),
    };
    Ok(CheckedLine { index, treatment: line.treatment, rate, charged })
}

fn not_for_retailers(figures: &InvoiceFigures) -> Option<Refusal> {
    match figures.issued_by {
        IssuedBy::Retailer if !figures.rounding.is_open_to_retailers() => Some(Refusal::new(
            place(InvoicePlace::Rounding),
            RefusalCode::RoundingNotForRetailers,
            "A retailer may not round VAT down: its customers have paid the VAT fraction of the price, so rounding down would only lower what is \
             accounted for. Each calculation goes to the nearest penny: choose \"line_nearest_penny\" or \"invoice_total_nearest_penny\".",
        )),
        IssuedBy::Retailer | IssuedBy::InvoiceTrader => None,
    }
}

/// Whether the prices are without or with VAT. What carries none fits both.
fn one_kind_of_prices(lines: &[InvoiceLine]) -> Result<Prices, Refusal> {
    let mut known: Option<(usize, Prices)> = None;
    for (index, line) in lines.iter().enumerate() {
        let prices = match (line.treatment, line.charge) {
            (InvoiceTreatment::ZeroRated | InvoiceTreatment::Exempt, _) => continue,
            (
                InvoiceTreatment::StandardRated | InvoiceTreatment::ReducedRated | InvoiceTreatment::HospitalityRated,
                charge,
            ) => match charge {
                Charge::Net(_) | Charge::Units { .. } => Prices::Net,
                Charge::Gross(_) => Prices::Gross,
            },
        };
        match known {
            Some((first, other)) if other != prices => {
                return Err(Refusal::new(
                    at(index, InvoiceLineField::Whole),
                    RefusalCode::NetAndGrossMixed,
                    format!(
                        "The price of this line is {}, that of line {} is {}. One document states its prices in one way: give all with VAT, or all \
                         without.",
                        prices.described(),
                        first + 1,
                        other.described()
                    ),
                ));
            }
            Some(_) => {}
            None => known = Some((index, prices)),
        }
    }
    Ok(known.map_or(Prices::Net, |(_, prices)| prices))
}

/// One price for all lines is apportioned by the prices with VAT at which each is sold alone.
fn no_shelf_prices(lines: &[InvoiceLine]) -> Vec<Refusal> {
    let mut refusals = Vec::new();
    let mut any = false;
    for (index, line) in lines.iter().enumerate() {
        match line.charge {
            Charge::Gross(price) if price.is_negative() => refusals.push(Refusal::new(
                at(index, InvoiceLineField::Gross),
                RefusalCode::AmountNegative,
                "The price at which a supply is sold alone cannot be negative. Give it without a minus sign.",
            )),
            Charge::Gross(price) => any |= price.is_positive(),
            Charge::Net(_) | Charge::Units { .. } => refusals.push(Refusal::new(
                at(index, InvoiceLineField::Whole),
                RefusalCode::PriceNeedsShelfPrices,
                "One price stands for all lines and is shared out by what each costs alone. Give that price, with VAT, as gross.",
            )),
        }
    }
    if refusals.is_empty() && !any {
        refusals.push(Refusal::new(
            place(InvoicePlace::Price),
            RefusalCode::PriceNeedsShelfPrices,
            "The price is shared out by what each line costs alone, and no line has such a price above nought. Give them as gross.",
        ));
    }
    refusals
}

fn not_in_force(law: &Law, date: Date, index: usize, treatment: InvoiceTreatment) -> Option<Refusal> {
    let parameter = match treatment {
        InvoiceTreatment::HospitalityRated => ParameterId::VatRateHospitality,
        // These have had a rate ever since the tables begin.
        InvoiceTreatment::StandardRated
        | InvoiceTreatment::ReducedRated
        | InvoiceTreatment::ZeroRated
        | InvoiceTreatment::Exempt => return None,
    };
    law.percentage(parameter, date).is_err().then(|| {
        Refusal::new(
            at(index, InvoiceLineField::Treatment),
            RefusalCode::RateNotInForce,
            format!(
                "{} was not in force on {date}. Choose the treatment whose rate was charged.",
                law.parameter(parameter).title()
            ),
        )
    })
}

impl Prices {
    fn described(self) -> &'static str {
        match self {
            Self::Net => "without VAT",
            Self::Gross => "with VAT",
        }
    }
}

impl InvoiceTreatment {
    /// The rate that it is charged at; none for what is exempt.
    pub(super) fn rate(self) -> Option<ParameterId> {
        match self {
            Self::StandardRated => Some(ParameterId::VatRateStandard),
            Self::ReducedRated => Some(ParameterId::VatRateReduced),
            Self::HospitalityRated => Some(ParameterId::VatRateHospitality),
            Self::ZeroRated => Some(ParameterId::VatRateZero),
            Self::Exempt => None,
        }
    }
}
