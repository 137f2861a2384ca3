//! What a calculation carries along: the law, the workings, and which numbers of the law it has used.

use std::fmt;

use jiff::civil::Date;

use crate::answer::{LawBehind, LawUsed, NumberKind};
use crate::law::{AuthorityId, InForce, Law, LawId, NotInForce, ParameterId};
use crate::money::{Money, Overflow, Percentage, Rounding, WholePounds};
use crate::refusal::{Place, Refusal, RefusalCode};
use crate::workings::{Formula, Operand, Rule, Step, Traced, Value, Workings};

/// A part of the answer, in which steps and figures have their names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Scope {
    Standard,
    StandardPartialExemption,
    FlatRate,
    FlatRatePart(usize),
    FlatRateEarlier(usize),
    FlatRatePartialExemption,
    GoodsTest,
    WhatWouldChange,
    Comparison,
    AfterTax,
    Common(usize),
    BadDebt(usize),
    ReliefRepaid(usize),
    UnpaidPurchase(usize),
    PurchasePaidLater(usize),
    PartialExemptionYear,
    PreRegistration,
    Leaving,
    Errors,
    FuelScaleCharge(usize),
    CashAccounting,
    CashLeaving,
    CashDebtor(usize),
    CashCreditor(usize),
    Category,
    CategoryShare(usize),
    Invoice,
    InvoiceLine(usize),
    InvoiceRate(usize),
    Payment,
    PaymentRate(usize),
    LimitMonth(usize),
    LimitCheck(usize),
    LimitDay(usize, usize),
    LimitOutlook(usize, usize),
    AnnualAccounting,
    ExemptionPeriod(usize),
    ExemptionPeriodCalculation(usize),
    ExemptionYear,
    ExemptionYearCalculation,
    MethodOverride,
}

impl fmt::Display for Scope {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Standard => f.write_str("standard"),
            Self::StandardPartialExemption => f.write_str("standard/partial_exemption"),
            Self::FlatRate => f.write_str("flat_rate"),
            Self::FlatRatePart(index) => write!(f, "flat_rate/parts/{index}"),
            Self::FlatRateEarlier(index) => write!(f, "flat_rate/earlier_supplies/{index}"),
            Self::BadDebt(index) => write!(f, "adjustments/bad_debts/{index}"),
            Self::ReliefRepaid(index) => write!(f, "adjustments/relief_repaid/{index}"),
            Self::UnpaidPurchase(index) => write!(f, "adjustments/unpaid_purchases/{index}"),
            Self::PurchasePaidLater(index) => write!(f, "adjustments/purchases_paid_later/{index}"),
            Self::PartialExemptionYear => f.write_str("adjustments/partial_exemption_year"),
            Self::PreRegistration => f.write_str("adjustments/pre_registration"),
            Self::Leaving => f.write_str("adjustments/leaving"),
            Self::Errors => f.write_str("adjustments/errors"),
            Self::FuelScaleCharge(index) => write!(f, "adjustments/fuel_scale_charges/{index}"),
            Self::CashAccounting => f.write_str("cash_accounting"),
            Self::CashLeaving => f.write_str("cash_accounting/leaving"),
            Self::CashDebtor(index) => write!(f, "cash_accounting/leaving/debtors/{index}"),
            Self::CashCreditor(index) => write!(f, "cash_accounting/leaving/creditors/{index}"),
            Self::AnnualAccounting => f.write_str("annual_accounting"),
            Self::Category => f.write_str("category"),
            Self::CategoryShare(index) => write!(f, "category/shares/{index}"),
            Self::Invoice => f.write_str("invoice"),
            Self::InvoiceLine(index) => write!(f, "invoice/lines/{index}"),
            Self::InvoiceRate(index) => write!(f, "invoice/by_rate/{index}"),
            Self::Payment => f.write_str("payment"),
            Self::PaymentRate(index) => write!(f, "payment/by_rate/{index}"),
            Self::LimitMonth(index) => write!(f, "limits/months/{index}"),
            Self::LimitCheck(index) => write!(f, "limits/checks/{index}"),
            Self::LimitDay(check, index) => write!(f, "limits/checks/{check}/days/{index}"),
            Self::LimitOutlook(check, index) => write!(f, "limits/checks/{check}/outlook/{index}"),
            Self::ExemptionPeriod(index) => write!(f, "periods/{index}"),
            Self::ExemptionPeriodCalculation(index) => write!(f, "periods/{index}/partial_exemption"),
            Self::ExemptionYear => f.write_str("annual"),
            Self::ExemptionYearCalculation => f.write_str("annual/partial_exemption"),
            Self::MethodOverride => f.write_str("standard_method_override"),
            Self::FlatRatePartialExemption => f.write_str("flat_rate/partial_exemption"),
            Self::GoodsTest => f.write_str("goods_test"),
            Self::WhatWouldChange => f.write_str("what_would_change"),
            Self::AfterTax => f.write_str("comparison/after_tax"),
            Self::Common(index) => write!(f, "comparison/common_to_both/{index}"),
            Self::Comparison => f.write_str("comparison"),
        }
    }
}

/// The name of a step, the rule it follows, and the figures of the answer that it gives.
#[derive(Clone, Copy)]
pub(crate) struct Name {
    pub scope: Scope,
    pub id: &'static str,
    pub label: &'static str,
    pub rule: &'static Rule,
    /// Paths within the scope.
    pub gives: &'static [&'static str],
}

impl Name {
    pub const fn new(scope: Scope, id: &'static str, label: &'static str, rule: &'static Rule) -> Self {
        Self { scope, id, label, rule, gives: &[] }
    }

    pub const fn gives(mut self, figures: &'static [&'static str]) -> Self {
        self.gives = figures;
        self
    }

    fn step(&self, formula: Formula, operands: Vec<Operand>, result: Value, rounding: Rounding) -> Step {
        let scope = self.scope;
        Step::new(format!("{scope}/{}", self.id), self.label, formula, operands, (result, rounding), self.rule)
            .gives(self.gives.iter().map(|figure| format!("/{scope}/{figure}")))
    }
}

/// One calculation under way.
pub(crate) struct Run<'law> {
    pub law: &'law Law,
    pub workings: Workings,
    pub used: Vec<LawUsed>,
}

impl From<NotInForce> for Refusal {
    fn from(missing: NotInForce) -> Self {
        Self::new(
            Place::PeriodStart,
            RefusalCode::DateOutsideLaw,
            format!("There is no answer for this period: {missing}."),
        )
    }
}

impl<'law> Run<'law> {
    pub fn new(law: &'law Law, workings: Workings) -> Self {
        Self { law, workings, used: Vec::with_capacity(12) }
    }

    /// Takes a number of the law into the calculation: it is listed once as used, and its step recorded once.
    pub fn number<T: Into<Value> + Copy>(&mut self, number: &InForce<'_, T>, label: &'static str) -> Traced<T> {
        let kind = match number.id {
            LawId::Parameter(_) => NumberKind::Parameter,
            LawId::Sector(_) => NumberKind::Sector,
            LawId::FuelScale(_) => NumberKind::FuelScale,
        };
        let id = number.id.as_str();
        let known = |used: &LawUsed| used.id == id && used.from == number.from && used.kind == kind;
        if !self.used.iter().any(known) {
            self.used.push(LawUsed {
                id: id.to_owned(),
                kind,
                value: number.value.into().to_string(),
                from: number.from,
                to: number.to,
                authority: number.authority.iter().map(AuthorityId::as_str).map(str::to_owned).collect(),
            });
        }
        self.workings.law(number, label)
    }

    /// The law that the answer rests on.
    pub fn law_behind(&mut self) -> LawBehind {
        LawBehind {
            edition: self.law.edition().to_owned(),
            checked_on: self.law.checked_on(),
            used: std::mem::take(&mut self.used),
        }
    }

    /// An amount of the law on a day.
    pub fn amount(&mut self, id: ParameterId, on: Date, label: &'static str) -> Result<Traced<Money>, Refusal> {
        let number = self.law.amount(id, on)?;
        Ok(self.number(&number, label))
    }

    /// A percentage of the law on a day.
    pub fn percentage(
        &mut self,
        id: ParameterId,
        on: Date,
        label: &'static str,
    ) -> Result<Traced<Percentage>, Refusal> {
        let number = self.law.percentage(id, on)?;
        Ok(self.number(&number, label))
    }

    /// The sum of some figures.
    pub fn total(&mut self, name: Name, figures: &[Traced<Money>]) -> Result<Traced<Money>, Overflow> {
        let sum = sum_of(figures)?;
        Ok(self.workings.trace(sum, |sum| {
            let operands = figures.iter().map(|figure| figure.operand()).collect();
            name.step(Formula::Total, operands, (*sum).into(), Rounding::None)
        }))
    }

    /// One figure less another.
    pub fn difference(
        &mut self,
        name: Name,
        from: Traced<Money>,
        less: Traced<Money>,
    ) -> Result<Traced<Money>, Overflow> {
        let value = from.value.minus(less.value)?;
        Ok(self.step(name, value, Rounding::None, "{} − {}", &[from.operand(), less.operand()]))
    }

    /// A figure that has been worked out from operands by the formula.
    pub fn step<T: Into<Value> + Copy>(
        &mut self,
        name: Name,
        result: T,
        rounding: Rounding,
        formula: &'static str,
        operands: &[Operand],
    ) -> Traced<T> {
        self.workings
            .trace(result, |result| name.step(Formula::Text(formula), operands.to_vec(), (*result).into(), rounding))
    }

    /// A figure made from operands by adding them up, or by adding up what a template makes of them.
    pub fn sum<T: Into<Value> + Copy>(
        &mut self,
        name: Name,
        (result, rounding): (T, Rounding),
        formula: Formula,
        operands: Vec<Operand>,
    ) -> Traced<T> {
        self.workings.trace(result, |result| name.step(formula, operands, (*result).into(), rounding))
    }

    /// A sum of figures that loses its pence.
    pub fn whole_pounds(&mut self, name: Name, figures: &[Traced<Money>]) -> Result<Traced<WholePounds>, Overflow> {
        let pounds = sum_of(figures)?.whole_pounds();
        Ok(self.workings.trace(pounds, |pounds| {
            let operands = figures.iter().map(|figure| figure.operand()).collect();
            name.step(Formula::Total, operands, (*pounds).into(), Rounding::PenceCutOff)
        }))
    }
}

/// The sum of some figures, without a step.
pub(crate) fn sum_of(figures: &[Traced<Money>]) -> Result<Money, Overflow> {
    figures.iter().try_fold(Money::ZERO, |sum, figure| sum.plus(figure.value))
}
