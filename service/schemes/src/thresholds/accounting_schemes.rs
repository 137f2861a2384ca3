//! Cash accounting and annual accounting: joining and leaving (VAT Regulations 1995 regs 52, 53, 58, 60).

use crate::law::{ParameterId, rule as cite};
use crate::period::next_day;
use crate::refusal::Refusal;

use super::answer::{Limit, LimitCheck, Outcome, Status};
use super::context::{Context, needed};
use super::dates::period_holding;
use super::figures::Basis;
use super::months::Measure;
use super::rolling::{self, NamedLimit};
use super::tested::Tested;

/// One of the two schemes.
struct Scheme {
    joining: Limit,
    leaving: Limit,
    join: NamedLimit,
    leave: NamedLimit,
    name: &'static str,
    to_join: &'static [&'static str],
    to_leave: &'static [&'static str],
    how_to_join: &'static str,
    how_to_leave: &'static str,
}

const CASH: Scheme = Scheme {
    joining: Limit::CashAccountingJoining,
    leaving: Limit::CashAccountingLeaving,
    join: (ParameterId::CashAccountingJoin, "Limit for joining cash accounting"),
    leave: (ParameterId::CashAccountingLeave, "Limit for leaving cash accounting"),
    name: "cash accounting",
    to_join: &[
        cite::VAT_REGULATIONS_1995_REGULATION_58,
        cite::VAT_REGULATIONS_1995_REGULATION_57A,
        cite::DECISION_ACCOUNTING_SCHEME_TURNOVER,
    ],
    to_leave: &[
        cite::VAT_REGULATIONS_1995_REGULATION_60,
        cite::VCAS6100,
        cite::VCAS6450,
        cite::DECISION_ACCOUNTING_SCHEME_TURNOVER,
    ],
    how_to_join: "No application: start with a VAT period. Returns and payments must be up to date, and there must be no VAT offence or evasion penalty in \
                  the past year. It does not go together with the Flat Rate Scheme, which has a cash method of its own.",
    how_to_leave: "Leave at the end of that VAT period: account for all that is outstanding, at once or, where allowed, within six months. A single sale \
                   that will not be repeated can be an exception, if the next twelve months stay within the limit for joining.",
};

const ANNUAL: Scheme = Scheme {
    joining: Limit::AnnualAccountingJoining,
    leaving: Limit::AnnualAccountingLeaving,
    join: (ParameterId::AnnualAccountingJoin, "Limit for joining annual accounting"),
    leave: (ParameterId::AnnualAccountingLeave, "Limit for leaving annual accounting"),
    name: "annual accounting",
    to_join: &[cite::VAT_REGULATIONS_1995_REGULATION_52, cite::DECISION_ACCOUNTING_SCHEME_TURNOVER],
    to_leave: &[cite::VAT_REGULATIONS_1995_REGULATION_53, cite::DECISION_ACCOUNTING_SCHEME_TURNOVER],
    how_to_join: "Apply to HMRC. Not open to a business that left it within twelve months, is in a VAT group or registered in divisions, is behind with \
                  returns or payments, or is insolvent. It goes together with the Flat Rate Scheme.",
    how_to_leave: "Leave at the end of the accounting year, and tell HMRC.",
};

pub(super) fn joining_cash(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let uses = context.figures.business.uses_cash_accounting;
    if context.in_scheme() && !uses {
        let why = "The business uses the Flat Rate Scheme, with which cash accounting does not go together.";
        return Ok(LimitCheck::not_applicable(CASH.joining, why, CASH.to_join));
    }
    join(context, &CASH, uses)
}

pub(super) fn leaving_cash(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    leave(context, &CASH, context.figures.business.uses_cash_accounting)
}

pub(super) fn joining_annual(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    join(context, &ANNUAL, context.figures.business.uses_annual_accounting)
}

pub(super) fn leaving_annual(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    leave(context, &ANNUAL, context.figures.business.uses_annual_accounting)
}

fn join(context: &mut Context<'_, '_>, scheme: &Scheme, uses: bool) -> Result<LimitCheck, Refusal> {
    if uses {
        return Ok(LimitCheck::not_applicable(scheme.joining, "The business uses it already.", scheme.to_join));
    }
    let as_of = context.as_of();
    let Some((figure, basis)) = context.year_ahead(Measure::Taxable, as_of)? else {
        return Ok(LimitCheck::not_checked(scheme.joining, &[needed::NEXT_YEAR_TAXABLE], scheme.to_join));
    };
    let tested = context.test(scheme.join, (as_of, basis), figure)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        ..LimitCheck::new(scheme.joining, tested.status(), Outcome::MayJoin, String::new(), scheme.to_join)
    };
    if tested.is_over() {
        check.outcome = Outcome::MayNotJoin;
        check.finding =
            format!("Taxable supplies of the year ahead are more than the limit for joining {}.", scheme.name);
        check.what_to_do = format!("Stay outside {}.", scheme.name);
    } else {
        check.finding =
            format!("Taxable supplies of the year ahead are not more than the limit for joining {}.", scheme.name);
        check.what_to_do = scheme.how_to_join.to_owned();
    }
    Ok(check)
}

fn leave(context: &mut Context<'_, '_>, scheme: &Scheme, uses: bool) -> Result<LimitCheck, Refusal> {
    if !uses {
        return Ok(LimitCheck::not_applicable(scheme.leaving, "The business does not use it.", scheme.to_leave));
    }
    let (position, as_of) = (context.position(), context.as_of());
    let days = context.twelve_months(Measure::Taxable, scheme.leave, |end| end)?;
    // Only the end of a VAT period counts; where none is known, every month end is taken for one.
    let period = context.period;
    let at_end = |day: &Tested| period.is_none_or(|period| period_holding(period, day.on).end() == day.on);
    let happened = |day: &Tested| day.basis == Basis::Actual && day.on <= as_of;
    let crossed = days.iter().find(|day| happened(day) && at_end(day) && day.is_over()).copied();
    let ahead = days.iter().find(|day| !happened(day) && at_end(day) && day.is_over()).copied();
    let latest = days.iter().rfind(|day| happened(day)).copied();
    let Some(decisive) = crossed.or(ahead).or(latest).or(days.last().copied()) else {
        return Ok(LimitCheck::not_checked(scheme.leaving, &[needed::TWELVE_MONTHS], scheme.to_leave));
    };
    let mut outlook = Vec::new();
    rolling::own_forecast(context.run, position, Measure::Taxable, &days, &mut outlook);
    rolling::at_the_present_run(
        context.run,
        position,
        &context.months,
        Measure::Taxable,
        scheme.leave.0,
        &mut outlook,
    )?;
    decisive.show(context.run, context.scope());
    let mut check = LimitCheck {
        decisive: Some(decisive.answer()),
        days: days.iter().map(Tested::answer).collect(),
        ..LimitCheck::new(scheme.leaving, decisive.status(), Outcome::Stays, String::new(), scheme.to_leave)
    };
    let expected = outlook.iter().find_map(|outlook| outlook.crosses_on);
    check.outlook = outlook;
    let on = decisive.on;
    if crossed.is_some() || ahead.is_some() {
        check.outcome = Outcome::MustLeave;
        check.effective_from = Some(next_day(on));
        check.what_to_do = scheme.how_to_leave.to_owned();
        check.finding =
            format!("Taxable supplies of the twelve months to {on} are more than the limit for using {}.", scheme.name);
        if crossed.is_some() {
            check.crossed_on = Some(on);
        } else {
            check.status = Status::Expected;
        }
        if period.is_none() {
            check.figures_needed.push("period, so that the ends of VAT periods can be told");
            check.finding.push_str(" That day was taken for the end of a VAT period, as none was given.");
        }
    } else {
        // More than the limit inside a period is an early warning.
        if decisive.is_over() || expected.is_some() {
            check.status = if expected.is_some() { Status::Expected } else { Status::Close };
        }
        check.finding = format!(
            "No VAT period was found at whose end taxable supplies of the twelve months were more than the limit for using {}; to {on} they were £{}.",
            scheme.name, decisive.measured.value
        );
        check.what_to_do = "Test again at the end of each VAT period.".to_owned();
    }
    Ok(check)
}
