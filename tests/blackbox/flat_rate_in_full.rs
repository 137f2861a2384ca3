//! The Flat Rate Scheme where it is not the usual quarter: changes of category, a period partly in the scheme, receipts and the time
//! of supply, both bases, adjustments, and the choice of the category. Each test names the provision that it holds the service to.

use crate::answers::{ShownLaw, assert_sound, warning};
use acceptance::client::Client;
use acceptance::differences::differences;
use acceptance::figures::{list_at, pence_at, quarter, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

const ACCOUNTANT: &str = "accountancy-or-book-keeping";
const SHOP: &str = "retailing-not-listed-elsewhere";

fn sold(gross: &str) -> Value {
    json!({ "treatment": "standard_rated", "gross": gross })
}

fn sold_in(gross: &str, start: &str, end: &str) -> Value {
    json!({ "treatment": "standard_rated", "gross": gross, "part": { "start": start, "end": end } })
}

fn goods() -> Value {
    json!([{ "spend": "materials", "net": "5000.00", "vat": "0.00" }])
}

fn answered(client: &Client, request: &Value) -> Value {
    let answer = client.compare(request);
    assert_sound(request, &answer);
    ShownLaw::of(client).assert_states(&answer);
    answer
}

/// First days and percentages of the parts.
fn parts(answer: &Value) -> Vec<(&str, &str)> {
    list_at(answer, "/flat_rate/parts")
        .iter()
        .map(|part| (text_at(part, "/start"), text_at(part, "/percentage")))
        .collect()
}

fn with_business(sales: Value, members: Value) -> Value {
    let mut request = quarter(sales, goods());
    for (name, value) in members.as_object().into_iter().flatten() {
        request["business"][name] = value.clone();
    }
    request
}

/// SI 2017/295 reg 1: goods of the days before the scheme do not stand in its test, nor does a line of nothing.
#[test]
fn a_line_of_nothing_outside_the_scheme_is_not_tested() {
    with_server(|client| {
        let mut request = json!({
            "period": { "start": "2017-03-01", "end": "2017-05-31" },
            "business": { "registered_on": "2012-11-01", "sector": ACCOUNTANT, "flat_rate_from": "2017-03-15" },
            "sales": [sold_in("6000.00", "2017-04-01", "2017-05-31")],
            "purchases": [{ "spend": "materials", "gross": "0.00", "part": { "start": "2017-03-01", "end": "2017-03-10" } }]
        });
        assert_eq!(answered(client, &request)["goods_test"]["relevant_goods"], "0.00");
        request["purchases"][0]["gross"] = json!("60.00");
        assert_eq!(answered(client, &request)["goods_test"]["relevant_goods"], "0.00");
    });
}

/// VAT Regulations 1995 regs 55A(3) and 55H: an activity that starts or stops changes the percentage from that day.
#[test]
fn a_category_changes_on_the_day_of_the_activity() {
    with_server(|client| {
        for reason in ["activity_started", "activity_stopped"] {
            for (on, expected) in [
                ("2025-04-01", &[("2025-04-01", "7.5")][..]),
                ("2025-04-02", &[("2025-04-01", "14.5"), ("2025-04-02", "7.5")]),
                ("2025-06-30", &[("2025-04-01", "14.5"), ("2025-06-30", "7.5")]),
                ("2025-07-01", &[("2025-04-01", "14.5")]),
            ] {
                let mut request = with_business(
                    json!([sold("9000.00")]),
                    json!({ "sector": ACCOUNTANT, "sector_changes": [{ "on": on, "sector": SHOP, "reason": reason }] }),
                );
                request["split_estimate"] = json!("by_days");
                let answer = answered(client, &request);
                assert_eq!(parts(&answer), expected, "{reason} on {on}");
                let told = list_at(&answer, "/flat_rate/sector_at");
                let told: Vec<(&str, &str)> =
                    told.iter().map(|at| (text_at(at, "/from"), text_at(at, "/sector"))).collect();
                let all = [("2025-04-01", ACCOUNTANT), (on, SHOP)];
                let in_period = if on > "2025-06-30" { &all[..1] } else { &all[..] };
                assert_eq!(told, if on == "2025-04-01" { &all[1..] } else { in_period }, "{reason} on {on}");
            }
        }
    });
}

/// Reg 55A(3): a shift in the balance of the same activities counts from the period of the next anniversary of the start; reg 55N:
/// HMRC are told within thirty days of that period's first day.
#[test]
fn a_shift_in_balance_waits_for_the_anniversary() {
    with_server(|client| {
        for (on, percentage, act_by) in [
            ("2025-03-31", "7.5", Some("2025-05-01")),
            ("2025-04-01", "7.5", Some("2025-05-01")),
            ("2025-04-02", "14.5", None),
        ] {
            let request = with_business(
                json!([sold("9000.00")]),
                json!({
                    "sector": ACCOUNTANT,
                    "flat_rate_from": "2020-05-15",
                    "sector_changes": [{ "on": on, "sector": SHOP, "reason": "balance_shifted" }]
                }),
            );
            let answer = answered(client, &request);
            assert_eq!(parts(&answer), [("2025-04-01", percentage)], "{on}");
            let found = warning(&answer, "category_changes");
            assert_eq!(found.get("act_by").and_then(Value::as_str), act_by, "{on}");
        }
    });
}

/// Regs 55B, 55C(2), 55E(3): what is supplied and bought outside the scheme follows the ordinary rules, on the same return.
#[test]
fn a_period_partly_in_the_scheme_holds_both_calculations() {
    with_server(|client| {
        let bought = |net: &str, start: &str, end: &str| json!({ "spend": "services", "net": net, "part": { "start": start, "end": end } });
        let mut request = with_business(
            json!([sold_in("6000.00", "2025-04-01", "2025-05-15"), sold_in("9000.00", "2025-05-16", "2025-06-30")]),
            json!({ "flat_rate_from": "2025-05-16" }),
        );
        request["purchases"] = json!([
            bought("1000.00", "2025-04-01", "2025-05-15"),
            bought("500.00", "2025-05-16", "2025-06-30"),
            { "spend": "materials", "net": "400.00", "vat": "0.00", "part": { "start": "2025-05-16", "end": "2025-06-30" } }
        ]);
        let answer = answered(client, &request);
        assert_eq!(parts(&answer), [("2025-05-16", "12")]);
        let boxes = &answer["flat_rate"]["boxes"];
        assert_eq!((&boxes["box1"], &boxes["box4"]), (&json!("2080.00"), &json!("200.00")));
        assert_eq!((&boxes["box6"], &boxes["box7"]), (&json!("14000"), &json!("1000")));
        assert_eq!(answer["flat_rate"]["outside_scheme"]["vat_on_sales"], "1000.00");
        assert_eq!(answer["goods_test"]["start"], "2025-05-16");
        warning(&answer, "scheme_covers_part");

        // Every line that matters must say its side.
        let mut undated = request.clone();
        for pointer in ["/sales/0", "/purchases/1"] {
            undated.pointer_mut(pointer).and_then(Value::as_object_mut).map(|line| line.remove("part"));
        }
        let problem = client.refuse(422, &undated);
        let places: Vec<&str> = list_at(&problem, "/errors").iter().map(|error| text_at(error, "/pointer")).collect();
        assert_eq!((&problem["code"], places), (&json!("period_must_be_split"), vec!["/sales/0", "/purchases/1"]));
        undated["split_estimate"] = json!("by_days");
        warning(&answered(client, &undated), "split_estimated_by_days");

        // The first and last days of the scheme at the edges of the period.
        for (from, until, outside) in [
            ("2025-04-01", None, 0),
            ("2025-04-02", None, 1),
            ("2025-06-30", None, 1),
            ("2020-01-01", Some("2025-06-30"), 0),
            ("2020-01-01", Some("2025-06-29"), 1),
            ("2025-05-01", Some("2025-05-31"), 2),
        ] {
            let mut edge = with_business(json!([sold("9000.00")]), json!({ "flat_rate_from": from }));
            edge["split_estimate"] = json!("by_days");
            if let Some(until) = until {
                edge["business"]["flat_rate_until"] = json!(until);
            }
            let answer = answered(client, &edge);
            let days = answer.pointer("/flat_rate/outside_scheme/days").and_then(Value::as_array).map_or(0, Vec::len);
            assert_eq!(days, outside, "{from} {until:?}");
        }
    });
}

/// Reg 55G and HMRC's notice on the cash turnover method: receipts keep the percentage of the time of supply.
#[test]
fn receipts_keep_the_percentage_of_the_time_of_supply() {
    with_server(|client| {
        let mut request = with_business(json!([sold("9000.00")]), json!({ "turnover_method": "cash" }));
        for (gross, percentage) in [("1000.33", "11"), ("600.00", "16.5"), ("1000.33", "11")] {
            let mut receipt = sold(gross);
            receipt["percentage_at_supply"] = json!(percentage);
            if let Some(sales) = request["sales"].as_array_mut() {
                sales.push(receipt);
            }
        }
        let answer = answered(client, &request);
        assert_eq!(
            answer["flat_rate"]["earlier_supplies"],
            json!([
                { "percentage": "11", "turnover": "2000.66", "vat": "220.07" },
                { "percentage": "16.5", "turnover": "600.00", "vat": "99.00" }
            ])
        );
        assert_eq!(answer["flat_rate"]["vat_payable"], "1399.07");
        assert_eq!(answer["goods_test"]["turnover"], "11600.66");
    });
}

/// Both bases where both are given: what each would have answered alone.
#[test]
fn invoices_and_money_are_each_answered_on_their_own_basis() {
    with_server(|client| {
        let invoices = quarter(json!([sold("12000.00")]), json!([{ "spend": "services", "net": "1000.00" }]));
        let money = json!({ "sales": [sold("9000.00")], "purchases": [{ "spend": "services", "net": "400.00" }] });
        let mut both = invoices.clone();
        both["received"] = money.clone();
        let answer = answered(client, &both);
        let mut alone = invoices.clone();
        alone["business"]["turnover_method"] = json!("cash");
        for name in ["sales", "purchases"] {
            alone[name] = money[name].clone();
        }
        let (on_invoices, on_money) = (answered(client, &invoices), answered(client, &alone));
        for part in ["standard", "flat_rate", "comparison"] {
            assert_eq!(answer[part], on_invoices[part], "{part}");
            assert_eq!(answer["received"][part], on_money[part], "{part}");
        }
        // Refusals of both come together, each with its place.
        both["sales"][0]["net"] = json!("1.00");
        both["received"]["purchases"][0]["vat"] = json!("1.00");
        both["received"]["purchases"][0]["gross"] = json!("1.00");
        let problem = client.refuse(422, &both);
        let places: Vec<&str> = list_at(&problem, "/errors").iter().map(|error| text_at(error, "/pointer")).collect();
        assert_eq!(places, ["/received/purchases/0"], "{problem:#}");
    });
}

/// Regs 55F, 55R, 55S, 55V, 111 and 34: what stands on the return beside the period's own figures, and what is shown apart.
#[test]
fn adjustments_stand_where_they_belong() {
    with_server(|client| {
        let plain = quarter(json!([sold("12000.00")]), goods());
        let before = answered(client, &plain);
        let mut request = plain.clone();
        request["adjustments"] = json!({
            "bad_debts": [{ "supplied_on": "2024-09-01", "due_on": "2024-10-01", "vat": "200.00", "gross": "1200.00" }],
            "leaving": { "on": "2025-06-30", "stock_on_joining": "4000.00", "stock_on_leaving": "10000.00", "capital_goods": ["2500.00"] },
            "errors": [
                { "period_end": "2024-06-30", "amount": "18000.00" },
                { "period_end": "2024-09-30", "amount": "-9500.00" }
            ]
        });
        let answer = answered(client, &request);
        for scheme in ["standard", "flat_rate"] {
            let box4 = format!("/{scheme}/boxes/box4");
            assert_eq!(pence_at(&answer, &box4) - pence_at(&before, &box4), 20_000, "{scheme}");
            let box1 = format!("/{scheme}/boxes/box1");
            assert_eq!(pence_at(&answer, &box1), pence_at(&before, &box1), "{scheme}");
        }
        let adjustments = &answer["adjustments"];
        let relief = json!([
            { "earliest_claim": "2025-04-01", "latest_claim": "2029-04-01", "standard": "200.00", "flat_rate": "200.00" }
        ]);
        assert_eq!(differences(&relief, &adjustments["bad_debts"]), Vec::<String>::new());
        assert_eq!(adjustments["leaving"], json!({ "stock_claim": "1200.00", "capital_goods_vat": "500.00" }));
        assert_eq!(
            adjustments["errors"],
            json!({
                "net_error": "8500.00", "on_return_standard": true, "on_return_flat_rate": true,
                "correct_by": ["2028-06-30", "2028-09-30"], "in_time": [true, true]
            })
        );
        // Only what was given for the stock is an operand.
        request["adjustments"] = json!({ "leaving": { "on": "2025-06-30", "stock_on_leaving": "100.00" } });
        assert_eq!(answered(client, &request)["adjustments"]["leaving"]["stock_claim"], "20.00");
        request["adjustments"] = json!({ "leaving": { "on": "2025-06-30" } });
        assert_eq!(answered(client, &request)["adjustments"]["leaving"]["stock_claim"], "0.00");
    });
}

/// Reg 55K and the note to the Table: shares of expected turnover, and less than 10 per cent materials for labour-only building.
#[test]
fn the_choice_of_the_category_is_shown_and_left_to_the_user() {
    const GENERAL: &str = "general-building-or-construction-services";
    const LABOUR_ONLY: &str = "labour-only-building-or-construction-services";
    with_server(|client| {
        for (materials, fits) in [("4999.99", false), ("5000.00", true), ("5000.01", true)] {
            let request = with_business(
                json!([sold("12000.00")]),
                json!({
                    "sector": GENERAL,
                    "sector_reason": "Kitchens with their materials.",
                    "activities": [
                        { "description": "Kitchens", "sector": GENERAL, "expected_turnover": "50000.00", "materials": materials },
                        { "description": "Labour", "sector": LABOUR_ONLY, "expected_turnover": "49999.99" }
                    ]
                }),
            );
            let answer = answered(client, &request);
            let category = &answer["category"];
            assert_eq!((&category["largest"], &category["agrees"]), (&json!(GENERAL), &json!(true)));
            assert_eq!(category["reason"], "Kitchens with their materials.");
            assert_eq!(category["shares"][0]["share_percentage"], "50.00");
            let notes = list_at(category, "/shares/0/notes").iter().filter_map(Value::as_str).collect::<String>();
            let word = if fits { "the one stated fits" } else { "the one stated does not fit" };
            assert!(notes.contains(word), "{materials}: {notes}");
        }
    });
}
