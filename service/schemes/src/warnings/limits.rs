//! Warnings about limits on turnover, where the request gives figures for them.

use crate::answer::{Severity, Warning, WarningCode};
use crate::thresholds::{Limit, LimitCheck, Outcome, Status};

use super::{Findings, warning};

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let checks = || findings.limits.into_iter().flat_map(|limits| &limits.checks);
    let of_anniversary =
        checks().any(|check| check.limit == Limit::FlatRateLeavingAnniversary && asks(check).is_some());
    // The early warning adds nothing where the anniversary itself is warned of.
    let told = |check: &&LimitCheck| !(check.limit == Limit::FlatRateRunningIncome && of_anniversary);
    warnings.extend(checks().filter(told).filter_map(of_check));
}

fn of_check(check: &LimitCheck) -> Option<Warning> {
    let (code, severity) = asks(check)?;
    let day = check.decisive;
    Some(Warning {
        measured: day.map(|day| day.measured.to_string()),
        limit: day.map(|day| day.limit.to_string()),
        act_by: check.notify_by,
        ..warning(code, severity, format!("{} {}", check.finding, check.what_to_do), check.authority)
    })
}

/// What a check asks of the reader, if anything.
fn asks(check: &LimitCheck) -> Option<(WarningCode, Severity)> {
    match (check.limit, check.status) {
        (_, Status::NotChecked | Status::NotApplicable) => None,
        (Limit::FlatRateJoining, Status::Crossed) => Some((WarningCode::JoiningLimitExceeded, Severity::Action)),
        (Limit::FlatRateJoining, Status::Close) => Some((WarningCode::JoiningLimitClose, Severity::Attention)),
        (Limit::FlatRateLeavingAnniversary | Limit::FlatRateLeavingNextThirtyDays, Status::Crossed) => {
            Some((WarningCode::LeavingLimitExceeded, Severity::Action))
        }
        (Limit::FlatRateLeavingAnniversary, Status::Expected) => {
            Some((WarningCode::LeavingLimitExceeded, Severity::Attention))
        }
        (
            Limit::FlatRateLeavingAnniversary | Limit::FlatRateRunningIncome | Limit::FlatRateLeavingNextThirtyDays,
            Status::Close,
        ) => Some((WarningCode::LeavingLimitClose, Severity::Attention)),
        (Limit::Deregistration, _) => (check.outcome == Outcome::MayDeregister)
            .then_some((WarningCode::DeregistrationPossible, Severity::Information)),
        (Limit::CashAccountingLeaving, Status::Crossed) => {
            Some((WarningCode::CashAccountingLimitExceeded, Severity::Action))
        }
        (Limit::CashAccountingLeaving, Status::Expected) => {
            Some((WarningCode::CashAccountingLimitExceeded, Severity::Attention))
        }
        // Not asked about a registered business, a choice of its own, or said by the limit beside it.
        (
            Limit::RegistrationPastYear
            | Limit::RegistrationNextThirtyDays
            | Limit::RegistrationException
            | Limit::GoodsOnHand
            | Limit::FlatRateJoining
            | Limit::FlatRateLeavingAnniversary
            | Limit::FlatRateRunningIncome
            | Limit::FlatRateLeavingNextThirtyDays
            | Limit::FlatRateStaying
            | Limit::CashAccountingJoining
            | Limit::CashAccountingLeaving
            | Limit::AnnualAccountingJoining
            | Limit::AnnualAccountingLeaving,
            Status::Clear | Status::Close | Status::Crossed | Status::Expected,
        ) => None,
    }
}
