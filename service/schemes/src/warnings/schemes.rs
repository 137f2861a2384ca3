//! Warnings about what one scheme charges or loses and the other does not.

use crate::answer::{Severity, Warning, WarningCode};
use crate::figures::{Supply, Treatment};
use crate::flat_rate::{Standing, standing};
use crate::law::rule as cite;
use crate::money::{Money, Overflow};

use super::{Findings, purchase, sale, warning};

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    exempt_income(findings, warnings)?;
    partly_exempt(findings, warnings);
    vat_without_recovery(findings, warnings)
}

fn exempt_income(findings: &Findings<'_>, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    let mut exempt = Money::ZERO;
    let mut lines = Vec::new();
    for line in &findings.lines.sales {
        if line.treatment == Treatment::Exempt
            && standing(line) == Standing::Turnover
            && !line.amounts.gross.value.is_zero()
        {
            exempt = exempt.plus(line.amounts.gross.value)?;
            lines.push(sale(line.index));
        }
    }
    if !lines.is_empty() {
        warnings.push(Warning {
            measured: Some(exempt.to_string()),
            lines,
            ..warning(
                WarningCode::ExemptIncomeTaxed,
                Severity::Attention,
                format!(
                    "Exempt income of £{exempt} is in flat rate turnover, so the scheme charges its percentage on it; standard accounting charges nothing. \
                     Bank interest is left out of turnover: enter it as non_business."
                ),
                &[cite::VATA_1994_SECTION_26B, cite::FRS4400, cite::DECISION_EXEMPT_INCOME],
            )
        });
    }
    Ok(())
}

fn partly_exempt(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let Some(calculation) = &findings.standard.partial_exemption else { return };
    let passed = calculation.is_de_minimis();
    let by_annual_test = calculation.annual_test == Some(true);
    let message = if by_annual_test {
        format!(
            "Under standard accounting the business would be partly exempt. By the annual test all input tax of the period, £{}, is recovered for now, \
             as in every period of the year; the year's own tests decide.",
            calculation.recoverable
        )
    } else if passed {
        format!(
            "Under standard accounting the business would be partly exempt. A de minimis test is passed in the period, so all input tax, £{}, is \
             recovered for now; the year's test decides.",
            calculation.recoverable
        )
    } else {
        format!(
            "Under standard accounting the business would be partly exempt, and no de minimis test is passed in the period: only £{} of its input tax \
             is recovered. The year's adjustment may change that.",
            calculation.recoverable
        )
    };
    warnings.push(Warning {
        measured: calculation.exempt_input_tax.map(|tax| tax.to_string()),
        limit: Some(calculation.de_minimis_limit.to_string()),
        ..warning(
            WarningCode::StandardPartlyExempt,
            if passed || by_annual_test { Severity::Information } else { Severity::Attention },
            message,
            &[
                cite::VAT_REGULATIONS_1995_REGULATION_101,
                cite::VAT_REGULATIONS_1995_REGULATION_105A,
                cite::VAT_REGULATIONS_1995_REGULATION_106,
                cite::VAT_REGULATIONS_1995_REGULATION_106ZA,
                cite::VAT_REGULATIONS_1995_REGULATION_107,
                cite::NOTICE_706_SECTION_11,
            ],
        )
    });
}

fn vat_without_recovery(findings: &Findings<'_>, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    let mut lost = Money::ZERO;
    let mut lines = Vec::new();
    for line in &findings.lines.purchases {
        let accounted_for = match line.supply {
            Supply::PostponedImport | Supply::NorthernIrelandAcquisition => true,
            Supply::Ordinary | Supply::OverseasServicesReverseCharge | Supply::DomesticReverseCharge => false,
        };
        if let Some(vat) = line.amounts.vat
            && accounted_for
            && !vat.value.is_zero()
            && !findings.flat_rate.capital_goods.claims(line)
        {
            lost = lost.plus(vat.value)?;
            lines.push(purchase(line.index));
        }
    }
    if !lines.is_empty() {
        warnings.push(Warning {
            measured: Some(lost.to_string()),
            lines,
            ..warning(
                WarningCode::VatWithoutRecovery,
                Severity::Attention,
                format!(
                    "Under the Flat Rate Scheme VAT of £{lost} on imports and acquisitions is accounted for and not recovered, on top of the percentage of \
                     turnover."
                ),
                &[
                    cite::BRIEF_2022_3,
                    cite::VATA_1994_SECTION_26B,
                    cite::VAT_REGULATIONS_1995_REGULATION_39,
                    cite::DECISION_POSTPONED_IMPORTS,
                ],
            )
        });
    }
    Ok(())
}
