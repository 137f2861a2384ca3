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

/// A step's id within its calculation, and the figures that it gives: a path of a figure is a fixed text.
struct Figure {
    id: &'static str,
    gives: &'static [&'static str],
}

/// The figures of the bounds that tests have in common.
struct Bounds {
    rule: &'static Rule,
    limit: Figure,
    part_limit: Figure,
    part_headroom: Figure,
}

static OF_SIMPLIFIED: Bounds = Bounds {
    rule: &SIMPLIFIED_2,
    limit: Figure { id: "tests/0/limit", gives: &["tests/0/limit", "tests/1/limit"] },
    part_limit: Figure {
        id: "tests/0/exempt_part_limit",
        gives: &["tests/0/exempt_part_limit", "tests/1/exempt_part_limit"],
    },
    part_headroom: Figure {
        id: "tests/0/exempt_part_headroom",
        gives: &["tests/0/exempt_part_headroom", "tests/1/exempt_part_headroom"],
    },
};
static OF_MAIN: Bounds = Bounds {
    rule: &MAIN_TEST,
    limit: Figure { id: "tests/2/limit", gives: &["tests/2/limit"] },
    part_limit: Figure { id: "tests/2/exempt_part_limit", gives: &["tests/2/exempt_part_limit"] },
    part_headroom: Figure { id: "tests/2/exempt_part_headroom", gives: &["tests/2/exempt_part_headroom"] },
};

/// The figures of one test.
struct Names {
    test: DeMinimis,
    rule: &'static Rule,
    label: &'static str,
    outcome: Figure,
    headroom: Figure,
}

static FIRST: Names = Names {
    test: DeMinimis::SimplifiedOne,
    rule: &SIMPLIFIED_1,
    label: "First simplified test",
    outcome: Figure { id: "simplified_test_1", gives: &["simplified_test_1", "tests/0/passed"] },
    headroom: Figure { id: "tests/0/headroom", gives: &["tests/0/headroom"] },
};
static SECOND: Names = Names {
    test: DeMinimis::SimplifiedTwo,
    rule: &SIMPLIFIED_2,
    label: "Second simplified test",
    outcome: Figure { id: "simplified_test_2", gives: &["simplified_test_2", "tests/1/passed"] },
    headroom: Figure { id: "tests/1/headroom", gives: &["tests/1/headroom"] },
};
static THIRD: Names = Names {
    test: DeMinimis::Main,
    rule: &MAIN_TEST,
    label: "Main test",
    outcome: Figure { id: "main_test", gives: &["main_test", "tests/2/passed"] },
    headroom: Figure { id: "tests/2/headroom", gives: &["tests/2/headroom"] },
};

const MAIN_MONTHLY: &str = "Monthly limit of the main test";

/// What bounds a test: so much input tax, and a share of exempt supplies in all, or of exempt input tax in all.
struct Bounded {
    limit: Limit,
    share: Traced<Percentage>,
    part: Traced<Money>,
    whole: Traced<Money>,
    /// The most in whole pence that passes.
    shown_limit: Traced<Money>,
    shown_part_limit: Traced<Money>,
    part_headroom: Traced<Money>,
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

    /// The simplified tests: on all input tax (PE24500; Notice 706 section 11), and on all but that used only for taxable supplies
    /// (reg 105A).
    pub fn simplified(&mut self) -> Result<[DeMinimisTest; 2], Refusal> {
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
        let totals = self.totals;
        let bounded = self.bounded(&OF_SIMPLIFIED, limit, share, (totals.exempt_supplies, totals.all_supplies))?;
        let all = totals.all_input_tax;
        let first = self.test(&FIRST, &bounded, all, None)?;
        let name = Name::new(
            self.scope,
            "tests/1/input_tax",
            "All input tax less that used only for taxable supplies",
            &SIMPLIFIED_2,
        )
        .gives(&["tests/1/input_tax"]);
        let rest = self.run.difference(name, all, totals.input_tax_taxable)?;
        let second = self.test(&SECOND, &bounded, rest, Some([all, totals.input_tax_taxable]))?;
        Ok([first, second])
    }

    /// The main test, on exempt input tax (reg 106).
    pub fn main(&mut self, exempt_input_tax: Traced<Money>) -> Result<DeMinimisTest, Refusal> {
        let (limit, share) = self.of_main()?;
        let bounded = self.bounded(&OF_MAIN, limit, share, (exempt_input_tax, self.totals.all_input_tax))?;
        self.test(&THIRD, &bounded, exempt_input_tax, None)
    }

    /// The main test where it has no fraction to rest on, so that it is not passed.
    pub fn main_without_fraction(&mut self) -> Result<DeMinimisTest, Refusal> {
        let (limit, share) = self.of_main()?;
        let totals = self.totals;
        let name = Name::new(self.scope, THIRD.outcome.id, "Main test: no fraction can be formed", &NO_FRACTION)
            .gives(THIRD.outcome.gives);
        let operands =
            [totals.all_supplies.operand(), totals.taxable_supplies.operand(), totals.exempt_supplies.operand()];
        let passed = self.run.step(name, false, Rounding::None, "{} > 0 and {} ≥ 0 and {} ≥ 0", &operands).value;
        let limit = self.shown_limit(&OF_MAIN, &limit)?;
        let part_limit = self.shown_part_limit(&OF_MAIN, share, totals.all_input_tax)?;
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

    fn of_main(&mut self) -> Result<(Limit, Traced<Percentage>), Refusal> {
        let limit = self.limits.limit(self.run, ParameterId::PartialExemptionMainTestMonthly, MAIN_MONTHLY)?;
        let share = self.run.percentage(
            ParameterId::PartialExemptionMainTestShare,
            self.limits.period.start(),
            "Largest share of exempt input tax in the main test",
        )?;
        Ok((limit, share))
    }

    fn bounded(
        &mut self,
        names: &'static Bounds,
        limit: Limit,
        share: Traced<Percentage>,
        (part, whole): (Traced<Money>, Traced<Money>),
    ) -> Result<Bounded, Refusal> {
        let shown_limit = self.shown_limit(names, &limit)?;
        let shown_part_limit = self.shown_part_limit(names, share, whole)?;
        let Figure { id, gives } = names.part_headroom;
        let name = Name::new(self.scope, id, "Exempt part below its limit; negative above it", names.rule).gives(gives);
        let part_headroom = self.run.difference(name, shown_part_limit, part)?;
        Ok(Bounded { limit, share, part, whole, shown_limit, shown_part_limit, part_headroom })
    }

    fn shown_limit(&mut self, names: &'static Bounds, limit: &Limit) -> Result<Traced<Money>, Refusal> {
        let formula = if limit.whole_months { "{} × {}" } else { "{} × 12 × {} ÷ {}" };
        let Figure { id, gives } = names.limit;
        let name = Name::new(self.scope, id, "The most input tax that passes", &LIMIT).gives(gives);
        let most = limit.exact.to_money(Rounding::DownToPenny)?;
        Ok(self.run.step(name, most, Rounding::DownToPenny, formula, &limit.operands))
    }

    fn shown_part_limit(
        &mut self,
        names: &'static Bounds,
        share: Traced<Percentage>,
        whole: Traced<Money>,
    ) -> Result<Traced<Money>, Refusal> {
        let Figure { id, gives } = names.part_limit;
        let name = Name::new(self.scope, id, "The most exempt part that passes", names.rule).gives(gives);
        let most = whole.value.share(share.value)?.to_money(Rounding::DownToPenny)?;
        Ok(self.run.step(name, most, Rounding::DownToPenny, "{} ÷ 100 × {}", &[share.operand(), whole.operand()]))
    }

    /// Makes a test: both of its limits are compared unrounded, and both are inclusive. `difference` is what the input tax measured
    /// is the difference of, where it is one.
    fn test(
        &mut self,
        names: &'static Names,
        bounded: &Bounded,
        input_tax: Traced<Money>,
        difference: Option<[Traced<Money>; 2]>,
    ) -> Result<DeMinimisTest, Refusal> {
        let Bounded { limit, share, part, whole, .. } = bounded;
        let passes = input_tax.value.exact().at_most(limit.exact)?
            && part.value.exact().at_most(whole.value.share(share.value)?)?;
        let formula = match (difference.is_some(), limit.whole_months) {
            (false, true) => "{} ≤ {} × {} and {} ≤ {} ÷ 100 × {}",
            (false, false) => "{} ≤ {} × 12 × {} ÷ {} and {} ≤ {} ÷ 100 × {}",
            (true, true) => "{} − {} ≤ {} × {} and {} ≤ {} ÷ 100 × {}",
            (true, false) => "{} − {} ≤ {} × 12 × {} ÷ {} and {} ≤ {} ÷ 100 × {}",
        };
        let measured = difference.map_or_else(|| vec![input_tax], |of| of.to_vec());
        let mut operands: Vec<_> = measured.into_iter().map(Traced::operand).collect();
        operands.extend_from_slice(&limit.operands);
        operands.extend([part.operand(), share.operand(), whole.operand()]);
        let Figure { id, gives } = names.outcome;
        let name = Name::new(self.scope, id, names.label, names.rule).gives(gives);
        let passed = self.run.step(name, passes, Rounding::None, formula, &operands).value;

        let Figure { id, gives } = names.headroom;
        let name = Name::new(self.scope, id, "Input tax below the limit; negative above it", names.rule).gives(gives);
        let headroom = self.run.difference(name, bounded.shown_limit, input_tax)?;
        Ok(DeMinimisTest {
            test: names.test,
            passed,
            input_tax: Some(input_tax.value),
            limit: bounded.shown_limit.value,
            headroom: Some(headroom.value),
            exempt_part: Some(part.value),
            exempt_part_limit: bounded.shown_part_limit.value,
            exempt_part_headroom: Some(bounded.part_headroom.value),
            what_would_change: self.what_would_change(names.test, bounded, headroom.value)?,
        })
    }

    fn what_would_change(&self, test: DeMinimis, bounded: &Bounded, headroom: Money) -> Result<String, Refusal> {
        let share = Share(bounded.share.value);
        let totals = self.totals;
        let (taxable, exempt) = (totals.taxable_supplies.value, totals.exempt_supplies.value);
        let what = match test {
            DeMinimis::SimplifiedOne => "input tax",
            DeMinimis::SimplifiedTwo => "input tax other than that used only for taxable supplies",
            DeMinimis::Main => {
                return Ok(turning::of_main(
                    (headroom, bounded.part_headroom.value),
                    share,
                    (bounded.part.value, bounded.whole.value),
                    totals.input_tax_exempt.value,
                )?);
            }
        };
        Ok(turning::of_simplified(what, headroom, share, taxable, exempt)?)
    }
}
