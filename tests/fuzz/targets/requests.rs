//! Whole requests to answers: `{"path": …, "request": …}`, as the published cases are. Whatever a request says, it is answered or
//! refused with a reason; an answer's workings replay, its boxes and totals hang together, and the second calculation agrees.

#![no_main]

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::LazyLock;

use acceptance::differences::differences;
use acceptance::{balance, replay, second_calculation};
use fuzz::mutation;
use fuzz::schema::Grammar;
use libfuzzer_sys::{Corpus, fuzz_mutator, fuzz_target, fuzzer_mutate};
use serde::Serialize;
use serde_json::Value;
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;
use vat_schemes_api::json::written;
use vat_schemes_api::problem::Problem;
use vat_schemes_api::routes::{comparisons, dates, goods_tests, invoices, partial_exemption_years, threshold_checks};

static LAW: LazyLock<Law> = LazyLock::new(|| Law::built_in().expect("the law"));
static GRAMMAR: LazyLock<Grammar> = LazyLock::new(|| Grammar::new(&LAW));

/// The second calculation does not guard its own sums against amounts beyond those of any business.
const MOST_DIGITS: usize = 10;

fuzz_mutator!(|data: &mut [u8], size: usize, most: usize, seed: u32| {
    match mutation::mutate(&GRAMMAR, data, size, most, seed) {
        Some(size) => size,
        None => fuzzer_mutate(data, size, most),
    }
});

fuzz_target!(|data: &[u8]| -> Corpus {
    let Ok(case) = serde_json::from_slice::<Value>(data) else { return Corpus::Reject };
    let Some(request) = case.get("request").filter(|request| request.is_object()) else { return Corpus::Reject };
    let path = case.get("path").and_then(Value::as_str).unwrap_or("/v1/comparisons");
    let body = request.to_string();
    let body = body.as_bytes();
    let answer = match path {
        "/v1/comparisons" => compared(request, body),
        "/v1/dates" => answer(dates::list_dates(&LAW, body)),
        "/v1/goods-tests" => answer(goods_tests::test_goods(&LAW, body)),
        "/v1/invoices" => answer(invoices::work_out_invoice(&LAW, body)),
        "/v1/partial-exemption-years" => answer(partial_exemption_years::work_out_year(&LAW, body)),
        "/v1/threshold-checks" => answer(threshold_checks::check_thresholds(&LAW, body)),
        _ => return Corpus::Reject,
    };
    if let Ok(answer) = answer {
        let faults = replay::faults(request, &answer);
        assert!(faults.is_empty(), "workings: {faults:#?}");
        let faults = balance::faults(&answer);
        assert!(faults.is_empty(), "{faults:#?}");
    }
    Corpus::Keep
});

/// The answer as it is sent, or the refusal after a look at it.
fn answer<A: Serialize, O>(outcome: Result<(A, O), Problem>) -> Result<Value, Problem> {
    match outcome {
        Ok((answer, _)) => {
            let bytes = written(&answer, 0).expect("an answer can be written");
            Ok(serde_json::from_slice(&bytes).expect("an answer is JSON"))
        }
        Err(problem) => {
            assert!(matches!(problem.status().as_u16(), 400 | 422), "{problem:?}");
            assert!(!problem.errors.is_empty(), "{problem:?}");
            for error in &problem.errors {
                assert!(error.detail.ends_with('.') && !error.detail.contains(char::is_control), "{error:?}");
            }
            Err(problem)
        }
    }
}

fn compared(request: &Value, body: &[u8]) -> Result<Value, Problem> {
    let answered = answer(comparisons::compare(&LAW, body, Workings::kept));
    let without = answer(comparisons::compare(&LAW, body, Workings::not_kept));
    match (&answered, &without) {
        (Ok(answered), Ok(without)) => {
            let mut bare = answered.clone();
            bare["workings"] = without["workings"].clone();
            if let Some(received) = without.get("received") {
                bare["received"]["workings"] = received["workings"].clone();
            }
            assert_eq!(bare, *without, "the answer hangs on whether workings are kept");
        }
        (Err(one), Err(other)) => assert_eq!(one.errors, other.errors),
        _ => panic!("whether there is an answer hangs on whether workings are kept"),
    }
    agree(request, &answered);
    answered
}

/// The second calculation, where it knows everything in the request, gives the same figures. It refuses less: only what it must.
fn agree(request: &Value, answered: &Result<Value, Problem>) {
    let Ok(answer) = answered else { return };
    if !within_measure(request) {
        return;
    }
    let second = catch_unwind(AssertUnwindSafe(|| second_calculation::compare(request))).expect("a second calculation");
    match second {
        None => {}
        Some(Ok(figures)) => {
            let found = differences(&figures.answer, answer);
            assert!(found.is_empty(), "the second calculation: {found:#?}");
        }
        Some(Err(refused)) => panic!("only the second calculation refuses: {refused:?}"),
    }
}

fn within_measure(value: &Value) -> bool {
    match value {
        Value::String(text) => text
            .trim_start_matches('-')
            .split('.')
            .next()
            .is_none_or(|whole| whole.len() <= MOST_DIGITS || !whole.bytes().all(|byte| byte.is_ascii_digit())),
        Value::Array(items) => items.iter().all(within_measure),
        Value::Object(members) => members.values().all(within_measure),
        _ => true,
    }
}
