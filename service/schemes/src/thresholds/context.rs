//! What the checks of the limits share: the figures, the months as they count, and where each check stands.

use jiff::civil::Date;

use crate::law::{ParameterId, rule as cite};
use crate::money::Money;
use crate::money::Overflow;
use crate::period::Period;
use crate::refusal::{Place, Refusal, TotalsField};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::answer::LimitCheck;
use super::figures::{Basis, ThresholdFigures, Totals};
use super::months::{Measure, Months};
use super::rolling::{GivenYear, NamedLimit, basis_of, rolling, total_of};
use super::tested::Tested;

static GIVEN: Rule = Rule {
    says: "The figure of the year or of the thirty days, as given. For registration and its end, services bought from abroad count too.",
    authority: &[
        cite::VATA_1994_SCHEDULE_1_PARAGRAPH_1,
        cite::VAT_REGULATIONS_1995_REGULATION_55L,
        cite::VAT_REGULATIONS_1995_REGULATION_55M,
    ],
};
static YEAR_AHEAD: Rule = Rule {
    says: "The twelve months that begin after the day from which the future is seen.",
    authority: &[
        cite::VATA_1994_SCHEDULE_1_PARAGRAPH_4,
        cite::VAT_REGULATIONS_1995_REGULATION_55L,
        cite::VAT_REGULATIONS_1995_REGULATION_55M,
    ],
};

/// One set of checks under way.
pub(super) struct Context<'a, 'law> {
    pub run: &'a mut Run<'law>,
    pub figures: &'a ThresholdFigures,
    pub months: Months,
    pub period: Option<Period>,
    /// Whether a start of the scheme is being considered, so that joining is tested although a first day is given.
    pub starting: bool,
    pub checks: Vec<LimitCheck>,
}

impl Context<'_, '_> {
    pub fn as_of(&self) -> Date {
        self.figures.as_of
    }

    /// The position of the check that is being made.
    pub fn position(&self) -> usize {
        self.checks.len()
    }

    /// Where it stands in the answer.
    pub fn scope(&self) -> Scope {
        Scope::LimitCheck(self.position())
    }

    pub fn is_registered(&self) -> bool {
        self.figures.business.registered_on.is_some_and(|day| day <= self.as_of())
    }

    /// Whether the business is in the Flat Rate Scheme on the day.
    pub fn in_scheme(&self) -> bool {
        let business = &self.figures.business;
        business.flat_rate_from.is_some_and(|from| from <= self.as_of())
            && business.flat_rate_until.is_none_or(|until| self.as_of() <= until)
    }

    /// A figure of given totals, if they hold it.
    pub fn of_totals(
        &mut self,
        totals: &Totals,
        place: fn(TotalsField) -> Place,
        measure: Measure,
    ) -> Result<Option<Traced<Money>>, Overflow> {
        let Some(figures) = figures_of(totals, place, measure) else { return Ok(None) };
        let name = Name::new(self.scope(), "measured", "Figure measured", &GIVEN).gives(&["measured"]);
        self.run.total(name, &figures).map(Some)
    }

    /// The twelve months to each month end, and the past year given as one figure where the months do not reach: tested on the last
    /// day of it, or where only month ends count at the end of that month.
    pub fn twelve_months(
        &mut self,
        measure: Measure,
        limit: NamedLimit,
        day: fn(Date) -> Date,
    ) -> Result<Vec<Tested>, Refusal> {
        let given = self.figures.turnover.past_year.and_then(|year| {
            let on = day(year.end.unwrap_or(self.as_of()));
            let covered = self.months.position(on).is_some_and(|position| self.months.year_to(position).is_some());
            let figures = figures_of(&year.totals, Place::PastYear, measure)?;
            (!covered).then_some(GivenYear { on, figures })
        });
        let position = self.position();
        rolling(self.run, position, &self.months, measure, limit, given)
    }

    /// A figure of the year that begins after a day: as given for the next year, or of the months that follow.
    pub fn year_ahead(&mut self, measure: Measure, after: Date) -> Result<Option<(Traced<Money>, Basis)>, Overflow> {
        if let Some(totals) = &self.figures.turnover.next_year
            && let Some(figure) = self.of_totals(totals, Place::NextYear, measure)?
        {
            return Ok(Some((figure, Basis::Forecast)));
        }
        self.months_ahead(measure, after)
    }

    /// A figure of the twelve months that follow the month of a day.
    pub fn months_ahead(&mut self, measure: Measure, after: Date) -> Result<Option<(Traced<Money>, Basis)>, Overflow> {
        let name = Name::new(self.scope(), "measured", "The year ahead", &YEAR_AHEAD).gives(&["measured"]);
        let Some(year) = self.months.year_after(after) else { return Ok(None) };
        let figure = total_of(self.run, name, year, measure)?;
        Ok(Some((figure, basis_of(year))))
    }

    /// Tests a figure that already stands in the check as `measured`.
    pub fn test(
        &mut self,
        limit: NamedLimit,
        (on, basis): (Date, Basis),
        measured: Traced<Money>,
    ) -> Result<Tested, Refusal> {
        let scope = self.scope();
        let tested = Tested::of(self.run, scope, limit, (on, basis), measured)?;
        tested.show_limit(self.run, scope);
        Ok(tested)
    }

    /// The number of days within which HMRC must be told, by the table.
    pub fn notice(&self, days: ParameterId, on: Date) -> Result<Date, Refusal> {
        let days = self.run.law.days(days, on)?.value;
        Ok(super::dates::days_after(on, days))
    }

    /// Ends a check.
    pub fn add(&mut self, check: LimitCheck) {
        self.checks.push(check);
    }
}

/// What of given totals is measured, if they hold it.
fn figures_of(totals: &Totals, place: fn(TotalsField) -> Place, measure: Measure) -> Option<Vec<Traced<Money>>> {
    let given = |amount: Option<Money>, field| amount.map(|amount| Traced::given(amount, place(field)));
    let taxable = given(totals.taxable_supplies, TotalsField::TaxableSupplies);
    let overseas = given(totals.overseas_services_received, TotalsField::OverseasServicesReceived);
    let income = given(totals.total_income, TotalsField::TotalIncome);
    match (measure, taxable, income) {
        (Measure::Registration, Some(taxable), _) => Some(std::iter::once(taxable).chain(overseas).collect()),
        (Measure::Taxable, Some(taxable), _) => Some(vec![taxable]),
        (Measure::Income, _, Some(income)) => Some(vec![income]),
        (Measure::Registration | Measure::Taxable, None, _) | (Measure::Income, _, None) => None,
    }
}

/// Figures that are wanting, in words.
pub(super) mod needed {
    pub const TWELVE_MONTHS: &str = "turnover.months with the twelve months before, or business.trading_from where the business is younger, or turnover.past_year";
    pub const TWELVE_MONTHS_INCOME: &str = "turnover.months with the twelve months before, or business.trading_from where the business is younger, or turnover.past_year with total_income";
    pub const EARLIER_MONTHS: &str = "turnover.months with the twelve months before the first, or business.trading_from where the business is younger";
    pub const NEXT_THIRTY_DAYS_TAXABLE: &str = "turnover.next_30_days.taxable_supplies";
    pub const NEXT_THIRTY_DAYS_INCOME: &str = "turnover.next_30_days.total_income";
    pub const NEXT_YEAR_TAXABLE: &str =
        "turnover.next_year.taxable_supplies, or turnover.months with the twelve months to come";
    pub const NEXT_YEAR_INCOME: &str =
        "turnover.next_year.total_income, or turnover.months with the twelve months to come";
    pub const YEAR_AFTER: &str = "turnover.months with the twelve months after the one in which the limit was passed";
    pub const PAST_YEAR_INCOME: &str = "turnover.months with the twelve months to the anniversary, or turnover.past_year with end at the anniversary and total_income";
    pub const PERIOD: &str = "period, so that the end of the VAT period in which the anniversary falls can be told";
    pub const GOODS_ON_HAND: &str = "goods_on_hand";
}
