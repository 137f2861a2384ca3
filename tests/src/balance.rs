//! Whether the boxes and totals of an answer hang together.

use serde_json::Value;

/// What does not hang together in a comparison: one line for each fault, none in an answer of another kind.
///
/// Box 3 is boxes 1 and 2, box 5 the difference of 3 and 4 without its sign (VAT Notice 700/12, the boxes of the return).
pub fn faults(answer: &Value) -> Vec<String> {
    if answer.get("comparison").is_none() {
        return Vec::new();
    }
    let mut sums = Sums { answer, faults: Vec::new() };
    for scheme in ["standard", "flat_rate"] {
        let mut amount = |name: &str| sums.pence(&format!("/{scheme}/{name}"));
        let (one, two, three) = (amount("boxes/box1"), amount("boxes/box2"), amount("boxes/box3"));
        let (four, five) = (amount("boxes/box4"), amount("boxes/box5"));
        let (payable, input_tax) = (amount("vat_payable"), amount("input_tax"));
        sums.hold(&format!("box 3 of {scheme}"), three, one + two);
        sums.hold(&format!("box 5 of {scheme}"), five, (three - four).abs());
        sums.hold(&format!("vat_payable of {scheme}"), payable, three - four);
        sums.hold(&format!("input_tax of {scheme}"), input_tax, four);
    }
    let (output_tax, three) = (sums.pence("/standard/output_tax"), sums.pence("/standard/boxes/box3"));
    sums.hold("output_tax", output_tax, three);
    let turnover = sums.pence("/flat_rate/turnover");
    let parts = sums.total("/flat_rate/parts") + sums.total("/flat_rate/earlier_supplies");
    sums.hold("turnover of the parts", parts, turnover);
    let (standard, flat_rate) = (sums.pence("/standard/vat_payable"), sums.pence("/flat_rate/vat_payable"));
    let difference = sums.pence("/comparison/flat_rate_minus_standard");
    sums.hold("flat_rate_minus_standard", difference, flat_rate - standard);
    let saving = sums.pence("/comparison/saving");
    sums.hold("saving", saving, (flat_rate - standard).abs());
    let cheaper = match flat_rate.cmp(&standard) {
        std::cmp::Ordering::Less => "flat_rate",
        std::cmp::Ordering::Equal => "equal",
        std::cmp::Ordering::Greater => "standard",
    };
    if answer.pointer("/comparison/cheaper").and_then(Value::as_str) != Some(cheaper) {
        sums.faults.push(format!("cheaper is not {cheaper}"));
    }
    let (break_even, input_tax) = (sums.pence("/comparison/break_even_input_tax"), sums.pence("/standard/input_tax"));
    sums.hold("break_even_input_tax", break_even, standard + input_tax - flat_rate);
    sums.faults
}

struct Sums<'answer> {
    answer: &'answer Value,
    faults: Vec<String>,
}

impl Sums<'_> {
    /// The amount at a pointer, in pence; a fault where there is none.
    fn pence(&mut self, pointer: &str) -> i128 {
        let pence = self.answer.pointer(pointer).and_then(Value::as_str).and_then(pence);
        pence.unwrap_or_else(|| {
            self.faults.push(format!("no amount with two decimals at {pointer}"));
            0
        })
    }

    /// The turnover of all that is listed at a pointer.
    fn total(&mut self, pointer: &str) -> i128 {
        let count = self.answer.pointer(pointer).and_then(Value::as_array).map_or(0, Vec::len);
        (0..count).map(|index| self.pence(&format!("{pointer}/{index}/turnover"))).sum()
    }

    fn hold(&mut self, what: &str, stated: i128, worked_out: i128) {
        if stated != worked_out {
            self.faults.push(format!("{what} is {stated} pence, and {worked_out} by the rest"));
        }
    }
}

/// 123450 for `"1234.50"`.
fn pence(amount: &str) -> Option<i128> {
    let (_, decimals) = amount.split_once('.')?;
    if decimals.len() == 2 { amount.replacen('.', "", 1).parse().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn answer() -> Value {
        let boxes = |one: &str, three: &str, four: &str, five: &str| json!({ "box1": one, "box2": "1.00", "box3": three, "box4": four, "box5": five });
        json!({
            "standard": {
                "output_tax": "11.00", "input_tax": "4.00", "vat_payable": "7.00", "boxes": boxes("10.00", "11.00", "4.00", "7.00")
            },
            "flat_rate": {
                "turnover": "60.00", "input_tax": "20.00", "vat_payable": "-10.00", "boxes": boxes("9.00", "10.00", "20.00", "10.00"),
                "parts": [{ "turnover": "20.00" }, { "turnover": "30.00" }], "earlier_supplies": [{ "turnover": "10.00" }]
            },
            "comparison": {
                "cheaper": "flat_rate", "saving": "17.00", "flat_rate_minus_standard": "-17.00", "break_even_input_tax": "21.00"
            }
        })
    }

    #[test]
    fn an_answer_that_hangs_together_has_no_faults() {
        assert_eq!(faults(&answer()), Vec::<String>::new());
        assert_eq!(faults(&json!({ "invoice": {} })), Vec::<String>::new());
    }

    /// Each figure, a penny off or left out, is seen.
    #[test]
    fn a_changed_figure_is_seen() {
        for pointer in [
            "/standard/output_tax",
            "/standard/input_tax",
            "/standard/vat_payable",
            "/standard/boxes/box1",
            "/standard/boxes/box5",
            "/flat_rate/turnover",
            "/flat_rate/boxes/box2",
            "/flat_rate/boxes/box3",
            "/flat_rate/boxes/box4",
            "/flat_rate/parts/1/turnover",
            "/flat_rate/earlier_supplies/0/turnover",
            "/comparison/saving",
            "/comparison/flat_rate_minus_standard",
            "/comparison/break_even_input_tax",
        ] {
            for figure in ["0.01", "1", "x"] {
                let mut changed = answer();
                *changed.pointer_mut(pointer).expect(pointer) = json!(figure);
                assert!(!faults(&changed).is_empty(), "{pointer} as {figure}");
            }
        }
        let mut changed = answer();
        changed["comparison"]["cheaper"] = json!("standard");
        assert_eq!(faults(&changed).len(), 1);
    }
}
