//! The days to act by, from what the checks found.

use crate::law::rule as cite;

use super::answer::{ActBy, Bearing, Eligibility, Limit, LimitCheck, Outcome, Status};

/// Every day to act by, in order.
pub(super) fn of(checks: &[LimitCheck], eligibility: &Eligibility) -> Vec<ActBy> {
    let mut days = Vec::new();
    for check in checks.iter().filter(|check| matches!(check.status, Status::Crossed | Status::Expected)) {
        if let Some((title, on)) = notice_of(check) {
            days.push(ActBy { on, title, what_to_do: check.what_to_do.clone(), authority: check.authority });
        }
        if let Some((title, on)) = effect_of(check) {
            days.push(ActBy { on, title, what_to_do: check.finding.clone(), authority: check.authority });
        }
    }
    for cause in eligibility.causes_of_leaving.iter().filter(|cause| cause.bearing == Bearing::Obstacle) {
        // What the checks found stands there already.
        if cause.id.starts_with("income_") {
            continue;
        }
        if let Some(on) = cause.notify_by {
            days.push(ActBy {
                on,
                title: "Tell HMRC in writing that the use of the Flat Rate Scheme ends",
                what_to_do: cause.consequence.clone().into_owned(),
                authority: cause.authority,
            });
        }
    }
    if let Some(on) = eligibility.return_from {
        days.push(ActBy {
            on,
            title: "First day on which the business may come back to the Flat Rate Scheme",
            what_to_do: "Test all conditions of joining again; a start is as a rule on the first day of a VAT period."
                .to_owned(),
            authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55L, cite::DECISION_RETURN_TO_FLAT_RATE],
        });
    }
    days.sort_by_key(|day| day.on);
    days
}

fn notice_of(check: &LimitCheck) -> Option<(&'static str, jiff::civil::Date)> {
    if check.status == Status::Expected {
        return (check.outcome == Outcome::MustRegister)
            .then_some(("Add up the twelve months: liability to be registered is expected", check.liable_on?));
    }
    let title = match (check.limit, check.outcome) {
        (Limit::RegistrationPastYear | Limit::RegistrationNextThirtyDays, Outcome::MustRegister) => {
            "Last day to tell HMRC of the liability to be registered"
        }
        (Limit::FlatRateLeavingAnniversary | Limit::FlatRateLeavingNextThirtyDays, Outcome::MustLeave) => {
            "Last day to tell HMRC in writing that the use of the Flat Rate Scheme ends"
        }
        _ => return None,
    };
    Some((title, check.notify_by?))
}

fn effect_of(check: &LimitCheck) -> Option<(&'static str, jiff::civil::Date)> {
    let title = match check.outcome {
        // What may never come about is said once, on the day on which it is decided.
        _ if check.status == Status::Expected => return None,
        Outcome::MustRegister => "Registered for VAT from this day: charge VAT",
        Outcome::MustLeave => match check.limit {
            Limit::FlatRateLeavingAnniversary | Limit::FlatRateLeavingNextThirtyDays => {
                "First day outside the Flat Rate Scheme"
            }
            Limit::CashAccountingLeaving => "First day outside cash accounting",
            Limit::AnnualAccountingLeaving => "First day outside annual accounting",
            _ => return None,
        },
        _ => return None,
    };
    Some((title, check.effective_from?))
}
