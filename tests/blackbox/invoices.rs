//! The VAT of one invoice or till receipt, and that in a payment on it (Notice 700 section 17; VATA 1994 s 19; Notice 731).

use crate::answers::{ShownLaw, assert_sound, warning_codes};
use acceptance::client::{Client, INVOICES, problem_codes};
use acceptance::document::Document;
use acceptance::figures::{list_at, pence_at, pounds, text_at};
use acceptance::generator::Generator;
use acceptance::server::with_server;
use serde_json::{Value, json};

/// The ways of rounding that go up and down to the nearest penny, which retailers may use (Notice 700 para 17.6).
const UP_AND_DOWN: [&str; 2] = ["invoice_total_nearest_penny", "line_nearest_penny"];

fn invoice(rounding: &str, lines: Value) -> Value {
    json!({ "date": "2025-06-30", "issued_by": "invoice_trader", "rounding": rounding, "lines": lines })
}

fn with(mut request: Value, field: &str, value: Value) -> Value {
    request[field] = value;
    request
}

fn net(amount: &str) -> Value {
    json!({ "treatment": "standard_rated", "net": amount })
}

fn gross(amount: &str) -> Value {
    json!({ "treatment": "standard_rated", "gross": amount })
}

/// An invoice with two rates on which something was paid.
pub fn part_paid() -> Value {
    let zero_rated = json!({ "treatment": "zero_rated", "net": "800.00" });
    with(invoice("invoice_total_down", json!([net("1000.00"), zero_rated])), "payment", json!("500.00"))
}

/// Requests that are refused, for the codes that only this operation knows.
pub fn refused_requests() -> Vec<Value> {
    vec![
        with(invoice("invoice_total_down", json!([gross("1.00")])), "issued_by", json!("retailer")),
        invoice("line_nearest_penny", json!([net("1.00"), gross("1.00")])),
        with(invoice("line_nearest_penny", json!([net("1.00")])), "price", json!("1.00")),
        with(invoice("line_nearest_penny", json!([net("1.00")])), "payment", json!("1.21")),
    ]
}

/// Requests for the warnings that only this operation gives.
pub fn warned_requests() -> Vec<(&'static str, Value)> {
    let reduced = json!([{ "treatment": "reduced_rated", "net": "1.00" }]);
    vec![
        ("rounding_down_of_gross_prices", invoice("invoice_total_down", json!([gross("1.00")]))),
        ("two_reduced_rates", with(invoice("line_nearest_penny", reduced), "date", json!("2021-10-01"))),
    ]
}

fn worked_out(client: &Client, request: &Value) -> Value {
    let answer = client.calculate(INVOICES, request);
    assert_sound(request, &answer);
    answer
}

#[test]
fn each_way_of_rounding_says_what_it_does_and_on_what_authority() {
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for way in Document::checked_in().words("InvoiceRounding") {
            let answer = worked_out(client, &invoice(&way, json!([net("4.33")])));
            law.assert_states(&answer);
            assert_eq!(text_at(&answer, "/rounding/way"), way);
            assert!(text_at(&answer, "/rounding/rule").ends_with('.'));
            assert!(!list_at(&answer, "/rounding/authority").is_empty());
            assert!(
                list_at(&answer, "/cautions").iter().any(|caution| caution.to_string().contains("totals of a period"))
            );
        }
    });
}

/// 86.6p by each way: 20% of £4.33.
#[test]
fn one_line_by_each_way() {
    with_server(|client| {
        for (way, line_vat, vat) in [
            ("invoice_total_down", Value::Null, "0.86"),
            ("invoice_total_nearest_penny", Value::Null, "0.87"),
            ("line_down_to_tenth_of_penny", json!("0.866"), "0.86"),
            ("line_nearest_penny", json!("0.87"), "0.87"),
            ("line_nearest_half_penny", json!("0.865"), "0.86"),
            ("unit_three_digits", json!("0.866"), "0.86"),
            ("unit_nearest_penny_not_nil", json!("0.87"), "0.87"),
            ("unit_nearest_half_penny_not_nil", json!("0.865"), "0.86"),
        ] {
            let answer = worked_out(client, &invoice(way, json!([net("4.33")])));
            assert_eq!(answer["invoice"]["lines"][0]["vat"], line_vat, "{way}");
            assert_eq!(text_at(&answer, "/invoice/vat"), vat, "{way}");
            // A credit note takes it back.
            let credit = worked_out(client, &invoice(way, json!([net("-4.33")])));
            assert_eq!(pence_at(&credit, "/invoice/vat"), -pence_at(&answer, "/invoice/vat"), "{way}");
        }
    });
}

/// Notice 700 para 17.6; VATREC12020: a retailer's till rounds up and down.
#[test]
fn a_retailer_is_told_why_it_may_not_round_down() {
    with_server(|client| {
        for way in Document::checked_in().words("InvoiceRounding") {
            let request = with(invoice(&way, json!([gross("1.00")])), "issued_by", json!("retailer"));
            let answer = client.post(INVOICES, &request);
            if UP_AND_DOWN.contains(&way.as_str()) {
                assert_eq!(text_at(&answer.json(), "/invoice/vat"), "0.17", "{way}");
                continue;
            }
            let problem = answer.json();
            assert_eq!(answer.status, 422, "{way}");
            assert_eq!(problem_codes(&problem), ["rounding_not_for_retailers".to_owned()].into());
            assert_eq!(text_at(&problem, "/errors/0/pointer"), "/rounding");
            let detail = text_at(&problem, "/errors/0/detail");
            assert!(detail.contains("may not round VAT down") && detail.contains("line_nearest_penny"), "{detail}");
        }
    });
}

/// The rates of hospitality, holiday accommodation and attractions by the tax point: 1/21, then 1/9 of the price.
#[test]
fn the_rate_follows_the_tax_point_to_the_day() {
    with_server(|client| {
        let lines = json!([{ "treatment": "hospitality_rated", "gross": "1890.00" }]);
        for (date, vat) in [
            ("2020-07-14", None),
            ("2020-07-15", Some(("90.00", false))),
            ("2021-09-30", Some(("90.00", false))),
            ("2021-10-01", Some(("210.00", true))),
            ("2022-03-31", Some(("210.00", true))),
            ("2022-04-01", None),
        ] {
            let request = with(invoice("line_nearest_penny", lines.clone()), "date", json!(date));
            let answer = client.post(INVOICES, &request);
            let Some((vat, two_rates)) = vat else {
                assert_eq!(problem_codes(&answer.json()), ["rate_not_in_force".to_owned()].into(), "{date}");
                continue;
            };
            let answer = answer.json();
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/invoice/vat"), vat, "{date}");
            assert_eq!(warning_codes(&answer).contains(&"two_reduced_rates"), two_rates, "{date}");
        }
    });
}

/// VATREC12010: the concession is for VAT worked out on prices without it.
#[test]
fn rounding_down_prices_with_vat_is_warned_of() {
    with_server(|client| {
        for way in Document::checked_in().words("InvoiceRounding") {
            let warned = |line: Value| {
                let answer = worked_out(client, &invoice(&way, json!([line])));
                warning_codes(&answer).contains(&"rounding_down_of_gross_prices")
            };
            assert!(!warned(net("1.00")), "{way}");
            assert_eq!(warned(gross("1.00")), !UP_AND_DOWN.contains(&way.as_str()), "{way}");
        }
        let ahead = with(invoice("line_nearest_penny", json!([net("1.00")])), "date", json!("2099-12-31"));
        assert_eq!(warning_codes(&worked_out(client, &ahead)), ["law_not_checked_for_period"]);
    });
}

/// Several amounts that each have their own place and reason are refused together.
#[test]
fn all_that_is_wrong_is_said_at_once() {
    with_server(|client| {
        let lines = json!([net("1.00"), { "treatment": "hospitality_rated", "gross": "1.00" }]);
        let request = with(invoice("unit_three_digits", lines), "issued_by", json!("retailer"));
        let answer = client.post(INVOICES, &request);
        assert_eq!(answer.status, 422);
        let expected = ["rounding_not_for_retailers", "net_and_gross_mixed", "rate_not_in_force"].map(str::to_owned);
        assert_eq!(problem_codes(&answer.json()), expected.into());
    });
}

fn any_request(generator: &mut Generator) -> Value {
    let ways = Document::checked_in().words("InvoiceRounding");
    let treatments = ["standard_rated", "reduced_rated", "hospitality_rated", "zero_rated", "exempt"];
    let (one_price, with_vat) = (generator.between(0, 4) == 0, generator.between(0, 1) == 0);
    let lines: Vec<Value> = (0..generator.between(0, 6))
        .map(|_| {
            let mut line = json!({ "treatment": generator.one_of(&treatments) });
            let amount = pounds(generator.between(if one_price { 0 } else { -20_000 }, 400_000));
            if one_price || with_vat {
                line["gross"] = json!(amount);
            } else if generator.between(0, 1) == 0 {
                line["net"] = json!(amount);
            } else {
                line["unit_price"] = json!(format!("{amount}{:02}", generator.between(0, 99)));
                line["quantity"] = json!(format!("{}.{:03}", generator.between(0, 40), generator.between(0, 999)));
            }
            line
        })
        .collect();
    let mut request =
        with(invoice(generator.one_of::<String>(&ways), Value::Array(lines)), "date", json!("2021-12-31"));
    if one_price {
        request["price"] = json!(pounds(generator.between(-1_000, 400_000)));
    }
    if generator.between(0, 1) == 0 {
        request["payment"] = json!(pounds(generator.between(0, 10_000)));
    }
    request
}

/// Whatever is invoiced comes back with sums that replay and totals that add up to the penny, or is refused with its reasons.
#[test]
fn any_invoice_is_sound_or_refused() {
    with_server(|client| {
        let mut generator = Generator::new(29);
        let (mut answered, mut refused) = (0, 0);
        for _ in 0..300 {
            let request = any_request(&mut generator);
            let answer = client.post(INVOICES, &request);
            if answer.status == 422 {
                refused += 1;
                continue;
            }
            assert_eq!(answer.status, 200, "{request:#}");
            answered += 1;
            let answer = answer.json();
            assert_sound(&request, &answer);
            let rates = list_at(&answer, "/invoice/by_rate");
            for total in ["net", "vat", "gross"] {
                let sum: i64 = rates
                    .iter()
                    .filter(|rate| rate.get(total).is_some())
                    .map(|rate| pence_at(rate, &format!("/{total}")))
                    .sum();
                assert_eq!(sum, pence_at(&answer, &format!("/invoice/{total}")), "{total} of {request:#}");
            }
            assert_eq!(
                pence_at(&answer, "/invoice/net") + pence_at(&answer, "/invoice/vat"),
                pence_at(&answer, "/invoice/gross")
            );
            if let Some(price) = request.get("price").and_then(Value::as_str) {
                assert_eq!(text_at(&answer, "/invoice/gross"), price);
            }
            if answer.get("payment").is_some() {
                let shares = list_at(&answer, "/payment/by_rate");
                let paid: i64 = shares.iter().map(|share| pence_at(share, "/amount")).sum();
                assert_eq!(paid, pence_at(&answer, "/payment/amount"));
            }
        }
        assert!(answered > 100 && refused > 10, "{answered} answered, {refused} refused");
    });
}
