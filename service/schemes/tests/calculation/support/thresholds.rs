//! What the tests of limits share.

use jiff::ToSpan;
use vat_schemes::figures::Dates;
use vat_schemes::money::Money;
use vat_schemes::refusal::Refusals;
use vat_schemes::thresholds::{
    CheckedBusiness, FlatRateFacts, Limit, LimitCheck, Month, MonthAmounts, PastYear, ThresholdAnswer,
    ThresholdFigures, Totals, Turnover,
};
use vat_schemes::workings::Workings;

use super::{codes_and_places, day, law, money};

/// A business that is not registered, of which nothing is known.
pub fn unregistered(as_of: &str) -> ThresholdFigures {
    ThresholdFigures {
        as_of: day(as_of),
        period: None,
        business: CheckedBusiness {
            registered_on: None,
            trading_from: None,
            established_in_uk: true,
            flat_rate_from: None,
            flat_rate_until: None,
            uses_cash_accounting: false,
            uses_annual_accounting: false,
        },
        turnover: Turnover::default(),
        goods_on_hand: None,
        facts: FlatRateFacts::default(),
    }
}

pub fn registered(as_of: &str) -> ThresholdFigures {
    let mut figures = unregistered(as_of);
    figures.business.registered_on = Some(day("2011-01-04"));
    figures
}

/// A user of the Flat Rate Scheme since 15 February 2023 with quarters to the end of April.
pub fn user(as_of: &str) -> ThresholdFigures {
    let mut figures = registered(as_of);
    figures.period = Some(Dates { start: day("2025-02-01"), end: day("2025-04-30") });
    figures.business.flat_rate_from = Some(day("2023-02-15"));
    figures
}

pub fn taxable(amount: &str) -> Totals {
    Totals { taxable_supplies: Some(money(amount)), ..Totals::default() }
}

pub fn income(amount: &str) -> Totals {
    Totals { total_income: Some(money(amount)), ..Totals::default() }
}

pub fn year(end: Option<&str>, totals: Totals) -> Option<PastYear> {
    Some(PastYear { end: end.map(day), totals })
}

pub fn pence(pence: i64) -> Money {
    Money::from_pence(i128::from(pence)).expect("an amount")
}

/// Months from a first one on, each with one total of sales at the zero rate, in pence.
pub fn months(first: &str, totals: &[i64]) -> Vec<Month> {
    let first = day(&format!("{first}-01"));
    let month = |(index, total): (usize, &i64)| Month {
        first: first.saturating_add(i64::try_from(index).expect("few months").months()),
        basis: None,
        amounts: MonthAmounts { zero_rated: Some(pence(*total)), ..MonthAmounts::default() },
    };
    totals.iter().enumerate().map(month).collect()
}

pub fn tested(figures: &ThresholdFigures) -> ThresholdAnswer {
    match vat_schemes::check_thresholds(law(), figures, Workings::kept()) {
        Ok(answer) => {
            super::assert_formulas_fit(&answer.workings);
            assert_every_figure_has_its_step(&answer);
            answer
        }
        Err(Refusals(refusals)) => panic!("refused: {refusals:?}"),
    }
}

/// Asserts that each amount of the limits is the result of one step, which names the place where it stands.
fn assert_every_figure_has_its_step(answer: &ThresholdAnswer) {
    let mut stand: Vec<(String, Money)> = Vec::new();
    for (index, month) in answer.limits.months.iter().enumerate() {
        for (name, amount) in [
            ("taxable_supplies", month.taxable_supplies),
            ("registration_supplies", month.registration_supplies),
            ("total_income", month.total_income),
        ] {
            stand.push((format!("/limits/months/{index}/{name}"), amount));
        }
    }
    for (index, check) in answer.limits.checks.iter().enumerate() {
        let place = format!("/limits/checks/{index}");
        let days = check.days.iter().enumerate().map(|(day, tested)| (format!("{place}/days/{day}"), tested));
        for (place, tested) in check.decisive.iter().map(|tested| (place.clone(), tested)).chain(days) {
            for (name, amount) in
                [("measured", tested.measured), ("limit", tested.limit), ("headroom", tested.headroom)]
            {
                stand.push((format!("{place}/{name}"), amount));
            }
        }
        for (number, ahead) in check.outlook.iter().enumerate() {
            let place = format!("{place}/outlook/{number}");
            stand.extend(ahead.monthly.map(|monthly| (format!("{place}/monthly"), monthly)));
            stand.push((format!("{place}/measured"), ahead.measured));
        }
    }
    let given = answer.workings.iter().flat_map(|step| step.figures.iter().map(|place| (place, step.result)));
    let mut given: Vec<(String, String)> =
        given.map(|(place, result)| (place.to_string(), result.to_string())).collect();
    let mut stand: Vec<_> = stand.into_iter().map(|(place, amount)| (place, amount.to_string())).collect();
    given.sort();
    stand.sort();
    assert_eq!(given, stand);
}

pub fn refused(figures: &ThresholdFigures) -> Vec<(String, String)> {
    match vat_schemes::check_thresholds(law(), figures, Workings::kept()) {
        Ok(answer) => panic!("answered: {answer:?}"),
        Err(Refusals(refusals)) => codes_and_places(refusals),
    }
}

/// The check of one limit.
pub fn of(limit: Limit, answer: &ThresholdAnswer) -> LimitCheck {
    answer.limits.checks.iter().find(|check| check.limit == limit).expect("every limit has a check").clone()
}

pub fn check(limit: Limit, figures: &ThresholdFigures) -> LimitCheck {
    of(limit, &tested(figures))
}

/// How a check stands, in the words of the wire.
pub fn stands(check: &LimitCheck) -> (&'static str, &'static str) {
    (check.status.as_str(), check.outcome.as_str())
}

/// The days of a check: passed, liable, to tell HMRC by, and from which it takes effect.
pub fn days(check: &LimitCheck) -> [String; 4] {
    [check.crossed_on, check.liable_on, check.notify_by, check.effective_from]
        .map(|day| day.map_or_else(|| "none".to_owned(), |day| day.to_string()))
}
