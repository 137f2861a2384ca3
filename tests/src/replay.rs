//! Replays the workings of an answer, step by step, from their own operands.

use crate::arithmetic::{self, Outcome};
use crate::calendar::{self, Day};
use num_bigint::BigInt;
use num_rational::BigRational;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The parts of an answer each of whose figures has a step.
const COVERED: [&str; 16] = [
    "standard",
    "flat_rate",
    "goods_test",
    "comparison",
    "what_would_change",
    "adjustments",
    "cash_accounting",
    "category",
    "invoice",
    "payment",
    "limits",
    "annual_accounting",
    "category",
    "periods",
    "annual",
    "standard_method_override",
];

/// Answers to yes or no that follow from days or words and have no step.
const WITHOUT_STEP: [&str; 3] = ["claimable", "in_time", "agrees"];

/// The same period by money received, with workings of its own.
const RECEIVED: &str = "received";

/// Constants that a sum may hold without an operand for them.
const CONSTANTS: [&str; 4] = ["0", "2", "12", "100"];

/// What is wrong with the workings of `answer`, which answers `request`: one line for each fault, none when all replays.
pub fn faults(request: &Value, answer: &Value) -> Vec<String> {
    let mut faults = faults_of(request, answer, "");
    if answer.get(RECEIVED).is_some() {
        faults.extend(faults_of(request, answer, &format!("/{RECEIVED}")));
    }
    faults
}

/// What is wrong with the workings under `prefix`: those of the answer itself, or of the same period by money received.
fn faults_of(request: &Value, answer: &Value, prefix: &str) -> Vec<String> {
    let mut faults = Vec::new();
    let Some(steps) = answer.pointer(&format!("{prefix}/workings")).and_then(Value::as_array) else {
        return vec![format!("the answer has no workings under `{prefix}`")];
    };
    let mut results: BTreeMap<&str, &str> = BTreeMap::new();
    let mut explained: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    let mut used: BTreeSet<String> = BTreeSet::new();
    for step in steps {
        let id = text(step, "id");
        let mut say = |fault: String| faults.push(format!("{id}: {fault}"));
        if !well_formed(id) {
            say("the id is not in lower-case words and slashes".to_owned());
        }
        for name in ["label", "rule"] {
            if text(step, name).trim().is_empty() {
                say(format!("the {name} is empty"));
            }
        }
        if strings(step, "authority").is_empty() {
            say("no authority is named".to_owned());
        }
        let result = text(step, "result");
        for fault in operand_faults(step, request, &results) {
            say(fault);
        }
        if let Err(fault) = check_sum(step) {
            say(fault);
        }
        for pointer in strings(step, "figures") {
            match answer.pointer(pointer).map(written) {
                Some(Some(figure)) if figure == result => {}
                Some(figure) => say(format!("{pointer} is {figure:?}, the result is `{result}`")),
                None => say(format!("{pointer} is not in the answer")),
            }
            explained.entry(pointer.to_owned()).or_default().push(id);
        }
        for operand in list(step, "operands") {
            used.insert(text(operand, "step").to_owned());
        }
        if results.insert(id, result).is_some() {
            faults.push(format!("{id}: two steps have this id"));
        }
    }
    for pointer in figures_under(answer, prefix) {
        match explained.get(&pointer).map(Vec::len) {
            Some(1) => {}
            None => faults.push(format!("{pointer}: no step makes this figure")),
            Some(count) => faults.push(format!("{pointer}: {count} steps make this figure")),
        }
    }
    for step in steps {
        let id = text(step, "id");
        // A number of the law stands there because it was used.
        if id.starts_with("law/") && !used.contains(id) {
            faults.push(format!("{id}: no step uses this number"));
        }
    }
    faults
}

/// The steps that state a figure of the law, whose id is `law/<name>/<first day in force>`.
pub fn law_steps(answer: &Value) -> Vec<&Value> {
    list(answer, "workings").iter().filter(|step| text(step, "id").starts_with("law/")).collect()
}

/// A step without operands states a figure of the law, counts days or months (`dates/<first>/<last>/<what>`), or is the sum of
/// nothing.
fn check_statement(step: &Value) -> Result<(), String> {
    let (id, sum, result) = (text(step, "id"), text(step, "sum"), text(step, "result"));
    if sum != result {
        return Err(format!("without operands, yet the sum `{sum}` is not the result `{result}`"));
    }
    match id.split('/').collect::<Vec<_>>()[..] {
        ["law", _, _] => Ok(()),
        ["dates", start, end, what] => {
            let (Some(start), Some(end)) = (Day::read(start), Day::read(end)) else {
                return Err("no dates in the id".to_owned());
            };
            let count = match what {
                "months" => calendar::whole_months(start, end),
                "days" => Some(calendar::days(start, end)),
                "days_of_year" => Some(calendar::days_of_year_from(start)),
                _ => None,
            };
            match count {
                Some(count) if count.to_string() == result => Ok(()),
                other => Err(format!("{what} counted here are {other:?}, the result is `{result}`")),
            }
        }
        _ if result == "0" || result == "0.00" => Ok(()),
        _ => Err(format!("`{result}` comes from nowhere")),
    }
}

/// JSON Pointers to every figure (an amount, a percentage, a yes or no) that must have a step.
pub fn figures(answer: &Value) -> Vec<String> {
    figures_under(answer, "")
}

fn figures_under(answer: &Value, prefix: &str) -> Vec<String> {
    let mut found = Vec::new();
    for part in COVERED {
        let pointer = format!("{prefix}/{part}");
        if let Some(value) = answer.pointer(&pointer) {
            collect_figures(&pointer, value, &mut found);
        }
    }
    found
}

fn collect_figures(pointer: &str, value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Bool(_) => found.push(pointer.to_owned()),
        Value::Number(_) => found.push(pointer.to_owned()),
        Value::String(text) if arithmetic::number(text).is_ok() => found.push(pointer.to_owned()),
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                collect_figures(&format!("{pointer}/{index}"), item, found);
            }
        }
        Value::Object(members) => {
            for (name, member) in members {
                // The lines of the goods test repeat figures of the request.
                let repeats = pointer.ends_with("/goods_test") && name == "lines";
                if !repeats && !WITHOUT_STEP.contains(&name.as_str()) {
                    collect_figures(&format!("{pointer}/{name}"), member, found);
                }
            }
        }
        _ => {}
    }
}

fn operand_faults(step: &Value, request: &Value, results: &BTreeMap<&str, &str>) -> Vec<String> {
    let mut faults = Vec::new();
    for operand in list(step, "operands") {
        let value = text(operand, "value");
        match (operand.get("step").and_then(Value::as_str), operand.get("input").and_then(Value::as_str)) {
            (Some(earlier), None) => match results.get(earlier) {
                Some(result) if *result == value => {}
                Some(result) => faults.push(format!("`{value}` is taken from {earlier}, which is `{result}`")),
                None => faults.push(format!("no earlier step is called {earlier}")),
            },
            (None, Some(pointer)) => match request.pointer(pointer).and_then(written) {
                Some(input) if same_number(&input, value) => {}
                Some(input) => faults.push(format!("`{value}` is taken from {pointer}, which is `{input}`")),
                None => faults.push(format!("{pointer} is not in the request")),
            },
            _ => faults.push(format!("an operand names neither one step nor one input: {operand}")),
        }
    }
    faults
}

fn check_sum(step: &Value) -> Result<(), String> {
    let (sum, result, rounding) = (text(step, "sum"), text(step, "result"), text(step, "rounding"));
    let operands: Vec<&str> = list(step, "operands").iter().map(|operand| text(operand, "value")).collect();
    if operands.is_empty() {
        return check_statement(step);
    }
    let read = arithmetic::work_out(sum).map_err(|fault| format!("the sum does not read: {fault}"))?;
    check_literals(sum, &read.literals, &operands)?;
    match read.outcome {
        Outcome::Truth(truth) if rounding == "none" && result == truth.to_string() => Ok(()),
        Outcome::Truth(truth) => Err(format!("`{sum}` is {truth}, the result is `{result}`, rounding `{rounding}`")),
        Outcome::Number(exact) => check_number(sum, &exact, rounding, result),
    }
}

/// The numbers of a sum are the values of its operands, in order, apart from the constants.
fn check_literals(sum: &str, literals: &[String], operands: &[&str]) -> Result<(), String> {
    let mut wanted = operands.iter().peekable();
    for literal in literals {
        if wanted.peek().is_some_and(|operand| **operand == literal) {
            wanted.next();
        } else if !CONSTANTS.contains(&literal.as_str()) {
            return Err(format!("`{literal}` in `{sum}` is not the next operand"));
        }
    }
    match wanted.next() {
        None => Ok(()),
        Some(operand) => Err(format!("the operand `{operand}` is not in `{sum}`")),
    }
}

fn check_number(sum: &str, exact: &BigRational, rounding: &str, result: &str) -> Result<(), String> {
    let rounded = round(exact, rounding)?;
    let stated = arithmetic::number(result)?;
    if stated != rounded {
        return Err(format!("`{sum}` rounded by `{rounding}` is {rounded}, the result is `{result}`"));
    }
    if result.starts_with('-') && stated == arithmetic::zero() {
        return Err("nothing has no sign".to_owned());
    }
    Ok(())
}

fn round(exact: &BigRational, rounding: &str) -> Result<BigRational, String> {
    let hundred = BigRational::from_integer(BigInt::from(100));
    Ok(match rounding {
        "none" => exact.clone(),
        "nearest_penny_half_up" | "nearest_hundredth_half_up" => half_up(&(exact * &hundred)) / hundred,
        "up_to_penny" | "up_to_two_decimals" => (exact * &hundred).ceil() / hundred,
        "down_to_penny" => (exact * &hundred).floor() / hundred,
        "towards_nought_to_penny" => (exact * &hundred).trunc() / hundred,
        "towards_nought_to_tenth_of_penny" => (exact * parts(1000)).trunc() / parts(1000),
        "nearest_tenth_of_penny_half_up" => half_up(&(exact * parts(1000))) / parts(1000),
        "nearest_half_penny_half_up" => half_up(&(exact * parts(200))) / parts(200),
        "nearest_half_penny_half_up_not_nil" => not_nil(half_up(&(exact * parts(200))), exact) / parts(200),
        "nearest_penny_half_up_not_nil" => not_nil(half_up(&(exact * &hundred)), exact) / hundred,
        "down_to_whole" => exact.floor(),
        "up_to_whole_percent" => exact.ceil(),
        "pence_cut_off" => exact.trunc(),
        other => return Err(format!("`{other}` is not a way to round")),
    })
}

/// So many parts of a pound.
fn parts(count: u32) -> BigRational {
    BigRational::from_integer(BigInt::from(count))
}

/// What was rounded to nothing without being nothing becomes one part, with its sign.
fn not_nil(rounded: BigRational, exact: &BigRational) -> BigRational {
    if rounded == arithmetic::zero() && *exact != rounded {
        if *exact < arithmetic::zero() { -parts(1) } else { parts(1) }
    } else {
        rounded
    }
}

/// The nearest whole number; a half goes away from nothing.
fn half_up(exact: &BigRational) -> BigRational {
    let half = BigRational::new(BigInt::from(1), BigInt::from(2));
    if *exact < arithmetic::zero() { -(-exact.clone() + half).floor() } else { (exact + half).floor() }
}

fn same_number(input: &str, value: &str) -> bool {
    match (arithmetic::number(input), arithmetic::number(value)) {
        (Ok(input), Ok(value)) => input == value,
        _ => input == value,
    }
}

fn well_formed(id: &str) -> bool {
    !id.is_empty()
        && id.split('/').all(|word| {
            !word.is_empty()
                && word
                    .bytes()
                    .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_' || byte == b'-')
        })
}

/// A figure as the workings write it.
fn written(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.clone()),
        Value::Bool(truth) => Some(truth.to_string()),
        Value::Number(number) => Some(number.to_string()),
        _ => None,
    }
}

fn text<'value>(value: &'value Value, name: &str) -> &'value str {
    value.get(name).and_then(Value::as_str).unwrap_or_default()
}

fn list<'value>(value: &'value Value, name: &str) -> &'value [Value] {
    value.get(name).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

fn strings<'value>(value: &'value Value, name: &str) -> Vec<&'value str> {
    list(value, name).iter().filter_map(Value::as_str).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn request() -> Value {
        json!({ "sales": [{ "gross": "100" }, { "gross": "50.01" }] })
    }

    fn answer() -> Value {
        json!({
            "standard": { "vat_payable": "25.00", "ok": true },
            "goods_test": { "lines": [{ "amount": "1.00" }], "start": "2025-04-01" },
            "comparison": { "cheaper": "standard" },
            "workings": [
                step("law/rate/2011-01-04", "20", json!([]), "none", "20", &[]),
                step(
                    "sum",
                    "100.00 + 50.01",
                    json!([{ "input": "/sales/0/gross", "value": "100.00" }, { "input": "/sales/1/gross", "value": "50.01" }]),
                    "none",
                    "150.01",
                    &[]
                ),
                step(
                    "vat",
                    "150.01 × 20 ÷ (100 + 20)",
                    json!([
                        { "step": "sum", "value": "150.01" },
                        { "step": "law/rate/2011-01-04", "value": "20" },
                        { "step": "law/rate/2011-01-04", "value": "20" }
                    ]),
                    "nearest_penny_half_up",
                    "25.00",
                    &["/standard/vat_payable"]
                ),
                step(
                    "enough",
                    "25.00 ≤ 150.01",
                    json!([{ "step": "vat", "value": "25.00" }, { "step": "sum", "value": "150.01" }]),
                    "none",
                    "true",
                    &["/standard/ok"]
                ),
            ]
        })
    }

    fn step(id: &str, sum: &str, operands: Value, rounding: &str, result: &str, figures: &[&str]) -> Value {
        json!({
            "id": id, "label": "A label", "sum": sum, "operands": operands, "rounding": rounding,
            "result": result, "rule": "A rule.", "authority": ["notice-733"], "figures": figures
        })
    }

    /// The faults after one member of one step was changed.
    fn after(index: usize, name: &str, value: Value) -> Vec<String> {
        let mut answer = answer();
        answer["workings"][index][name] = value;
        faults(&request(), &answer)
    }

    #[test]
    fn sound_workings_have_no_faults() {
        assert_eq!(faults(&request(), &answer()), Vec::<String>::new());
    }

    #[test]
    fn a_wrong_result_is_found_where_it_is_made_and_where_it_is_used() {
        assert_eq!(
            after(2, "result", json!("25.01")),
            [
                "vat: `150.01 × 20 ÷ (100 + 20)` rounded by `nearest_penny_half_up` is 25, the result is `25.01`",
                "vat: /standard/vat_payable is Some(\"25.00\"), the result is `25.01`",
                "enough: `25.00` is taken from vat, which is `25.01`",
            ]
        );
    }

    #[test]
    fn rounding_must_be_stated() {
        assert_eq!(after(2, "rounding", json!("none")).len(), 1);
        assert_eq!(after(2, "rounding", json!("as_you_like")).len(), 1);
        assert_eq!(after(3, "result", json!("false")).len(), 2);
    }

    #[test]
    fn the_sum_holds_its_operands_in_order() {
        let found = after(1, "sum", json!("50.01 + 100.00"));
        assert_eq!(found, ["sum: `50.01` in `50.01 + 100.00` is not the next operand"]);
        let found = after(1, "sum", json!("100.00 + 50.01 + 0.00"));
        assert_eq!(found, ["sum: `0.00` in `100.00 + 50.01 + 0.00` is not the next operand"]);
        let found = after(1, "sum", json!("150.01"));
        assert!(!found.is_empty(), "an operand was left out");
    }

    #[test]
    fn operands_come_from_the_request_or_an_earlier_step() {
        let operands = json!([
            { "input": "/sales/7/gross", "value": "100.00" },
            { "step": "vat", "value": "50.01" }
        ]);
        assert_eq!(
            after(1, "operands", operands),
            ["sum: /sales/7/gross is not in the request", "sum: no earlier step is called vat"]
        );
        let operands =
            json!([{ "input": "/sales/0/gross", "value": "100.01" }, { "input": "/sales/1/gross", "value": "50.01" }]);
        assert!(after(1, "operands", operands)[0].contains("which is `100`"));
    }

    #[test]
    fn every_figure_has_one_step() {
        let found = after(2, "figures", json!([]));
        assert_eq!(found, ["/standard/vat_payable: no step makes this figure"]);
        let found = after(3, "figures", json!(["/standard/ok", "/standard/ok"]));
        assert_eq!(found, ["/standard/ok: 2 steps make this figure"]);
        let found = after(3, "figures", json!([]));
        assert_eq!(found, ["/standard/ok: no step makes this figure"]);
    }

    #[test]
    fn every_step_cites_and_is_named_once() {
        assert_eq!(after(0, "authority", json!([])), ["law/rate/2011-01-04: no authority is named"]);
        assert_eq!(after(0, "rule", json!(" ")), ["law/rate/2011-01-04: the rule is empty"]);
        assert!(after(3, "id", json!("sum")).contains(&"sum: two steps have this id".to_owned()));
        assert!(after(3, "id", json!("Sum up")).iter().any(|fault| fault.contains("lower-case")));
    }

    #[test]
    fn a_step_without_operands_states_the_law_counts_days_or_is_nothing() {
        assert_eq!(law_steps(&answer()).len(), 1);
        let mut unused = answer();
        unused["workings"] = json!([unused["workings"][0]]);
        let found = faults(&request(), &unused);
        assert!(found.contains(&"law/rate/2011-01-04: no step uses this number".to_owned()), "{found:?}");
        assert!(after(0, "sum", json!("10 + 10"))[0].contains("without operands"));
        let statement = |id: &str, result: &str| check_statement(&step(id, result, json!([]), "none", result, &[]));
        assert_eq!(statement("dates/2026-04-01/2026-06-30/months", "3"), Ok(()));
        assert_eq!(statement("dates/2026-04-01/2026-06-29/days", "90"), Ok(()));
        assert_eq!(statement("dates/2023-05-10/2023-05-10/days_of_year", "366"), Ok(()));
        assert_eq!(statement("purchases/total", "0.00"), Ok(()));
        for (id, result) in [
            ("dates/2026-04-01/2026-06-30/months", "4"),
            ("dates/2026-04-01/2026-06-29/months", "3"),
            ("dates/2026-04-01/2026-06-29/weeks", "12"),
            ("dates/april/june/days", "90"),
            ("purchases/total", "1.00"),
        ] {
            assert!(statement(id, result).is_err(), "{id} {result}");
        }
    }

    #[test]
    fn the_ways_to_round() {
        let rounded = |text: &str, rounding: &str| {
            round(&arithmetic::number(text).expect("a number"), rounding).map(|value| value.to_string())
        };
        for (text, rounding, expected) in [
            ("0.865", "nearest_penny_half_up", "87/100"),
            ("0.864", "nearest_penny_half_up", "43/50"),
            ("-0.865", "nearest_penny_half_up", "-87/100"),
            ("83.331", "up_to_penny", "4167/50"),
            ("-83.339", "up_to_penny", "-8333/100"),
            ("80.0001", "up_to_whole_percent", "81"),
            ("80", "up_to_whole_percent", "80"),
            ("61.2301", "up_to_two_decimals", "1531/25"),
            ("-1.99", "pence_cut_off", "-1"),
            ("1.99", "pence_cut_off", "1"),
        ] {
            assert_eq!(rounded(text, rounding).as_deref(), Ok(expected), "{text} {rounding}");
        }
    }
}
