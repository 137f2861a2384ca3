//! What holds for any figures: generated requests, the same in every run.

use crate::answers::assert_sound;
use acceptance::document::Document;
use acceptance::figures::{pence_at, pounds, quarter, text_at};
use acceptance::generator::Generator;
use acceptance::server::with_server;
use serde_json::{Value, json};

/// How many requests each property is tried on.
const TRIES: usize = 40;

const TREATMENTS: [&str; 7] = [
    "standard_rated",
    "reduced_rated",
    "zero_rated",
    "exempt",
    "domestic_reverse_charge",
    "outside_scope",
    "non_business",
];

/// Kinds of spend whose claim does not depend on the size of one line.
const SPEND: [&str; 8] = [
    "materials",
    "consumable_goods",
    "stock_for_resale",
    "power_and_water",
    "services",
    "rent_and_hire",
    "business_entertainment",
    "promotional_goods_and_gifts",
];

const SUPPLIES: [&str; 5] = [
    "ordinary",
    "ordinary",
    "domestic_reverse_charge",
    "overseas_services_reverse_charge",
    "northern_ireland_acquisition",
];

fn rate(treatment: &str) -> i64 {
    match treatment {
        "standard_rated" => 20,
        "reduced_rated" => 5,
        _ => 0,
    }
}

/// A line with both amounts stated, so that it can be turned round, split and added up.
fn sale(generator: &mut Generator, treatment: &str) -> Value {
    let net = generator.between(-50_000, 3_000_000);
    let vat = net * rate(treatment) / 100;
    json!({ "treatment": treatment, "net": pounds(net), "vat": pounds(vat) })
}

fn purchase(generator: &mut Generator) -> Value {
    let net = generator.between(-10_000, 500_000);
    let spend = *generator.one_of(&SPEND);
    let supply =
        if ["services", "rent_and_hire"].contains(&spend) { *generator.one_of(&SUPPLIES[..4]) } else { "ordinary" };
    json!({ "spend": spend, "supply": supply, "net": pounds(net), "vat": pounds(net / 5) })
}

/// A request of a few lines; `treatments` are those that its sales may have.
fn request(generator: &mut Generator, treatments: &[&str]) -> Value {
    let sales: Vec<Value> = (0..generator.between(0, 6))
        .map(|_| {
            let treatment = *generator.one_of(treatments);
            sale(generator, treatment)
        })
        .collect();
    let purchases: Vec<Value> = (0..generator.between(0, 6)).map(|_| purchase(generator)).collect();
    quarter(Value::Array(sales), Value::Array(purchases))
}

/// The figures of an answer, without the lines that repeat the request.
fn figures(answer: &Value) -> Value {
    let mut goods_test = answer["goods_test"].clone();
    if let Some(members) = goods_test.as_object_mut() {
        members.remove("lines");
    }
    json!([answer["standard"], answer["flat_rate"], goods_test, answer["comparison"]])
}

fn lines<'request>(request: &'request mut Value, name: &str) -> &'request mut Vec<Value> {
    request[name].as_array_mut().unwrap_or_else(|| panic!("{name} is not a list"))
}

#[test]
fn any_answer_is_sound() {
    with_server(|client| {
        let mut generator = Generator::new(11);
        for _ in 0..TRIES {
            let request = request(&mut generator, &TREATMENTS);
            assert_sound(&request, &client.compare(&request));
        }
    });
}

/// A line of any kind with any amounts: many such requests contradict themselves.
fn any_line(generator: &mut Generator, fields: &[(&str, Vec<String>)]) -> Value {
    let mut line = json!({});
    for (index, (name, words)) in fields.iter().enumerate() {
        // The first field is the one that a line must have.
        if index == 0 || generator.between(0, 3) == 0 {
            line[*name] = json!(generator.one_of(words));
        }
    }
    for _ in 0..generator.between(1, 2) {
        let amount = *generator.one_of(&["net", "vat", "gross"]);
        line[amount] = json!(pounds(generator.between(-20_000, 400_000)));
    }
    line
}

/// Whatever is asked is answered soundly or refused with its reasons: never a failure of the service.
#[test]
fn anything_is_answered_soundly_or_refused() {
    let document = Document::checked_in();
    let fixed = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    let sales = [("treatment", document.words("SaleTreatment")), ("nature", document.words("SaleNature"))];
    let purchases = [
        ("spend", document.words("SpendKind")),
        ("supply", document.words("Supply")),
        ("used_for", document.words("UsedFor")),
        ("treatment", document.words("PurchaseTreatment")),
        ("business_use_percentage", fixed(&["0", "33.33", "50", "99.99", "100"])),
    ];
    let sectors = fixed(&["pubs", "hiring-or-renting-goods", "repairing-vehicles", "sport-or-recreation"]);
    let starts = ["2011-01-04", "2016-11-15", "2020-07-01", "2021-09-01", "2022-06-01", "2025-04-01"];
    let ends = ["2011-04-03", "2017-05-31", "2020-09-30", "2021-11-30", "2022-08-31", "2025-06-30"];
    with_server(|client| {
        let mut generator = Generator::new(19);
        let (mut answered, mut refused) = (0, 0);
        for _ in 0..TRIES * 10 {
            let period = usize::try_from(generator.between(0, 5)).unwrap_or(0);
            let sales = (0..generator.between(0, 2)).map(|_| any_line(&mut generator, &sales)).collect();
            let purchases = (0..generator.between(0, 2)).map(|_| any_line(&mut generator, &purchases)).collect();
            let sector = generator.one_of(&sectors).clone();
            let mut request = acceptance::figures::request(
                starts[period],
                ends[period],
                &sector,
                Value::Array(sales),
                Value::Array(purchases),
            );
            request["split_estimate"] = json!("by_days");
            if generator.between(0, 1) == 0 {
                let registered = ["2010-02-15", "2016-02-15", "2019-08-15", "2020-10-15", "2021-07-15", "2024-05-15"];
                request["business"]["registered_on"] = json!(registered[period]);
                request["business"]["flat_rate_from"] = json!(registered[period]);
            }
            let answer = client.post_comparison(&request);
            match answer.status {
                200 => {
                    assert_sound(&request, &answer.json());
                    answered += 1;
                }
                422 => refused += 1,
                status => panic!("{status}: {request:#}\n{}", answer.text()),
            }
        }
        assert!(answered > TRIES && refused > TRIES, "{answered} answered, {refused} refused");
    });
}

#[test]
fn the_order_of_lines_changes_no_figure() {
    with_server(|client| {
        let mut generator = Generator::new(12);
        for _ in 0..TRIES {
            let request = request(&mut generator, &TREATMENTS);
            let mut turned = request.clone();
            lines(&mut turned, "sales").reverse();
            lines(&mut turned, "purchases").reverse();
            assert_eq!(figures(&client.compare(&request)), figures(&client.compare(&turned)), "{request:#}");
        }
    });
}

#[test]
fn a_line_of_nothing_changes_no_figure() {
    with_server(|client| {
        let mut generator = Generator::new(13);
        for _ in 0..TRIES {
            let request = request(&mut generator, &TREATMENTS);
            let mut longer = request.clone();
            let treatment = *generator.one_of(&TREATMENTS);
            lines(&mut longer, "sales").push(json!({ "treatment": treatment, "net": "0.00" }));
            lines(&mut longer, "purchases").push(json!({ "spend": *generator.one_of(&SPEND), "net": "0" }));
            assert_eq!(figures(&client.compare(&request)), figures(&client.compare(&longer)), "{request:#}");
        }
    });
}

#[test]
fn a_line_in_two_pieces_is_the_same_line() {
    with_server(|client| {
        let mut generator = Generator::new(14);
        for _ in 0..TRIES {
            let request = request(&mut generator, &TREATMENTS);
            let mut split = request.clone();
            for name in ["sales", "purchases"] {
                let whole = std::mem::take(lines(&mut split, name));
                for line in whole {
                    let (net, vat) = (pence_at(&line, "/net"), pence_at(&line, "/vat"));
                    let (some_net, some_vat) = (generator.between(-900, 900), generator.between(-90, 90));
                    let carries_vat = vat != 0;
                    let some_vat = if carries_vat { some_vat } else { 0 };
                    for (net, vat) in [(some_net, some_vat), (net - some_net, vat - some_vat)] {
                        let mut piece = line.clone();
                        piece["net"] = json!(pounds(net));
                        piece["vat"] = json!(pounds(vat));
                        lines(&mut split, name).push(piece);
                    }
                }
            }
            assert_eq!(figures(&client.compare(&request)), figures(&client.compare(&split)), "{request:#}\n{split:#}");
        }
    });
}

/// A credit note for everything leaves nothing due but what a limit decides.
#[test]
fn credits_cancel_charges() {
    with_server(|client| {
        let mut generator = Generator::new(15);
        for _ in 0..TRIES {
            let mut request = request(&mut generator, &TREATMENTS);
            for name in ["sales", "purchases"] {
                let credits: Vec<Value> = lines(&mut request, name)
                    .iter()
                    .map(|line| {
                        let mut credit = line.clone();
                        credit["net"] = json!(pounds(-pence_at(line, "/net")));
                        credit["vat"] = json!(pounds(-pence_at(line, "/vat")));
                        credit
                    })
                    .collect();
                lines(&mut request, name).extend(credits);
            }
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            for pointer in [
                "/standard/vat_payable",
                "/standard/output_tax",
                "/standard/input_tax",
                "/flat_rate/vat_payable",
                "/flat_rate/turnover",
                "/flat_rate/boxes/box1",
                "/goods_test/relevant_goods",
                "/comparison/saving",
            ] {
                assert_eq!(text_at(&answer, pointer), "0.00", "{pointer} of {request:#}");
            }
            for pointer in ["/standard/boxes/box6", "/standard/boxes/box7", "/flat_rate/boxes/box6"] {
                assert_eq!(text_at(&answer, pointer), "0", "{pointer} of {request:#}");
            }
        }
    });
}

/// The same lines with their signs turned round turn every sum round: output tax, input tax, turnover and flat rate VAT. The
/// goods test has a floor that credits do not turn, so its spend is held above or below by goods that stay.
#[test]
fn charges_and_credits_mirror_each_other() {
    with_server(|client| {
        let mut generator = Generator::new(16);
        for _ in 0..TRIES {
            let mut request = request(&mut generator, &["standard_rated", "reduced_rated", "zero_rated"]);
            let keep = json!({ "spend": "materials", "net": "900000.00", "vat": "0.00" });
            let mut turned = request.clone();
            for name in ["sales", "purchases"] {
                for line in lines(&mut turned, name) {
                    for amount in ["net", "vat"] {
                        line[amount] = json!(pounds(-pence_at(line, &format!("/{amount}"))));
                    }
                }
            }
            lines(&mut request, "purchases").push(keep.clone());
            lines(&mut turned, "purchases").push(keep);
            let (plain, turned) = (client.compare(&request), client.compare(&turned));
            for pointer in
                ["/standard/output_tax", "/standard/input_tax", "/flat_rate/turnover", "/flat_rate/vat_payable"]
            {
                assert_eq!(pence_at(&plain, pointer), -pence_at(&turned, pointer), "{pointer} of {request:#}");
            }
        }
    });
}

/// The VAT of a net amount, and that in the gross amount which it makes, are the same (VIT55400; VATREC12030).
#[test]
fn net_to_gross_and_back_gives_the_same_vat() {
    with_server(|client| {
        let mut generator = Generator::new(17);
        for _ in 0..TRIES {
            let treatment = *generator.one_of(&["standard_rated", "reduced_rated"]);
            let net = generator.between(-100_000, 100_000);
            let ask = |line: Value| client.compare(&quarter(json!([line]), json!([])));
            let from_net = ask(json!({ "treatment": treatment, "net": pounds(net) }));
            let gross = text_at(&from_net, "/flat_rate/turnover");
            let from_gross = ask(json!({ "treatment": treatment, "gross": gross }));
            assert_eq!(from_net["standard"], from_gross["standard"], "{treatment} {net}");
            assert_eq!(pence_at(&from_gross, "/standard/output_tax"), expected_vat(net, rate(treatment)));
        }
    });
}

/// VAT of a net amount to the nearest penny, half up in magnitude.
fn expected_vat(net: i64, rate: i64) -> i64 {
    let size = (net.abs() * rate * 2 + 100) / 200;
    if net < 0 { -size } else { size }
}

/// Standard accounting of a fully taxable business, worked out here once more: output tax less what is not blocked.
#[test]
fn output_tax_and_input_tax_are_the_sums_of_their_lines() {
    with_server(|client| {
        let mut generator = Generator::new(18);
        for _ in 0..TRIES {
            let request = request(&mut generator, &["standard_rated", "reduced_rated", "zero_rated", "outside_scope"]);
            let answer = client.compare(&request);
            let sales = request["sales"].as_array().into_iter().flatten();
            let output: i64 = sales.map(|line| pence_at(line, "/vat")).sum();
            let purchases = request["purchases"].as_array().map_or(&[][..], Vec::as_slice);
            let accounted: i64 =
                purchases.iter().filter(|line| line["supply"] != "ordinary").map(|line| pence_at(line, "/vat")).sum();
            let input: i64 = purchases
                .iter()
                .filter(|line| line["spend"] != "business_entertainment")
                .map(|line| pence_at(line, "/vat"))
                .sum();
            assert_eq!(pence_at(&answer, "/standard/output_tax"), output + accounted, "{request:#}");
            assert_eq!(pence_at(&answer, "/standard/input_tax"), input, "{request:#}");
        }
    });
}
