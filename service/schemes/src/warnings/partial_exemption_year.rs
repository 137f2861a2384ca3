//! Warnings about a partial exemption year.

use crate::answer::{Severity, Warning, WarningCode};
use crate::law::rule as cite;
use crate::money::{Money, Overflow};
use crate::partial_exemption_year::answer::YearAnswer;
use crate::partial_exemption_year::figures::{ExemptionTotals, YearEndsBy, YearFigures};
use crate::partial_exemption_year::is_whole;
use crate::refusal::{ExemptionYearField, Place};

use super::warning;

pub(super) fn warn(figures: &YearFigures, answer: &YearAnswer, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    days_of_the_year(figures, answer, warnings);
    claims(figures, answer, warnings);
    annual_test(answer, warnings);
    attributed_afresh(figures, warnings)?;
    method_override(answer, warnings);
    Ok(())
}

/// A tax year ends on 31 March, 30 April or 31 May, by VAT stagger, and has twelve months (reg 99(1)).
fn days_of_the_year(figures: &YearFigures, answer: &YearAnswer, warnings: &mut Vec<Warning>) {
    const AUTHORITY: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_99, cite::PE37200];
    if figures.ends_by == YearEndsBy::Deregistration {
        return;
    }
    let end = answer.year.end();
    if !matches!((end.month(), end.day()), (3, 31) | (4, 30) | (5, 31)) {
        warnings.push(warning(
            WarningCode::LongerPeriodUnusual,
            Severity::Attention,
            format!(
                "The year ends on {end}. A tax year for partial exemption ends on 31 March, 30 April or 31 May, by the business's VAT periods, unless \
                 HMRC have approved another day or the registration ended."
            ),
            AUTHORITY,
        ));
    }
    if !is_whole(answer.year) {
        warnings.push(warning(
            WarningCode::LongerPeriodUnusual,
            Severity::Information,
            format!(
                "The year from {} to {end} has less than twelve months: so has only a first longer period, from registration or from the day on which \
                 exempt input tax was first incurred. Its limits go with its length.",
                answer.year.start()
            ),
            AUTHORITY,
        ));
    }
}

fn claims(figures: &YearFigures, answer: &YearAnswer, warnings: &mut Vec<Warning>) {
    let differ: Vec<String> = (0..)
        .zip(figures.periods.iter().zip(&answer.periods))
        .filter(|(_, (given, period))| {
            given.claimed.is_some_and(|claimed| claimed != period.partial_exemption.recoverable)
        })
        .map(|(index, _)| Place::ExemptionYear(ExemptionYearField::Claimed(index)).to_string())
        .collect();
    if !differ.is_empty() {
        warnings.push(Warning {
            lines: differ,
            ..warning(
                WarningCode::ClaimDiffersFromCalculation,
                Severity::Attention,
                "What was claimed in a period is not what its calculation gives. The annual adjustment takes the claim as it was made; if it was \
                 wrong when it was made, that is an error of that return, to be corrected as one and not by the adjustment.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_107, cite::PE37600, cite::NOTICE_700_45],
            )
        });
    }
}

fn annual_test(answer: &YearAnswer, warnings: &mut Vec<Warning>) {
    let used = answer.periods.iter().any(|period| period.partial_exemption.annual_test == Some(true));
    if used && !answer.annual.partial_exemption.is_de_minimis() {
        warnings.push(Warning {
            measured: answer.annual.partial_exemption.exempt_input_tax.map(|tax| tax.to_string()),
            limit: Some(answer.annual.partial_exemption.de_minimis_limit.to_string()),
            ..warning(
                WarningCode::AnnualTestNotUpheld,
                Severity::Attention,
                "All input tax was recovered in the periods by the annual test, but the year passes no de minimis test: the excess is repaid, and the \
                 annual test may not be used in the next year.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_106ZA, cite::VAT_REGULATIONS_1995_REGULATION_107],
            )
        });
    }
}

/// Attribution at the end of the year moves input tax between the uses; it makes none and loses none.
fn attributed_afresh(figures: &YearFigures, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    let Some(afresh) = &figures.attributed_afresh else { return Ok(()) };
    let mut periods = Money::ZERO;
    for period in &figures.periods {
        periods = periods.plus(input_tax(&period.totals)?)?;
    }
    let year = input_tax(afresh)?;
    if year != periods {
        warnings.push(Warning {
            measured: Some(year.to_string()),
            limit: Some(periods.to_string()),
            lines: vec![Place::ExemptionYear(ExemptionYearField::AttributedAfresh).to_string()],
            ..warning(
                WarningCode::AttributionChangesTotal,
                Severity::Attention,
                format!(
                    "The year's own attribution has input tax of £{year}, its periods have £{periods}. Attribution moves input tax between the uses and \
                     does not change its sum: VAT left out or claimed by mistake is corrected as an error, not by the annual adjustment."
                ),
                &[cite::VAT_REGULATIONS_1995_REGULATION_107, cite::PE37600],
            )
        });
    }
    Ok(())
}

fn input_tax(totals: &ExemptionTotals) -> Result<Money, Overflow> {
    totals.input_tax_taxable.plus(totals.input_tax_exempt)?.plus(totals.input_tax_both)
}

fn method_override(answer: &YearAnswer, warnings: &mut Vec<Warning>) {
    let measured = answer.standard_method_override;
    if !measured.within_limit {
        warnings.push(Warning {
            measured: Some(measured.residual_input_tax.to_string()),
            limit: Some(measured.limit.to_string()),
            ..warning(
                WarningCode::StandardMethodOverridePossible,
                Severity::Attention,
                format!(
                    "Residual input tax of £{} is more than £{}: where the percentage differs substantially from the use that was made of the \
                     purchases, the standard method override asks for another adjustment, which is not worked out here. Take advice.",
                    measured.residual_input_tax, measured.limit
                ),
                &[cite::VAT_REGULATIONS_1995_REGULATION_107B, cite::VAT_REGULATIONS_1995_REGULATION_107E],
            )
        });
    }
}
