//! Whether the business may use the Flat Rate Scheme: conditions of joining as questions (VAT Regulations 1995 regs 55A(2), 55L).

use std::borrow::Cow;

use jiff::civil::Date;

use crate::law::rule as cite;
use crate::period::anniversary;
use crate::refusal::Refusal;

use super::answer::{Answer, Bearing, Eligibility, Limit, Outcome, Question, Status};
use super::causes_of_leaving;
use super::context::Context;
use super::dates::period_holding;
use super::figures::FlatRateFacts;

const ADMISSION: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_55L];
const ASSOCIATION: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55A,
    cite::VAT_REGULATIONS_1995_REGULATION_55L,
    cite::FRS6200,
    cite::FRS6400,
];
const PAST: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_55L, cite::FRS6400];

const KEEPS_OUT: &str = "The business may not join the scheme.";
const PAST_ONLY: &str =
    "The business may not join unless HMRC overlook it, which they may where there is no risk to the revenue.";

impl From<Option<bool>> for Answer {
    fn from(known: Option<bool>) -> Self {
        match known {
            Some(true) => Self::Yes,
            Some(false) => Self::No,
            None => Self::NotKnown,
        }
    }
}

/// A question to which yes is an obstacle.
pub(super) fn obstacle_if_yes(
    id: &'static str,
    question: &'static str,
    known: Option<bool>,
    consequence: &'static str,
    authority: &'static [&'static str],
) -> Question {
    let answer = Answer::from(known);
    let bearing = match answer {
        Answer::Yes => Bearing::Obstacle,
        Answer::No => Bearing::NoObstacle,
        Answer::NotKnown => Bearing::Open,
    };
    let consequence = Cow::Borrowed(consequence);
    Question { id, question, answer, bearing, consequence, out_from: None, notify_by: None, authority }
}

/// A question to which no is an obstacle.
fn obstacle_if_no(
    id: &'static str,
    question: &'static str,
    known: Option<bool>,
    consequence: &'static str,
    authority: &'static [&'static str],
) -> Question {
    let bearing = match known {
        Some(true) => Bearing::NoObstacle,
        Some(false) => Bearing::Obstacle,
        None => Bearing::Open,
    };
    Question { bearing, ..obstacle_if_yes(id, question, known, consequence, authority) }
}

/// Association with another person: under a dominant influence, or bound by all three kinds of links (reg 55A(2)).
pub(super) fn associated(facts: &FlatRateFacts) -> Option<bool> {
    let links = [facts.financial_links, facts.economic_links, facts.organisational_links];
    let bound = if links.contains(&Some(false)) {
        Some(false)
    } else if links.contains(&None) {
        None
    } else {
        Some(true)
    };
    match (facts.dominant_influence, bound) {
        (Some(true), _) | (_, Some(true)) => Some(true),
        (Some(false), Some(false)) => Some(false),
        _ => None,
    }
}

/// Every condition and every cause, with what is known.
pub(super) fn of(context: &Context<'_, '_>) -> Result<Eligibility, Refusal> {
    let conditions = conditions(context);
    let causes = causes_of_leaving::of(context)?;
    let in_scheme = context.in_scheme() || context.figures.business.flat_rate_until.is_some();
    let out_from = causes
        .iter()
        .filter(|cause| cause.bearing == Bearing::Obstacle)
        .filter_map(|cause| cause.out_from)
        .chain(context.figures.business.flat_rate_until.map(super::dates::out_after))
        .min();
    let asked: Vec<&'static str> = if context.in_scheme() && !context.starting {
        open(&causes).collect()
    } else if in_scheme {
        open(&conditions).chain(open(&causes)).collect()
    } else {
        open(&conditions).collect()
    };
    let usual_last_day = context.period.map(|period| period_holding(period, context.as_of()).end());
    let must_leave = context.in_scheme().then(|| match standing(&causes) {
        Bearing::Obstacle => Answer::Yes,
        Bearing::NoObstacle => Answer::No,
        Bearing::Open => Answer::NotKnown,
    });
    Ok(Eligibility {
        may_join: match standing(&conditions) {
            Bearing::Obstacle => Answer::No,
            Bearing::NoObstacle => Answer::Yes,
            Bearing::Open => Answer::NotKnown,
        },
        must_leave,
        to_ask: asked,
        out_from: out_from.filter(|_| in_scheme),
        return_from: out_from.filter(|_| in_scheme).map(|day| anniversary(day, 1)),
        leaving_by_choice: leaving_by_choice(usual_last_day),
        usual_last_day,
        conditions,
        causes_of_leaving: causes,
    })
}

fn open(questions: &[Question]) -> impl Iterator<Item = &'static str> {
    questions.iter().filter(|question| question.bearing == Bearing::Open).map(|question| question.question)
}

/// One obstacle is enough; without any, one open question leaves all open.
fn standing(questions: &[Question]) -> Bearing {
    let any = |bearing| questions.iter().any(|question| question.bearing == bearing);
    if any(Bearing::Obstacle) {
        Bearing::Obstacle
    } else if any(Bearing::Open) {
        Bearing::Open
    } else {
        Bearing::NoObstacle
    }
}

fn leaving_by_choice(usual_last_day: Option<Date>) -> String {
    let usual =
        usual_last_day.map(|day| format!(", as a rule {day}, the end of the present VAT period")).unwrap_or_default();
    format!(
        "A business may leave at any time by telling HMRC in writing: the scheme ends on the day on which they are told, or on another day that they \
         agree{usual}. They agree a day in the last period if its return has not yet been made under the scheme, and an earlier one only where hardship or the \
         survival of the business asks for it. It may not come back for twelve months."
    )
}

fn conditions(context: &Context<'_, '_>) -> Vec<Question> {
    let facts = &context.figures.facts;
    let business = &context.figures.business;
    let as_of = context.as_of();
    let turnover = context.checks.iter().find(|check| check.limit == Limit::FlatRateJoining);
    let within = turnover
        .filter(|check| !matches!(check.status, Status::NotChecked | Status::NotApplicable))
        .map(|check| check.outcome == Outcome::MayJoin);
    let left = business
        .flat_rate_until
        .filter(|until| *until < as_of)
        .map(|until| anniversary(super::dates::out_after(until), 1) > as_of)
        .or(facts.left_flat_rate_in_past_year);
    vec![
        obstacle_if_no(
            "taxable_turnover",
            "Will taxable supplies of the next twelve months, without VAT, be not more than the limit for joining?",
            within,
            KEEPS_OUT,
            ADMISSION,
        ),
        obstacle_if_no(
            "registered",
            "Is the business registered for VAT, or will it be when it starts to use the scheme?",
            // A registration to come is enough, and one that is not planned is not known.
            business.registered_on.map(|_| true),
            "The scheme is for registered businesses: it may start with the registration.",
            &[cite::VATA_1994_SECTION_26B, cite::VAT_REGULATIONS_1995_REGULATION_55B],
        ),
        obstacle_if_yes(
            "tour_operator",
            "Does the business account for VAT under the margin scheme of tour operators?",
            facts.tour_operator,
            KEEPS_OUT,
            ADMISSION,
        ),
        obstacle_if_yes(
            "capital_goods_scheme",
            "Must the business make adjustments under the capital goods scheme?",
            facts.capital_goods_scheme,
            KEEPS_OUT,
            ADMISSION,
        ),
        obstacle_if_yes(
            "second_hand_margin_scheme",
            "Does the business intend to use a margin scheme for second-hand goods?",
            facts.second_hand_margin_scheme,
            KEEPS_OUT,
            ADMISSION,
        ),
        obstacle_if_yes(
            "vat_offence_in_past_year",
            "In the past year, was the business convicted of a VAT offence, was one compounded, or was it charged a penalty for dishonesty?",
            facts.vat_offence_in_past_year,
            KEEPS_OUT,
            ADMISSION,
        ),
        obstacle_if_yes(
            "left_flat_rate_in_past_year",
            "Did the business cease to use the Flat Rate Scheme in the past year?",
            left,
            "The business may not come back to the scheme before twelve months have passed.",
            &[cite::VAT_REGULATIONS_1995_REGULATION_55L, cite::DECISION_RETURN_TO_FLAT_RATE],
        ),
        obstacle_if_yes(
            "eligible_for_vat_group",
            "Is the business eligible to be in a VAT group?",
            facts.eligible_for_vat_group,
            "The business may not join: HMRC have no choice where it is so now.",
            PAST,
        ),
        obstacle_if_yes(
            "registered_in_divisions",
            "Is the business, a company, registered in the names of its divisions?",
            facts.registered_in_divisions,
            "The business may not join: HMRC have no choice where it is so now.",
            PAST,
        ),
        obstacle_if_yes(
            "associated",
            "Is the business associated with another person: one under the dominant influence of the other, or both closely bound by financial, economic and \
             organisational links together?",
            associated(facts),
            "The business may not join: HMRC have no choice where it is so now. Ordinary dealings at market prices are no association.",
            ASSOCIATION,
        ),
        obstacle_if_yes(
            "eligible_for_vat_group_in_past_two_years",
            "Was the business eligible to be in a VAT group at any time in the past 24 months?",
            facts.eligible_for_vat_group_in_past_two_years,
            PAST_ONLY,
            PAST,
        ),
        obstacle_if_yes(
            "registered_in_divisions_in_past_two_years",
            "Was the business registered in the names of divisions at any time in the past 24 months?",
            facts.registered_in_divisions_in_past_two_years,
            PAST_ONLY,
            PAST,
        ),
        obstacle_if_yes(
            "associated_in_past_two_years",
            "Was the business associated with another person at any time in the past 24 months?",
            facts.associated_in_past_two_years,
            PAST_ONLY,
            PAST,
        ),
        obstacle_if_yes(
            "cash_accounting",
            "Does the business use cash accounting?",
            Some(business.uses_cash_accounting),
            "Cash accounting and the Flat Rate Scheme do not go together: leave it first. The scheme has a cash method of its own.",
            &[cite::VAT_REGULATIONS_1995_REGULATION_57A],
        ),
        obstacle_if_yes(
            "retail_scheme",
            "Does the business use a retail scheme?",
            facts.retail_scheme,
            "Retail schemes and the Flat Rate Scheme do not go together: leave it first. The scheme has a method for retailers of its own.",
            &[cite::VAT_REGULATIONS_1995_REGULATION_69A],
        ),
    ]
}
