//! The percentage of each part of a period: the category's or the limited cost percentage, less the first-year point.

use jiff::civil::Date;

use crate::answer::Basis;
use crate::law::{InForce, Law, ParameterId, Sector, rule as cite};
use crate::money::{Percentage, Rounding};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::category::Categories;
use super::scheme::Scheme;

/// Days of a period to which one percentage applies.
#[derive(Debug, Clone)]
pub(crate) struct Rated {
    pub days: Period,
    pub base: Traced<Percentage>,
    pub reduction: Option<Traced<Percentage>>,
    pub applied: Percentage,
    pub basis: Basis,
    pub sector: String,
}

static REDUCED: Rule = Rule {
    says: "In the newly registered period each percentage is read as one point less, the limited cost percentage too, and never below nought.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55JB, cite::FRS7100, cite::DECISION_FIRST_YEAR_AND_LIMITED_COST],
};
static OF_THE_CATEGORY: Rule = Rule {
    says: "The percentage is that of the category of business on the first day of the part.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_55H,
        cite::VAT_REGULATIONS_1995_REGULATION_55K,
        cite::DECISION_CATEGORY_IS_THE_USERS,
    ],
};
static OF_LIMITED_COST: Rule = Rule {
    says: "A limited cost business pays the limited cost percentage in place of its category's.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55KA],
};
static REDUCTION: Rule = Rule {
    says: "The points by which the percentage of the part is reduced.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55JB],
};

/// Cuts a period where the percentage applied changes, and nowhere else (authority `decision-cuts`).
///
/// `limited_cost_from` is the first day on which the business is a limited cost business, if it is one in the period.
pub(crate) fn rate(
    run: &mut Run<'_>,
    period: Period,
    categories: &Categories<'_>,
    scheme: &Scheme,
    limited_cost_from: Option<Date>,
) -> Result<Vec<Rated>, Refusal> {
    let mut cuts = categories.cuts(period);
    cuts.extend(scheme.changes());
    cuts.extend(limited_cost_from);
    let mut rated: Vec<Rated> = Vec::with_capacity(cuts.len() + 1);
    for days in period.cut_at(&cuts) {
        let found = Found::on(run.law, days, categories, scheme, limited_cost_from)?;
        match rated.last_mut() {
            // The days go on at the same percentage: no number is needed for them, and none is listed as used.
            Some(last) if last.applied == found.applied => {
                if let Some(joined) = Period::new(last.days.start(), days.end()) {
                    last.days = joined;
                }
            }
            _ => rated.push(found.record(run, days)?),
        }
    }
    Ok(rated)
}

/// The percentage of some days, before its numbers are taken into the calculation.
struct Found<'law> {
    base: InForce<'law, Percentage>,
    basis: Basis,
    is_reduced: bool,
    applied: Percentage,
    sector: &'law Sector,
}

impl<'law> Found<'law> {
    fn on(
        law: &'law Law,
        days: Period,
        categories: &Categories<'law>,
        scheme: &Scheme,
        limited_cost_from: Option<Date>,
    ) -> Result<Self, Refusal> {
        let on = days.start();
        let sector = categories.on(on);
        let (base, basis) = if limited_cost_from.is_some_and(|from| from <= on) {
            (law.percentage(ParameterId::LimitedCostBusiness, on)?, Basis::LimitedCost)
        } else {
            (sector.percentage(on)?, Basis::Sector)
        };
        let is_reduced = scheme.reduces(days);
        let applied = if is_reduced {
            let reduction = law.percentage(ParameterId::FrsFirstYearReduction, on)?;
            base.value.less_not_below_zero(reduction.value)?
        } else {
            base.value
        };
        Ok(Self { base, basis, is_reduced, applied, sector })
    }

    /// Takes its numbers into the calculation.
    fn record(self, run: &mut Run<'_>, days: Period) -> Result<Rated, Refusal> {
        let label = match self.basis {
            Basis::Sector => "Percentage of the category of business",
            Basis::LimitedCost => "Limited cost percentage",
        };
        let base = run.number(&self.base, label);
        let reduction = if self.is_reduced {
            let label = "First-year reduction, in percentage points";
            Some(run.percentage(ParameterId::FrsFirstYearReduction, days.start(), label)?)
        } else {
            None
        };
        let sector = self.sector.id().to_owned();
        Ok(Rated { days, base, reduction, applied: self.applied, basis: self.basis, sector })
    }
}

impl Rated {
    /// Records the percentage applied as a figure of a part of the answer, and any reduction in it.
    pub fn record(&self, run: &mut Run<'_>, part: usize) -> Result<(Traced<Percentage>, Option<Percentage>), Refusal> {
        let scope = Scope::FlatRatePart(part);
        let name = |rule| Name::new(scope, "percentage", "Percentage applied", rule).gives(&["percentage"]);
        let Some(reduction) = self.reduction else {
            let rule = match self.basis {
                Basis::Sector => &OF_THE_CATEGORY,
                Basis::LimitedCost => &OF_LIMITED_COST,
            };
            return Ok((run.step(name(rule), self.applied, Rounding::None, "{}", &[self.base.operand()]), None));
        };
        let operands = [self.base.operand(), reduction.operand()];
        let applied = run.step(name(&REDUCED), self.applied, Rounding::None, "max({} − {}, 0)", &operands);
        let points = self.base.value.less_not_below_zero(self.applied)?;
        if points.is_zero() {
            return Ok((applied, None));
        }
        let name = Name::new(scope, "first_year_reduction", "First-year reduction, in percentage points", &REDUCTION)
            .gives(&["first_year_reduction"]);
        let operands = [self.base.operand(), applied.operand()];
        Ok((applied, Some(run.step(name, points, Rounding::None, "{} − {}", &operands).value)))
    }
}
