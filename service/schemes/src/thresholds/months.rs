//! Months in order, and what of each counts towards which limit.

use jiff::civil::Date;

use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Rounding};
use crate::refusal::{MonthField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::answer::MonthCounted;
use super::dates::month_number;
use super::figures::{Basis, Month};

static TAXABLE: Rule = Rule {
    says: "Taxable supplies without VAT at every rate, also those for which the customer accounts for the VAT; exempt and other income, \
           capital assets and services bought from abroad are left out.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55L, cite::DECISION_ACCOUNTING_SCHEME_TURNOVER],
};
static REGISTRATION: Rule = Rule {
    says: "For registration, services bought from abroad, purchases under a domestic reverse charge other than of construction services, own \
           building work and land sold at a rate other than nought count too; other capital assets do not.",
    authority: &[cite::VATA_1994_SCHEDULE_1_PARAGRAPH_1, cite::VATREG02300, cite::VATREG02600, cite::VATREVCON34000],
};
static VAT: Rule = Rule {
    says: "VAT on the month's sales, worked out at the rates in force at its end where it is not given.",
    authority: &[cite::VATA_1994_SECTION_2, cite::VATA_1994_SECTION_29A, cite::DECISION_COMPLETING_A_LINE],
};
static INCOME: Rule = Rule {
    says: "All income with VAT: exempt income and business supplies outside the scope count, capital assets and what is no business do not.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55M, cite::FRS4400],
};

/// What is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    /// What counts for registration and its end.
    Registration,
    /// Taxable supplies.
    Taxable,
    /// Income with VAT.
    Income,
}

/// A month as it counts, traced.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted {
    pub first: Date,
    pub basis: Basis,
    registration: Traced<Money>,
    taxable: Traced<Money>,
    income: Traced<Money>,
}

impl Counted {
    pub fn end(&self) -> Date {
        self.first.last_of_month()
    }

    pub fn of(&self, measure: Measure) -> Traced<Money> {
        match measure {
            Measure::Registration => self.registration,
            Measure::Taxable => self.taxable,
            Measure::Income => self.income,
        }
    }
}

/// Months one after another.
#[derive(Debug, Clone, Default)]
pub(super) struct Months {
    pub list: Vec<Counted>,
    /// Whether there was no business before the first of them, so that fewer than twelve make the whole past.
    pub whole_past: bool,
}

impl Months {
    /// Checks the months and counts each.
    pub fn of(
        run: &mut Run<'_>,
        given: &[Month],
        as_of: Date,
        trading_from: Option<Date>,
    ) -> Result<Self, Vec<Refusal>> {
        check(run, given, as_of)?;
        let list: Result<Vec<Counted>, Refusal> =
            given.iter().enumerate().map(|(index, month)| count(run, index, month, as_of)).collect();
        let whole_past = match (given.first(), trading_from) {
            (Some(first), Some(began)) => first.first <= began,
            _ => false,
        };
        Ok(Self { list: list.map_err(|refusal| vec![refusal])?, whole_past })
    }

    /// The position of the month of a day, counted from the first month on; beyond the last there is none at it.
    pub fn position(&self, day: Date) -> Option<usize> {
        let first = self.list.first()?;
        usize::try_from(month_number(day) - month_number(first.first)).ok()
    }

    /// The twelve months that end with the one at a position, or the whole past where it is shorter.
    pub fn year_to(&self, position: usize) -> Option<&[Counted]> {
        let start = match (position + 1).checked_sub(12) {
            Some(start) => start,
            None if self.whole_past => 0,
            None => return None,
        };
        self.list.get(start..=position)
    }

    /// The twelve months that begin after a day.
    pub fn year_after(&self, day: Date) -> Option<&[Counted]> {
        let start = self.list.iter().position(|month| month.first > day)?;
        // Later months only stand for the year where nothing lies between.
        let begins_next = month_number(self.list.get(start)?.first) == month_number(day) + 1;
        if begins_next { self.list.get(start..start + 12) } else { None }
    }

    /// The last month that is actual, with all before it.
    pub fn last_actual(&self) -> Option<usize> {
        self.list.iter().take_while(|month| month.basis == Basis::Actual).count().checked_sub(1)
    }

    pub fn answer(&self) -> Vec<MonthCounted> {
        self.list
            .iter()
            .map(|month| MonthCounted {
                first: month.first,
                basis: month.basis,
                taxable_supplies: month.taxable.value,
                registration_supplies: month.registration.value,
                total_income: month.income.value,
            })
            .collect()
    }
}

fn check(run: &Run<'_>, given: &[Month], as_of: Date) -> Result<(), Vec<Refusal>> {
    let earliest = run.law.date(ParameterId::EarliestPeriodStart).map_err(|missing| vec![missing.into()])?.value;
    let mut refusals = Vec::new();
    for (index, month) in given.iter().enumerate() {
        if month_number(month.first) < month_number(earliest) {
            refusals.push(Refusal::new(
                Place::Month(index, MonthField::Month),
                RefusalCode::DateOutsideLaw,
                format!("The tables of law begin in {}: leave earlier months out.", month_name(earliest)),
            ));
        }
        if month.basis == Some(Basis::Actual) && month.first > as_of {
            refusals.push(Refusal::new(
                Place::Month(index, MonthField::Basis),
                RefusalCode::ActualMonthInFuture,
                format!(
                    "{} begins after {as_of}, the day from which past and future are seen, so its figures cannot be actual: call them a forecast, \
                     or correct as_of.",
                    month_name(month.first)
                ),
            ));
        }
    }
    for (index, pair) in given.windows(2).enumerate() {
        if let [one, other] = pair
            && month_number(other.first) != month_number(one.first) + 1
        {
            refusals.push(Refusal::new(
                Place::Month(index + 1, MonthField::Month),
                RefusalCode::MonthsOutOfOrder,
                format!(
                    "{} does not follow on {}: give each month once, in order and without a gap; a month without business is one with no figures.",
                    month_name(other.first), month_name(one.first)
                ),
            ));
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

/// A month as the wire writes it: `2025-04`.
pub(super) fn month_name(day: Date) -> String {
    format!("{:04}-{:02}", day.year(), day.month())
}

fn count(run: &mut Run<'_>, index: usize, month: &Month, as_of: Date) -> Result<Counted, Refusal> {
    let end = month.first.last_of_month();
    let basis = month.basis.unwrap_or(if end <= as_of { Basis::Actual } else { Basis::Forecast });
    let amounts = &month.amounts;
    let given = |amount: Option<Money>, field| amount.map(|amount| Traced::given(amount, Place::Month(index, field)));
    let scope = Scope::LimitMonth(index);
    let together =
        |figures: &[Option<Traced<Money>>]| -> Vec<Traced<Money>> { figures.iter().copied().flatten().collect() };
    let standard = given(amounts.standard_rated, MonthField::StandardRated);
    let reduced = given(amounts.reduced_rated, MonthField::ReducedRated);
    let taxable = run.total(
        Name::new(scope, "taxable_supplies", "Taxable supplies of the month", &TAXABLE).gives(&["taxable_supplies"]),
        &together(&[
            standard,
            reduced,
            given(amounts.zero_rated, MonthField::ZeroRated),
            given(amounts.domestic_reverse_charge_made, MonthField::DomesticReverseChargeMade),
        ]),
    )?;
    let registration = run.total(
        Name::new(scope, "registration_supplies", "What counts for registration in the month", &REGISTRATION)
            .gives(&["registration_supplies"]),
        &together(&[
            Some(taxable),
            given(amounts.taxable_capital_land, MonthField::TaxableCapitalLand),
            given(amounts.own_building_work, MonthField::OwnBuildingWork),
            given(amounts.overseas_services_received, MonthField::OverseasServicesReceived),
            given(amounts.other_domestic_reverse_charge_received, MonthField::OtherDomesticReverseChargeReceived),
        ]),
    )?;
    let vat = match given(amounts.vat_on_sales, MonthField::VatOnSales) {
        Some(vat) => Some(vat),
        None => vat_at_rates(run, scope, standard, reduced, end)?,
    };
    let income = run.total(
        Name::new(scope, "total_income", "Income of the month with VAT", &INCOME).gives(&["total_income"]),
        &together(&[
            Some(taxable),
            given(amounts.exempt, MonthField::Exempt),
            given(amounts.outside_scope, MonthField::OutsideScope),
            vat,
        ]),
    )?;
    Ok(Counted { first: month.first, basis, registration, taxable, income })
}

fn vat_at_rates(
    run: &mut Run<'_>,
    scope: Scope,
    standard: Option<Traced<Money>>,
    reduced: Option<Traced<Money>>,
    on: Date,
) -> Result<Option<Traced<Money>>, Refusal> {
    let name = Name::new(scope, "vat", "VAT on the month's sales", &VAT);
    let rate = |run: &mut Run<'_>, id, label| run.percentage(id, on, label);
    Ok(Some(match (standard, reduced) {
        (None, None) => return Ok(None),
        (Some(net), None) => {
            let rate = rate(run, ParameterId::VatRateStandard, "Standard rate of VAT")?;
            let vat = net.value.share(rate.value)?.to_money(Rounding::NearestPenny)?;
            run.step(name, vat, Rounding::NearestPenny, "{} × {} ÷ 100", &[net.operand(), rate.operand()])
        }
        (None, Some(net)) => {
            let rate = rate(run, ParameterId::VatRateReduced, "Reduced rate of VAT")?;
            let vat = net.value.share(rate.value)?.to_money(Rounding::NearestPenny)?;
            run.step(name, vat, Rounding::NearestPenny, "{} × {} ÷ 100", &[net.operand(), rate.operand()])
        }
        (Some(full), Some(lower)) => {
            let standard_rate = rate(run, ParameterId::VatRateStandard, "Standard rate of VAT")?;
            let reduced_rate = rate(run, ParameterId::VatRateReduced, "Reduced rate of VAT")?;
            let reduced_vat = lower.value.negated().share(reduced_rate.value)?;
            let vat = full.value.share(standard_rate.value)?.minus(reduced_vat)?.to_money(Rounding::NearestPenny)?;
            run.step(
                name,
                vat,
                Rounding::NearestPenny,
                "({} × {} + {} × {}) ÷ 100",
                &[full.operand(), standard_rate.operand(), lower.operand(), reduced_rate.operand()],
            )
        }
    }))
}
