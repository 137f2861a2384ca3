//! Warnings about the percentage, its dates and the law behind it.

use crate::answer::{Basis, Severity, Warning, WarningCode};
use crate::figures::TurnoverMethod;
use crate::law::{Evidence, Law, rule as cite};
use crate::period::{Period, next_day};
use crate::refusal::LineField;

use super::{Findings, warning};

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    first_year(findings, warnings);
    not_confirmed(findings, warnings);
    estimated(findings, warnings);
    partly_in_scheme(findings, warnings);
    basis(findings, warnings);
    law_not_checked(findings.law, findings.period, warnings);
    long_period(findings, warnings);
}

/// The reduction ends on the day before the first anniversary of registration: warned of in the period that holds that
/// day or the anniversary, and in the one before.
fn first_year(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let Some(days) = findings.scheme.newly_registered else { return };
    let anniversary = next_day(days.end());
    let next = findings.period.next();
    if anniversary <= findings.period.start() || days.end() > next.end() {
        return;
    }
    warnings.push(Warning {
        measured: Some(days.end().to_string()),
        act_by: Some(anniversary),
        ..warning(
            WarningCode::FirstYearReductionEnds,
            Severity::Action,
            format!(
                "The first-year reduction of one percentage point ends on {}: from {anniversary}, the first anniversary of registration, the full \
                 percentage applies. Turnover of a period that holds that day is split there.",
                days.end()
            ),
            &[cite::VAT_REGULATIONS_1995_REGULATION_55JB, cite::FRS7100, cite::DECISION_ANNIVERSARY_29_FEBRUARY],
        )
    });
}

/// A category's percentage that was not read in the Table itself says so (rows marked as practice or memory).
fn not_confirmed(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let unread = findings.flat_rate.answer.parts.iter().filter(|part| part.basis == Basis::Sector).find_map(|part| {
        let sector = findings.categories.on(part.days.start());
        let number = sector.percentage(part.days.start()).ok()?;
        match number.evidence {
            Evidence::Law | Evidence::OfficialGuidance | Evidence::OfficialGuidanceQuoted => None,
            Evidence::Practice | Evidence::Memory => Some((part, sector)),
        }
    });
    if let Some((part, sector)) = unread {
        warnings.push(Warning {
            measured: Some(part.percentage.to_string()),
            ..warning(
                WarningCode::PercentageNotConfirmed,
                Severity::Information,
                format!(
                    "The percentage of \"{}\" on {} is known from professional practice or from memory and has not been read in the Table itself. \
                     Check it against the regulation before relying on it.",
                    sector.name(), part.days.start()
                ),
                &[cite::VAT_REGULATIONS_1995_REGULATION_55K],
            )
        });
    }
}

fn estimated(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let lines = &findings.flat_rate.shared_by_days;
    if !lines.is_empty() {
        warnings.push(Warning {
            lines: lines.iter().map(|line| line.place(LineField::Whole).to_string()).collect(),
            ..warning(
                WarningCode::SplitEstimatedByDays,
                Severity::Attention,
                "Turnover was shared between the parts of the period by days. That is an estimate: the law puts each supply into the part in which \
                 it falls. Give the totals of each part for the return.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55H, cite::COMMON_PRACTICE],
            )
        });
    }
}

/// A period that the scheme covers in part, and a business that leaves it (VAT Regulations 1995 regs 55B, 55C(2), 55L, 55N, 55Q).
fn partly_in_scheme(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let (days, period) = (findings.scheme.days, findings.period);
    if days != period {
        warnings.push(Warning {
            measured: Some(days.days().to_string()),
            limit: Some(period.days().to_string()),
            ..warning(
                WarningCode::SchemeCoversPart,
                Severity::Attention,
                format!(
                    "The scheme covers {} to {} of the period; the other days are accounted for in the ordinary way on the same return. The goods test \
                     takes the days in the scheme as its period, which is this service's own reading.",
                    days.start(), days.end()
                ),
                &[
                    cite::VAT_REGULATIONS_1995_REGULATION_55B,
                    cite::VAT_REGULATIONS_1995_REGULATION_55C,
                    cite::FRS3100,
                    cite::DECISION_LENGTH_OF_PERIOD,
                ],
            )
        });
    }
    if let Some(until) = findings.figures.business.flat_rate_until
        && until <= period.end()
    {
        warnings.push(Warning {
            measured: Some(until.to_string()),
            ..warning(
                WarningCode::SchemeEnds,
                Severity::Action,
                format!(
                    "The scheme ends on {until}. HMRC are told in writing, the business may not come back for twelve months, and stock and capital \
                     goods on hand may need an adjustment on the first ordinary return, which is not worked out here."
                ),
                &[
                    cite::VAT_REGULATIONS_1995_REGULATION_55L,
                    cite::VAT_REGULATIONS_1995_REGULATION_55N,
                    cite::VAT_REGULATIONS_1995_REGULATION_55Q,
                ],
            )
        });
    }
}

fn basis(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    match findings.figures.business.turnover_method {
        TurnoverMethod::Basic => {}
        TurnoverMethod::Cash => warnings.push(warning(
            WarningCode::TurnoverBasis,
            Severity::Attention,
            "With the cash turnover method both sides must be on money received and paid: standard accounting is then the cash accounting scheme. If the \
             totals are invoices, a difference of timing is in the answer: give them with the basic method, and the money received and paid beside them as \
             received, to see both bases.",
            &[
                cite::VAT_REGULATIONS_1995_REGULATION_55G,
                cite::VAT_REGULATIONS_1995_REGULATION_57,
                cite::VAT_REGULATIONS_1995_REGULATION_57A,
                cite::DECISION_CASH_TURNOVER,
            ],
        )),
        TurnoverMethod::Retailer => warnings.push(warning(
            WarningCode::TurnoverBasis,
            Severity::Information,
            "With the retailer's turnover method the sales given are daily gross takings; no retail scheme may be used with the Flat Rate Scheme.",
            &[cite::VAT_REGULATIONS_1995_REGULATION_55G, cite::VAT_REGULATIONS_1995_REGULATION_69A],
        )),
    }
}

pub(super) fn law_not_checked(law: &Law, period: Period, warnings: &mut Vec<Warning>) {
    let checked_on = law.checked_on();
    if period.end() > checked_on {
        warnings.push(Warning {
            measured: Some(period.end().to_string()),
            limit: Some(checked_on.to_string()),
            ..warning(
                WarningCode::LawNotCheckedForPeriod,
                Severity::Attention,
                format!(
                    "The period ends on {}, after the day on which the law was last checked, {checked_on}. Rates, percentages and limits may have \
                     changed since: check them before relying on the answer.",
                    period.end()
                ),
                &[cite::VATA_1994_SECTION_2, cite::VAT_REGULATIONS_1995_REGULATION_55K],
            )
        });
    }
}

/// A first year of annual accounting may run to twelve months and thirty days; nothing ordinary is longer.
fn long_period(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    const LONGEST_ORDINARY: i32 = 366 + 30;
    let days = findings.period.days();
    if days > LONGEST_ORDINARY {
        warnings.push(Warning {
            measured: Some(days.to_string()),
            limit: Some(LONGEST_ORDINARY.to_string()),
            ..warning(
                WarningCode::LongPeriod,
                Severity::Attention,
                format!(
                    "The period is {days} days long. VAT periods are a month, a quarter or, with annual accounting, a year. Check its dates."
                ),
                &[cite::COMMON_PRACTICE],
            )
        });
    }
}
