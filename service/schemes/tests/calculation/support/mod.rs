//! A short way to write requests in tests.

pub mod dates;
pub mod thresholds;

use std::sync::LazyLock;

use jiff::civil::Date;
use vat_schemes::answer::Answer;
use vat_schemes::compare;
use vat_schemes::figures::{
    Adjustments, Amounts, Business, Dates, Evidence, Figures, Nature, PartialExemptionGiven, Purchase, Sale, Spend,
    Supply, Treatment, TurnoverMethod, UsedFor,
};
use vat_schemes::law::Law;
use vat_schemes::money::Money;
use vat_schemes::refusal::{Refusal, Refusals};
use vat_schemes::workings::{Formula, Step, Workings};

/// A category whose percentage, 12, never changed.
pub const SECTOR: &str = "business-services-not-listed-elsewhere";

pub fn law() -> &'static Law {
    static LAW: LazyLock<Law> = LazyLock::new(|| Law::built_in().expect("the built-in law"));
    &LAW
}

pub fn money(text: &str) -> Money {
    text.parse().expect("an amount")
}

pub fn day(text: &str) -> Date {
    text.parse().expect("a date")
}

/// A request for the days from `start` to `end`, registered long before.
pub fn period(start: &str, end: &str) -> Figures {
    Figures {
        period: Dates { start: day(start), end: day(end) },
        business: Business {
            registered_on: day("2005-01-01"),
            sector: SECTOR.to_owned(),
            sector_changes: Vec::new(),
            flat_rate_from: Some(day("2005-01-01")),
            flat_rate_until: None,
            liability_notified_on: None,
            turnover_method: TurnoverMethod::Basic,
            activities: Vec::new(),
        },
        sales: Vec::new(),
        purchases: Vec::new(),
        adjustments: Adjustments::default(),
        partial_exemption: PartialExemptionGiven::default(),
        marginal_tax: None,
        cash_accounting: None,
        turnover: None,
        split_estimate: None,
    }
}

/// The quarter from April to June 2025.
pub fn quarter() -> Figures {
    period("2025-04-01", "2025-06-30")
}

pub fn gross(text: &str) -> Amounts {
    Amounts { gross: Some(money(text)), ..Amounts::default() }
}

pub fn net(text: &str) -> Amounts {
    Amounts { net: Some(money(text)), ..Amounts::default() }
}

pub fn net_and_vat(net: &str, vat: &str) -> Amounts {
    Amounts { net: Some(money(net)), vat: Some(money(vat)), gross: None }
}

pub fn sale(treatment: Treatment, amounts: Amounts) -> Sale {
    Sale {
        treatment,
        nature: Nature::Ordinary,
        amounts,
        part: None,
        percentage_at_supply: None,
        northern_ireland_to_eu: false,
    }
}

pub fn in_part(mut sale: Sale, start: &str, end: &str) -> Sale {
    sale.part = Some(Dates { start: day(start), end: day(end) });
    sale
}

pub fn purchase(spend: Spend, amounts: Amounts) -> Purchase {
    Purchase {
        spend,
        treatment: None,
        supply: Supply::Ordinary,
        used_for: UsedFor::Taxable,
        business_use: None,
        for_main_activity: None,
        vat_blocked: false,
        evidence: Evidence::VatInvoice,
        amounts,
        part: None,
    }
}

/// A purchase of a part of the period.
pub fn dated(mut purchase: Purchase, start: &str, end: &str) -> Purchase {
    purchase.part = Some(Dates { start: day(start), end: day(end) });
    purchase
}

/// Goods that pass the test, bought without VAT.
pub fn goods(amount: &str) -> Purchase {
    purchase(Spend::Materials, net_and_vat(amount, "0.00"))
}

pub fn answer(figures: &Figures) -> Answer {
    match compare(law(), figures, Workings::kept()) {
        Ok(answer) => {
            assert_formulas_fit(&answer.workings);
            answer
        }
        Err(Refusals(refusals)) => panic!("refused: {refusals:?}"),
    }
}

pub fn refusals(figures: &Figures) -> Vec<Refusal> {
    match compare(law(), figures, Workings::kept()) {
        Ok(_) => panic!("answered"),
        Err(Refusals(refusals)) => refusals,
    }
}

pub fn refused(figures: &Figures) -> Vec<(String, String)> {
    codes_and_places(refusals(figures))
}

/// Codes and places of refusals, as the wire shows them.
pub fn codes_and_places(refusals: Vec<Refusal>) -> Vec<(String, String)> {
    refusals.into_iter().map(|refusal| (refusal.code.as_str().to_owned(), refusal.place.to_string())).collect()
}

/// The words of the warnings.
pub fn warned(answer: &Answer) -> Vec<&'static str> {
    answer.warnings.iter().map(|warning| warning.code.as_str()).collect()
}

/// The percentages applied, with the first days of their parts.
pub fn parts(answer: &Answer) -> Vec<(String, String)> {
    answer.flat_rate.parts.iter().map(|part| (part.days.start().to_string(), part.percentage.to_string())).collect()
}

/// Asserts that every formula has one place for each of its operands.
pub fn assert_formulas_fit(steps: &[Step]) {
    for step in steps {
        if let Formula::Text(formula) = step.formula {
            assert_eq!(formula.matches("{}").count(), step.operands.len(), "{}: {formula}", step.id);
        }
    }
}
