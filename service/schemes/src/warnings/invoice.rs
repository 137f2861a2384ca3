//! Warnings of an invoice.

use jiff::civil::Date;

use crate::answer::{Severity, Warning, WarningCode};
use crate::invoice::{InvoiceFigures, InvoiceLineField, InvoicePlace, InvoiceTreatment, Prices};
use crate::law::{Law, ParameterId, rule as cite};

use super::warning;

/// Warns of a rounding that prices with VAT do not bear, of two reduced rates at once, and of a tax point after the last check
/// of the law.
pub(super) fn warn(law: &Law, figures: &InvoiceFigures, prices: Prices, warnings: &mut Vec<Warning>) {
    law_not_checked(law, figures.date, warnings);
    if prices == Prices::Gross && !figures.rounding.is_open_to_retailers() {
        warnings.push(warning(
            WarningCode::RoundingDownOfGrossPrices,
            Severity::Attention,
            "The prices include VAT, so the customer pays the same however it is rounded. The concession to round down is for VAT worked out on \
             prices without it: with prices that include it, round to the nearest penny unless HMRC have agreed otherwise.",
            &[cite::NOTICE_700_SECTION_17, cite::VATREC12010, cite::VATREC12020],
        ));
    }
    two_reduced_rates(law, figures, warnings);
}

/// From 1 October 2021 to 31 March 2022 the reduced rate and the rate for hospitality differed.
fn two_reduced_rates(law: &Law, figures: &InvoiceFigures, warnings: &mut Vec<Warning>) {
    let rate = |parameter| law.percentage(parameter, figures.date).map(|number| number.value);
    let (Ok(reduced), Ok(hospitality)) = (rate(ParameterId::VatRateReduced), rate(ParameterId::VatRateHospitality))
    else {
        return;
    };
    let lines: Vec<String> = figures
        .lines
        .iter()
        .enumerate()
        .filter(|(_, line)| {
            matches!(line.treatment, InvoiceTreatment::ReducedRated | InvoiceTreatment::HospitalityRated)
        })
        .map(|(index, _)| InvoicePlace::Line(index, InvoiceLineField::Whole).to_string())
        .collect();
    if reduced != hospitality && !lines.is_empty() {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::TwoReducedRates,
                Severity::Attention,
                format!(
                    "On {} there were two reduced rates: {reduced}% and, for hospitality, holiday accommodation and attractions, {hospitality}%. Check \
                     that each line has the treatment that its supply had.",
                    figures.date
                ),
                &[cite::VATA_1994_SECTION_29A, cite::DECISION_HOSPITALITY_TREATMENT],
            )
        });
    }
}

fn law_not_checked(law: &Law, date: Date, warnings: &mut Vec<Warning>) {
    let checked_on = law.checked_on();
    if date > checked_on {
        warnings.push(Warning {
            measured: Some(date.to_string()),
            limit: Some(checked_on.to_string()),
            ..warning(
                WarningCode::LawNotCheckedForPeriod,
                Severity::Attention,
                format!(
                    "The tax point, {date}, is after the day on which the law was last checked, {checked_on}. The rates may have changed since: check \
                     them before relying on the answer."
                ),
                &[cite::VATA_1994_SECTION_2],
            )
        });
    }
}
