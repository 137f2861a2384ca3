//! What a partial exemption calculation answers.

use crate::money::{Money, Percentage};
use crate::words::words;

words! {
    /// Where the percentage that shares residual input tax comes from (VAT Regulations 1995 reg 101(2)).
    RecoveryBasis {
        /// The supplies of the period itself, or of the year in a year's calculation: reg 101(2)(d).
        Period => "period",
        /// The percentage of the longer period before: reg 101(2)(f).
        PreviousYear => "previous_year",
    }
}

words! {
    /// A test that lets small exempt input tax through.
    DeMinimis {
        /// All input tax, and the share of exempt supplies (PE24500; Notice 706 section 11).
        SimplifiedOne => "simplified_1",
        /// All input tax but that used only for taxable supplies, and the share of exempt supplies (reg 105A).
        SimplifiedTwo => "simplified_2",
        /// Exempt input tax, by itself and as a share of all input tax (reg 106).
        Main => "main",
    }
}

/// One de minimis test with its measures, in pounds. Where no fraction can be formed the main test has no measures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DeMinimisTest {
    /// Which test.
    pub test: DeMinimis,
    /// Whether it is passed.
    pub passed: bool,
    /// The input tax that is measured.
    pub input_tax: Option<Money>,
    /// The most of it that passes: £625 for each month, down to a whole penny.
    pub limit: Money,
    /// The limit less what is measured; negative where the test fails on it.
    pub headroom: Option<Money>,
    /// Exempt supplies; in the main test exempt input tax.
    pub exempt_part: Option<Money>,
    /// The most of it that passes: half of all supplies, in the main test of all input tax, down to a whole penny.
    pub exempt_part_limit: Money,
    /// That limit less the exempt part; negative where the test fails on it.
    pub exempt_part_headroom: Option<Money>,
    /// What would turn the outcome, in a sentence.
    pub what_would_change: String,
}

/// A partial exemption calculation of a period or a year (VAT Regulations 1995 regs 101, 105A, 106, 106ZA).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartialExemption {
    /// The recoverable percentage of residual input tax; none where no fraction can be formed and none is needed.
    pub percentage: Option<Percentage>,
    /// Where the percentage comes from; none where there is none.
    pub percentage_basis: Option<RecoveryBasis>,
    /// Taxable supplies, and those treated like them, without VAT.
    pub taxable_supplies: Money,
    /// Exempt supplies.
    pub exempt_supplies: Money,
    /// Input tax used only for taxable supplies.
    pub input_tax_taxable: Money,
    /// Input tax used only for exempt supplies.
    pub input_tax_exempt: Money,
    /// Input tax used for both: residual.
    pub input_tax_both: Money,
    /// The recoverable part of residual input tax.
    pub residual_recoverable: Option<Money>,
    /// Input tax attributed to exempt supplies.
    pub exempt_input_tax: Option<Money>,
    /// £625 for each month of the period, to the nearest penny.
    pub de_minimis_limit: Money,
    /// Whether the conditions of the annual test are met; none where they were not asked about.
    pub annual_test: Option<bool>,
    /// Why, in a sentence; none likewise.
    pub annual_test_reason: Option<String>,
    /// Whether the first simplified test is passed.
    pub simplified_test_1: bool,
    /// Whether the second simplified test is passed.
    pub simplified_test_2: bool,
    /// Whether the main de minimis test is passed.
    pub main_test: bool,
    /// The three tests in their order, with measures and what would turn each.
    pub tests: [DeMinimisTest; 3],
    /// The input tax recovered.
    pub recoverable: Money,
    /// The input tax that is not recovered.
    pub not_recovered: Money,
}

impl PartialExemption {
    /// Whether a de minimis test is passed.
    #[must_use]
    pub fn is_de_minimis(&self) -> bool {
        self.tests.iter().any(|test| test.passed)
    }

    /// Whether all input tax is recovered, by a de minimis test or by the annual test.
    #[must_use]
    pub fn recovers_all(&self) -> bool {
        self.is_de_minimis() || self.annual_test == Some(true)
    }
}
