//! Warnings about adjustments beside the period's own figures.

use jiff::civil::Date;

use crate::answer::{Severity, Warning, WarningCode};
use crate::figures::TurnoverMethod;
use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Overflow, Rounding};

use super::{Findings, warning};

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    bad_debts(findings, warnings);
    without_relief(findings, warnings);
    before_the_scheme(findings, warnings);
    due_before_supply(findings, warnings);
    vat_against_price(findings, warnings)?;
    restored_later(findings, warnings);
    errors(findings, warnings);
    Ok(())
}

fn entry(list: &str, index: usize) -> String {
    format!("/adjustments/{list}/{index}")
}

/// Debts on which the cash turnover method leaves no relief.
fn without_relief(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    if findings.figures.business.turnover_method != TurnoverMethod::Cash {
        return;
    }
    let reliefs = findings.adjustments.bad_debts.iter().enumerate();
    let lines: Vec<_> = reliefs
        .filter(|(_, relief)| relief.relief.flat_rate.is_zero())
        .map(|(index, _)| entry("bad_debts", index))
        .collect();
    if !lines.is_empty() {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::AdjustmentNeedsAttention,
                Severity::Information,
                "These debts give no relief: the flat rate amount on what is unpaid takes up the VAT charged, to the nearest penny. Relief is never negative, so \
                 nothing is taken off box 4 either.",
                &[
                    cite::VAT_REGULATIONS_1995_REGULATION_55V,
                    cite::NOTICE_733_SECTION_14,
                    cite::DECISION_BAD_DEBT_NEVER_NEGATIVE,
                ],
            )
        });
    }
}

/// The relief of regulation 55V is for supplies made while in the scheme.
fn before_the_scheme(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let business = &findings.figures.business;
    let (TurnoverMethod::Cash, Some(starts)) = (business.turnover_method, business.flat_rate_from) else { return };
    let debts = findings.figures.adjustments.bad_debts.iter().enumerate();
    let lines: Vec<_> =
        debts.filter(|(_, debt)| debt.supplied_on < starts).map(|(index, _)| entry("bad_debts", index)).collect();
    if !lines.is_empty() {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::AdjustmentNeedsAttention,
                Severity::Attention,
                format!(
                    "These supplies were made before the scheme started on {starts}. Their relief is worked out as if they had been made in it; where VAT was \
                     accounted for on them when they were invoiced, the whole VAT is relieved instead, and where it would have been due on payment, nothing."
                ),
                &[cite::VAT_REGULATIONS_1995_REGULATION_55V, cite::VATA_1994_SECTION_36],
            )
        });
    }
}

/// A day for payment before the supply is seldom meant.
fn due_before_supply(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let adjustments = &findings.figures.adjustments;
    let before = |due_on: Option<Date>, supplied_on: Date| due_on.is_some_and(|due| due < supplied_on);
    let debts = adjustments.bad_debts.iter().enumerate();
    let debts =
        debts.filter(|(_, debt)| before(debt.due_on, debt.supplied_on)).map(|(index, _)| entry("bad_debts", index));
    let purchases = adjustments.unpaid_purchases.iter().enumerate();
    let purchases = purchases
        .filter(|(_, purchase)| before(purchase.due_on, purchase.supplied_on))
        .map(|(index, _)| entry("unpaid_purchases", index));
    let lines: Vec<_> = debts.chain(purchases).collect();
    if !lines.is_empty() {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::AdjustmentNeedsAttention,
                Severity::Attention,
                "Payment is said to have been due before the supply. The times run from the later of the two days, so from the supply; check both days.",
                &[cite::VATA_1994_SECTION_26A, cite::VATA_1994_SECTION_36, cite::VAT_REGULATIONS_1995_REGULATION_165A],
            )
        });
    }
}

/// VAT that not even the standard rate of the day of supply explains. The smaller rates, and nothing, explain any less.
fn vat_against_price(findings: &Findings<'_>, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    let adjustments = &findings.figures.adjustments;
    let debts = adjustments.bad_debts.iter().enumerate();
    let debts = debts.map(|(index, debt)| (entry("bad_debts", index), debt.supplied_on, debt.vat, debt.gross));
    let purchases = adjustments.unpaid_purchases.iter().enumerate();
    let purchases = purchases.map(|(index, purchase)| {
        (entry("unpaid_purchases", index), purchase.supplied_on, purchase.input_tax_claimed, purchase.gross)
    });
    let penny = Money::from_pence(1)?;
    for (line, supplied_on, vat, gross) in debts.chain(purchases) {
        // Of a supply before the tables begin no rate is known.
        let Ok(rate) = findings.law.percentage(ParameterId::VatRateStandard, supplied_on) else { continue };
        let most = gross.exact().times(rate.value.vat_fraction()?)?.to_money(Rounding::NearestPenny)?;
        if vat > most.plus(penny)? {
            warnings.push(Warning {
                measured: Some(vat.to_string()),
                limit: Some(most.to_string()),
                lines: vec![line],
                ..warning(
                    WarningCode::VatDiffersFromRate,
                    Severity::Attention,
                    format!(
                        "The VAT given, £{vat}, is more than the standard rate of the day of supply, {}%, makes of the price of £{gross}: £{most}. It was \
                         used as given, but only VAT that was due counts; check both amounts.",
                        rate.value
                    ),
                    &[cite::VATA_1994_SECTION_2, cite::VATA_1994_SECTION_19],
                )
            });
        }
    }
    Ok(())
}

/// Input tax repaid comes back when the supplier is paid.
fn restored_later(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let purchases = findings.adjustments.unpaid_purchases.iter().enumerate();
    let lines: Vec<_> = purchases
        .filter(|(_, purchase)| purchase.repaid.standard.is_negative() || purchase.repaid.flat_rate.is_negative())
        .map(|(index, _)| entry("unpaid_purchases", index))
        .collect();
    if !lines.is_empty() {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::AdjustmentNeedsAttention,
                Severity::Information,
                "Input tax is repaid on these purchases because they are unpaid. Keep that on record: when the supplier is paid, it is claimed again, by \
                 purchases_paid_later.",
                &[cite::VATA_1994_SECTION_26A, cite::VAT_REGULATIONS_1995_REGULATION_172I],
            )
        });
    }
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
