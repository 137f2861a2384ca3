//! What a request says of partial exemption, from the wire to the calculation.

use vat_schemes::figures::{AnnualTestGiven, PartialExemptionGiven};
use vat_schemes::partial_exemption_year::figures::{self as year, ExemptionTotals, YearFigures};

use super::partial_exemption_request::{
    GivenAnnualTest, GivenExemptionTotals, GivenPartialExemption, GivenYearPeriod, PartialExemptionYearRequest,
};
use super::scalars::GivenPercentage;

impl From<&GivenPartialExemption> for PartialExemptionGiven {
    fn from(given: &GivenPartialExemption) -> Self {
        of_the_year(given.previous_year_percentage.as_ref(), given.annual_test.as_ref())
    }
}

fn of_the_year(percentage: Option<&GivenPercentage>, test: Option<&GivenAnnualTest>) -> PartialExemptionGiven {
    PartialExemptionGiven {
        previous_year_percentage: percentage.map(|percentage| percentage.0),
        annual_test: test.map(|test| AnnualTestGiven {
            previous_year_de_minimis: test.previous_year_de_minimis,
            expected_input_tax: test.expected_input_tax.0,
        }),
    }
}

impl From<&PartialExemptionYearRequest> for YearFigures {
    fn from(request: &PartialExemptionYearRequest) -> Self {
        Self {
            year: (&request.year).into(),
            ends_by: request.ends_by.map_or(year::YearEndsBy::TaxYear, |ends_by| ends_by.0),
            of_the_year: of_the_year(request.previous_year_percentage.as_ref(), request.annual_test.as_ref()),
            periods: request.periods.iter().map(Into::into).collect(),
            attributed_afresh: request.attributed_afresh.as_ref().map(Into::into),
        }
    }
}

impl From<&GivenYearPeriod> for year::YearPeriod {
    fn from(given: &GivenYearPeriod) -> Self {
        Self {
            period: (&given.period).into(),
            totals: ExemptionTotals {
                taxable_supplies: given.taxable_supplies.0,
                exempt_supplies: given.exempt_supplies.0,
                input_tax_taxable: given.input_tax_taxable.0,
                input_tax_exempt: given.input_tax_exempt.0,
                input_tax_both: given.input_tax_both.0,
            },
            claimed: given.claimed.as_ref().map(|claimed| claimed.0),
        }
    }
}

impl From<&GivenExemptionTotals> for ExemptionTotals {
    fn from(given: &GivenExemptionTotals) -> Self {
        Self {
            taxable_supplies: given.taxable_supplies.0,
            exempt_supplies: given.exempt_supplies.0,
            input_tax_taxable: given.input_tax_taxable.0,
            input_tax_exempt: given.input_tax_exempt.0,
            input_tax_both: given.input_tax_both.0,
        }
    }
}
