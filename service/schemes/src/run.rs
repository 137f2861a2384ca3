//! What a calculation carries along: the law, the workings, and which numbers of the law it has used.

use jiff::civil::Date;

use crate::answer::{LawBehind, LawUsed, NumberKind};
use crate::law::{AuthorityId, InForce, Law, LawId, NotInForce, ParameterId};
use crate::money::{Money, Overflow, Percentage, Rounding, WholePounds};
use crate::refusal::{Place, Refusal, RefusalCode};
use crate::workings::{Formula, Operand, Rule, Source, Step, Traced, Value, Workings};

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

impl Scope {
    /// Puts its name to the end of a text. Every step has a name, so the way is short: nothing is formatted but positions.
    fn push_to(self, text: &mut String) {
        let push = |text: &mut String, before: &str, position: usize, after: &str| {
            text.push_str(before);
            push_position(text, position);
            text.push_str(after);
        };
        match self {
            Self::Standard => text.push_str("standard"),
            Self::StandardPartialExemption => text.push_str("standard/partial_exemption"),
            Self::FlatRate => text.push_str("flat_rate"),
            Self::FlatRatePart(index) => push(text, "flat_rate/parts/", index, ""),
            Self::FlatRateEarlier(index) => push(text, "flat_rate/earlier_supplies/", index, ""),
            Self::BadDebt(index) => push(text, "adjustments/bad_debts/", index, ""),
            Self::ReliefRepaid(index) => push(text, "adjustments/relief_repaid/", index, ""),
            Self::UnpaidPurchase(index) => push(text, "adjustments/unpaid_purchases/", index, ""),
            Self::PurchasePaidLater(index) => push(text, "adjustments/purchases_paid_later/", index, ""),
            Self::PartialExemptionYear => text.push_str("adjustments/partial_exemption_year"),
            Self::PreRegistration => text.push_str("adjustments/pre_registration"),
            Self::Leaving => text.push_str("adjustments/leaving"),
            Self::Errors => text.push_str("adjustments/errors"),
            Self::FuelScaleCharge(index) => push(text, "adjustments/fuel_scale_charges/", index, ""),
            Self::CashAccounting => text.push_str("cash_accounting"),
            Self::CashLeaving => text.push_str("cash_accounting/leaving"),
            Self::CashDebtor(index) => push(text, "cash_accounting/leaving/debtors/", index, ""),
            Self::CashCreditor(index) => push(text, "cash_accounting/leaving/creditors/", index, ""),
            Self::AnnualAccounting => text.push_str("annual_accounting"),
            Self::Category => text.push_str("category"),
            Self::CategoryShare(index) => push(text, "category/shares/", index, ""),
            Self::Invoice => text.push_str("invoice"),
            Self::InvoiceLine(index) => push(text, "invoice/lines/", index, ""),
            Self::InvoiceRate(index) => push(text, "invoice/by_rate/", index, ""),
            Self::Payment => text.push_str("payment"),
            Self::PaymentRate(index) => push(text, "payment/by_rate/", index, ""),
            Self::LimitMonth(index) => push(text, "limits/months/", index, ""),
            Self::LimitCheck(index) => push(text, "limits/checks/", index, ""),
            Self::LimitDay(check, index) => {
                push(text, "limits/checks/", check, "/days/");
                push(text, "", index, "");
            }
            Self::LimitOutlook(check, index) => {
                push(text, "limits/checks/", check, "/outlook/");
                push(text, "", index, "");
            }
            Self::ExemptionPeriod(index) => push(text, "periods/", index, ""),
            Self::ExemptionPeriodCalculation(index) => push(text, "periods/", index, "/partial_exemption"),
            Self::ExemptionYear => text.push_str("annual"),
            Self::ExemptionYearCalculation => text.push_str("annual/partial_exemption"),
            Self::MethodOverride => text.push_str("standard_method_override"),
            Self::FlatRatePartialExemption => text.push_str("flat_rate/partial_exemption"),
            Self::GoodsTest => text.push_str("goods_test"),
            Self::WhatWouldChange => text.push_str("what_would_change"),
            Self::AfterTax => text.push_str("comparison/after_tax"),
            Self::Common(index) => push(text, "comparison/common_to_both/", index, ""),
            Self::Comparison => text.push_str("comparison"),
        }
    }

    /// The name of something in it.
    pub fn named(self, before: &str, name: &str) -> String {
        let mut text = String::with_capacity(64);
        text.push_str(before);
        self.push_to(&mut text);
        text.push('/');
        text.push_str(name);
        text
    }
}

/// Puts a position to the end of a text; most have one digit.
fn push_position(text: &mut String, position: usize) {
    if position >= 10 {
        push_position(text, position / 10);
    }
    text.push(char::from(b'0' + (position % 10) as u8));
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
        Step::new(scope.named("", self.id), self.label, formula, operands, (result, rounding), self.rule)
            .gives(self.gives.iter().map(|figure| scope.named("/", figure)))
    }
}

/// One calculation under way.
pub(crate) struct Run<'law> {
    pub law: &'law Law,
    pub workings: Workings,
    pub used: Vec<LawUsed>,
    /// Where the value of each of them stands in the workings.
    sources: Vec<Source>,
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
        Self { law, workings, used: Vec::with_capacity(12), sources: Vec::with_capacity(12) }
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
        if let Some(position) = self.used.iter().position(known)
            && let Some(source) = self.sources.get(position)
        {
            return Traced { value: number.value, source: *source };
        }
        let traced = self.workings.law(number, label);
        self.sources.push(traced.source);
        self.used.push(LawUsed {
            id: id.to_owned(),
            kind,
            value: number.value.into().shown().as_ref().to_owned(),
            from: number.from,
            to: number.to,
            authority: number.authority.iter().map(AuthorityId::as_str).collect(),
        });
        traced
    }

    /// The law that the answer rests on.
    pub fn law_behind(&mut self) -> LawBehind {
        self.sources.clear();
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_positions_are_their_digits() {
        for position in [0, 1, 9, 10, 11, 99, 100, 101, 1_234] {
            assert_eq!(Scope::BadDebt(position).named("/", "vat"), format!("/adjustments/bad_debts/{position}/vat"));
        }
        assert_eq!(Scope::LimitDay(1, 23).named("", "test"), "limits/checks/1/days/23/test");
        assert_eq!(Scope::ExemptionPeriodCalculation(3).named("", "x"), "periods/3/partial_exemption/x");
    }
}
