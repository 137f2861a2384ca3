//! What a request says of partial exemption.

use vat_schemes::partial_exemption_year::figures;

use super::scalars::{amount, percentage, period, reference, unsigned_amount};
use super::words;
use crate::json::{Decoder, Node};
use crate::wire::v1::partial_exemption_request::{
    GivenAnnualTest, GivenExemptionTotals, GivenPartialExemption, GivenYearPeriod, MAX_PERIODS,
    PartialExemptionYearRequest,
};
use crate::wire::v1::scalars::GivenAmount;
use crate::wire::v1::vocabulary::YearEndsBy;

const OF_THE_YEAR: &[&str] = &["previous_year_percentage", "annual_test"];
const ANNUAL_TEST: &[&str] = &["previous_year_de_minimis", "expected_input_tax"];
const YEAR: &[&str] =
    &["reference", "year", "ends_by", "previous_year_percentage", "annual_test", "periods", "attributed_afresh"];
const TOTALS: &[&str] =
    &["taxable_supplies", "exempt_supplies", "input_tax_taxable", "input_tax_exempt", "input_tax_both"];
const PERIOD: &[&str] = &[
    "period",
    "taxable_supplies",
    "exempt_supplies",
    "input_tax_taxable",
    "input_tax_exempt",
    "input_tax_both",
    "claimed",
];

/// What a comparison's partial exemption is told of the year.
pub(super) fn partial_exemption(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenPartialExemption> {
    let (mut previous_year_percentage, mut annual_test_given) = (None, None);
    decoder.object(node, OF_THE_YEAR, |decoder, field, node| match field {
        "previous_year_percentage" => previous_year_percentage = percentage(decoder, node),
        _ => annual_test_given = annual_test(decoder, node),
    })?;
    Some(GivenPartialExemption { previous_year_percentage, annual_test: annual_test_given })
}

fn annual_test(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenAnnualTest> {
    let (mut previous, mut expected) = (None, None);
    let given = decoder.object(node, ANNUAL_TEST, |decoder, field, node| match field {
        "previous_year_de_minimis" => previous = decoder.boolean(node),
        _ => expected = unsigned_amount(decoder, node),
    })?;
    decoder.require(
        given,
        "previous_year_de_minimis",
        "say with true or false whether the year before was de minimis.",
    );
    decoder.require(given, "expected_input_tax", "give the input tax expected in the year.");
    Some(GivenAnnualTest { previous_year_de_minimis: previous?, expected_input_tax: expected? })
}

/// A partial exemption year's request.
pub(super) fn year(decoder: &mut Decoder, node: &Node<'_>) -> Option<PartialExemptionYearRequest> {
    let (mut reference_given, mut year_given, mut ends_by, mut previous) = (None, None, None, None);
    let (mut annual_test_given, mut periods, mut attributed_afresh) = (None, None, None);
    let given = decoder.object(node, YEAR, |decoder, field, node| match field {
        "reference" => reference_given = reference(decoder, node),
        "year" => year_given = period(decoder, node),
        "ends_by" => ends_by = words!(decoder, node, figures::YearEndsBy, YearEndsBy),
        "previous_year_percentage" => previous = percentage(decoder, node),
        "annual_test" => annual_test_given = annual_test(decoder, node),
        "periods" => {
            periods = decoder.list(node, MAX_PERIODS, "Give the VAT periods of twelve months at most.", year_period);
        }
        _ => attributed_afresh = totals(decoder, node),
    })?;
    decoder.require(given, "year", "give the partial exemption year as an object with start and end.");
    decoder.require(given, "periods", "give the totals of each VAT period of the year as a list.");
    Some(PartialExemptionYearRequest {
        reference: reference_given,
        year: year_given?,
        ends_by,
        previous_year_percentage: previous,
        annual_test: annual_test_given,
        periods: periods?,
        attributed_afresh,
    })
}

/// The five totals as they are read, in the order of [`TOTALS`].
type Read = [Option<GivenAmount>; 5];

fn year_period(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenYearPeriod> {
    let (mut days, mut claimed, mut read) = (None, None, Read::default());
    let given = decoder.object(node, PERIOD, |decoder, field, node| match field {
        "period" => days = period(decoder, node),
        "claimed" => claimed = amount(decoder, node),
        total => read_total(decoder, total, node, &mut read),
    })?;
    decoder.require(given, "period", "give the days of the VAT period as an object with start and end.");
    for total in TOTALS {
        decoder.require(given, total, NIL);
    }
    let totals = whole(read)?;
    Some(GivenYearPeriod {
        period: days?,
        taxable_supplies: totals.taxable_supplies,
        exempt_supplies: totals.exempt_supplies,
        input_tax_taxable: totals.input_tax_taxable,
        input_tax_exempt: totals.input_tax_exempt,
        input_tax_both: totals.input_tax_both,
        claimed,
    })
}

fn totals(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenExemptionTotals> {
    let mut read = Read::default();
    let given = decoder.object(node, TOTALS, |decoder, total, node| read_total(decoder, total, node, &mut read))?;
    for total in TOTALS {
        decoder.require(given, total, NIL);
    }
    whole(read)
}

const NIL: &str = "give the total, \"0.00\" where there is none.";

fn read_total(decoder: &mut Decoder, name: &str, node: &Node<'_>, read: &mut Read) {
    if let Some(position) = TOTALS.iter().position(|total| *total == name) {
        read[position] = amount(decoder, node);
    }
}

fn whole([taxable, exempt, for_taxable, for_exempt, for_both]: Read) -> Option<GivenExemptionTotals> {
    Some(GivenExemptionTotals {
        taxable_supplies: taxable?,
        exempt_supplies: exempt?,
        input_tax_taxable: for_taxable?,
        input_tax_exempt: for_exempt?,
        input_tax_both: for_both?,
    })
}
