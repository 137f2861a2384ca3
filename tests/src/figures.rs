//! Amounts of money as text and as whole pence, and the small requests that most tests send.

use serde_json::{Value, json};

/// `"1234.50"` for 123450 pence.
pub fn pounds(pence: i64) -> String {
    let sign = if pence < 0 { "-" } else { "" };
    let size = pence.unsigned_abs();
    format!("{sign}{}.{:02}", size / 100, size % 100)
}

/// 123450 for `"1234.50"`; the amount must be written as an answer writes it, with two decimals.
pub fn pence(amount: &str) -> i64 {
    let digits = amount.replacen('.', "", 1);
    assert!(
        amount.len() >= 4 && amount.as_bytes()[amount.len() - 3] == b'.',
        "`{amount}` is not an amount with two decimals"
    );
    digits.parse().unwrap_or_else(|error| panic!("`{amount}` is not an amount: {error}"))
}

/// The amount at `pointer` of an answer, in pence.
pub fn pence_at(answer: &Value, pointer: &str) -> i64 {
    pence(text_at(answer, pointer))
}

/// The text at `pointer` of an answer.
pub fn text_at<'answer>(answer: &'answer Value, pointer: &str) -> &'answer str {
    answer.pointer(pointer).and_then(Value::as_str).unwrap_or_else(|| panic!("no text at {pointer} of {answer:#}"))
}

/// The list at `pointer` of an answer.
pub fn list_at<'answer>(answer: &'answer Value, pointer: &str) -> &'answer [Value] {
    answer.pointer(pointer).and_then(Value::as_array).unwrap_or_else(|| panic!("no list at {pointer} of {answer:#}"))
}

/// A request for a period; the business registered long before, so that no first-year reduction arises.
pub fn request(start: &str, end: &str, sector: &str, sales: Value, purchases: Value) -> Value {
    json!({
        "period": { "start": start, "end": end },
        "business": { "registered_on": "2009-04-01", "sector": sector, "flat_rate_from": "2009-04-01" },
        "sales": sales,
        "purchases": purchases
    })
}

/// A request for the quarter from April to June 2025 of a business with a 12% category.
pub fn quarter(sales: Value, purchases: Value) -> Value {
    request("2025-04-01", "2025-06-30", "business-services-not-listed-elsewhere", sales, purchases)
}

/// A request for one day, with sales of £100.00 including VAT and goods that pass the goods test.
pub fn one_day(day: &str, sector: &str) -> Value {
    request(
        day,
        day,
        sector,
        json!([{ "treatment": "standard_rated", "gross": "100.00" }]),
        json!([{ "spend": "materials", "net": "50.00", "vat": "0.00" }]),
    )
}

/// The contract's example: a consultant whose goods are too small.
pub fn consultant() -> Value {
    json!({
        "period": { "start": "2026-04-01", "end": "2026-06-30" },
        "business": {
            "registered_on": "2019-02-01",
            "sector": "management-consultancy",
            "flat_rate_from": "2019-02-01",
            "turnover_method": "basic"
        },
        "sales": [
            { "treatment": "standard_rated", "net": "24000.00", "vat": "4800.00" },
            { "treatment": "exempt", "net": "600.00" }
        ],
        "purchases": [
            { "spend": "services", "net": "1500.00", "vat": "300.00" },
            { "spend": "consumable_goods", "net": "270.83", "vat": "54.17" }
        ]
    })
}

/// Every amount and reference in a request: what must never stand in a log.
pub fn confidential(request: &Value) -> Vec<String> {
    let mut found = Vec::new();
    collect_confidential(request, &mut found);
    found
}

fn collect_confidential(value: &Value, found: &mut Vec<String>) {
    match value {
        // Short amounts could stand in a log by chance.
        Value::String(text) if text.len() >= 6 && text.contains('.') => found.push(text.clone()),
        Value::Array(items) => items.iter().for_each(|item| collect_confidential(item, found)),
        Value::Object(members) => {
            for (name, member) in members {
                match member {
                    Value::String(text) if name == "reference" && text.len() >= 8 => {
                        found.push(text.clone());
                    }
                    other => collect_confidential(other, found),
                }
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pounds_and_pence_are_each_other_s_inverse() {
        for amount in ["0.00", "-0.01", "1234.50", "-1234.05"] {
            assert_eq!(pounds(pence(amount)), amount);
        }
    }

    #[test]
    fn amounts_and_references_are_confidential() {
        let found = confidential(&json!({
            "reference": "client 4711",
            "sales": [{ "treatment": "exempt", "net": "600.00" }, { "net": "1.00" }]
        }));
        assert_eq!(found, ["client 4711", "600.00"]);
    }
}
