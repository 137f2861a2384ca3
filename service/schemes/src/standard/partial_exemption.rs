//! The standard method of partial exemption for one period, with the three tests that let small exempt input tax through.

use std::cmp::Ordering;

use crate::answer::PartialExemption;
use crate::figures::{Nature, Treatment, UsedFor};
use crate::law::{ParameterId, rule as cite};
use crate::length::TracedLength;
use crate::lines::SaleLine;
use crate::money::{Money, Percentage, Ratio, Rounding};
use crate::period::Period;
use crate::refusal::{Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Operand, Rule, Traced};

use super::input_tax::Claimable;

/// What comes of attributing input tax.
pub(crate) enum Attribution {
    /// There are no exempt supplies and nothing was bought for any: all input tax is recovered.
    Fully,
    /// There is a partial exemption calculation.
    Partly { recoverable: Traced<Money>, calculation: Box<PartialExemption> },
}

static TAXABLE_SUPPLIES: Rule = Rule {
    says: "Taxable supplies, and those outside the scope that carry the right to deduct, without VAT; capital assets sold and non-business \
           income are left out.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_101,
        cite::VAT_REGULATIONS_1995_REGULATION_103,
        cite::DECISION_PARTIAL_EXEMPTION_FRACTION,
    ],
};
static EXEMPT_SUPPLIES: Rule = Rule {
    says: "Exempt supplies; capital assets sold are left out.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::DECISION_PARTIAL_EXEMPTION_FRACTION],
};
static ATTRIBUTED: Rule = Rule {
    says: "Input tax is attributed by use: to taxable supplies, to exempt supplies, or, as residual input tax, to both.",
    authority: &[cite::VATA_1994_SECTION_26, cite::VAT_REGULATIONS_1995_REGULATION_101],
};
static ROUNDING_OF_PERCENTAGE: Rule = Rule {
    says: "The percentage goes up to the next whole number while residual input tax is at most its monthly limit on average.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::SI_2005_762],
};
static PERCENTAGE: Rule = Rule {
    says: "The recoverable percentage of residual input tax is taxable supplies over all supplies, rounded up.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_101,
        cite::SI_2005_762,
        cite::DECISION_PARTIAL_EXEMPTION_FRACTION,
    ],
};
static RESIDUAL: Rule = Rule {
    says: "The recoverable part of residual input tax, to the nearest penny.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::DECISION_ROUNDING],
};
static EXEMPT_INPUT_TAX: Rule = Rule {
    says: "Exempt input tax is what was used for exempt supplies and the part of residual input tax that is not recoverable.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::VAT_REGULATIONS_1995_REGULATION_106],
};
static LIMIT: Rule = Rule {
    says: "The de minimis limit is a monthly amount for each month of the period.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_105A,
        cite::VAT_REGULATIONS_1995_REGULATION_106,
        cite::DECISION_LENGTH_OF_PERIOD,
    ],
};
static SIMPLIFIED_1: Rule = Rule {
    says: "First simplified test: all input tax is at most the monthly limit on average, and exempt supplies are at most half of all supplies.",
    authority: &[cite::PE24500, cite::NOTICE_706_SECTION_11],
};
static SIMPLIFIED_2: Rule = Rule {
    says: "Second simplified test: all input tax less that used only for taxable supplies is at most the monthly limit on average, and exempt \
           supplies are at most half of all supplies.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_105A, cite::PE24500],
};
static MAIN_TEST: Rule = Rule {
    says: "Main test: exempt input tax is at most the monthly limit on average and at most half of all input tax.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_106, cite::PE24500],
};
static NO_FRACTION: Rule = Rule {
    says: "The main test needs a fraction to share residual input tax by, and the period's supplies give none.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::VAT_REGULATIONS_1995_REGULATION_106],
};
static ALL_RECOVERED: Rule = Rule {
    says: "A test is passed, so all input tax of the period is recovered.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_105A, cite::VAT_REGULATIONS_1995_REGULATION_106],
};
static PART_RECOVERED: Rule = Rule {
    says: "No test is passed, so what was used for taxable supplies and the recoverable part of residual input tax are recovered.",
    authority: &[cite::VATA_1994_SECTION_26, cite::VAT_REGULATIONS_1995_REGULATION_101],
};

/// Attributes input tax to supplies (VATA 1994 s 26; VAT Regulations 1995 regs 101, 105A and 106; Notice 706).
///
/// # Errors
/// Refuses where residual input tax cannot be attributed because the period has no supplies to form the fraction from, and
/// no simplified test is passed.
pub(crate) fn attribute(
    run: &mut Run<'_>,
    scope: Scope,
    sales: &[SaleLine],
    input_tax: &[Claimable],
    period: Period,
) -> Result<Attribution, Refusal> {
    let supplies = |wanted: fn(Treatment) -> bool| -> Vec<Traced<Money>> {
        sales
            .iter()
            .filter(|sale| sale.nature == Nature::Ordinary && wanted(sale.treatment))
            .map(|sale| sale.amounts.net)
            .collect()
    };
    let used_for = |wanted: UsedFor| -> Vec<Traced<Money>> {
        input_tax.iter().filter(|tax| tax.used_for == wanted).map(|tax| tax.vat).collect()
    };
    let exempt_lines = supplies(|treatment| treatment == Treatment::Exempt);
    let for_exempt = used_for(UsedFor::Exempt);
    let all_nil = |figures: &[Traced<Money>]| figures.iter().all(|figure| figure.value.is_zero());
    if all_nil(&exempt_lines) && all_nil(&for_exempt) {
        return Ok(Attribution::Fully);
    }

    let name = |id, label, rule| Name::new(scope, id, label, rule);
    let taxable_supplies = run.total(
        name("taxable_supplies", "Taxable supplies", &TAXABLE_SUPPLIES).gives(&["taxable_supplies"]),
        &supplies(counts_as_taxable),
    )?;
    let exempt_supplies = run.total(
        name("exempt_supplies", "Exempt supplies", &EXEMPT_SUPPLIES).gives(&["exempt_supplies"]),
        &exempt_lines,
    )?;
    let all_supplies =
        run.total(name("all_supplies", "All supplies", &TAXABLE_SUPPLIES), &[taxable_supplies, exempt_supplies])?;
    let taxable = run.total(
        name("input_tax_taxable", "Input tax used for taxable supplies", &ATTRIBUTED).gives(&["input_tax_taxable"]),
        &used_for(UsedFor::Taxable),
    )?;
    let exempt = run.total(
        name("input_tax_exempt", "Input tax used for exempt supplies", &ATTRIBUTED).gives(&["input_tax_exempt"]),
        &for_exempt,
    )?;
    let both = run.total(
        name("input_tax_both", "Residual input tax, used for both", &ATTRIBUTED).gives(&["input_tax_both"]),
        &used_for(UsedFor::Both),
    )?;
    let all_input_tax = run.total(name("all_input_tax", "All input tax", &ATTRIBUTED), &[taxable, exempt, both])?;

    let mut tests = Tests { run, scope, length: None, period };
    let simplified_1 = tests.simplified(all_input_tax, None, exempt_supplies, all_supplies)?;
    let simplified_2 = tests.simplified(all_input_tax, Some(taxable), exempt_supplies, all_supplies)?;
    let limit = tests.limit()?;

    let fraction = Fraction { taxable: taxable_supplies, exempt: exempt_supplies, all: all_supplies };
    let percentage = fraction.percentage(&mut tests, both)?;
    let residual = match percentage {
        Some(percentage) => {
            let exact = both.value.share(percentage.value)?.to_money(Rounding::NearestPenny)?;
            let name = name("residual_recoverable", "Recoverable part of residual input tax", &RESIDUAL)
                .gives(&["residual_recoverable"]);
            let operands = [both.operand(), percentage.operand()];
            Some(tests.run.step(name, exact, Rounding::NearestPenny, "{} × {} ÷ 100", &operands))
        }
        None if both.value.is_zero() => {
            let name =
                name("residual_recoverable", "Residual input tax: none", &RESIDUAL).gives(&["residual_recoverable"]);
            Some(tests.run.total(name, &[both])?)
        }
        None => None,
    };
    let exempt_input_tax = match residual {
        Some(residual) => {
            let value = exempt.value.plus(both.value)?.minus(residual.value)?;
            let name = name("exempt_input_tax", "Exempt input tax", &EXEMPT_INPUT_TAX).gives(&["exempt_input_tax"]);
            let operands = [exempt.operand(), both.operand(), residual.operand()];
            Some(tests.run.step(name, value, Rounding::None, "{} + {} − {}", &operands))
        }
        None => None,
    };
    let main_test = match exempt_input_tax {
        Some(exempt_input_tax) => tests.main(exempt_input_tax, all_input_tax)?,
        None => fraction.is_missing(&mut tests),
    };

    let recoverable = match residual {
        _ if simplified_1 || simplified_2 || main_test => run.total(
            name("recoverable", "Input tax recovered", &ALL_RECOVERED).gives(&["recoverable"]),
            &[all_input_tax],
        )?,
        Some(residual) => run.total(
            name("recoverable", "Input tax recovered", &PART_RECOVERED).gives(&["recoverable"]),
            &[taxable, residual],
        )?,
        None => {
            return Err(Refusal::new(
                Place::Sales,
                RefusalCode::PartialExemptionPercentageUnknown,
                "Input tax was used for both taxable and exempt supplies, but the period's supplies give no fraction to share it by: \
                 they must be nought or more, and together more than nought. Give the period's supplies, or say for each purchase that \
                 it was used_for taxable or exempt supplies.",
            ));
        }
    };
    let calculation = PartialExemption {
        percentage: percentage.map(|percentage| percentage.value),
        taxable_supplies: taxable_supplies.value,
        exempt_supplies: exempt_supplies.value,
        input_tax_taxable: taxable.value,
        input_tax_exempt: exempt.value,
        input_tax_both: both.value,
        residual_recoverable: residual.map(|residual| residual.value),
        exempt_input_tax: exempt_input_tax.map(|tax| tax.value),
        de_minimis_limit: limit,
        simplified_test_1: simplified_1,
        simplified_test_2: simplified_2,
        main_test,
        recoverable: recoverable.value,
    };
    Ok(Attribution::Partly { recoverable, calculation: Box::new(calculation) })
}

/// Whether supplies of this treatment stand with the taxable ones in the fraction (VAT Regulations 1995 regs 101, 103).
fn counts_as_taxable(treatment: Treatment) -> bool {
    match treatment {
        Treatment::StandardRated
        | Treatment::ReducedRated
        | Treatment::HospitalityRated
        | Treatment::ZeroRated
        | Treatment::DomesticReverseCharge
        | Treatment::OutsideScope => true,
        Treatment::Exempt | Treatment::NonBusiness => false,
    }
}

struct Fraction {
    taxable: Traced<Money>,
    exempt: Traced<Money>,
    all: Traced<Money>,
}

impl Fraction {
    /// The recoverable percentage; none where the supplies give no fraction between nought and one.
    fn percentage(
        &self,
        tests: &mut Tests<'_, '_>,
        residual: Traced<Money>,
    ) -> Result<Option<Traced<Percentage>>, Refusal> {
        if !self.all.value.is_positive() || self.taxable.value.is_negative() || self.exempt.value.is_negative() {
            return Ok(None);
        }
        let rounding =
            if tests.residual_is_small(residual)? { Rounding::UpToWholePercent } else { Rounding::UpToTwoDecimals };
        let fraction = Ratio::new(self.taxable.value.pence(), self.all.value.pence())?;
        let name = Name::new(tests.scope, "percentage", "Recoverable percentage", &PERCENTAGE).gives(&["percentage"]);
        let operands = [self.taxable.operand(), self.all.operand()];
        Ok(Some(tests.run.step(name, fraction.to_percentage(rounding)?, rounding, "{} ÷ {} × 100", &operands)))
    }
}

impl Fraction {
    /// Records that the main test has no fraction to rest on, so that it is not passed.
    fn is_missing(&self, tests: &mut Tests<'_, '_>) -> bool {
        let name = Name::new(tests.scope, "main_test", "Main test: no fraction can be formed", &NO_FRACTION)
            .gives(&["main_test"]);
        let operands = [self.all.operand(), self.taxable.operand(), self.exempt.operand()];
        tests.run.step(name, false, Rounding::None, "{} > 0 and {} ≥ 0 and {} ≥ 0", &operands).value
    }
}

/// The tests against a monthly limit.
struct Tests<'run, 'law> {
    run: &'run mut Run<'law>,
    scope: Scope,
    length: Option<TracedLength>,
    period: Period,
}

/// A monthly limit for the period: its exact value, and the operands of the product that makes it.
struct Limit {
    exact: Ratio,
    operands: Vec<Operand>,
    whole_months: bool,
}

impl Tests<'_, '_> {
    fn monthly(&mut self, parameter: ParameterId, label: &'static str) -> Result<Limit, Refusal> {
        let monthly = self.run.amount(parameter, self.period.start(), label)?;
        let length = match self.length {
            Some(length) => length,
            None => *self.length.insert(TracedLength::of(self.run, self.period)),
        };
        let (exact, operands) = length.of_monthly(monthly)?;
        Ok(Limit { exact, operands, whole_months: length.whole_months() })
    }

    /// The limit as it is shown.
    fn limit(&mut self) -> Result<Money, Refusal> {
        let limit = self.monthly(ParameterId::PartialExemptionMainTestMonthly, MAIN_MONTHLY)?;
        let formula = if limit.whole_months { "{} × {}" } else { "{} × 12 × {} ÷ {}" };
        let name = Name::new(self.scope, "de_minimis_limit", "De minimis limit", &LIMIT).gives(&["de_minimis_limit"]);
        let shown = limit.exact.to_money(Rounding::NearestPenny)?;
        Ok(self.run.step(name, shown, Rounding::NearestPenny, formula, &limit.operands).value)
    }

    /// A simplified test on all input tax, or on what is left of it without that used only for taxable supplies.
    fn simplified(
        &mut self,
        all_input_tax: Traced<Money>,
        less: Option<Traced<Money>>,
        exempt_supplies: Traced<Money>,
        all_supplies: Traced<Money>,
    ) -> Result<bool, Refusal> {
        let limit =
            self.monthly(ParameterId::PartialExemptionSimplifiedTestMonthly, "Monthly limit of the simplified tests")?;
        let half = self.run.percentage(
            ParameterId::PartialExemptionSimplifiedTestShare,
            self.period.start(),
            "Largest share of exempt supplies in the simplified tests",
        )?;
        let (id, label, rule, figure, tested): (_, _, _, &'static [&'static str], _) = match less {
            None => (
                "simplified_test_1",
                "First simplified test",
                &SIMPLIFIED_1,
                &["simplified_test_1"],
                all_input_tax.value,
            ),
            Some(less) => (
                "simplified_test_2",
                "Second simplified test",
                &SIMPLIFIED_2,
                &["simplified_test_2"],
                all_input_tax.value.minus(less.value)?,
            ),
        };
        let passes = tested.exact().at_most(limit.exact)?
            && exempt_supplies.value.exact().at_most(all_supplies.value.share(half.value)?)?;
        let formula = match (less.is_some(), limit.whole_months) {
            (false, true) => "{} ≤ {} × {} and {} ≤ {} ÷ 100 × {}",
            (false, false) => "{} ≤ {} × 12 × {} ÷ {} and {} ≤ {} ÷ 100 × {}",
            (true, true) => "{} − {} ≤ {} × {} and {} ≤ {} ÷ 100 × {}",
            (true, false) => "{} − {} ≤ {} × 12 × {} ÷ {} and {} ≤ {} ÷ 100 × {}",
        };
        let mut operands = vec![all_input_tax.operand()];
        operands.extend(less.map(Traced::operand));
        operands.extend(limit.operands);
        operands.extend([exempt_supplies.operand(), half.operand(), all_supplies.operand()]);
        let name = Name::new(self.scope, id, label, rule).gives(figure);
        Ok(self.run.step(name, passes, Rounding::None, formula, &operands).value)
    }

    fn main(&mut self, exempt_input_tax: Traced<Money>, all_input_tax: Traced<Money>) -> Result<bool, Refusal> {
        let limit = self.monthly(ParameterId::PartialExemptionMainTestMonthly, MAIN_MONTHLY)?;
        let half = self.run.percentage(
            ParameterId::PartialExemptionMainTestShare,
            self.period.start(),
            "Largest share of exempt input tax in the main test",
        )?;
        let exact = exempt_input_tax.value.exact();
        let passes = exact.at_most(limit.exact)? && exact.at_most(all_input_tax.value.share(half.value)?)?;
        let formula = if limit.whole_months {
            "{} ≤ {} × {} and {} ≤ {} ÷ 100 × {}"
        } else {
            "{} ≤ {} × 12 × {} ÷ {} and {} ≤ {} ÷ 100 × {}"
        };
        let mut operands = vec![exempt_input_tax.operand()];
        operands.extend(limit.operands);
        operands.extend([exempt_input_tax.operand(), half.operand(), all_input_tax.operand()]);
        let name = Name::new(self.scope, "main_test", "Main test", &MAIN_TEST).gives(&["main_test"]);
        Ok(self.run.step(name, passes, Rounding::None, formula, &operands).value)
    }

    /// Whether residual input tax is at most £400,000 a month on average.
    fn residual_is_small(&mut self, residual: Traced<Money>) -> Result<bool, Refusal> {
        let limit = self.monthly(
            ParameterId::PartialExemptionRoundingMonthly,
            "Monthly residual input tax up to which the percentage is a whole number",
        )?;
        let small = residual.value.exact().compare(limit.exact)? != Ordering::Greater;
        let formula = if limit.whole_months { "{} ≤ {} × {}" } else { "{} ≤ {} × 12 × {} ÷ {}" };
        let mut operands = vec![residual.operand()];
        operands.extend(limit.operands);
        let name = Name::new(
            self.scope,
            "whole_percentage",
            "Whether the percentage is rounded to a whole number",
            &ROUNDING_OF_PERCENTAGE,
        );
        Ok(self.run.step(name, small, Rounding::None, formula, &operands).value)
    }
}

const MAIN_MONTHLY: &str = "Monthly limit of the main test";
