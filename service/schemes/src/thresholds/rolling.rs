//! Twelve months to each month end, and when they would pass a limit at the present run.

use jiff::civil::Date;

use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Overflow, Ratio, Rounding};
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::workings::{Formula, Operand, Rule, Step, Traced};

use super::answer::{Method, Outlook};
use super::dates::{month_later, whole_months};
use super::figures::Basis;
use super::months::{Counted, Measure, Months};
use super::tested::Tested;

const REGISTRATION: &[&str] = &[cite::VATA_1994_SCHEDULE_1_PARAGRAPH_1];
const FLAT_RATE: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_55M];
const CASH_AND_ANNUAL: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_60, cite::VAT_REGULATIONS_1995_REGULATION_53];
static TWELVE_MONTHS: ByMeasure = ByMeasure::saying(
    "The twelve months then ending, or fewer where the business is younger: those before it, with the new month added and the one a year \
     earlier taken off.",
);
static GIVEN_YEAR: ByMeasure = ByMeasure::saying(
    "The past year as given in one figure. For registration and its end, services bought from abroad count too.",
);
static LIMIT_ON_DAYS: Rule =
    Rule { says: "The limit in force on the day tested.", authority: &[cite::DECISION_LIMIT_ON_THE_DAY] };
static RUN_RATE: Rule = Rule {
    says: "An estimate: the average of the last actual months, to the nearest penny, is taken to go on month by month. Where earlier months \
           are not given, those that are stand for the twelve if they alone pass the limit.",
    authority: &[cite::COMMON_PRACTICE],
};

/// A rule of one sentence that rests on other law for each measure.
struct ByMeasure {
    registration: Rule,
    taxable: Rule,
    income: Rule,
}

impl ByMeasure {
    const fn saying(says: &'static str) -> Self {
        Self {
            registration: Rule { says, authority: REGISTRATION },
            taxable: Rule { says, authority: CASH_AND_ANNUAL },
            income: Rule { says, authority: FLAT_RATE },
        }
    }

    fn of(&'static self, measure: Measure) -> &'static Rule {
        match measure {
            Measure::Registration => &self.registration,
            Measure::Taxable => &self.taxable,
            Measure::Income => &self.income,
        }
    }
}

/// A limit, with the words for its step.
pub(super) type NamedLimit = (ParameterId, &'static str);

/// A past year given as one figure, on the day on which it is tested.
pub(super) struct GivenYear {
    pub on: Date,
    pub figures: Vec<Traced<Money>>,
}

/// The twelve months to each month end for which the months suffice, and a year given as one figure among them.
pub(super) fn rolling(
    run: &mut Run<'_>,
    check: usize,
    months: &Months,
    measure: Measure,
    limit: NamedLimit,
    mut given: Option<GivenYear>,
) -> Result<Vec<Tested>, Refusal> {
    let mut tested = Vec::new();
    let mut before: Option<Traced<Money>> = None;
    for (position, month) in months.list.iter().enumerate() {
        if let Some(year) = given.take_if(|year| year.on <= month.end()) {
            tested.push(of_given_year(run, Scope::LimitDay(check, tested.len()), measure, limit, &year)?);
        }
        let Some(year) = year_to(run, months, position, measure, limit.0)? else {
            before = None;
            continue;
        };
        let day = tested.len();
        let name = Name::new(
            Scope::LimitDay(check, day),
            "measured",
            "Twelve months to the month end",
            TWELVE_MONTHS.of(measure),
        )
        .gives(&["measured"]);
        let dropped = position.checked_sub(12).and_then(|dropped| months.list.get(dropped));
        let measured = roll_on(run, name, before, (month, dropped, year), measure)?;
        before = Some(measured);
        let basis = basis_of(year);
        tested.push(Tested::of(run, Scope::LimitDay(check, day), limit, (month.end(), basis), measured)?);
    }
    if let Some(year) = given {
        tested.push(of_given_year(run, Scope::LimitDay(check, tested.len()), measure, limit, &year)?);
    }
    show_limits(run, check, &tested);
    Ok(tested)
}

fn of_given_year(
    run: &mut Run<'_>,
    scope: Scope,
    measure: Measure,
    limit: NamedLimit,
    year: &GivenYear,
) -> Result<Tested, Refusal> {
    let name = Name::new(scope, "measured", "Year given as one figure", GIVEN_YEAR.of(measure)).gives(&["measured"]);
    let measured = run.total(name, &year.figures)?;
    Tested::of(run, scope, limit, (year.on, Basis::Actual), measured)
}

/// The twelve months to a position; where earlier ones are not given, those that are, if they alone pass the limit.
fn year_to<'months>(
    run: &Run<'_>,
    months: &'months Months,
    position: usize,
    measure: Measure,
    limit: ParameterId,
) -> Result<Option<&'months [Counted]>, Refusal> {
    if let Some(year) = months.year_to(position) {
        return Ok(Some(year));
    }
    let Some(known) = months.list.get(..=position) else { return Ok(None) };
    let sum = known.iter().try_fold(Money::ZERO, |sum, month| sum.plus(month.of(measure).value))?;
    let end = known.last().map_or(Date::MIN, Counted::end);
    Ok((sum > run.law.amount(limit, end)?.value).then_some(known))
}

fn roll_on(
    run: &mut Run<'_>,
    name: Name,
    before: Option<Traced<Money>>,
    (month, dropped, year): (&Counted, Option<&Counted>, &[Counted]),
    measure: Measure,
) -> Result<Traced<Money>, Overflow> {
    let added = month.of(measure);
    Ok(match (before, dropped.map(|month| month.of(measure))) {
        (None, _) => return total_of(run, name, year, measure),
        (Some(before), None) => run.step(
            name,
            before.value.plus(added.value)?,
            Rounding::None,
            "{} + {}",
            &[before.operand(), added.operand()],
        ),
        (Some(before), Some(dropped)) => run.step(
            name,
            before.value.plus(added.value)?.minus(dropped.value)?,
            Rounding::None,
            "{} + {} − {}",
            &[before.operand(), added.operand(), dropped.operand()],
        ),
    })
}

/// The sum of some months.
pub(super) fn total_of(
    run: &mut Run<'_>,
    name: Name,
    months: &[Counted],
    measure: Measure,
) -> Result<Traced<Money>, Overflow> {
    let figures: Vec<Traced<Money>> = months.iter().map(|month| month.of(measure)).collect();
    run.total(name, &figures)
}

/// A year is actual where all its months are.
pub(super) fn basis_of(year: &[Counted]) -> Basis {
    if year.iter().all(|month| month.basis == Basis::Actual) { Basis::Actual } else { Basis::Forecast }
}

/// Records the limits that the days of a check show, one step for each number of the law.
pub(super) fn show_limits(run: &mut Run<'_>, check: usize, tested: &[Tested]) {
    let mut shown: Vec<Operand> = Vec::new();
    for test in tested {
        let operand = test.limit.operand();
        if shown.contains(&operand) {
            continue;
        }
        let number = shown.len();
        shown.push(operand);
        let of_days = tested.iter().enumerate().filter(|(_, test)| test.limit.operand() == operand);
        let figures: Vec<String> = of_days.map(|(day, _)| Scope::LimitDay(check, day).named("/", "limit")).collect();
        run.workings.record(|| {
            Step::new(
                Scope::LimitCheck(check).named("", &format!("limit_of_days/{number}")),
                "Limit",
                Formula::Text("{}"),
                vec![operand],
                (test.limit.value, Rounding::None),
                &LIMIT_ON_DAYS,
            )
            .gives(figures)
        });
    }
}

/// The run rate that goes on.
#[derive(Debug, Clone, Copy)]
struct RunRate {
    last: usize,
    back: usize,
}

impl RunRate {
    /// The months that the rate is the average of: those before all that are no longer actual.
    fn of(months: &Months, back: usize) -> Option<Self> {
        let last = months.last_actual()?;
        (last + 1 >= back).then_some(Self { last, back })
    }

    fn months(self, months: &Months) -> &[Counted] {
        months.list.get(self.last + 1 - self.back..=self.last).unwrap_or_default()
    }

    fn monthly(self, months: &Months, measure: Measure) -> Result<Money, Overflow> {
        let total = self.months(months).iter().try_fold(Money::ZERO, |sum, month| sum.plus(month.of(measure).value))?;
        let back = i128::try_from(self.back).map_err(|_| Overflow)?;
        total.exact().times(Ratio::new(1, back)?)?.to_money(Rounding::NearestPenny)
    }

    /// The actual months that are still within the twelve that end so many months after the last.
    fn kept(self, months: &Months, ahead: usize) -> &[Counted] {
        months.list.get((self.last + 1 + ahead).saturating_sub(12)..=self.last).unwrap_or_default()
    }

    /// Whether nothing of those twelve is left out, because earlier months are not given.
    fn is_whole(self, months: &Months, ahead: usize) -> bool {
        months.whole_past || self.last + 1 + ahead >= 12
    }

    fn projected(self, months: &Months, measure: Measure, ahead: usize) -> Result<Money, Overflow> {
        let kept =
            self.kept(months, ahead).iter().try_fold(Money::ZERO, |sum, month| sum.plus(month.of(measure).value))?;
        let times = Ratio::whole(i128::try_from(ahead.min(12)).map_err(|_| Overflow)?);
        let added = self.monthly(months, measure)?.exact().times(times)?.to_money(Rounding::None)?;
        kept.plus(added)
    }
}

/// When the twelve months would pass a limit: at the average of the last three and of the last twelve actual months.
pub(super) fn at_the_present_run(
    run: &mut Run<'_>,
    check: usize,
    months: &Months,
    measure: Measure,
    limit: ParameterId,
    outlook: &mut Vec<Outlook>,
) -> Result<(), Refusal> {
    for (method, back) in [(Method::TrailingThreeMonths, 3), (Method::TrailingTwelveMonths, 12)] {
        let Some(rate) = RunRate::of(months, back) else { continue };
        let Some(last) = months.list.get(rate.last) else { continue };
        let mut crosses = None;
        for ahead in 1..=12 {
            let on = end_of(last.first, ahead);
            let limit = run.law.amount(limit, on)?.value;
            // What is known of twelve months is enough where it is over the limit, as for months past.
            if rate.projected(months, measure, ahead)? > limit {
                crosses = Some(ahead);
                break;
            }
        }
        let scope = Scope::LimitOutlook(check, outlook.len());
        let Some((monthly, measured)) = project(run, scope, months, measure, (rate, crosses.unwrap_or(12)))? else {
            continue;
        };
        outlook.push(Outlook {
            method,
            monthly: Some(monthly),
            crosses_on: crosses.map(|ahead| end_of(last.first, ahead)),
            on: end_of(last.first, crosses.unwrap_or(12)),
            measured,
        });
    }
    Ok(())
}

/// The twelve months to a later month end, at the average of the last three and of the last twelve actual months.
pub(super) fn to_a_month_end(
    run: &mut Run<'_>,
    check: usize,
    months: &Months,
    measure: Measure,
    (limit, month_end): (Money, Date),
    outlook: &mut Vec<Outlook>,
) -> Result<(), Refusal> {
    for (method, back) in [(Method::TrailingThreeMonths, 3), (Method::TrailingTwelveMonths, 12)] {
        let Some(rate) = RunRate::of(months, back) else { continue };
        let Some(last) = months.list.get(rate.last) else { continue };
        let between = super::dates::month_number(month_end) - super::dates::month_number(last.first);
        let Ok(ahead) = usize::try_from(between) else { continue };
        // Further ahead no actual month is left: that is no run of this business any more.
        if !(1..=12).contains(&ahead) {
            continue;
        }
        if !rate.is_whole(months, ahead) && rate.projected(months, measure, ahead)? <= limit {
            continue;
        }
        let scope = Scope::LimitOutlook(check, outlook.len());
        let Some((monthly, measured)) = project(run, scope, months, measure, (rate, ahead))? else { continue };
        let crosses_on = (measured > limit).then_some(month_end);
        outlook.push(Outlook { method, monthly: Some(monthly), crosses_on, on: month_end, measured });
    }
    Ok(())
}

/// The last day of the month so many months after another.
fn end_of(first: Date, ahead: usize) -> Date {
    month_later(first, i32::try_from(ahead).unwrap_or(i32::MAX)).last_of_month()
}

/// Records how the figure of a later month end is made.
fn project(
    run: &mut Run<'_>,
    scope: Scope,
    months: &Months,
    measure: Measure,
    (rate, ahead): (RunRate, usize),
) -> Result<Option<(Money, Money)>, Refusal> {
    let (kept, figure) = (rate.kept(months, ahead), rate.projected(months, measure, ahead)?);
    let (averaged, last) = (rate.months(months), rate.last);
    let (Some(first), Some(last)) = (averaged.first(), months.list.get(last)) else { return Ok(None) };
    let name = |id, label| Name::new(scope, id, label, &RUN_RATE);
    let total = total_of(run, name("last_months", "The last actual months"), averaged, measure)?;
    let (Some(back), Some(times)) = (count(run, first.first, rate.back), count(run, month_later(last.first, 1), ahead))
    else {
        return Ok(None);
    };
    let monthly = run.step(
        name("monthly", "Average of a month").gives(&["monthly"]),
        rate.monthly(months, measure)?,
        Rounding::NearestPenny,
        "{} ÷ {}",
        &[total.operand(), back.operand()],
    );
    let measured = name("measured", "Twelve months at this run").gives(&["measured"]);
    if kept.is_empty() {
        run.step(measured, figure, Rounding::None, "{} × {}", &[monthly.operand(), times.operand()]);
    } else {
        let kept = total_of(run, name("kept", "Actual months within the twelve"), kept, measure)?;
        let operands = [kept.operand(), monthly.operand(), times.operand()];
        run.step(measured, figure, Rounding::None, "{} + {} × {}", &operands);
    }
    Ok(Some((monthly.value, figure)))
}

/// A number of months that begin with the month of a day, traced.
fn count(run: &mut Run<'_>, first: Date, months: usize) -> Option<Traced<i32>> {
    let months = i32::try_from(months).ok()?;
    let days = whole_months(first, months)?;
    Some(run.workings.once(months, |months| {
        let (start, end) = (days.start(), days.end());
        let label = format!("Months from {start} to {end}");
        Step::new(
            format!("dates/{start}/{end}/months"),
            label,
            Formula::Total,
            Vec::new(),
            (*months, Rounding::None),
            &RUN_RATE,
        )
    }))
}

/// The caller's own forecast, from the days tested that rest on one.
pub(super) fn own_forecast(
    run: &mut Run<'_>,
    check: usize,
    measure: Measure,
    tested: &[Tested],
    outlook: &mut Vec<Outlook>,
) {
    let ahead: Vec<&Tested> = tested.iter().filter(|test| test.basis == Basis::Forecast).collect();
    let crosses = ahead.iter().find(|test| test.is_over());
    let Some(shown) = crosses.or(ahead.last()) else { return };
    let name = Name::new(
        Scope::LimitOutlook(check, outlook.len()),
        "measured",
        "Twelve months as forecast",
        TWELVE_MONTHS.of(measure),
    )
    .gives(&["measured"]);
    run.step(name, shown.measured.value, Rounding::None, "{}", &[shown.measured.operand()]);
    outlook.push(Outlook {
        method: Method::OwnForecast,
        monthly: None,
        crosses_on: crosses.map(|test| test.on),
        on: shown.on,
        measured: shown.measured.value,
    });
}
