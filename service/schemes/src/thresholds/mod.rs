//! Limits and eligibility: registration and its end, joining and leaving the Flat Rate Scheme, cash and annual accounting.

mod accounting_schemes;
mod act_by;
mod answer;
mod causes_of_leaving;
mod context;
mod dates;
mod eligibility;
mod figures;
mod flat_rate_joining;
mod flat_rate_leaving;
mod months;
mod registration;
mod rolling;
mod tested;

use std::borrow::Cow;

use jiff::civil::Date;

use crate::figures::{Figures, TurnoverMethod};
use crate::law::{Law, ParameterId};
use crate::period::Period;
use crate::refusal::{Place, Refusal, RefusalCode, Refusals, TotalsField};
use crate::run::Run;
use crate::workings::Workings;

pub use answer::{
    ActBy, Answer, Bearing, Eligibility, Limit, LimitCheck, Limits, Method, MonthCounted, Outcome, Outlook, Question,
    Status, TestedDay, ThresholdAnswer,
};
pub use figures::{
    Basis, CheckedBusiness, FlatRateFacts, GoodsOnHand, Month, MonthAmounts, PastYear, ThresholdFigures, Totals,
    Turnover,
};

use context::Context;
use months::Months;

/// The limits that a comparison tests: those of a registered business.
const OF_REGISTERED: &[Limit] = &[
    Limit::Deregistration,
    Limit::FlatRateJoining,
    Limit::FlatRateLeavingAnniversary,
    Limit::FlatRateRunningIncome,
    Limit::FlatRateLeavingNextThirtyDays,
    Limit::FlatRateStaying,
    Limit::CashAccountingLeaving,
];

/// Tests every limit and asks every question of eligibility, as seen from a day.
///
/// ```
/// use jiff::civil::date;
/// use vat_schemes::law::Law;
/// use vat_schemes::thresholds::*;
/// use vat_schemes::workings::Workings;
///
/// let law = Law::built_in().expect("the built-in tables are sound");
/// let year = Totals { taxable_supplies: Some("90000.01".parse().expect("an amount")), ..Totals::default() };
/// let figures = ThresholdFigures {
///     as_of: date(2026, 6, 30),
///     period: None,
///     business: CheckedBusiness {
///         registered_on: None,
///         trading_from: None,
///         established_in_uk: true,
///         flat_rate_from: None,
///         flat_rate_until: None,
///         uses_cash_accounting: false,
///         uses_annual_accounting: false,
///     },
///     turnover: Turnover { past_year: Some(PastYear { end: None, totals: year }), ..Turnover::default() },
///     goods_on_hand: None,
///     facts: FlatRateFacts::default(),
/// };
/// let answer = vat_schemes::check_thresholds(&law, &figures, Workings::kept()).expect("an answer");
/// let check = answer.limits.checks.iter().find(|check| check.limit == Limit::RegistrationPastYear).expect("the check");
/// assert_eq!(check.outcome, Outcome::MustRegister);
/// // Thirty days from the end of the month in which the limit was passed.
/// assert_eq!(check.notify_by, Some(date(2026, 7, 30)));
/// ```
///
/// # Errors
/// [`Refusals`] where the law or the figures admit no answer: a day before the tables begin, months with gaps, a month called
/// actual that lies ahead, or days in an impossible order.
pub fn check_thresholds(
    law: &Law,
    figures: &ThresholdFigures,
    workings: Workings,
) -> Result<ThresholdAnswer, Refusals> {
    let mut run = Run::new(law, workings);
    let (limits, eligibility) = {
        let mut context = checked(&mut run, figures, false)?;
        make(&mut context, Limit::ALL)?;
        let eligibility = eligibility::of(&context)?;
        (Limits { months: context.months.answer(), checks: context.checks }, eligibility)
    };
    Ok(ThresholdAnswer {
        as_of: figures.as_of,
        act_by: act_by::of(&limits.checks, &eligibility),
        cautions: cautions(law, figures.as_of),
        limits,
        eligibility,
        law: run.law_behind(),
        workings: run.workings.into_steps(),
    })
}

/// Tests the limits of the registered business of a comparison, as seen from the last day of its period. Joining is tested too where
/// the scheme starts in the period, or would.
///
/// # Errors
/// [`Refusals`] as for [`check_thresholds`].
pub(crate) fn limits_of_comparison(
    run: &mut Run<'_>,
    figures: &Figures,
    turnover: &Turnover,
    period: Period,
) -> Result<Limits, Refusals> {
    let business = &figures.business;
    let starting = business.flat_rate_from.is_none_or(|from| from >= period.start());
    let figures = ThresholdFigures {
        as_of: period.end(),
        period: Some(figures.period),
        business: CheckedBusiness {
            registered_on: Some(business.registered_on),
            trading_from: None,
            established_in_uk: true,
            // Without a first day the period's own is meant.
            flat_rate_from: business.flat_rate_from.or(business.flat_rate_until.map(|_| period.start())),
            flat_rate_until: business.flat_rate_until,
            uses_cash_accounting: business.turnover_method == TurnoverMethod::Cash,
            uses_annual_accounting: false,
        },
        turnover: turnover.clone(),
        goods_on_hand: None,
        facts: FlatRateFacts::default(),
    };
    let mut context = checked(run, &figures, starting)?;
    make(&mut context, OF_REGISTERED)?;
    Ok(Limits { months: context.months.answer(), checks: context.checks })
}

fn make(context: &mut Context<'_, '_>, limits: &[Limit]) -> Result<(), Refusal> {
    for limit in limits {
        let check = match limit {
            Limit::RegistrationPastYear => registration::past_year(context)?,
            Limit::RegistrationNextThirtyDays => registration::next_thirty_days(context)?,
            Limit::RegistrationException => registration::exception(context)?,
            Limit::Deregistration => registration::deregistration(context)?,
            Limit::GoodsOnHand => registration::goods_on_hand(context)?,
            Limit::FlatRateJoining => flat_rate_joining::joining(context)?,
            Limit::FlatRateLeavingAnniversary => flat_rate_leaving::at_anniversary(context)?,
            Limit::FlatRateRunningIncome => flat_rate_leaving::running(context)?,
            Limit::FlatRateLeavingNextThirtyDays => flat_rate_leaving::next_thirty_days(context)?,
            Limit::FlatRateStaying => flat_rate_leaving::staying(context)?,
            Limit::CashAccountingJoining => accounting_schemes::joining_cash(context)?,
            Limit::CashAccountingLeaving => accounting_schemes::leaving_cash(context)?,
            Limit::AnnualAccountingJoining => accounting_schemes::joining_annual(context)?,
            Limit::AnnualAccountingLeaving => accounting_schemes::leaving_annual(context)?,
        };
        context.add(check);
    }
    Ok(())
}

fn checked<'a, 'law>(
    run: &'a mut Run<'law>,
    figures: &'a ThresholdFigures,
    starting: bool,
) -> Result<Context<'a, 'law>, Refusals> {
    let earliest = run.law.date(ParameterId::EarliestPeriodStart).map_err(Refusal::from)?.value;
    let as_of = figures.as_of;
    let mut refusals = Vec::new();
    let mut too_early = |day: Option<Date>, place| {
        if let Some(day) = day
            && day < earliest
        {
            refusals.push(Refusal::new(
                place,
                RefusalCode::DateOutsideLaw,
                format!(
                    "{day} lies before {earliest}, on which the tables of law begin. Give that day or a later one."
                ),
            ));
        }
    };
    too_early(Some(as_of), Place::AsOf);
    let past_year_end = figures.turnover.past_year.and_then(|year| year.end);
    too_early(past_year_end, Place::PastYear(TotalsField::End));
    refusals.extend(days_out_of_order(figures));
    let period = match figures.period.map(|dates| Period::checked(dates.start, dates.end)).transpose() {
        Ok(period) => period,
        Err(refusal) => {
            refusals.push(refusal);
            None
        }
    };
    let months = Months::of(run, &figures.turnover.months, as_of, figures.business.trading_from)
        .map_err(|found| refusals.extend(found))
        .ok();
    match months {
        Some(months) if refusals.is_empty() => {
            Ok(Context { run, figures, months, period, starting, checks: Vec::with_capacity(Limit::ALL.len()) })
        }
        _ => Err(Refusals(refusals)),
    }
}

fn days_out_of_order(figures: &ThresholdFigures) -> Vec<Refusal> {
    let business = &figures.business;
    let mut refusals = Vec::new();
    if let (Some(from), Some(registered)) = (business.flat_rate_from, business.registered_on)
        && from < registered
    {
        refusals.push(Refusal::new(
            Place::FlatRateFrom,
            RefusalCode::FlatRateBeforeRegistration,
            format!("The Flat Rate Scheme cannot start on {from}, before registration on {registered}. Correct one of the two."),
        ));
    }
    if let Some(until) = business.flat_rate_until {
        let order = match business.flat_rate_from {
            Some(from) if from <= until => None,
            Some(from) => Some(format!(
                "The last day in the scheme, {until}, lies before its first, {from}. Correct one of the two."
            )),
            None => {
                Some("The last day in the scheme says nothing without the first: give flat_rate_from too.".to_owned())
            }
        };
        refusals.extend(order.map(|detail| Refusal::new(Place::FlatRateUntil, RefusalCode::DatesOutOfOrder, detail)));
    }
    if let Some(end) = figures.turnover.past_year.and_then(|year| year.end)
        && end > figures.as_of
    {
        refusals.push(Refusal::new(
            Place::PastYear(TotalsField::End),
            RefusalCode::DatesOutOfOrder,
            format!(
                "The past year ends on {end}, after as_of, {}. Give a year that is over, or months.",
                figures.as_of
            ),
        ));
    }
    refusals
}

fn cautions(law: &Law, as_of: Date) -> Vec<Cow<'static, str>> {
    let mut cautions = vec![
        Cow::Owned(format!(
            "This is a calculation, not advice: limits are tested on the figures given, on the law as last checked on {}. HMRC and a qualified adviser decide.",
            law.checked_on()
        )),
        Cow::Borrowed(
            "What counts is for the caller to sort: sales of the legal person, by the earliest of delivery, performance and payment before registration. Goods lent, \
             given away or used privately, and barter, count with the sales of their rate. Splitting one business into several to stay under a limit is not \
             looked at.",
        ),
        Cow::Borrowed(
            "Where months at the present run are carried forward, that is an estimate and no test of the law. HMRC's website says that a business leaves the Flat \
             Rate Scheme also if it expects to pass the limit in the next twelve months; the regulation has no such test.",
        ),
        Cow::Borrowed(
            "Days to act by are counted from the day after; if HMRC's day differs, theirs rules. Taking over a business as a going concern, groups, and registration in \
             other ways than by the United Kingdom limits are left out, and so are penalties for telling HMRC late.",
        ),
        Cow::Borrowed(
            "Eligibility rests on the answers given. What is not known is asked and never assumed; association with another business and the choice of the category \
             are questions of fact for the business and its adviser.",
        ),
    ];
    if as_of > law.checked_on() {
        cautions.push(Cow::Owned(format!(
            "{as_of} lies after the day on which the law was last checked, {}: limits may have changed since.",
            law.checked_on()
        )));
    }
    cautions
}
