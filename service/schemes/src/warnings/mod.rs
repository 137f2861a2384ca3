//! What the reader of an answer should know or do: limits passed or close, dates ahead, and what the figures leave open.

mod adjustments;
mod cash_accounting;
mod category;
mod evidence;
mod fuel_scale_charges;
mod goods;
mod invoice;
mod limits;
mod lines;
mod partial_exemption_year;
mod percentage;
mod schemes;

use crate::answer::{
    AdjustmentsAnswer, CashAccountingAnswer, CategoryChoice, Severity, StandardAccounting, Warning, WarningCode,
};
use crate::figures::Figures;
use crate::flat_rate::{Accounted, Categories, Scheme, Tested};
use crate::invoice::{InvoiceFigures, Prices};
use crate::law::Law;
use crate::lines::{Lines, PurchaseLine};
use crate::money::{Money, Overflow};
use crate::partial_exemption_year::answer::YearAnswer;
use crate::partial_exemption_year::figures::YearFigures;
use crate::period::Period;
use crate::refusal::{LineField, Place};
use crate::spend;
use crate::thresholds::Limits;

/// All that was found out, for warnings and cautions to look at.
pub(crate) struct Findings<'a> {
    pub law: &'a Law,
    pub figures: &'a Figures,
    pub period: Period,
    pub categories: &'a Categories<'a>,
    pub scheme: &'a Scheme,
    pub lines: &'a Lines,
    pub standard: &'a StandardAccounting,
    pub flat_rate: &'a Accounted<'a>,
    pub adjustments: &'a AdjustmentsAnswer,
    pub cash_accounting: Option<&'a CashAccountingAnswer>,
    pub category: Option<&'a CategoryChoice>,
    pub limits: Option<&'a Limits>,
}

impl Findings<'_> {
    /// Whether the schemes differ by no more than £50 in the period: this service's own measure of "little".
    pub fn comparison_is_close(&self) -> bool {
        let little = Money::from_pence(50_00).unwrap_or(Money::ZERO);
        self.flat_rate
            .answer
            .vat_payable
            .minus(self.standard.vat_payable)
            .is_ok_and(|difference| difference.magnitude() <= little)
    }

    /// Whether any capital goods were bought.
    pub fn has_capital_goods(&self) -> bool {
        self.lines.purchases.iter().any(|line| spend::may_give_claim(line.spend))
    }
}

/// All warnings, those that ask most first.
pub(crate) fn all(findings: &Findings<'_>) -> Result<Vec<Warning>, Overflow> {
    let mut warnings = Vec::new();
    if let Some(tested) = &findings.flat_rate.tested {
        goods::warn(tested, findings.categories, &findings.lines.purchases, &mut warnings)?;
    }
    percentage::warn(findings, &mut warnings);
    category::warn(findings, &mut warnings);
    lines::warn(findings, &mut warnings)?;
    evidence::warn(findings, &mut warnings);
    schemes::warn(findings, &mut warnings)?;
    adjustments::warn(findings, &mut warnings)?;
    fuel_scale_charges::warn(findings, &mut warnings)?;
    cash_accounting::warn(findings, &mut warnings);
    limits::warn(findings, &mut warnings);
    Ok(in_order(warnings))
}

/// The warnings of a goods test alone.
pub(crate) fn of_goods_test(
    law: &Law,
    period: Period,
    tested: &Tested,
    categories: &Categories<'_>,
    purchases: &[PurchaseLine],
) -> Result<Vec<Warning>, Overflow> {
    let mut warnings = Vec::new();
    goods::warn(tested, categories, purchases, &mut warnings)?;
    percentage::law_not_checked(law, period, &mut warnings);
    Ok(in_order(warnings))
}

/// The warnings of an invoice.
pub(crate) fn of_invoice(law: &Law, figures: &InvoiceFigures, prices: Prices) -> Vec<Warning> {
    let mut warnings = Vec::new();
    invoice::warn(law, figures, prices, &mut warnings);
    in_order(warnings)
}

/// The warnings of a partial exemption year.
pub(crate) fn of_exemption_year(
    law: &Law,
    figures: &YearFigures,
    answer: &YearAnswer,
) -> Result<Vec<Warning>, Overflow> {
    let mut warnings = Vec::new();
    partial_exemption_year::warn(figures, answer, &mut warnings)?;
    percentage::law_not_checked(law, answer.year, &mut warnings);
    Ok(in_order(warnings))
}

/// Those that ask most first; otherwise as they were found.
fn in_order(mut warnings: Vec<Warning>) -> Vec<Warning> {
    warnings.sort_by_key(|warning| match warning.severity {
        Severity::Action => 0,
        Severity::Attention => 1,
        Severity::Information => 2,
    });
    warnings
}

fn warning(
    code: WarningCode,
    severity: Severity,
    message: impl Into<String>,
    authority: &'static [&'static str],
) -> Warning {
    Warning {
        code,
        severity,
        message: message.into(),
        measured: None,
        limit: None,
        act_by: None,
        lines: Vec::new(),
        authority,
    }
}

fn sale(index: usize) -> String {
    Place::Sale(index, LineField::Whole).to_string()
}

fn purchase(index: usize) -> String {
    Place::Purchase(index, LineField::Whole).to_string()
}
