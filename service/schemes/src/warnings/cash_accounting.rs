//! Warnings about the cash accounting scheme of standard accounting.

use crate::answer::{LeavingTime, Severity, Warning, WarningCode};
use crate::figures::{Supply, Treatment, TurnoverMethod};
use crate::law::{ParameterId, rule as cite};
use crate::refusal::{CashField, CashLeavingField, Place};

use super::{Findings, purchase, sale, warning};

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    outside(findings, warnings);
    not_open(findings, warnings);
    must_leave(findings, warnings);
    left(findings, warnings);
}

/// Reverse charges, imports and acquisitions go by their own time, whenever they are paid.
fn outside(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    match findings.figures.business.turnover_method {
        TurnoverMethod::Cash => {}
        TurnoverMethod::Basic | TurnoverMethod::Retailer => return,
    }
    let sales = findings.lines.sales.iter().filter(|line| line.treatment == Treatment::DomesticReverseCharge);
    let purchases = findings.lines.purchases.iter().filter(|line| match line.supply {
        Supply::OverseasServicesReverseCharge
        | Supply::DomesticReverseCharge
        | Supply::PostponedImport
        | Supply::NorthernIrelandAcquisition => true,
        Supply::Ordinary => false,
    });
    let lines: Vec<_> = sales.map(|line| sale(line.index)).chain(purchases.map(|line| purchase(line.index))).collect();
    if !lines.is_empty() {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::SupplyOutsideCashAccounting,
                Severity::Attention,
                "Reverse charges, imports and acquisitions are outside cash accounting. Give them in the period of their tax point, not in that of their \
                 payment; the figures of these lines were used as given.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_58, cite::COMMON_PRACTICE],
            )
        });
    }
}

fn not_open(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    if findings.cash_accounting.is_some_and(|cash| cash.may_use == Some(false)) {
        warnings.push(warning(
            WarningCode::CashAccountingNotOpen,
            Severity::Attention,
            "A condition for joining the cash accounting scheme is not met: standard accounting on money received and paid is open only to a business that \
             is in the scheme already.",
            &[cite::VAT_REGULATIONS_1995_REGULATION_58, cite::VCAS2050],
        ));
    }
}

fn must_leave(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let Some(cash) = findings.cash_accounting else { return };
    if cash.must_leave != Some(true) {
        return;
    }
    let end = findings.period.end();
    let limit = findings.law.amount(ParameterId::CashAccountingLeave, end).ok();
    let past = findings.figures.cash_accounting.as_ref().and_then(|asked| asked.past_turnover);
    warnings.push(Warning {
        measured: past.map(|past| past.to_string()),
        limit: limit.map(|limit| limit.value.to_string()),
        act_by: Some(end),
        lines: vec![Place::CashAccounting(CashField::PastTurnover).to_string()],
        ..warning(
            WarningCode::CashAccountingMustLeave,
            Severity::Action,
            format!(
                "Taxable supplies of the past twelve months are above the limit of cash accounting: a business in it leaves at the end of the period, {end}, \
                 and accounts for what is outstanding. Give cash_accounting/leaving to see what that is."
            ),
            &[cite::VAT_REGULATIONS_1995_REGULATION_60, cite::VCAS6100],
        )
    });
}

/// What is outstanding falls due, and relief for bad debts is open, from the period of leaving on.
fn left(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let Some(leaving) = findings.cash_accounting.and_then(|cash| cash.leaving.as_ref()) else { return };
    let net = leaving.net_due;
    let when = match leaving.time {
        LeavingTime::AtOnce => "It is accounted for at once, on the return of the last period in the scheme.",
        LeavingTime::AtOnceOrWithinSixMonths => {
            "It is accounted for on the return of the last period in the scheme, or as it is paid within six months and the rest at their end."
        }
        LeavingTime::NotKnown => {
            "Whether six months are allowed depends on what is not known yet: answer the questions under cash_accounting/leaving."
        }
    };
    warnings.push(Warning {
        act_by: leaving.six_months_until,
        lines: vec![Place::CashLeaving(CashLeavingField::On).to_string()],
        ..warning(
            WarningCode::CashAccountingLeft,
            Severity::Attention,
            format!(
                "On leaving cash accounting VAT of £{net} net is outstanding. {when} Relief for debts among it that are written off and six months overdue \
                 may be claimed at once."
            ),
            &[
                cite::VAT_REGULATIONS_1995_REGULATION_61,
                cite::VAT_REGULATIONS_1995_REGULATION_64A,
                cite::VCAS6050,
                cite::VCAS6250,
                cite::VCAS6300,
            ],
        )
    });
}
