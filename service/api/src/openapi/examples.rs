//! Examples of requests and answers. Those of the law come from its tables, so that they are never out of date.

use std::sync::LazyLock;

use anyhow::{Context as _, anyhow};
use serde_json::{Value, json};
use vat_schemes::law::Law;

use crate::packed;
use crate::problem::{ProblemCode, ProblemEntry};
use crate::wire::v1::fuel_scale_charges::FuelScaleCharges;
use crate::wire::v1::law::{AuthorityList, ParameterHistory, ParameterList, SectorHistory, SectorList};
use crate::wire::v1::spend_kinds::SpendKindList;
use crate::wire::v1::worked_examples::WorkedExampleList;

/// A request, where it has a body, and its answer.
pub(super) struct Example {
    pub(super) name: String,
    pub(super) summary: String,
    pub(super) request: Option<Value>,
    pub(super) answer: Value,
}

// Files of `openapi/examples` that the document shows, by name. All others are kept for those who read the sources: an answer with its
// workings is long, and the document is to stay readable.
const COMPARISON: &str = "comparison_limited_cost_business";
const DATES: &str = "dates_of_flat_rate_user";
const GOODS_TEST: &str = "goods_test_of_totals";
const INVOICE: &str = "invoice";
const THRESHOLD_CHECK: &str = "threshold_check_of_totals";
const PARTIAL_EXEMPTION_YEAR: &str = "partial_exemption_year_of_one_period";

/// The published case that the document shows.
const CASE: &str = "gt-exactly-250";

/// The examples of an operation.
pub(super) fn of(operation: &str, law: &Law) -> Result<Vec<Example>, anyhow::Error> {
    let on = law.checked_on();
    let one = |name: &str, summary: &str, answer: Value| {
        Ok(vec![Example { name: name.to_owned(), summary: summary.to_owned(), request: None, answer }])
    };
    match operation {
        "create_comparison" => Ok(vec![shown(COMPARISON)?]),
        "create_comparison_batch" => {
            let Example { request, .. } = shown(COMPARISON)?;
            let answer = json!({ "end": {
                "lines": 1, "answered": 1, "standard": 1, "flat_rate": 0, "equal": 0, "refused": 0, "not_valid": 0, "failed": 0,
                "blank": 0, "complete": true, "cautions": vat_schemes::general_cautions(law),
            } });
            let summary = "A line, and the line with which its answer ends".to_owned();
            Ok(vec![Example { name: "one_line".to_owned(), summary, request, answer }])
        }
        "create_goods_test" => Ok(vec![shown(GOODS_TEST)?]),
        "create_invoice" => Ok(vec![shown(INVOICE)?]),
        "create_threshold_check" => Ok(vec![shown(THRESHOLD_CHECK)?]),
        "create_dates" => Ok(vec![shown(DATES)?]),
        "create_partial_exemption_year" => Ok(vec![shown(PARTIAL_EXEMPTION_YEAR)?]),
        "list_sectors" => {
            let list = SectorList::new(law, on, Some("hairdressers"))?;
            one("words_of_a_trade", "The categories to which ?q=hairdressers leads", serde_json::to_value(list)?)
        }
        "get_sector" => {
            let id = "catering-services-including-restaurants-and-takeaways";
            let sector = law.sector(id).with_context(|| format!("there is no category {id}"))?;
            one(
                "temporary_percentages",
                "A category with temporary percentages",
                serde_json::to_value(SectorHistory::from(sector))?,
            )
        }
        "list_spend_kinds" => {
            one("beginning", "The first two of the list", shortened(serde_json::to_value(SpendKindList::all())?))
        }
        "list_parameters" => {
            one("beginning", "The first two of the list", shortened(serde_json::to_value(ParameterList::new(law, on))?))
        }
        "get_parameter" => {
            let parameter = law.parameter(vat_schemes::law::ParameterId::VatRegistration);
            one("registration", "The limit for registration", serde_json::to_value(ParameterHistory::from(parameter))?)
        }
        "get_fuel_scale_charges" => {
            let on = law.last_day_of_fuel_scale_charges();
            let table = FuelScaleCharges::new(on, law.fuel_scale_charges(on)?);
            one("beginning", "The first two bands", shortened(serde_json::to_value(table)?))
        }
        "list_authorities" => {
            one("beginning", "The first two of the list", shortened(serde_json::to_value(AuthorityList::from(law))?))
        }
        "list_worked_examples" => {
            let items = crate::worked_examples::all()?.iter().filter(|case| case.id == CASE).cloned().collect();
            one("one_case", "The list, with one case of it", serde_json::to_value(WorkedExampleList { items })?)
        }
        "get_worked_example" => {
            let case =
                crate::worked_examples::all()?.iter().find(|case| case.id == CASE).context("there is no such case")?;
            one("one_case", "A case of HMRC's", serde_json::to_value(case)?)
        }
        "get_problem" => one(
            "amount_must_be_string",
            "An amount as a JSON number",
            serde_json::to_value(ProblemEntry::from(ProblemCode::AmountMustBeString))?,
        ),
        "get_openapi_document" => one(
            "beginning",
            "How the document begins",
            json!({ "openapi": "3.1.0", "info": { "title": "vat-schemes", "version": super::VERSION } }),
        ),
        other => anyhow::bail!("the operation {other} has no example"),
    }
}

fn shown(name: &str) -> Result<Example, anyhow::Error> {
    static KEPT: LazyLock<Result<Value, String>> = LazyLock::new(|| {
        let text = packed::unpack(packed::EXAMPLES).map_err(|error| error.to_string())?;
        serde_json::from_slice(&text).map_err(|error| error.to_string())
    });
    let kept = KEPT.as_ref().map_err(|fault| anyhow!("the examples cannot be read: {fault}"))?;
    let (summary, request, answer) =
        crate::examples::parts(kept[name].clone()).with_context(|| format!("{name} is no example"))?;
    Ok(Example { name: name.to_owned(), summary, request: Some(request), answer })
}

/// A list with only its first two items.
fn shortened(mut list: Value) -> Value {
    if let Some(items) = list["items"].as_array_mut() {
        items.truncate(2);
    }
    list
}
