//! The examples kept beside the API document: files that hold a summary, a request, and the answer that the service gives to it.

use std::path::{Path, PathBuf};

use anyhow::{Context as _, anyhow, bail};
use serde::Serialize;
use serde_json::Value;
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;

use crate::json::{self, Node};
use crate::problem::Problem;
use crate::routes::comparisons::compare;
use crate::routes::dates::list_dates;
use crate::routes::goods_tests::test_goods;
use crate::routes::invoices::work_out_invoice;
use crate::routes::partial_exemption_years::work_out_year;
use crate::routes::threshold_checks::check_thresholds;

/// A file, its members in the order in which a person reads them.
#[derive(Serialize)]
struct Example<'a> {
    summary: &'a Node<'a>,
    request: &'a Node<'a>,
    answer: Answer,
}

#[derive(Serialize)]
#[serde(untagged)]
enum Answer {
    Comparison(Box<crate::wire::v1::answer::Comparison>),
    GoodsTest(Box<crate::wire::v1::goods_answer::GoodsTestAnswer>),
    Invoice(Box<crate::wire::v1::invoice_answer::InvoiceAnswer>),
    ThresholdCheck(Box<crate::wire::v1::threshold_answer::ThresholdCheck>),
    Dates(Box<crate::wire::v1::dates_answer::DatesAnswer>),
    PartialExemptionYear(Box<crate::wire::v1::partial_exemption_answer::PartialExemptionYearAnswer>),
}

/// Writes the answers of all examples in a folder anew, each from its request, and returns the files that changed.
///
/// # Errors
/// Where a file cannot be read or written, is no example, or where its request gets no answer.
pub fn rewrite(law: &Law, folder: &Path) -> Result<Vec<PathBuf>, anyhow::Error> {
    let in_folder = || format!("the folder {} cannot be read", folder.display());
    let entries: Result<Vec<_>, _> = std::fs::read_dir(folder).with_context(in_folder)?.collect();
    let mut paths: Vec<PathBuf> = entries.with_context(in_folder)?.into_iter().map(|entry| entry.path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    paths.sort();
    let mut changed = Vec::new();
    for path in paths {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let kept = std::fs::read_to_string(&path).with_context(|| format!("{} cannot be read", path.display()))?;
        let made = rewritten(law, &name, &kept).with_context(|| format!("{} is no example", path.display()))?;
        if made != kept {
            std::fs::write(&path, made).with_context(|| format!("{} cannot be written", path.display()))?;
            changed.push(path);
        }
    }
    Ok(changed)
}

/// The text of an example with the answer that its request gets. The beginning of the file's name says what is asked for.
pub(crate) fn rewritten(law: &Law, name: &str, text: &str) -> Result<String, anyhow::Error> {
    let node = json::read(text.as_bytes()).map_err(|fault| anyhow!("{}", Problem::from(fault).detail))?;
    let Node::Object(members) = &node else { bail!("it holds no object") };
    let member = |wanted: &str| members.iter().find(|(name, _)| name == wanted).map(|(_, value)| value);
    let summary = member("summary").context("it has no summary")?;
    let request = member("request").context("it has no request")?;
    let body = serde_json::to_vec(request)?;
    let answer = if name.starts_with("comparison_") {
        Answer::Comparison(Box::new(compare(law, &body, Workings::kept).map_err(refused)?.0))
    } else if name.starts_with("goods_test_") {
        Answer::GoodsTest(Box::new(test_goods(law, &body).map_err(refused)?.0))
    } else if name.starts_with("invoice") {
        Answer::Invoice(Box::new(work_out_invoice(law, &body).map_err(refused)?.0))
    } else if name.starts_with("partial_exemption_year_") {
        Answer::PartialExemptionYear(Box::new(work_out_year(law, &body).map_err(refused)?.0))
    } else if name.starts_with("threshold_check_") {
        Answer::ThresholdCheck(Box::new(check_thresholds(law, &body).map_err(refused)?.0))
    } else if name.starts_with("dates_") {
        Answer::Dates(Box::new(list_dates(law, &body).map_err(refused)?.0))
    } else {
        bail!(
            "its name begins with none of comparison_, goods_test_, invoice, threshold_check_, partial_exemption_year_ and dates_"
        );
    };
    let mut text = serde_json::to_string_pretty(&Example { summary, request, answer })?;
    text.push('\n');
    Ok(text)
}

fn refused(problem: Problem) -> anyhow::Error {
    let places: Vec<String> =
        problem.errors.iter().map(|error| format!("{}: {}", error.pointer, error.detail)).collect();
    anyhow!("its request gets no answer: {} {}", problem.detail, places.join(" "))
}

/// The summary, request and answer of an example.
pub(crate) fn parts(mut example: Value) -> Result<(String, Value, Value), anyhow::Error> {
    let mut take =
        |member: &str| example.get_mut(member).map(Value::take).with_context(|| format!("it has no {member}"));
    let summary = take("summary")?.as_str().context("its summary is no text")?.to_owned();
    Ok((summary, take("request")?, take("answer")?))
}

#[cfg(test)]
mod tests {
    use super::{rewrite, rewritten};
    use crate::test_support::{REQUEST, law};

    fn example(request: &str) -> String {
        format!("{{ \"answer\": {{}}, \"request\": {request}, \"summary\": \"A quarter\" }}")
    }

    #[test]
    fn every_answer_kept_is_the_one_that_the_service_gives() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../openapi/examples");
        let mut count = 0;
        for entry in std::fs::read_dir(folder).expect("the examples") {
            let path = entry.expect("an example").path();
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            let kept = std::fs::read_to_string(&path).expect("text");
            let made = rewritten(&law(), &name, &kept).expect("an answer");
            assert!(made == kept, "{name} is out of date: write it anew with `cargo run -- examples openapi/examples`");
            count += 1;
        }
        assert!(count >= 8, "{count}");
    }

    #[test]
    fn the_request_stays_as_it_was_written() {
        let made = rewritten(&law(), "comparison_quarter.json", &example(REQUEST)).expect("an answer");
        assert!(made.starts_with("{\n  \"summary\": \"A quarter\",\n  \"request\": {\n    \"reference\": \"r1\""));
        assert!(made.ends_with("}\n"));
        assert_eq!(rewritten(&law(), "comparison_quarter.json", &made).expect("an answer"), made);
    }

    #[test]
    fn what_is_no_example_is_told_from_one() {
        for (name, text, part) in [
            ("comparison_a.json", "[]".to_owned(), "no object"),
            ("comparison_a.json", "{".to_owned(), "breaks off"),
            ("comparison_a.json", "{\"summary\":\"\"}".to_owned(), "no request"),
            ("other.json", example(REQUEST), "begins with none"),
            ("comparison_a.json", example("{}"), "/period"),
        ] {
            let error = rewritten(&law(), name, &text).expect_err("no example");
            assert!(error.to_string().contains(part), "{error}");
        }
        assert!(rewrite(&law(), std::path::Path::new("/no/such/folder")).is_err());
    }
}
