//! What must hold in every answer, whatever was asked.

use acceptance::balance;
use acceptance::client::Client;
use acceptance::figures::{list_at, text_at};
use acceptance::replay;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Asserts that the workings of an answer replay and that its boxes and totals hang together.
pub fn assert_sound(request: &Value, answer: &Value) {
    let faults = replay::faults(request, answer);
    assert!(faults.is_empty(), "{request:#}\nworkings: {faults:#?}\n{answer:#}");
    assert!(!list_at(answer, "/cautions").is_empty(), "an answer without cautions");
    let faults = balance::faults(answer);
    assert!(faults.is_empty(), "{request:#}\n{faults:#?}\n{answer:#}");
}

/// The histories of the law that a server shows, asked for once.
pub struct ShownLaw<'client> {
    client: &'client Client,
    histories: BTreeMap<String, Value>,
    authorities: BTreeSet<String>,
}

impl<'client> ShownLaw<'client> {
    /// The law that the server of `client` shows.
    pub fn of(client: &'client Client) -> ShownLaw<'client> {
        let shown = client.get_json("/v1/authorities");
        let authorities = list_at(&shown, "/items").iter().map(|item| text_at(item, "/id").to_owned()).collect();
        ShownLaw { client, histories: BTreeMap::new(), authorities }
    }

    /// Asserts that each figure of the law in an answer stands in the law that the server shows, with the same authority, and
    /// that every authority named is listed.
    pub fn assert_states(&mut self, answer: &Value) {
        let used = list_at(answer, "/law/parameters");
        for parameter in used {
            let link = text_at(parameter, "/link");
            if link.starts_with("/v1/fuel-scale-charges") {
                self.assert_states_fuel_scale(link, parameter);
                continue;
            }
            let row = self.row(link, text_at(parameter, "/from"));
            let value = row.get("value").or_else(|| row.get("percentage"));
            assert_eq!(value, parameter.get("value"), "{parameter:#}");
            assert_eq!(row.get("to"), parameter.get("to"), "{parameter:#}");
            assert_eq!(row["authority"], parameter["authority"], "{parameter:#}");
        }
        for step in replay::law_steps(answer) {
            let id = text_at(step, "/id");
            let [_, name, from] = id.split('/').collect::<Vec<_>>()[..] else {
                panic!("{id} names no number and date");
            };
            let parameter = used
                .iter()
                .find(|parameter| text_at(parameter, "/id") == name && text_at(parameter, "/from") == from)
                .unwrap_or_else(|| panic!("{id} is not among the law used: {used:#?}"));
            assert_eq!(step["result"], parameter["value"], "{step:#}");
            assert_eq!(step["authority"], parameter["authority"], "{step:#}");
        }
        let mut named = BTreeSet::new();
        collect_authorities(answer, &mut named);
        let unknown: Vec<&String> = named.difference(&self.authorities).collect();
        assert!(unknown.is_empty(), "authorities that are not listed: {unknown:?}");
    }

    /// A number of the road fuel scale charges stands in the table that the link leads to.
    fn assert_states_fuel_scale(&mut self, link: &str, parameter: &Value) {
        let table = self.histories.entry(link.to_owned()).or_insert_with(|| self.client.get_json(link));
        for name in ["from", "to", "authority"] {
            assert_eq!(table.get(name), parameter.get(name), "{parameter:#}");
        }
        let bands = list_at(table, "/items");
        let band_of = |item: Option<&Value>| item.map(|item| item["band"].to_string());
        let id = text_at(parameter, "/id").strip_prefix("fuel_scale_").expect("an id of the table");
        let shown = match id.split_once('_') {
            Some(("band", "step")) => Some(table["band_step"].to_string()),
            Some(("lowest", _)) => band_of(bands.first()),
            Some(("highest", _)) => band_of(bands.last()),
            Some(("engine", up_to)) => band_of(
                list_at(table, "/engine_capacities")
                    .iter()
                    .find(|engine| engine["up_to"].as_i64() == up_to.parse().ok()),
            ),
            Some(("charge", rest)) => rest.split_once('_').and_then(|(band, length)| {
                let item = bands.iter().find(|item| item["band"].as_i64() == band.parse().ok())?;
                item[length].as_str().map(str::to_owned)
            }),
            _ => None,
        };
        assert_eq!(shown.as_deref(), parameter["value"].as_str(), "{parameter:#}");
    }

    fn row(&mut self, link: &str, from: &str) -> Value {
        let history = self.histories.entry(link.to_owned()).or_insert_with(|| self.client.get_json(link));
        list_at(history, "/history")
            .iter()
            .find(|row| text_at(row, "/from") == from)
            .unwrap_or_else(|| panic!("{link} has no row from {from}: {history:#}"))
            .clone()
    }
}

/// Every id in a list called `authority`.
pub fn collect_authorities(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| collect_authorities(item, found)),
        Value::Object(members) => {
            for (name, member) in members {
                match member {
                    Value::Array(items) if name == "authority" => {
                        found.extend(items.iter().filter_map(Value::as_str).map(str::to_owned));
                    }
                    other => collect_authorities(other, found),
                }
            }
        }
        _ => {}
    }
}

/// The codes of the warnings of an answer.
pub fn warning_codes(answer: &Value) -> Vec<&str> {
    list_at(answer, "/warnings").iter().map(|warning| text_at(warning, "/code")).collect()
}

/// The warning of this code, which must be there once.
pub fn warning<'answer>(answer: &'answer Value, code: &str) -> &'answer Value {
    let found: Vec<&Value> =
        list_at(answer, "/warnings").iter().filter(|warning| text_at(warning, "/code") == code).collect();
    match found.as_slice() {
        [one] => one,
        other => panic!("{} warnings {code} in {:#}", other.len(), answer["warnings"]),
    }
}
