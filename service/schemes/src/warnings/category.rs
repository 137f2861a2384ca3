//! Warnings about changes of the category of business.

use jiff::ToSpan;
use jiff::civil::Date;

use crate::answer::{Severity, Warning, WarningCode};
use crate::figures::SectorChangeReason;
use crate::flat_rate::Change;
use crate::law::{ParameterId, rule as cite};
use crate::period::previous_day;

use super::{Findings, warning};

const NOTICE: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55A,
    cite::VAT_REGULATIONS_1995_REGULATION_55K,
    cite::VAT_REGULATIONS_1995_REGULATION_55N,
    cite::DECISION_CATEGORY_IS_THE_USERS,
];

/// HMRC must be told in writing within thirty days: of an activity that starts or stops, from that day; of a shift in the
/// balance, from the first day of the period from which it counts, if the percentage differs (VAT Regulations 1995 reg 55N).
pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    not_the_largest(findings, warnings);
    for change in &findings.categories.changes {
        let told = match (change.reason, change.takes_effect) {
            (SectorChangeReason::BalanceShifted, None) => {
                warnings.push(not_yet(change));
                continue;
            }
            (SectorChangeReason::BalanceShifted, Some(effect)) => effect,
            (SectorChangeReason::ActivityStarted | SectorChangeReason::ActivityStopped, _) => change.on,
        };
        // A change of an earlier period was to be told of then.
        if told < findings.period.start() || told > findings.period.end() {
            continue;
        }
        let before = findings.categories.on(previous_day(told)).percentage(told).map(|number| number.value);
        let after = change.sector.percentage(told).map(|number| number.value);
        if change.reason == SectorChangeReason::BalanceShifted && before == after {
            continue;
        }
        let act_by =
            findings.law.days(ParameterId::FrsNotifyChange, told).ok().and_then(|days| days_after(told, days.value));
        let percentages = match (before, after) {
            (Ok(before), Ok(after)) if before != after => format!(", its percentage {after} instead of {before}"),
            _ => String::new(),
        };
        let by = act_by.map(|day| format!(" by {day}")).unwrap_or_default();
        warnings.push(Warning {
            measured: Some(told.to_string()),
            act_by,
            ..warning(
                WarningCode::CategoryChanges,
                Severity::Action,
                format!(
                    "The category of business becomes \"{}\" on {told}{percentages}. Tell HMRC in writing{by}, with the \
                     day, what changed and the percentages before and after, and keep the reasons.",
                    change.sector.name()
                ),
                NOTICE,
            )
        });
    }
}

/// The category used is not that of the activity with the largest expected turnover.
fn not_the_largest(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let Some(choice) = findings.category.filter(|choice| !choice.agrees) else { return };
    let message = match &choice.largest {
        Some(largest) => format!(
            "The largest share of expected turnover is in the category {largest}, but the calculation uses {}. The choice is the user's: check it, and \
             keep the reasons.",
            findings.categories.on(findings.period.start()).id()
        ),
        None => "Two categories have the same expected turnover, so neither is the main one by the figures. Choose with reasons, and keep them.".to_owned(),
    };
    warnings.push(warning(
        WarningCode::CategoryNotTheLargest,
        Severity::Attention,
        message,
        &[cite::VAT_REGULATIONS_1995_REGULATION_55K, cite::DECISION_CATEGORY_IS_THE_USERS],
    ));
}

fn not_yet(change: &Change<'_>) -> Warning {
    Warning {
        measured: Some(change.on.to_string()),
        ..warning(
            WarningCode::CategoryChanges,
            Severity::Information,
            format!(
                "The shift in balance on {} does not count in this period: a shift between the same activities changes the category only from the \
                 first day of the period that contains the next anniversary of the scheme's start.",
                change.on
            ),
            NOTICE,
        )
    }
}

/// So many days after a day, the day after it being the first.
fn days_after(day: Date, days: u16) -> Option<Date> {
    day.checked_add(i32::from(days).days()).ok()
}
