//! Road fuel scale charges over HTTP: the table that is shown, the charges of a comparison, and what is refused.

use crate::answers::{ShownLaw, assert_sound, warning, warning_codes};
use acceptance::figures::{list_at, request, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

const SERVICES: &str = "business-services-not-listed-elsewhere";

fn with_cars(start: &str, end: &str, cars: Value) -> Value {
    let purchases = json!([
        { "spend": "materials", "net": "500.00", "vat": "0.00" },
        { "spend": "vehicle_fuel_and_parts", "gross": "6000.00" },
    ]);
    let mut request =
        request(start, end, SERVICES, json!([{ "treatment": "standard_rated", "gross": "12000.00" }]), purchases);
    request["adjustments"] = json!({ "fuel_scale_charges": cars });
    request
}

fn charges(answer: &Value) -> &[Value] {
    list_at(answer, "/adjustments/fuel_scale_charges")
}

/// Every edge of every band that the service shows, one g/km below, on it and above, is charged as it is shown.
#[test]
fn every_band_shown_is_the_band_charged() {
    with_server(|client| {
        let table = client.get_json("/v1/fuel-scale-charges?on=2025-06-01");
        assert_eq!(table["band_step"], json!(5));
        let bands = list_at(&table, "/items");
        assert_eq!(bands.len(), 22);
        let mut law = ShownLaw::of(client);
        for (end, length) in
            [("2025-06-30", "one_month"), ("2025-08-31", "three_months"), ("2026-05-31", "twelve_months")]
        {
            let edges: Vec<i64> = bands.iter().filter_map(|band| band["band"].as_i64()).collect();
            let emissions: Vec<i64> = edges.iter().flat_map(|edge| [edge - 1, *edge, edge + 1]).collect();
            let cars = emissions.iter().map(|co2| json!({ "co2_emissions": co2 })).collect();
            let request = with_cars("2025-06-01", end, cars);
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            law.assert_states(&answer);
            for (co2, charge) in emissions.iter().zip(charges(&answer)) {
                let shown = bands.iter().rev().find(|band| band["band"].as_i64().is_some_and(|band| band <= *co2));
                let shown = shown.unwrap_or(&bands[0]);
                assert_eq!((&charge["band"], &charge["charge"]), (&shown["band"], &shown[length]), "{co2}");
            }
        }
    });
}

#[test]
fn a_car_without_a_figure_goes_by_its_engine() {
    with_server(|client| {
        let engines = [1400, 1401, 2000, 2001];
        let cars = engines.iter().map(|capacity| json!({ "engine_capacity": capacity })).collect();
        let request = with_cars("2025-06-01", "2025-08-31", cars);
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        let bands: Vec<&Value> = charges(&answer).iter().map(|charge| &charge["band"]).collect();
        assert_eq!(bands, [140, 175, 175, 225]);
    });
}

#[test]
fn the_table_is_shown_for_its_days_only() {
    with_server(|client| {
        let latest = client.get_json("/v1/fuel-scale-charges");
        assert_eq!(text_at(&latest, "/on"), "2026-04-30");
        assert_eq!(text_at(&latest, "/evidence"), "practice");
        for on in ["2025-05-01", "2026-04-30"] {
            let table = client.get_json(&format!("/v1/fuel-scale-charges?on={on}"));
            assert_eq!((text_at(&table, "/from"), text_at(&table, "/to")), ("2025-05-01", "2026-04-30"));
            assert_eq!(table["items"], latest["items"]);
        }
        for on in ["2025-04-30", "2026-05-01"] {
            let answer = client.get(&format!("/v1/fuel-scale-charges?on={on}"));
            let problem = answer.json();
            assert_eq!((answer.status, text_at(&problem, "/code")), (422, "date_outside_law"), "{on}");
            assert!(text_at(&problem, "/detail").contains("from 2025-05-01 to 2026-04-30"), "{problem:#}");
        }
    });
}

#[test]
fn periods_without_a_charge_are_refused() {
    with_server(|client| {
        let car = || json!([{ "co2_emissions": 163 }]);
        for (start, end, code) in [
            ("2025-04-30", "2025-07-29", "date_outside_law"),
            ("2025-05-01", "2025-07-31", ""),
            ("2026-04-30", "2026-07-29", ""),
            ("2026-05-01", "2026-07-31", "date_outside_law"),
            ("2025-06-01", "2025-06-30", ""),
            ("2025-06-01", "2025-07-31", "fuel_scale_length_not_in_table"),
            ("2025-06-01", "2025-08-30", "fuel_scale_length_not_in_table"),
            ("2025-06-01", "2025-11-30", "fuel_scale_length_not_in_table"),
            ("2025-06-01", "2026-05-31", ""),
        ] {
            let request = with_cars(start, end, car());
            if code.is_empty() {
                assert_eq!(charges(&client.compare(&request)).len(), 1, "{start}");
            } else {
                let problem = client.refuse(422, &request);
                assert_eq!(text_at(&problem, "/errors/0/code"), code, "{problem:#}");
                assert_eq!(text_at(&problem, "/errors/0/pointer"), "/adjustments/fuel_scale_charges");
            }
        }
        let mut partly = with_cars("2025-06-01", "2025-08-31", car());
        partly["business"]["flat_rate_until"] = json!("2025-08-30");
        let problem = client.refuse(422, &partly);
        assert_eq!(text_at(&problem, "/errors/0/code"), "fuel_scale_in_part_of_period");
    });
}

#[test]
fn a_car_is_given_by_one_whole_number() {
    with_server(|client| {
        for (car, pointer, code) in [
            (json!({}), "/co2_emissions", "missing_field"),
            (json!({ "co2_emissions": 163, "engine_capacity": 1400 }), "/co2_emissions", "fields_exclude_each_other"),
            (json!({ "co2_emissions": "163" }), "/co2_emissions", "wrong_type"),
            (json!({ "co2_emissions": 163.5 }), "/co2_emissions", "number_not_valid"),
            (json!({ "co2_emissions": 0 }), "/co2_emissions", "number_not_valid"),
            (json!({ "co2_emissions": -1 }), "/co2_emissions", "number_not_valid"),
            (json!({ "co2_emissions": 1001 }), "/co2_emissions", "number_not_valid"),
            (json!({ "engine_capacity": 0 }), "/engine_capacity", "number_not_valid"),
            (json!({ "engine_capacity": 20001 }), "/engine_capacity", "number_not_valid"),
            (json!({ "engine_capacity": 99999999999_i64 }), "/engine_capacity", "number_not_valid"),
            (json!({ "co2_emissions": null }), "/co2_emissions", "null_not_allowed"),
            (json!({ "emissions": 163 }), "/emissions", "unknown_field"),
        ] {
            let problem = client.refuse(400, &with_cars("2025-06-01", "2025-08-31", json!([car])));
            let found: Vec<(&str, &str)> = list_at(&problem, "/errors")
                .iter()
                .map(|error| (text_at(error, "/pointer"), text_at(error, "/code")))
                .collect();
            let pointer = format!("/adjustments/fuel_scale_charges/0{pointer}");
            assert!(found.contains(&(pointer.as_str(), code)), "{problem:#}");
        }
        for car in
            [json!({ "co2_emissions": 1 }), json!({ "co2_emissions": 1000 }), json!({ "engine_capacity": 20000 })]
        {
            client.compare(&with_cars("2025-06-01", "2025-08-31", json!([car])));
        }
        let problem =
            client.refuse(400, &with_cars("2025-06-01", "2025-08-31", vec![json!({ "co2_emissions": 1 }); 101].into()));
        assert_eq!(text_at(&problem, "/errors/0/code"), "too_many_lines");
    });
}

/// The charge is due by money received too: cash accounting moves VAT on supplies and purchases, not this.
#[test]
fn the_charge_is_on_both_bases() {
    with_server(|client| {
        let mut request = with_cars("2025-06-01", "2025-08-31", json!([{ "co2_emissions": 163 }]));
        request["received"] = json!({ "purchases": [{ "spend": "vehicle_fuel_and_parts", "gross": "60.00" }] });
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/standard/boxes/box1"), "2060.50");
        assert_eq!(text_at(&answer, "/received/standard/boxes/box1"), "60.50");
        assert_eq!(text_at(&answer, "/received/standard/boxes/box6"), "302");
        assert_eq!(text_at(&answer, "/received/flat_rate/boxes/box1"), "0.00");
        assert!(!warning_codes(&answer).contains(&"fuel_scale_charge_above_claim"));
        let codes: Vec<&str> =
            list_at(&answer, "/received/warnings").iter().map(|warning| text_at(warning, "/code")).collect();
        assert!(codes.contains(&"fuel_scale_charge_above_claim"), "{codes:?}");
    });
}

#[test]
fn what_would_be_cheaper_is_said_with_its_amount() {
    with_server(|client| {
        let mut request = with_cars("2025-06-01", "2025-08-31", json!([{ "co2_emissions": 163 }]));
        request["purchases"][1] = json!({ "spend": "vehicle_fuel_and_parts", "net": "300.00", "vat": "60.00" });
        let answer = client.compare(&request);
        let found = warning(&answer, "fuel_scale_charge_above_claim");
        assert_eq!((text_at(found, "/measured"), text_at(found, "/limit")), ("60.50", "60.00"));
        assert!(text_at(found, "/message").contains("£0.50 more"), "{found:#}");
    });
}
