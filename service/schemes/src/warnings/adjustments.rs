//! Warnings about adjustments beside the period's own figures.

use crate::answer::{Severity, Warning, WarningCode};
use crate::law::{ParameterId, rule as cite};

use super::{Findings, warning};

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    bad_debts(findings, warnings);
    errors(findings, warnings);
}

/// The last day for the claim falls in this period.
fn bad_debts(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    for (index, relief) in findings.adjustments.bad_debts.iter().enumerate() {
        if relief.latest_claim <= findings.period.end() {
            warnings.push(Warning {
                act_by: Some(relief.latest_claim),
                lines: vec![format!("/adjustments/bad_debts/{index}")],
                ..warning(
                    WarningCode::AdjustmentNeedsAttention,
                    Severity::Action,
                    format!(
                        "Relief for this debt may be claimed until {} only, within the period. Claim it in time.",
                        relief.latest_claim
                    ),
                    &[cite::VAT_REGULATIONS_1995_REGULATION_165A, cite::VR7420],
                )
            });
        }
    }
}

fn errors(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let Some(errors) = &findings.adjustments.errors else { return };
    let late: Vec<_> = errors
        .in_time
        .iter()
        .enumerate()
        .filter(|(_, in_time)| !**in_time)
        .map(|(index, _)| format!("/adjustments/errors/{index}"))
        .collect();
    if !late.is_empty() {
        warnings.push(Warning {
            lines: late,
            ..warning(
                WarningCode::AdjustmentNeedsAttention,
                Severity::Attention,
                "These errors are out of time by the end of the period and are left out of the net error.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_34],
            )
        });
    }
    let size = errors.net_error.magnitude();
    let limit = findings.law.amount(ParameterId::ErrorCorrectionOnReturnSmall, findings.period.start()).ok();
    if limit.is_some_and(|limit| limit.value == size) {
        warnings.push(Warning {
            measured: Some(size.to_string()),
            limit: Some(size.to_string()),
            ..warning(
                WarningCode::AdjustmentNeedsAttention,
                Severity::Attention,
                format!(
                    "The net error is exactly £{size}: HMRC's guidance lets the return carry it, the regulation only an amount less than that. Tell HMRC of \
                     it apart if in doubt."
                ),
                &[cite::VAT_REGULATIONS_1995_REGULATION_34, cite::NOTICE_700_45, cite::DECISION_ERRORS_AT_LIMIT],
            )
        });
    }
    if !(errors.on_return_standard && errors.on_return_flat_rate) {
        warnings.push(Warning {
            measured: Some(size.to_string()),
            limit: limit.map(|limit| limit.value.to_string()),
            ..warning(
                WarningCode::AdjustmentNeedsAttention,
                Severity::Action,
                "The net error is too large for the return under at least one of the schemes: tell HMRC of it apart. A careless error is told of even where \
                 the return may carry it.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_34, cite::NOTICE_700_45],
            )
        });
    }
}
