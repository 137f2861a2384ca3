//! Warnings about the evidence on which input tax is claimed (VAT Regulations 1995 reg 29; VIT31000).

use crate::answer::{Severity, Warning, WarningCode};
use crate::figures::Evidence;
use crate::law::{ParameterId, rule as cite};
use crate::lines::PurchaseLine;
use crate::spend::{self, Recovery};

use super::{Findings, purchase, warning};

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    not_held(findings, warnings);
    for line in findings.lines.purchases.iter().filter(|line| may_be_claimed(line)) {
        match line.evidence {
            Evidence::VatInvoice | Evidence::NotHeld => {}
            Evidence::LessDetailedInvoice => above_limit(
                findings,
                line,
                ParameterId::LessDetailedInvoice,
                "A less detailed invoice is enough for one supply of at most",
                &[cite::VAT_REGULATIONS_1995_REGULATION_29, cite::VIT31000],
                warnings,
            ),
            Evidence::NoneNeeded => above_limit(
                findings,
                line,
                ParameterId::InputTaxWithoutInvoice,
                "No invoice is asked for one payment at a toll, a coin machine or a car park of at most",
                &[cite::VAT_REGULATIONS_1995_REGULATION_29, cite::COMMON_PRACTICE],
                warnings,
            ),
        }
    }
}

/// Whether the line bears VAT that some business might recover on evidence.
fn may_be_claimed(line: &PurchaseLine) -> bool {
    let recovers = match spend::rules(line.spend).recovery.finding {
        Recovery::All | Recovery::Half => true,
        Recovery::None => false,
    };
    recovers && !line.vat_blocked && line.amounts.vat.is_some_and(|vat| !vat.value.is_zero())
}

/// A line above the limit may be several supplies, each within it.
fn above_limit(
    findings: &Findings<'_>,
    line: &PurchaseLine,
    limit: ParameterId,
    says: &str,
    authority: &'static [&'static str],
    warnings: &mut Vec<Warning>,
) {
    let gross = line.amounts.gross.value;
    let Ok(limit) = findings.law.amount(limit, findings.period.start()) else { return };
    if gross.magnitude() > limit.value {
        warnings.push(Warning {
            measured: Some(gross.to_string()),
            limit: Some(limit.value.to_string()),
            lines: vec![purchase(line.index)],
            ..warning(
                WarningCode::InputTaxEvidence,
                Severity::Attention,
                format!(
                    "{says} £{} with VAT, and this line comes to £{gross}. Its VAT is in the figures; check that no single supply in it is above the limit, \
                     and get a VAT invoice for one that is.",
                    limit.value
                ),
                authority,
            )
        });
    }
}

/// Input tax belongs to the first period in which its evidence is held (VAT Regulations 1995 reg 29(1), (1A)).
fn not_held(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let lines: Vec<_> = findings
        .lines
        .purchases
        .iter()
        .filter(|line| !line.has_evidence() && may_be_claimed(line))
        .map(|line| purchase(line.index))
        .collect();
    if !lines.is_empty()
        && let Ok(months) = findings.law.months(ParameterId::InputTaxClaimMonths, findings.period.start())
    {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::InputTaxEvidence,
                Severity::Action,
                format!(
                    "No VAT invoice is held for these purchases, so their VAT is not input tax of this period and is left out of both schemes. Get the \
                     invoices: the VAT may be claimed in the first period in which they are held, no later than {} months after the due date of the return of the period in which it fell due. \
                     HMRC may accept other evidence.",
                    months.value
                ),
                &[cite::VAT_REGULATIONS_1995_REGULATION_29, cite::VRM8300, cite::VIT31000, cite::VIT31200],
            )
        });
    }
}
