//! The three tests that let small exempt input tax through, each with what it measures and how far it is from its limits.

use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Percentage, Rounding};
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::answer::{DeMinimis, DeMinimisTest};
use super::monthly::{Limit, MonthlyLimits};
use super::totals::Totals;
use super::turning::{self, Share};

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

/// The names of a test's figures. They differ by the test's place in the list, and a figure's path is a fixed text.
struct Names {
    test: DeMinimis,
    rule: &'static Rule,
    label: &'static str,
    outcome: &'static str,
    outcome_figures: &'static [&'static str],
    limit: &'static str,
    limit_figures: &'static [&'static str],
    headroom: &'static str,
    headroom_figures: &'static [&'static str],
    part_limit: &'static str,
    part_limit_figures: &'static [&'static str],
    part_headroom: &'static str,
    part_headroom_figures: &'static [&'static str],
}

macro_rules! names {
    ($name:ident, $index:literal, $test:ident, $label:literal, $outcome:literal, $rule:ident) => {
        static $name: Names = Names {
            test: DeMinimis::$test,
            rule: &$rule,
            label: $label,
            outcome: $outcome,
            outcome_figures: &[$outcome, concat!("tests/", $index, "/passed")],
            limit: concat!("tests/", $index, "/limit"),
            limit_figures: &[concat!("tests/", $index, "/limit")],
            headroom: concat!("tests/", $index, "/headroom"),
            headroom_figures: &[concat!("tests/", $index, "/headroom")],
            part_limit: concat!("tests/", $index, "/exempt_part_limit"),
            part_limit_figures: &[concat!("tests/", $index, "/exempt_part_limit")],
            part_headroom: concat!("tests/", $index, "/exempt_part_headroom"),
            part_headroom_figures: &[concat!("tests/", $index, "/exempt_part_headroom")],
        };
    };
}

names!(FIRST, 0, SimplifiedOne, "First simplified test", "simplified_test_1", SIMPLIFIED_1);
names!(SECOND, 1, SimplifiedTwo, "Second simplified test", "simplified_test_2", SIMPLIFIED_2);
names!(THIRD, 2, Main, "Main test", "main_test", MAIN_TEST);

const MAIN_MONTHLY: &str = "Monthly limit of the main test";

/// What a test measures, and against what.
struct Measured {
    input_tax: Traced<Money>,
    limit: Limit,
    /// Exempt supplies of all supplies, or exempt input tax of all input tax.
    part: Traced<Money>,
    whole: Traced<Money>,
    share: Traced<Percentage>,
}

/// The tests of one calculation.
pub(super) struct Tests<'a, 'law> {
    pub run: &'a mut Run<'law>,
    pub scope: Scope,
    pub totals: &'a Totals,
    pub limits: &'a mut MonthlyLimits,
}

impl Tests<'_, '_> {
    /// The limit of the main test as it is shown, to the nearest penny.
    pub fn limit(&mut self) -> Result<Money, Refusal> {
        let limit = self.limits.limit(self.run, ParameterId::PartialExemptionMainTestMonthly, MAIN_MONTHLY)?;
        let formula = if limit.whole_months { "{} × {}" } else { "{} × 12 × {} ÷ {}" };
        let name = Name::new(self.scope, "de_minimis_limit", "De minimis limit", &LIMIT).gives(&["de_minimis_limit"]);
        let shown = limit.exact.to_money(Rounding::NearestPenny)?;
        Ok(self.run.step(name, shown, Rounding::NearestPenny, formula, &limit.operands).value)
    }

    /// The first simplified test, on all input tax (PE24500; Notice 706 section 11).
    pub fn first(&mut self) -> Result<DeMinimisTest, Refusal> {
        let (limit, share) = self.simplified()?;
        let totals = self.totals;
        let formula = if limit.whole_months {
            "{} ≤ {} × {} and {} ≤ {} ÷ 100 × {}"
        } else {
            "{} ≤ {} × 12 × {} ÷ {} and {} ≤ {} ÷ 100 × {}"
        };
        let measured = Measured {
            input_tax: totals.all_input_tax,
            limit,
            part: totals.exempt_supplies,
            whole: totals.all_supplies,
            share,
        };
        let passed = self.outcome(&FIRST, &measured, &[totals.all_input_tax], formula)?;
        self.answer(&FIRST, &measured, passed)
    }

    /// The second simplified test, on all input tax but that used only for taxable supplies (reg 105A).
    pub fn second(&mut self) -> Result<DeMinimisTest, Refusal> {
        let (limit, share) = self.simplified()?;
        let totals = self.totals;
        let name = Name::new(
            self.scope,
            "tests/1/input_tax",
            "All input tax less that used only for taxable supplies",
            &SIMPLIFIED_2,
        )
        .gives(&["tests/1/input_tax"]);
        let input_tax = self.run.difference(name, totals.all_input_tax, totals.input_tax_taxable)?;
        let formula = if limit.whole_months {
            "{} − {} ≤ {} × {} and {} ≤ {} ÷ 100 × {}"
        } else {
            "{} − {} ≤ {} × 12 × {} ÷ {} and {} ≤ {} ÷ 100 × {}"
        };
        let measured = Measured { input_tax, limit, part: totals.exempt_supplies, whole: totals.all_supplies, share };
        let passed = self.outcome(&SECOND, &measured, &[totals.all_input_tax, totals.input_tax_taxable], formula)?;
        self.answer(&SECOND, &measured, passed)
    }

    /// The main test, on exempt input tax (reg 106).
    pub fn main(&mut self, exempt_input_tax: Traced<Money>) -> Result<DeMinimisTest, Refusal> {
        let (limit, share) = self.of_main()?;
        let formula = if limit.whole_months {
            "{} ≤ {} × {} and {} ≤ {} ÷ 100 × {}"
        } else {
            "{} ≤ {} × 12 × {} ÷ {} and {} ≤ {} ÷ 100 × {}"
        };
        let measured = Measured {
            input_tax: exempt_input_tax,
            limit,
            part: exempt_input_tax,
            whole: self.totals.all_input_tax,
            share,
        };
        let passed = self.outcome(&THIRD, &measured, &[exempt_input_tax], formula)?;
        self.answer(&THIRD, &measured, passed)
    }

    /// The main test where it has no fraction to rest on, so that it is not passed.
    pub fn main_without_fraction(&mut self) -> Result<DeMinimisTest, Refusal> {
        let (limit, share) = self.of_main()?;
        let totals = self.totals;
        let name = Name::new(self.scope, THIRD.outcome, "Main test: no fraction can be formed", &NO_FRACTION)
            .gives(THIRD.outcome_figures);
        let operands =
            [totals.all_supplies.operand(), totals.taxable_supplies.operand(), totals.exempt_supplies.operand()];
        let passed = self.run.step(name, false, Rounding::None, "{} > 0 and {} ≥ 0 and {} ≥ 0", &operands).value;
        let limit = self.shown_limit(&THIRD, &limit)?;
        let part_limit = self.shown_part_limit(&THIRD, share, totals.all_input_tax)?;
        Ok(DeMinimisTest {
            test: DeMinimis::Main,
            passed,
            input_tax: None,
            limit: limit.value,
            headroom: None,
            exempt_part: None,
            exempt_part_limit: part_limit.value,
            exempt_part_headroom: None,
            what_would_change: turning::WITHOUT_FRACTION.to_owned(),
        })
    }

    fn simplified(&mut self) -> Result<(Limit, Traced<Percentage>), Refusal> {
        let limit = self.limits.limit(
            self.run,
            ParameterId::PartialExemptionSimplifiedTestMonthly,
            "Monthly limit of the simplified tests",
        )?;
        let share = self.run.percentage(
            ParameterId::PartialExemptionSimplifiedTestShare,
            self.limits.period.start(),
            "Largest share of exempt supplies in the simplified tests",
        )?;
        Ok((limit, share))
    }

    fn of_main(&mut self) -> Result<(Limit, Traced<Percentage>), Refusal> {
        let limit = self.limits.limit(self.run, ParameterId::PartialExemptionMainTestMonthly, MAIN_MONTHLY)?;
        let share = self.run.percentage(
            ParameterId::PartialExemptionMainTestShare,
            self.limits.period.start(),
            "Largest share of exempt input tax in the main test",
        )?;
        Ok((limit, share))
    }

    /// Whether a test is passed: both of its limits are compared unrounded, and both are inclusive.
    fn outcome(
        &mut self,
        names: &'static Names,
        measured: &Measured,
        first_operands: &[Traced<Money>],
        formula: &'static str,
    ) -> Result<bool, Refusal> {
        let Measured { input_tax, limit, part, whole, share } = measured;
        let passes = input_tax.value.exact().at_most(limit.exact)?
            && part.value.exact().at_most(whole.value.share(share.value)?)?;
        let mut operands: Vec<_> = first_operands.iter().map(|figure| figure.operand()).collect();
        operands.extend_from_slice(&limit.operands);
        operands.extend([part.operand(), share.operand(), whole.operand()]);
        let name = Name::new(self.scope, names.outcome, names.label, names.rule).gives(names.outcome_figures);
        Ok(self.run.step(name, passes, Rounding::None, formula, &operands).value)
    }

    /// The most in whole pence that passes.
    fn shown_limit(&mut self, names: &'static Names, limit: &Limit) -> Result<Traced<Money>, Refusal> {
        let formula = if limit.whole_months { "{} × {}" } else { "{} × 12 × {} ÷ {}" };
        let name =
            Name::new(self.scope, names.limit, "The most input tax that passes", &LIMIT).gives(names.limit_figures);
        let most = limit.exact.to_money(Rounding::DownToPenny)?;
        Ok(self.run.step(name, most, Rounding::DownToPenny, formula, &limit.operands))
    }

    fn shown_part_limit(
        &mut self,
        names: &'static Names,
        share: Traced<Percentage>,
        whole: Traced<Money>,
    ) -> Result<Traced<Money>, Refusal> {
        let name = Name::new(self.scope, names.part_limit, "The most exempt part that passes", names.rule)
            .gives(names.part_limit_figures);
        let most = whole.value.share(share.value)?.to_money(Rounding::DownToPenny)?;
        Ok(self.run.step(name, most, Rounding::DownToPenny, "{} ÷ 100 × {}", &[share.operand(), whole.operand()]))
    }

    fn answer(&mut self, names: &'static Names, measured: &Measured, passed: bool) -> Result<DeMinimisTest, Refusal> {
        let Measured { input_tax, limit, part, whole, share } = measured;
        let limit = self.shown_limit(names, limit)?;
        let name = Name::new(self.scope, names.headroom, "Input tax below the limit; negative above it", names.rule)
            .gives(names.headroom_figures);
        let headroom = self.run.difference(name, limit, *input_tax)?;
        let part_limit = self.shown_part_limit(names, *share, *whole)?;
        let name =
            Name::new(self.scope, names.part_headroom, "Exempt part below its limit; negative above it", names.rule)
                .gives(names.part_headroom_figures);
        let part_headroom = self.run.difference(name, part_limit, *part)?;
        let share = Share(share.value);
        let totals = self.totals;
        let (taxable, exempt) = (totals.taxable_supplies.value, totals.exempt_supplies.value);
        let what_would_change = match names.test {
            DeMinimis::SimplifiedOne => turning::of_simplified("input tax", headroom.value, share, taxable, exempt)?,
            DeMinimis::SimplifiedTwo => turning::of_simplified(
                "input tax other than that used only for taxable supplies",
                headroom.value,
                share,
                taxable,
                exempt,
            )?,
            DeMinimis::Main => turning::of_main(
                (headroom.value, part_headroom.value),
                share,
                (part.value, whole.value),
                totals.input_tax_exempt.value,
            )?,
        };
        Ok(DeMinimisTest {
            test: names.test,
            passed,
            input_tax: Some(input_tax.value),
            limit: limit.value,
            headroom: Some(headroom.value),
            exempt_part: Some(part.value),
            exempt_part_limit: part_limit.value,
            exempt_part_headroom: Some(part_headroom.value),
            what_would_change,
        })
    }
}
