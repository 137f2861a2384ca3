//! Every cause for which the use of the Flat Rate Scheme ends, and from which day (VAT Regulations 1995 regs 55M, 55N, 55P, 55Q).

use std::borrow::Cow;

use jiff::civil::Date;

use crate::law::{ParameterId, rule as cite};
use crate::refusal::Refusal;

use super::answer::{Limit, LimitCheck, Outcome, Question, Status};
use super::context::Context;
use super::eligibility::{associated, obstacle_if_yes};

const INCOME: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55M,
    cite::VAT_REGULATIONS_1995_REGULATION_55N,
    cite::VAT_REGULATIONS_1995_REGULATION_55Q,
    cite::FRS4400,
];
const ON_A_DAY: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55M,
    cite::VAT_REGULATIONS_1995_REGULATION_55N,
    cite::VAT_REGULATIONS_1995_REGULATION_55Q,
    cite::DECISION_FIRST_DAY_OUTSIDE,
];
const CHOICE: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55M,
    cite::VAT_REGULATIONS_1995_REGULATION_55N,
    cite::VAT_REGULATIONS_1995_REGULATION_55Q,
    cite::NOTICE_733_SECTION_12,
    cite::FRS4100,
];
const TERMINATION: &[&str] =
    &[cite::VAT_REGULATIONS_1995_REGULATION_55P, cite::VAT_REGULATIONS_1995_REGULATION_55Q, cite::FRS4300];

/// A cause whose day the law names.
struct Cause {
    id: &'static str,
    question: &'static str,
    known: Option<bool>,
    on: Option<Date>,
    consequence: &'static str,
    authority: &'static [&'static str],
}

pub(super) fn of(context: &Context<'_, '_>) -> Result<Vec<Question>, Refusal> {
    let facts = &context.figures.facts;
    let mut causes = vec![
        from_check(
            context,
            Limit::FlatRateLeavingAnniversary,
            "income_past_year",
            "At an anniversary of the start, was all income of the year then ending, with VAT, more than the limit?",
            "The scheme ends with the VAT period in which the anniversary falls; with annual accounting, at the end of the month after the anniversary's month if \
             that is sooner. HMRC may let the business stay if income of the year ahead is not more than the limit for staying.",
        ),
        from_check(
            context,
            Limit::FlatRateLeavingNextThirtyDays,
            "income_next_30_days",
            "Is income of the next thirty days alone expected to be more than the limit?",
            "The scheme ends at the beginning of the thirty days.",
        ),
    ];
    let group = [facts.eligible_for_vat_group, facts.registered_in_divisions, associated(facts)];
    let on_days = [
        Cause {
            id: "tour_operator",
            question: "Has the business become a tour operator?",
            known: facts.tour_operator,
            on: facts.tour_operator_from,
            consequence: "The scheme ends on that day.",
            authority: ON_A_DAY,
        },
        Cause {
            id: "capital_item",
            question: "Does the business intend to get an item of the capital goods scheme, such as land or a building?",
            known: facts.capital_goods_scheme,
            on: facts.capital_item_intended_on,
            consequence: "The scheme ends on the day on which the intention is formed.",
            authority: ON_A_DAY,
        },
        Cause {
            id: "margin_scheme",
            question: "Has the business opted for a margin scheme?",
            known: facts.second_hand_margin_scheme,
            on: facts.margin_scheme_from,
            consequence: "The scheme ends at the beginning of the VAT period for which the option is used.",
            authority: ON_A_DAY,
        },
        Cause {
            id: "group_or_association",
            question: "Has the business become eligible for a VAT group, been registered in divisions, or become associated with another person?",
            known: any_of(group),
            on: facts.associated_from,
            consequence: "The scheme ends on that day.",
            authority: ON_A_DAY,
        },
        Cause {
            id: "opts_out",
            question: "Does the business wish to leave by its own choice?",
            // Nobody leaves by choice without saying so.
            known: Some(false),
            on: facts.opts_out_on,
            consequence: "The scheme ends on the day on which HMRC are told in writing, or on another day that they agree.",
            authority: CHOICE,
        },
        Cause {
            id: "terminated_by_hmrc",
            question: "Have HMRC ended its use?",
            known: None,
            on: facts.terminated_by_hmrc_on,
            consequence: "The scheme ends on the date of the notice, or as HMRC direct: for a false statement, or to protect the revenue, even for the past. An appeal is \
                          possible.",
            authority: TERMINATION,
        },
    ];
    for cause in on_days {
        causes.push(on_a_day(context, cause)?);
    }
    Ok(causes)
}

/// Yes where one is, no where none is.
fn any_of(facts: [Option<bool>; 3]) -> Option<bool> {
    if facts.contains(&Some(true)) {
        Some(true)
    } else if facts.contains(&None) {
        None
    } else {
        Some(false)
    }
}

fn from_check(
    context: &Context<'_, '_>,
    limit: Limit,
    id: &'static str,
    question: &'static str,
    consequence: &'static str,
) -> Question {
    let check = context.checks.iter().find(|check| check.limit == limit);
    let tested = |check: &&LimitCheck| {
        !matches!(check.status, Status::NotChecked | Status::NotApplicable) && context.in_scheme()
    };
    let check = check.filter(tested);
    let known = check.map(|check| check.outcome == Outcome::MustLeave && check.status == Status::Crossed);
    let over = check.filter(|_| known == Some(true));
    Question {
        out_from: over.and_then(|check| check.effective_from),
        notify_by: over.and_then(|check| check.notify_by),
        ..obstacle_if_yes(id, question, known, consequence, INCOME)
    }
}

fn on_a_day(context: &Context<'_, '_>, cause: Cause) -> Result<Question, Refusal> {
    let known = if cause.on.is_some() { Some(true) } else { cause.known };
    let mut question = obstacle_if_yes(cause.id, cause.question, known, cause.consequence, cause.authority);
    let Some(on) = cause.on else { return Ok(question) };
    question.out_from = Some(on);
    // HMRC's own notice needs no telling.
    if cause.id != "terminated_by_hmrc" {
        question.notify_by = Some(context.notice(ParameterId::FrsNotifyChange, on)?);
    }
    if on > context.as_of() {
        question.consequence = Cow::Owned(format!("{} That day, {on}, is still to come.", cause.consequence));
    }
    Ok(question)
}
