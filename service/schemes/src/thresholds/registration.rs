//! Liability to be registered, the exception from it, and ending a registration (VATA 1994 Sch 1).

use jiff::civil::Date;

use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Rounding};
use crate::refusal::{GoodsOnHandField, Place, Refusal};
use crate::run::Name;
use crate::workings::{Rule, Traced};

use super::answer::{Limit, LimitCheck, Outcome, Status};
use super::context::{Context, needed};
use super::dates::registered_from;
use super::figures::{Basis, GoodsOnHand};
use super::months::{Counted, Measure, Months};
use super::rolling;
use super::tested::Tested;

const REGISTRATION: (ParameterId, &str) = (ParameterId::VatRegistration, "Registration limit");
const DEREGISTRATION: (ParameterId, &str) = (ParameterId::VatDeregistration, "Deregistration limit");

const PAST_YEAR: &[&str] = &[
    cite::VATA_1994_SCHEDULE_1_PARAGRAPH_1,
    cite::VATA_1994_SCHEDULE_1_PARAGRAPH_5,
    cite::VATREG25050,
    cite::VATREG18300,
    cite::DECISION_LIMIT_ON_THE_DAY,
    cite::DECISION_THIRTY_DAYS,
];
const NEXT_THIRTY_DAYS: &[&str] =
    &[cite::VATA_1994_SCHEDULE_1_PARAGRAPH_1, cite::VATA_1994_SCHEDULE_1_PARAGRAPH_6, cite::VATREG18300];
const EXCEPTION: &[&str] = &[cite::VATA_1994_SCHEDULE_1_PARAGRAPH_1, cite::VATREG19050];
const NOT_ESTABLISHED: &[&str] = &[cite::VATA_1994_SCHEDULE_1A];
const ENDING: &[&str] = &[cite::VATA_1994_SCHEDULE_1_PARAGRAPH_4, cite::VATDREG04100, cite::VATDREG04050];
const ON_HAND: &[&str] = &[cite::VATA_1994_SCHEDULE_4_PARAGRAPH_8, cite::VATA_1994_SECTION_2];

static VAT_ON_GOODS: Rule = Rule {
    says: "VAT on goods on hand at the standard rate, or as given. Goods on which no credit was had are left out by the caller.",
    authority: ON_HAND,
};

/// Why no limit of registration is tested, if none is.
fn not_to_register(context: &Context<'_, '_>, limit: Limit) -> Option<LimitCheck> {
    if context.is_registered() {
        return Some(LimitCheck::not_applicable(limit, "The business is registered.", PAST_YEAR));
    }
    (!context.figures.business.established_in_uk).then(|| LimitCheck {
        what_to_do: "Register from the first taxable supply made or expected in the United Kingdom, and take advice."
            .to_owned(),
        ..LimitCheck::new(
            limit,
            Status::NotApplicable,
            Outcome::NoLimit,
            "A person not established in the United Kingdom has no limit below which registration is not due: refer.",
            NOT_ESTABLISHED,
        )
    })
}

/// The backward test, at each month end (VATA 1994 Sch 1 paras 1(1)(a), 5).
pub(super) fn past_year(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::RegistrationPastYear;
    if let Some(check) = not_to_register(context, limit) {
        return Ok(check);
    }
    let (position, as_of) = (context.position(), context.as_of());
    // A year that ends inside a month is tested at the month's end: only month ends count.
    let days = context.twelve_months(Measure::Registration, REGISTRATION, Date::last_of_month)?;
    let mut outlook = Vec::new();
    rolling::own_forecast(context.run, position, Measure::Registration, &days, &mut outlook);
    rolling::at_the_present_run(
        context.run,
        position,
        &context.months,
        Measure::Registration,
        ParameterId::VatRegistration,
        &mut outlook,
    )?;
    let happened = |day: &&Tested| day.basis == Basis::Actual && day.on <= as_of;
    let latest = days.iter().rfind(happened).copied();
    let crossed = days.iter().filter(happened).find(|day| day.is_over()).copied();
    let ahead = days.iter().find(|day| day.is_over() && !happened(day)).copied();
    let Some(decisive) = crossed.or(ahead).or(latest).or_else(|| largest(&days)) else {
        return Ok(LimitCheck { outlook, ..LimitCheck::not_checked(limit, &[needed::TWELVE_MONTHS], PAST_YEAR) });
    };
    decisive.show(context.run, context.scope());
    let expected = outlook.iter().find_map(|outlook| outlook.crosses_on);
    let mut check = LimitCheck {
        decisive: Some(decisive.answer()),
        days: days.iter().map(Tested::answer).collect(),
        ..LimitCheck::new(limit, decisive.status(), Outcome::NeedNotRegister, String::new(), PAST_YEAR)
    };
    check.outlook = outlook;
    match (crossed.is_some(), ahead, expected) {
        (true, _, _) => liable(context, &mut check, decisive.on)?,
        (false, Some(day), _) => going_over(context, &mut check, day.on)?,
        (false, None, Some(on)) => {
            check.status = Status::Expected;
            check.finding = format!(
                "Taxable supplies of the twelve months to {} were £{} of £{}. At the present run they pass the limit by {on}.",
                decisive.on, decisive.measured.value, decisive.limit.value
            );
            check.what_to_do =
                "Add up the last twelve months at every month end. Prices can be agreed with VAT in view from now on."
                    .to_owned();
        }
        (false, None, None) => {
            check.finding = format!(
                "Taxable supplies of the twelve months to {} were £{}, not more than £{}.",
                decisive.on, decisive.measured.value, decisive.limit.value
            );
            check.what_to_do = "Add up the last twelve months again at the next month end.".to_owned();
        }
    }
    if let Some((first, last)) = not_tested(&context.months, &days, as_of) {
        check.figures_needed.push(needed::EARLIER_MONTHS);
        check.finding.push_str(&format!(
            " Month ends from {first} to {last} were not tested: the twelve months to them are not given, and the limit may have been passed there."
        ));
    }
    Ok(check)
}

/// The first and the last of the month ends among the months given that have come and could not be tested.
fn not_tested(months: &Months, days: &[Tested], as_of: Date) -> Option<(Date, Date)> {
    let mut ends =
        months.list.iter().map(Counted::end).filter(|end| *end <= as_of && days.iter().all(|day| day.on != *end));
    let first = ends.next()?;
    Some((first, ends.next_back().unwrap_or(first)))
}

/// The day with the largest figure: what to look at where all is forecast and nothing goes over.
fn largest(days: &[Tested]) -> Option<Tested> {
    days.iter().max_by_key(|day| day.measured.value).copied()
}

fn liable(context: &Context<'_, '_>, check: &mut LimitCheck, month_end: Date) -> Result<(), Refusal> {
    let notify_by = context.notice(ParameterId::RegistrationNotice, month_end)?;
    let from = registered_from(month_end);
    check.status = Status::Crossed;
    check.outcome = Outcome::MustRegister;
    check.crossed_on = Some(month_end);
    check.liable_on = Some(month_end);
    check.notify_by = Some(notify_by);
    check.effective_from = Some(from);
    let late = if notify_by < context.as_of() {
        " That day has passed: the registration is late, VAT is due from the day of registration all the same, out of prices that count as \
         including it, and a penalty may follow."
    } else {
        ""
    };
    check.finding = format!(
        "Taxable supplies of the twelve months to {month_end} were more than the limit: the business became liable to be registered on that day."
    );
    check.what_to_do = format!(
        "Tell HMRC by {notify_by}, and charge VAT from {from}, unless HMRC grant the exception for turnover that is high only for a time.{late}"
    );
    Ok(())
}

fn going_over(context: &Context<'_, '_>, check: &mut LimitCheck, month_end: Date) -> Result<(), Refusal> {
    let notify_by = context.notice(ParameterId::RegistrationNotice, month_end)?;
    let from = registered_from(month_end);
    check.status = Status::Expected;
    check.outcome = Outcome::MustRegister;
    check.liable_on = Some(month_end);
    check.notify_by = Some(notify_by);
    check.effective_from = Some(from);
    check.finding = format!(
        "On these figures taxable supplies of the twelve months to {month_end} will be more than the limit, and the business becomes liable to be \
         registered on that day."
    );
    check.what_to_do = format!(
        "Add up the twelve months on {month_end}. If they are over, tell HMRC by {notify_by} and charge VAT from {from}."
    );
    Ok(())
}

/// The forward test (VATA 1994 Sch 1 paras 1(1)(b), 6).
pub(super) fn next_thirty_days(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::RegistrationNextThirtyDays;
    if let Some(check) = not_to_register(context, limit) {
        return Ok(check);
    }
    let as_of = context.as_of();
    let figure = match &context.figures.turnover.next_30_days {
        Some(totals) => context.of_totals(totals, Place::NextThirtyDays, Measure::Registration)?,
        None => None,
    };
    let Some(figure) = figure else {
        return Ok(LimitCheck::not_checked(limit, &[needed::NEXT_THIRTY_DAYS_TAXABLE], NEXT_THIRTY_DAYS));
    };
    let tested = context.test(REGISTRATION, (as_of, Basis::Forecast), figure)?;
    let notify_by = context.notice(ParameterId::RegistrationNotice, as_of)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        ..LimitCheck::new(limit, tested.status(), Outcome::NeedNotRegister, String::new(), NEXT_THIRTY_DAYS)
    };
    if tested.is_over() {
        check.outcome = Outcome::MustRegister;
        check.crossed_on = Some(as_of);
        check.liable_on = Some(as_of);
        check.notify_by = Some(notify_by);
        check.effective_from = Some(as_of);
        check.finding = format!(
            "Taxable supplies of the thirty days from {as_of} alone are expected to be more than the limit: the business is liable to be registered \
             from that day. The exception for turnover that is high only for a time does not help here."
        );
        check.what_to_do =
            format!("Tell HMRC by {notify_by}, the end of the thirty days, and charge VAT from {as_of}.");
    } else {
        check.finding = format!(
            "Taxable supplies of the thirty days from {as_of} alone are not expected to be more than the limit."
        );
        check.what_to_do = "Look again before any large order: this test can be met on any day.".to_owned();
    }
    Ok(check)
}

/// The exception: the year after the liability began stays within the deregistration limit (VATA 1994 Sch 1 para 1(3)).
pub(super) fn exception(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::RegistrationException;
    let passed = context
        .checks
        .iter()
        .find(|check| check.limit == Limit::RegistrationPastYear)
        .and_then(|check| check.liable_on);
    let Some(liable_on) = passed else {
        return Ok(LimitCheck::not_applicable(
            limit,
            "The limit of the past twelve months has not been passed.",
            EXCEPTION,
        ));
    };
    let notify_by = context.notice(ParameterId::RegistrationNotice, liable_on)?;
    // In time, the year ahead is seen from now; later it is the year that began with the liability.
    let late = notify_by < context.as_of();
    let figure = if late {
        context.months_ahead(Measure::Registration, liable_on)?
    } else {
        context.year_ahead(Measure::Registration, liable_on)?
    };
    let Some((figure, basis)) = figure else {
        let figures = if late { needed::YEAR_AFTER } else { needed::NEXT_YEAR_TAXABLE };
        return Ok(LimitCheck::not_checked(limit, &[figures], EXCEPTION));
    };
    let tested = context.test(DEREGISTRATION, (liable_on, basis), figure)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        notify_by: Some(notify_by),
        ..LimitCheck::new(limit, tested.status(), Outcome::MayAskForException, String::new(), EXCEPTION)
    };
    if tested.is_over() {
        check.outcome = Outcome::NoException;
        check.notify_by = None;
        check.finding =
            "Taxable supplies of the year ahead are more than the deregistration limit: there is no exception."
                .to_owned();
        check.what_to_do = "Register.".to_owned();
    } else {
        check.finding = "Taxable supplies of the year ahead are not more than the deregistration limit: HMRC may except the business from registration if \
                         they are satisfied of that."
            .to_owned();
        let judged = if late {
            " That day has passed: a late request is judged on what could be foreseen then, not on what came."
        } else {
            ""
        };
        check.what_to_do = format!(
            "Ask HMRC by {notify_by} with the reasons why turnover was high only for a time, and go on testing at each month end.{judged}"
        );
    }
    Ok(check)
}

/// Ending a registration by choice (VATA 1994 Sch 1 para 4).
pub(super) fn deregistration(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::Deregistration;
    if !context.is_registered() {
        return Ok(LimitCheck::not_applicable(limit, "The business is not registered.", ENDING));
    }
    let as_of = context.as_of();
    let Some((figure, basis)) = context.year_ahead(Measure::Registration, as_of)? else {
        return Ok(LimitCheck::not_checked(limit, &[needed::NEXT_YEAR_TAXABLE], ENDING));
    };
    let tested = context.test(DEREGISTRATION, (as_of, basis), figure)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        ..LimitCheck::new(limit, tested.status(), Outcome::MayDeregister, String::new(), ENDING)
    };
    if tested.is_over() {
        check.outcome = Outcome::MayNotDeregister;
        check.finding =
            "Taxable supplies of the year ahead are more than the deregistration limit: the registration goes on."
                .to_owned();
        check.what_to_do =
            "Nothing now. A business that ceases to make taxable supplies tells HMRC within thirty days.".to_owned();
    } else {
        check.finding = "Taxable supplies of the year ahead are not more than the deregistration limit: HMRC may end the registration if they are satisfied \
                         of that, and if the reason is not that the business ceases or pauses for thirty days or more within the year."
            .to_owned();
        check.what_to_do = "The choice is the business's own, and no day is set. Look first at the VAT on goods on hand, at customers who recover VAT, and at \
                            the VAT on costs that is lost."
            .to_owned();
    }
    Ok(check)
}

/// Goods on hand when a registration ends (VATA 1994 Sch 4 para 8).
pub(super) fn goods_on_hand(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::GoodsOnHand;
    let as_of = context.as_of();
    let Some(goods) = context.figures.goods_on_hand else {
        return Ok(if context.is_registered() {
            LimitCheck::not_checked(limit, &[needed::GOODS_ON_HAND], ON_HAND)
        } else {
            LimitCheck::not_applicable(limit, "The business is not registered.", ON_HAND)
        });
    };
    let name = Name::new(context.scope(), "measured", "VAT on goods on hand", &VAT_ON_GOODS).gives(&["measured"]);
    let figure: Traced<Money> = match goods {
        GoodsOnHand::Vat(vat) => {
            context.run.total(name, &[Traced::given(vat, Place::GoodsOnHand(GoodsOnHandField::Vat))])?
        }
        GoodsOnHand::Value(value) => {
            let rate = context.run.percentage(ParameterId::VatRateStandard, as_of, "Standard rate of VAT")?;
            let vat = value.share(rate.value)?.to_money(Rounding::NearestPenny)?;
            let value = Traced::given(value, Place::GoodsOnHand(GoodsOnHandField::Value));
            context.run.step(name, vat, Rounding::NearestPenny, "{} × {} ÷ 100", &[value.operand(), rate.operand()])
        }
    };
    let label = (ParameterId::DeregistrationAssetsVat, "VAT on goods on hand up to which nothing is due");
    let tested = context.test(label, (as_of, Basis::Actual), figure)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        ..LimitCheck::new(limit, tested.status(), Outcome::NoVatDueOnGoods, String::new(), ON_HAND)
    };
    if tested.is_over() {
        check.outcome = Outcome::VatDueOnGoods;
        check.finding = "If the registration ended, the goods on hand would count as supplied just before, and the VAT on them would be due.".to_owned();
        check.what_to_do = "Put that VAT on the last return, unless the business passes on as a going concern. Leave out goods on which no credit was had; whether \
                            ordinary stock of a flat rate user is among these is a question for an adviser."
            .to_owned();
    } else {
        check.finding =
            "If the registration ended, no VAT would be due on the goods on hand: it would not be more than the limit."
                .to_owned();
        check.what_to_do = "Keep the list of goods on hand and their values with the last return.".to_owned();
    }
    Ok(check)
}
