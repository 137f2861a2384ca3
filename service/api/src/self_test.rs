//! A known comparison, worked out before the service takes its first request: a build whose sums are wrong never starts.

use anyhow::{Context as _, bail};
use serde_json::{Value, json};
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;

use crate::routes::comparisons::compare;

/// Works the comparison out and holds it to its known figures.
pub fn run(law: &Law) -> Result<(), anyhow::Error> {
    let (comparison, _) = compare(law, request().to_string().as_bytes(), Workings::kept)
        .map_err(|problem| anyhow::anyhow!("the known comparison was refused: {}", problem.detail))?;
    let answer = serde_json::to_value(comparison).context("the known comparison cannot be written")?;
    for (pointer, expected) in FIGURES {
        let figure = answer.pointer(pointer).and_then(Value::as_str);
        if figure != Some(expected) {
            bail!("the known comparison gives {} at {pointer} instead of {expected}", figure.unwrap_or("nothing"));
        }
    }
    Ok(())
}

/// A consultancy's quarter with few goods: both schemes, the goods test and box 6 are all put to use.
fn request() -> Value {
    json!({
        "period": { "start": "2026-04-01", "end": "2026-06-30" },
        "business": { "registered_on": "2019-02-01", "sector": "management-consultancy", "flat_rate_from": "2019-02-01" },
        "sales": [
            { "treatment": "standard_rated", "net": "24000.00", "vat": "4800.00" },
            { "treatment": "exempt", "net": "600.00" },
        ],
        "purchases": [
            { "spend": "services", "net": "1500.00", "vat": "300.00" },
            { "spend": "consumable_goods", "net": "270.83", "vat": "54.17" },
        ],
    })
}

const FIGURES: [(&str, &str); 6] = [
    ("/standard/vat_payable", "4445.83"),
    ("/standard/boxes/box6", "24600"),
    ("/flat_rate/parts/0/percentage", "16.5"),
    ("/flat_rate/vat_payable", "4851.00"),
    ("/goods_test/headroom", "-263.00"),
    ("/comparison/saving", "405.17"),
];

#[cfg(test)]
mod tests {
    use vat_schemes::law::Law;

    #[test]
    fn this_build_passes() {
        let law = Law::built_in().expect("the law");
        assert!(super::run(&law).is_ok());
    }
}
