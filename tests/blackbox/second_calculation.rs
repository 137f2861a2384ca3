//! The service against a second calculation that was written apart from it, over HTTP.

use acceptance::cases;
use acceptance::client::{BATCHES, COMPARISONS, Call, Client};
use acceptance::differences::differences;
use acceptance::generator::Generator;
use acceptance::second_calculation::{compare, requests};
use acceptance::server::with_server;
use serde_json::{Value, json};

/// How many requests are made up.
const REQUESTS: usize = 100_000;
/// How many go into one batch.
const BATCH: usize = 2_000;
/// One batch in so many is answered in full, with the parts, the goods test and partial exemption; of the others the summary is
/// compared.
const IN_FULL: usize = 25;

#[test]
fn two_calculations_agree_on_the_first_half() {
    agree(0..REQUESTS / BATCH / 2);
}

#[test]
fn two_calculations_agree_on_the_second_half() {
    agree(REQUESTS / BATCH / 2..REQUESTS / BATCH);
}

/// The published cases are a third opinion: the second calculation gives their figures, as far as it knows them.
#[test]
fn the_second_calculation_gives_the_published_figures() {
    let mut known = 0;
    for case in cases::all().iter().filter(|case| case.path == COMPARISONS) {
        let Some(Ok(figures)) = compare(&case.request) else { continue };
        let expected = members_of(&case.expected, &figures.answer);
        if expected.as_object().is_some_and(|members| !members.is_empty()) {
            assert!(differences(&expected, &figures.answer).is_empty(), "{}: {:#}", case.id, figures.answer);
            known += 1;
        }
    }
    assert!(known >= 70, "only {known} cases are known");
}

/// Requests on which the two once differed; found by fuzzing.
#[test]
fn two_calculations_agree_on_what_fuzzing_found() {
    let request = |start: &str, end: &str, sale: Value, purchase: Value| {
        json!({
            "period": { "start": start, "end": end },
            "business": { "registered_on": "2015-04-01", "sector": "printing", "flat_rate_from": "2015-04-01" },
            "sales": [sale],
            "purchases": [purchase]
        })
    };
    let sale = || json!({ "treatment": "standard_rated", "gross": "441.13" });
    let wages = |other: Value| {
        let mut wages = json!({ "spend": "wages_and_other_outside_scope", "net": "7500.00" });
        wages
            .as_object_mut()
            .into_iter()
            .for_each(|members| members.extend(other.as_object().cloned().unwrap_or_default()));
        wages
    };
    with_server(|client| {
        for request in [
            // Wages are no supply, whatever else the line says of them.
            request("2025-07-01", "2025-09-30", sale(), wages(json!({ "supply": "overseas_services_reverse_charge" }))),
            request("2025-07-01", "2025-09-30", sale(), wages(json!({ "treatment": "standard_rated" }))),
            // There was one rate for hospitality on the days of the line, on the first of them only.
            request(
                "2022-03-31",
                "2022-06-30",
                json!({ "treatment": "hospitality_rated", "vat": "4.21" }),
                wages(json!({})),
            ),
        ] {
            let answer = client.compare(&request);
            let Some(Ok(figures)) = compare(&request) else { panic!("no second calculation of {request}") };
            let found = differences(&figures.answer, &answer);
            assert!(found.is_empty(), "{request}\n{found:#?}");
        }
    });
}

/// What is expected of the members that an answer has.
fn members_of(expected: &Value, answer: &Value) -> Value {
    match (expected, answer) {
        (Value::Object(members), Value::Object(answers)) => {
            let known = members.iter().filter_map(|(name, member)| {
                answers.get(name).map(|answer| (name.clone(), members_of(member, answer)))
            });
            known.collect()
        }
        (Value::Array(items), Value::Array(answers)) => {
            items.iter().zip(answers).map(|(item, answer)| members_of(item, answer)).collect()
        }
        (other, _) => other.clone(),
    }
}

fn agree(batches: std::ops::Range<usize>) {
    with_server(|client| {
        let mut tally = Tally::default();
        for batch in batches {
            let seed = u64::try_from(batch).unwrap_or(0) + 1000;
            check_batch(client, seed, batch % IN_FULL == 0, &mut tally);
        }
        let (answered, refused) = (tally.answered, tally.refused);
        assert!(
            tally.faults.is_empty(),
            "{} of {} requests have differences, the first:\n{}",
            tally.faults.len(),
            answered + refused,
            tally.faults[..tally.faults.len().min(20)].join("\n\n")
        );
        assert_eq!(answered + refused, REQUESTS / 2);
        // Neither may be rare, or the comparison shows little.
        assert!(answered > REQUESTS / 4 && refused > REQUESTS / 200, "{answered} answered, {refused} refused");
    });
}

#[derive(Default)]
struct Tally {
    answered: usize,
    refused: usize,
    faults: Vec<String>,
}

fn check_batch(client: &Client, seed: u64, in_full: bool, tally: &mut Tally) {
    let mut generator = Generator::new(seed);
    let sent: Vec<Value> = (0..BATCH).map(|_| requests::request(&mut generator)).collect();
    let body: String = sent.iter().map(|request| format!("{request}\n")).collect();
    let target = if in_full { BATCHES.to_owned() } else { format!("{BATCHES}?fields=summary") };
    let answer = client
        .exchange(&Call::post_lines(&target, body))
        .unwrap_or_else(|error| panic!("the batch of seed {seed} is not answered: {error:?}"));
    let lines = answer.lines();
    assert_eq!(lines.len(), BATCH + 1, "{}", lines.last().unwrap_or(&Value::Null));
    for (request, line) in sent.iter().zip(&lines) {
        let found = differences_of(request, line, tally);
        if !found.is_empty() {
            tally.faults.push(format!("seed {seed}: {request}\n{}", found.join("\n")));
        }
    }
}

fn differences_of(request: &Value, line: &Value, tally: &mut Tally) -> Vec<String> {
    let expected = compare(request).unwrap_or_else(|| panic!("beyond the second calculation: {request}"));
    let problem = line.get("problem");
    match expected {
        Ok(figures) => {
            tally.answered += 1;
            match (line.get("answer"), line.get("summary")) {
                (Some(answer), _) => differences(&figures.answer, answer),
                (_, Some(summary)) => differences(&figures.summary, summary),
                _ => vec![format!("answered here, refused there: {}", errors(problem))],
            }
        }
        Err(refused) => {
            tally.refused += 1;
            let named = problem.and_then(|problem| problem["errors"].as_array()).is_some_and(|errors| {
                errors.iter().any(|error| error["code"] == refused.code && error["pointer"] == refused.pointer)
            });
            if named { Vec::new() } else { vec![format!("refused here ({refused:?}), there: {}", errors(problem))] }
        }
    }
}

fn errors(problem: Option<&Value>) -> Value {
    problem.map_or(json!("answered"), |problem| problem["errors"].clone())
}
