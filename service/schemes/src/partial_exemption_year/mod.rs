//! A partial exemption year: each period's provisional recovery, the year's own calculation, and the annual adjustment (VAT
//! Regulations 1995 regs 99 and 107).

pub mod answer;
mod check;
pub mod figures;
mod method_override;

pub(crate) use check::is_whole;

use crate::answer::{DeMinimis, PartialExemption};
use crate::cautions;
use crate::law::{Law, rule as cite};
use crate::money::{Money, Rounding};
use crate::period::{Period, next_day};
use crate::refusal::{ExemptionTotal, ExemptionYearField, Place, Refusal, Refusals};
use crate::run::{Name, Run, Scope};
use crate::standard::{Attributed, OfTheYear, Totals, calculate};
use crate::warnings;
use crate::workings::{Rule, Traced, Workings};

use answer::{AdjustmentReturn, Annual, PeriodInYear, ReturnForAdjustment, YearAnswer};
use check::check;
use figures::{ExemptionTotals, YearEndsBy, YearFigures};

static CLAIMED: Rule = Rule {
    says: "What was claimed in a period is what its calculation gives, unless the request says otherwise; the year's claims are their sum.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_107],
};
static ENTITLEMENT: Rule = Rule {
    says: "At the end of the longer period input tax is attributed on the year's figures, with a percentage of their own, and the tests are made \
           for the year, which decides.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_99,
        cite::VAT_REGULATIONS_1995_REGULATION_107,
        cite::DECISION_PARTIAL_EXEMPTION_LONGER_PERIOD,
    ],
};
static ADJUSTMENT: Rule = Rule {
    says: "The annual adjustment is the year's entitlement less what was claimed in its periods: to claim, or with a minus sign to repay.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_107, cite::VAT_REGULATIONS_1995_REGULATION_107B, cite::PE37600],
};

/// Works out a partial exemption year from the totals of its periods (VAT Regulations 1995 regs 99, 101, 105A, 106, 106ZA, 107).
///
/// ```
/// use jiff::civil::date;
/// use vat_schemes::figures::{Dates, PartialExemptionGiven};
/// use vat_schemes::law::Law;
/// use vat_schemes::partial_exemption_year::figures::{ExemptionTotals, YearEndsBy, YearFigures, YearPeriod};
/// use vat_schemes::workings::Workings;
///
/// let law = Law::built_in().expect("the built-in tables are sound");
/// let money = |text: &str| text.parse().expect("an amount");
/// let year = Dates { start: date(2025, 4, 1), end: date(2026, 3, 31) };
/// let figures = YearFigures {
///     year,
///     ends_by: YearEndsBy::TaxYear,
///     of_the_year: PartialExemptionGiven::default(),
///     periods: vec![YearPeriod {
///         period: year,
///         totals: ExemptionTotals {
///             taxable_supplies: money("90000.00"),
///             exempt_supplies: money("10000.00"),
///             input_tax_taxable: money("5000.00"),
///             input_tax_exempt: money("1000.00"),
///             input_tax_both: money("2000.00"),
///         },
///         claimed: Some(money("7000.00")),
///     }],
///     attributed_afresh: None,
/// };
/// let answer = vat_schemes::partial_exemption_year(&law, &figures, Workings::kept()).expect("an answer");
/// // 1,000 pounds and a tenth of 2,000 belong to exempt supplies, within the de minimis limits: all 8,000 pounds are recovered.
/// assert_eq!(answer.annual.entitlement.to_string(), "8000.00");
/// assert_eq!(answer.annual.adjustment.to_string(), "1000.00");
/// ```
///
/// # Errors
/// [`Refusals`] where the periods do not make up a year of twelve months at most, or where residual input tax cannot be shared
/// because supplies give no fraction.
pub fn partial_exemption_year(law: &Law, figures: &YearFigures, workings: Workings) -> Result<YearAnswer, Refusals> {
    let checked = check(law, figures).map_err(Refusals)?;
    let mut run = Run::new(law, workings);
    let (periods, of_periods) = work_out_periods(&mut run, figures, &checked.periods)?;
    let (annual, residual) = work_out_year(&mut run, figures, checked.year, (&periods, &of_periods))?;
    let standard_method_override = method_override::measure(&mut run, residual, checked.year)?;
    let mut answer = YearAnswer {
        year: checked.year,
        periods,
        annual,
        standard_method_override,
        warnings: Vec::new(),
        workings: Vec::new(),
        cautions: Vec::new(),
        law: run.law_behind(),
    };
    answer.warnings = warnings::of_exemption_year(law, figures, &answer)?;
    answer.cautions = cautions::of_exemption_year(law, &answer);
    answer.workings = run.workings.into_steps();
    Ok(answer)
}

/// The totals of a period and what was claimed in it, traced.
struct OfPeriod {
    totals: Totals,
    claimed: Traced<Money>,
}

/// Every period's provisional calculation. Each may have its own reason to be refused; the caller hears of all.
fn work_out_periods(
    run: &mut Run<'_>,
    figures: &YearFigures,
    days: &[Period],
) -> Result<(Vec<PeriodInYear>, Vec<OfPeriod>), Refusals> {
    let of_the_year =
        OfTheYear::given(&figures.of_the_year, |field| Place::ExemptionYear(ExemptionYearField::OfTheYear(field)));
    let mut refusals = Vec::new();
    let (mut answers, mut traced) = (Vec::with_capacity(days.len()), Vec::with_capacity(days.len()));
    for (index, (given, days)) in figures.periods.iter().zip(days).enumerate() {
        let place = |total| ExemptionYearField::PeriodTotal(index, total);
        let totals = Totals::of(run, Scope::ExemptionPeriodCalculation(index), &given_totals(&given.totals, place))?;
        let scope = Scope::ExemptionPeriodCalculation(index);
        let at = Place::ExemptionYear(ExemptionYearField::Period(index));
        match calculate(run, scope, &totals, (*days, at), &of_the_year) {
            Ok((recoverable, partial_exemption)) => {
                let claimed = match given.claimed {
                    Some(claimed) => Traced::given(claimed, Place::ExemptionYear(ExemptionYearField::Claimed(index))),
                    None => recoverable,
                };
                let name = Name::new(Scope::ExemptionPeriod(index), "claimed", "Claimed in the period", &CLAIMED)
                    .gives(&["claimed"]);
                let claimed = run.total(name, &[claimed])?;
                answers.push(PeriodInYear { days: *days, partial_exemption, claimed: claimed.value });
                traced.push(OfPeriod { totals, claimed });
            }
            Err(refusal) => refusals.push(refusal),
        }
    }
    if refusals.is_empty() { Ok((answers, traced)) } else { Err(Refusals(refusals)) }
}

/// The year's own calculation and the adjustment, with its residual input tax.
fn work_out_year(
    run: &mut Run<'_>,
    figures: &YearFigures,
    year: Period,
    (periods, of_periods): (&[PeriodInYear], &[OfPeriod]),
) -> Result<(Annual, Traced<Money>), Refusal> {
    let (attributed, at) = match &figures.attributed_afresh {
        Some(afresh) => {
            (given_totals(afresh, ExemptionYearField::AttributedAfreshTotal), ExemptionYearField::AttributedAfresh)
        }
        None => (sum_of_periods(of_periods), ExemptionYearField::Periods),
    };
    let scope = Scope::ExemptionYearCalculation;
    let totals = Totals::of(run, scope, &attributed)?;
    let place = Place::ExemptionYear(at);
    let (recoverable, partial_exemption) = calculate(run, scope, &totals, (year, place), &OfTheYear::default())?;
    let name = |id, label, rule| Name::new(Scope::ExemptionYear, id, label, rule);
    let claims: Vec<_> = of_periods.iter().map(|period| period.claimed).collect();
    let claimed =
        run.total(name("claimed", "Claimed in the periods of the year", &CLAIMED).gives(&["claimed"]), &claims)?;
    let entitlement = run
        .total(name("entitlement", "Recoverable for the year", &ENTITLEMENT).gives(&["entitlement"]), &[recoverable])?;
    let adjustment = run.step(
        name("adjustment", "Annual adjustment", &ADJUSTMENT).gives(&["adjustment"]),
        entitlement.value.minus(claimed.value)?,
        Rounding::None,
        "{} − {}",
        &[entitlement.operand(), claimed.operand()],
    );
    let annual = Annual {
        outcome: outcome(&partial_exemption),
        what_to_do: what_to_do(adjustment.value, figures.ends_by),
        returns: returns(figures.ends_by, year, periods.last().map(|period| period.days)),
        partial_exemption,
        claimed: claimed.value,
        entitlement: entitlement.value,
        adjustment: adjustment.value,
    };
    Ok((annual, totals.input_tax_both))
}

/// Five given totals, each at its place.
fn given_totals(given: &ExemptionTotals, place: impl Fn(ExemptionTotal) -> ExemptionYearField) -> Attributed {
    let traced = |amount, total| vec![Traced::given(amount, Place::ExemptionYear(place(total)))];
    Attributed {
        taxable_supplies: traced(given.taxable_supplies, ExemptionTotal::TaxableSupplies),
        exempt_supplies: traced(given.exempt_supplies, ExemptionTotal::ExemptSupplies),
        input_tax_taxable: traced(given.input_tax_taxable, ExemptionTotal::InputTaxTaxable),
        input_tax_exempt: traced(given.input_tax_exempt, ExemptionTotal::InputTaxExempt),
        input_tax_both: traced(given.input_tax_both, ExemptionTotal::InputTaxBoth),
    }
}

fn sum_of_periods(periods: &[OfPeriod]) -> Attributed {
    let all = |total: fn(&Totals) -> Traced<Money>| periods.iter().map(|period| total(&period.totals)).collect();
    Attributed {
        taxable_supplies: all(|totals| totals.taxable_supplies),
        exempt_supplies: all(|totals| totals.exempt_supplies),
        input_tax_taxable: all(|totals| totals.input_tax_taxable),
        input_tax_exempt: all(|totals| totals.input_tax_exempt),
        input_tax_both: all(|totals| totals.input_tax_both),
    }
}

fn outcome(calculation: &PartialExemption) -> String {
    let passed = calculation.tests.iter().find(|test| test.passed).map(|test| match test.test {
        DeMinimis::SimplifiedOne => "the first simplified test",
        DeMinimis::SimplifiedTwo => "the second simplified test",
        DeMinimis::Main => "the main test",
    });
    match passed {
        Some(test) => format!(
            "The year passes {test}: all of its input tax is recovered, £{}, whatever its periods came to.",
            calculation.recoverable
        ),
        None => format!(
            "The year passes no de minimis test: £{} of its input tax is recovered and £{} is not, whatever its periods came to.",
            calculation.recoverable, calculation.not_recovered
        ),
    }
}

fn what_to_do(adjustment: Money, ends_by: YearEndsBy) -> String {
    let on = match ends_by {
        YearEndsBy::TaxYear => {
            "on the return of the first period after the year, or on that of the last period in it: once, on one of the two"
        }
        YearEndsBy::Deregistration => "on the final return",
    };
    let magnitude = adjustment.magnitude();
    if adjustment.is_zero() {
        "Nothing is to be adjusted: what was claimed is what the year allows. Keep the calculation with the records."
            .to_owned()
    } else if adjustment.is_negative() {
        format!(
            "Repay £{magnitude}: enter it in box 4 with a minus sign, {on}. It is no error of the earlier returns, and it does not put errors in them \
             right."
        )
    } else {
        format!(
            "Claim £{magnitude} in box 4, {on}. It is no error of the earlier returns, and it does not put errors in them right."
        )
    }
}

/// The returns that may carry the adjustment (VAT Regulations 1995 reg 107(1), with the timing of reg 107B(2), (3)).
fn returns(ends_by: YearEndsBy, year: Period, last: Option<Period>) -> Vec<ReturnForAdjustment> {
    let of_last =
        |kind| last.map(|last| ReturnForAdjustment { kind, period_start: last.start(), period_end: Some(last.end()) });
    match ends_by {
        YearEndsBy::TaxYear => {
            let first_after = ReturnForAdjustment {
                kind: AdjustmentReturn::FirstAfterYear,
                period_start: next_day(year.end()),
                period_end: None,
            };
            std::iter::once(first_after).chain(of_last(AdjustmentReturn::LastInYear)).collect()
        }
        YearEndsBy::Deregistration => of_last(AdjustmentReturn::FinalReturn).into_iter().collect(),
    }
}
