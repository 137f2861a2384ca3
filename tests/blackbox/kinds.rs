//! Every kind of sale and purchase, taken from the words that the document lists.

use crate::answers::{assert_sound, warning_codes};
use acceptance::differences::differences;
use acceptance::document::Document;
use acceptance::figures::{list_at, pounds, quarter, request, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// £1,000.00 without VAT of each treatment and nature: VAT and box 6 on standard accounting; turnover, VAT at 12% with the VAT
/// outside the sum, and box 6 on the Flat Rate Scheme.
///
/// Turnover: Value Added Tax Act 1994 section 26B(2)(c). Reverse charge and assets with VAT claimed: VAT Regulations 1995 reg
/// 55C(4) and (6); deemed supplies: reg 55C(5), and VATA 1994 Schedule 4 paragraph 5. Non-business income: Notice 733 section 6. Box 6: VAT Notice 700/12; outside the scope: common practice, no
/// official source.
const SALES: [(&str, &str, &str, &str, &str, &str, &str); 39] = [
    ("standard_rated", "ordinary", "200.00", "1000", "1200.00", "144.00", "1200"),
    ("standard_rated", "capital_asset", "200.00", "1000", "1200.00", "144.00", "1200"),
    ("standard_rated", "capital_asset_vat_claimed", "200.00", "1000", "0.00", "200.00", "1000"),
    ("reduced_rated", "ordinary", "50.00", "1000", "1050.00", "126.00", "1050"),
    ("reduced_rated", "capital_asset", "50.00", "1000", "1050.00", "126.00", "1050"),
    ("reduced_rated", "capital_asset_vat_claimed", "50.00", "1000", "0.00", "50.00", "1000"),
    ("hospitality_rated", "ordinary", "50.00", "1000", "1050.00", "126.00", "1050"),
    ("hospitality_rated", "capital_asset", "50.00", "1000", "1050.00", "126.00", "1050"),
    ("hospitality_rated", "capital_asset_vat_claimed", "50.00", "1000", "0.00", "50.00", "1000"),
    ("zero_rated", "ordinary", "0.00", "1000", "1000.00", "120.00", "1000"),
    ("zero_rated", "capital_asset", "0.00", "1000", "1000.00", "120.00", "1000"),
    ("zero_rated", "capital_asset_vat_claimed", "0.00", "1000", "0.00", "0.00", "1000"),
    ("exempt", "ordinary", "0.00", "1000", "1000.00", "120.00", "1000"),
    ("exempt", "capital_asset", "0.00", "1000", "1000.00", "120.00", "1000"),
    ("domestic_reverse_charge", "ordinary", "0.00", "1000", "0.00", "0.00", "1000"),
    ("domestic_reverse_charge", "capital_asset", "0.00", "1000", "0.00", "0.00", "1000"),
    ("domestic_reverse_charge", "capital_asset_vat_claimed", "0.00", "1000", "0.00", "0.00", "1000"),
    ("outside_scope", "ordinary", "0.00", "1000", "0.00", "0.00", "1000"),
    ("outside_scope", "capital_asset", "0.00", "1000", "0.00", "0.00", "1000"),
    ("outside_scope", "capital_asset_vat_claimed", "0.00", "1000", "0.00", "0.00", "1000"),
    ("non_business", "ordinary", "0.00", "0", "0.00", "0.00", "0"),
    ("non_business", "capital_asset", "0.00", "0", "0.00", "0.00", "0"),
    ("non_business", "capital_asset_vat_claimed", "0.00", "0", "0.00", "0.00", "0"),
    ("standard_rated", "deemed_supply", "200.00", "1000", "0.00", "0.00", "0"),
    ("standard_rated", "deemed_supply_vat_claimed", "200.00", "1000", "0.00", "200.00", "1000"),
    ("reduced_rated", "deemed_supply", "50.00", "1000", "0.00", "0.00", "0"),
    ("reduced_rated", "deemed_supply_vat_claimed", "50.00", "1000", "0.00", "50.00", "1000"),
    ("hospitality_rated", "deemed_supply", "50.00", "1000", "0.00", "0.00", "0"),
    ("hospitality_rated", "deemed_supply_vat_claimed", "50.00", "1000", "0.00", "50.00", "1000"),
    ("zero_rated", "deemed_supply", "0.00", "1000", "0.00", "0.00", "0"),
    ("zero_rated", "deemed_supply_vat_claimed", "0.00", "1000", "0.00", "0.00", "1000"),
    ("exempt", "deemed_supply", "0.00", "1000", "0.00", "0.00", "0"),
    ("exempt", "deemed_supply_vat_claimed", "0.00", "1000", "0.00", "0.00", "1000"),
    ("domestic_reverse_charge", "deemed_supply", "0.00", "1000", "0.00", "0.00", "0"),
    ("domestic_reverse_charge", "deemed_supply_vat_claimed", "0.00", "1000", "0.00", "0.00", "1000"),
    ("outside_scope", "deemed_supply", "0.00", "1000", "0.00", "0.00", "0"),
    ("outside_scope", "deemed_supply_vat_claimed", "0.00", "1000", "0.00", "0.00", "1000"),
    ("non_business", "deemed_supply", "0.00", "0", "0.00", "0.00", "0"),
    ("non_business", "deemed_supply_vat_claimed", "0.00", "0", "0.00", "0.00", "0"),
];

/// A quarter in which each rate is in force, the temporary one for hospitality too.
fn summer_2021(sales: Value, purchases: Value) -> Value {
    request("2021-04-01", "2021-06-30", "business-services-not-listed-elsewhere", sales, purchases)
}

#[test]
fn every_kind_of_sale_is_accepted_and_goes_where_it_belongs() {
    let document = Document::checked_in();
    let mut pairs = BTreeSet::new();
    for treatment in document.words("SaleTreatment") {
        for nature in document.words("SaleNature") {
            pairs.insert((treatment.clone(), nature.clone()));
        }
    }
    with_server(|client| {
        for (treatment, nature, vat, box6, turnover, flat_rate_vat, flat_rate_box6) in SALES {
            pairs.remove(&(treatment.to_owned(), nature.to_owned()));
            let request = summer_2021(
                json!([{ "treatment": treatment, "nature": nature, "net": "1000.00" }]),
                json!([{ "spend": "materials", "net": "250.00", "vat": "0.00" }]),
            );
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let expected = json!({
                "standard": { "output_tax": vat, "boxes": { "box1": vat, "box6": box6 } },
                "flat_rate": { "turnover": turnover, "boxes": { "box1": flat_rate_vat, "box6": flat_rate_box6 } },
                "goods_test": { "turnover": turnover }
            });
            assert_eq!(differences(&expected, &answer), Vec::<String>::new(), "{treatment} {nature}");
        }
        // No source says where an exempt asset belongs on whose purchase VAT was claimed: it is accepted and makes no VAT itself.
        let unsettled = ("exempt".to_owned(), "capital_asset_vat_claimed".to_owned());
        assert!(pairs.remove(&unsettled));
        let request =
            summer_2021(json!([{ "treatment": unsettled.0, "nature": unsettled.1, "net": "1000.00" }]), json!([]));
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/standard/output_tax"), "0.00");
        assert_eq!(text_at(&answer, "/standard/boxes/box6"), "1000");
    });
    assert!(pairs.is_empty(), "kinds of sale without a row in this test: {pairs:?}");
}

/// How a kind of spend counts: relevant goods of the goods test, share of VAT recovered on standard accounting in per cent,
/// claim under the Flat Rate Scheme.
///
/// Relevant goods and capital goods: VAT Regulations 1995 regs 55A(1), 55A(4), 55E; Notice 733 section 4. Blocked: Input Tax
/// Order 1992 arts 5 and 7; VATA 1994 section 24(3). A car not blocked: VIT52700. Half of a car's lease, ten days of hire: common
/// practice, no source.
const SPEND: [(&str, bool, i64, bool); 21] = [
    ("materials", true, 100, false),
    ("consumable_goods", true, 100, false),
    ("stock_for_resale", true, 100, false),
    ("goods_for_hire_out", false, 100, false),
    ("power_and_water", true, 100, false),
    ("food_and_drink_for_sale", true, 100, false),
    ("food_and_drink_for_staff", false, 100, false),
    ("vehicle_fuel_and_parts", false, 100, false),
    ("promotional_goods_and_gifts", false, 100, false),
    ("capital_goods", false, 100, true),
    ("services", false, 100, false),
    ("rent_and_hire", false, 100, false),
    ("digital_content", false, 100, false),
    ("business_entertainment", false, 0, false),
    ("staff_entertainment", false, 100, false),
    ("car_purchase", false, 0, false),
    ("car_for_business_only", false, 100, true),
    ("car_lease", false, 50, false),
    ("short_car_hire", false, 100, false),
    ("accommodation_for_directors", false, 0, false),
    ("wages_and_other_outside_scope", false, 0, false),
];

const WAGES: &str = "wages_and_other_outside_scope";

/// A purchase for £2,000.00 and VAT of £400.00, where it can carry VAT.
fn purchase(spend: &str, supply: &str) -> (Value, i64, i64) {
    let vat = if spend == WAGES { 0 } else { 40_000 };
    let line = json!({ "spend": spend, "supply": supply, "net": "2000.00", "vat": pounds(vat) });
    (line, 200_000, vat)
}

#[test]
fn every_kind_of_spend_counts_as_the_law_says() {
    let document = Document::checked_in();
    let listed: BTreeSet<String> = document.words("SpendKind").into_iter().collect();
    let known: BTreeSet<String> = SPEND.iter().map(|(spend, ..)| (*spend).to_owned()).collect();
    assert_eq!(listed, known, "kinds of spend without a row in this test");
    with_server(|client| {
        let shown = client.get_json("/v1/spend-kinds");
        for (spend, relevant, recovered, claimed) in SPEND {
            let (line, net, vat) = purchase(spend, "ordinary");
            let request = quarter(json!([{ "treatment": "standard_rated", "gross": "12000.00" }]), json!([line]));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let recovered_vat = pounds(vat * recovered / 100);
            let expected = json!({
                "standard": { "input_tax": recovered_vat, "boxes": { "box7": if spend == WAGES { "0" } else { "2000" } } },
                "flat_rate": {
                    "input_tax": if claimed { "400.00" } else { "0.00" },
                    "boxes": { "box7": if claimed { "2000" } else { "0" } }
                },
                "goods_test": {
                    "relevant_goods": if relevant { pounds(net + vat) } else { "0.00".to_owned() },
                    "limited_cost_business": !relevant,
                    "lines": [{ "line": "/purchases/0", "spend": spend, "relevant": relevant }]
                }
            });
            assert_eq!(differences(&expected, &answer), Vec::<String>::new(), "{spend}");
            let kind = list_at(&shown, "/items")
                .iter()
                .find(|kind| text_at(kind, "/id") == spend)
                .unwrap_or_else(|| panic!("{spend} is not among the kinds shown"));
            let recovery = match recovered {
                100 => "all",
                50 => "half",
                _ => "none",
            };
            assert_eq!(text_at(kind, "/standard_recovery"), recovery, "{spend}");
            assert_eq!(text_at(kind, "/flat_rate_claim"), if claimed { "at_limit" } else { "none" }, "{spend}");
            match text_at(kind, "/relevant_goods") {
                "yes" => assert!(relevant, "{spend}"),
                "no" => assert!(!relevant, "{spend}"),
                "if_main_activity" => assert!(
                    ["stock_for_resale", "goods_for_hire_out", "food_and_drink_for_sale"].contains(&spend),
                    "{spend}"
                ),
                other => assert_eq!((other, spend), ("if_transport", "vehicle_fuel_and_parts")),
            }
        }
    });
}

/// Reverse charges and goods from abroad: the VAT is due on both schemes, and comes back on standard accounting as far as the
/// kind of spend allows. Under the Flat Rate Scheme reverse charges come back as far (VAT Regulations 1995 regs 55C(6) and
/// 55E(3)), goods from abroad only as capital goods (reg 55E; Revenue and Customs Brief 3 (2022); Notice 733 section 2).
/// Boxes: VAT Notice 700/12; VATREVCON31000; Notice 741A section 5.
#[test]
fn every_kind_of_spend_with_every_way_of_supply_is_accounted_for() {
    let document = Document::checked_in();
    let supplies: BTreeSet<String> = document.words("Supply").into_iter().collect();
    let known = [
        "ordinary",
        "postponed_import",
        "overseas_services_reverse_charge",
        "domestic_reverse_charge",
        "northern_ireland_acquisition",
    ];
    assert_eq!(supplies, known.map(str::to_owned).into(), "ways of supply without a row in this test");
    with_server(|client| {
        for supply in &known[1..] {
            for (spend, _, recovered, claimed) in SPEND {
                let (line, _, vat) = purchase(spend, supply);
                let request = quarter(json!([{ "treatment": "standard_rated", "gross": "12000.00" }]), json!([line]));
                let answer = client.compare(&request);
                assert_sound(&request, &answer);
                let northern_ireland = *supply == "northern_ireland_acquisition";
                let reverse_charge = supply.ends_with("reverse_charge");
                let (box1, box2) = if northern_ireland { (0, vat) } else { (vat, 0) };
                let back = vat * recovered / 100;
                let flat_rate_back = if reverse_charge || claimed { back } else { 0 };
                let flat_rate_vat: i64 = list_at(&answer, "/flat_rate/parts")
                    .iter()
                    .map(|part| acceptance::figures::pence_at(part, "/vat"))
                    .sum();
                let mut expected = json!({
                    "standard": { "boxes": {
                        "box1": pounds(200_000 + box1), "box2": pounds(box2), "box4": pounds(back)
                    } },
                    "flat_rate": { "turnover": "12000.00", "boxes": {
                        "box1": pounds(flat_rate_vat + box1), "box2": pounds(box2), "box4": pounds(flat_rate_back)
                    } }
                });
                // Wages are never supplied like this: no source says where their value would go.
                if spend != WAGES {
                    let boxes = &mut expected["standard"]["boxes"];
                    boxes["box6"] =
                        json!(if *supply == "overseas_services_reverse_charge" { "12000" } else { "10000" });
                    boxes["box7"] = json!("2000");
                    boxes["box9"] = json!(if northern_ireland { "2000" } else { "0" });
                    expected["flat_rate"]["boxes"]["box7"] = json!("2000");
                }
                assert_eq!(differences(&expected, &answer), Vec::<String>::new(), "{spend} {supply}");
            }
        }
    });
}

/// What lifts or lowers a kind of spend in the goods test (VAT Regulations 1995 reg 55A(4)).
#[test]
fn circumstances_decide_what_counts_as_relevant_goods() {
    let transport = "transport-or-storage-including-couriers-freight-removals-and-taxis";
    let consultancy = "management-consultancy";
    with_server(|client| {
        for (sector, line, relevant) in [
            ("hiring-or-renting-goods", json!({ "spend": "goods_for_hire_out" }), true),
            ("hiring-or-renting-goods", json!({ "spend": "goods_for_hire_out", "for_main_activity": false }), false),
            (consultancy, json!({ "spend": "goods_for_hire_out", "for_main_activity": true }), true),
            (consultancy, json!({ "spend": "stock_for_resale", "for_main_activity": false }), false),
            (consultancy, json!({ "spend": "food_and_drink_for_sale", "for_main_activity": false }), false),
            (transport, json!({ "spend": "vehicle_fuel_and_parts" }), true),
            (transport, json!({ "spend": "vehicle_fuel_and_parts", "for_main_activity": false }), false),
            (consultancy, json!({ "spend": "vehicle_fuel_and_parts", "for_main_activity": true }), false),
            (consultancy, json!({ "spend": "materials", "business_use_percentage": "99.99" }), false),
            (consultancy, json!({ "spend": "materials", "business_use_percentage": "100" }), true),
            (consultancy, json!({ "spend": "materials", "used_for": "exempt" }), true),
            (consultancy, json!({ "spend": "materials", "supply": "northern_ireland_acquisition" }), true),
            (consultancy, json!({ "spend": "materials", "supply": "postponed_import" }), true),
        ] {
            let mut line = line;
            line["net"] = json!("1000.00");
            line["vat"] = json!("200.00");
            let request = request(
                "2025-04-01",
                "2025-06-30",
                sector,
                json!([{ "treatment": "standard_rated", "gross": "12000.00" }]),
                json!([line]),
            );
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let amount = if relevant { "1200.00" } else { "0.00" };
            assert_eq!(text_at(&answer, "/goods_test/relevant_goods"), amount, "{sector} {line}");
        }
    });
}

/// A service cannot be imported, and goods are no overseas services: the figures stand, with a warning.
#[test]
fn a_supply_that_does_not_fit_its_spend_is_pointed_out() {
    with_server(|client| {
        for (spend, supply, contradicts) in [
            ("services", "postponed_import", true),
            ("services", "northern_ireland_acquisition", true),
            ("materials", "overseas_services_reverse_charge", true),
            ("services", "overseas_services_reverse_charge", false),
            ("materials", "postponed_import", false),
            ("services", "domestic_reverse_charge", false),
        ] {
            let (line, ..) = purchase(spend, supply);
            let answer = client.compare(&quarter(json!([]), json!([line])));
            let warned = warning_codes(&answer).contains(&"supply_contradicts_spend");
            assert_eq!(warned, contradicts, "{spend} {supply}");
        }
    });
}

/// Business use is a share of the VAT, rounded to the penny line by line (VIT41600; VATREC12030).
#[test]
fn business_use_is_rounded_line_by_line() {
    with_server(|client| {
        let line = json!({ "spend": "services", "net": "0.50", "vat": "0.10", "business_use_percentage": "45" });
        let request = quarter(json!([]), json!([line, line, line]));
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        // 4.5 pence each is 5; the sum of all three would be 13.5, that is 14.
        assert_eq!(text_at(&answer, "/standard/input_tax"), "0.15");
        let line = json!({ "spend": "car_lease", "net": "0.75", "vat": "0.15" });
        let answer = client.compare(&quarter(json!([]), json!([line, line])));
        assert_eq!(text_at(&answer, "/standard/input_tax"), "0.16");
        let line = json!({ "spend": "services", "net": "500.00", "vat": "100.00", "business_use_percentage": "0" });
        let answer = client.compare(&quarter(json!([]), json!([line])));
        assert_eq!(text_at(&answer, "/standard/input_tax"), "0.00");
        assert_eq!(text_at(&answer, "/standard/boxes/box7"), "500");
    });
}

/// The whole VAT of qualifying capital goods is claimed, whatever their private or exempt use (VAT Regulations 1995 reg
/// 55E(2); Notice 733 section 15).
#[test]
fn private_or_exempt_use_does_not_cut_a_capital_goods_claim() {
    with_server(|client| {
        let line = json!({
            "spend": "capital_goods", "net": "2000.00", "vat": "400.00", "business_use_percentage": "40", "used_for": "both"
        });
        let request = quarter(
            json!([{ "treatment": "standard_rated", "net": "1000.00" }, { "treatment": "exempt", "net": "1000.00" }]),
            json!([line]),
        );
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/flat_rate/input_tax"), "400.00");
    });
}

/// Goods sent from Northern Ireland to the European Union stand in boxes 6 and 8 on both returns, pence cut off once (VAT Notice
/// 700/12).
#[test]
fn goods_sent_to_the_european_union_stand_in_box_8() {
    with_server(|client| {
        let sent = json!({ "treatment": "zero_rated", "net": "1000.60", "northern_ireland_to_eu": true });
        let kept = json!({ "treatment": "zero_rated", "net": "500.00", "northern_ireland_to_eu": false });
        let request = quarter(json!([sent, kept, sent]), json!([]));
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        for scheme in ["standard", "flat_rate"] {
            let boxes = &answer[scheme]["boxes"];
            assert_eq!(boxes["box8"], "2001", "{scheme}");
            assert_eq!(boxes["box6"], "2501", "{scheme}");
            assert_eq!(boxes["box9"], "0", "{scheme}");
        }
    });
}

/// What stands in box 8 stands in box 6 too (VAT Notice 700/12): non-business income in neither, on both returns, whether the scheme covers the
/// period or a part of it.
#[test]
fn income_that_is_not_from_business_is_not_in_box_8() {
    with_server(|client| {
        let mut request = quarter(
            json!([{ "treatment": "non_business", "net": "1000.60", "northern_ireland_to_eu": true }]),
            json!([]),
        );
        for from in [None, Some("2025-05-01")] {
            if let Some(from) = from {
                request["business"]["flat_rate_from"] = json!(from);
            }
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            for scheme in ["standard", "flat_rate"] {
                let boxes = &answer[scheme]["boxes"];
                assert_eq!((&boxes["box6"], &boxes["box8"]), (&json!("0"), &json!("0")), "{scheme} {from:?}");
            }
        }
    });
}

/// Such goods have rules of their own since 1 January 2021 (VATA 1994 Schedule 9ZA; the day is from memory).
#[test]
fn goods_between_northern_ireland_and_the_european_union_begin_in_2021() {
    with_server(|client| {
        let on = |day: &str, sales: Value, purchases: Value| {
            request(day, day, "business-services-not-listed-elsewhere", sales, purchases)
        };
        let sent = json!([{ "treatment": "zero_rated", "net": "10.00", "northern_ireland_to_eu": true }]);
        let acquired = json!([{ "spend": "materials", "supply": "northern_ireland_acquisition", "net": "10.00" }]);
        for day in ["2021-01-01", "2021-01-02"] {
            let request = on(day, sent.clone(), acquired.clone());
            assert_sound(&request, &client.compare(&request));
        }
        let problem = client.refuse(422, &on("2020-12-31", sent, acquired));
        assert_eq!(problem["code"], "northern_ireland_too_early");
        let pointers: Vec<_> = list_at(&problem, "/errors").iter().map(|error| text_at(error, "/pointer")).collect();
        assert_eq!(pointers, ["/sales/0/northern_ireland_to_eu", "/purchases/0/supply"]);
        // The flag alone is no claim.
        let kept = json!([{ "treatment": "zero_rated", "net": "10.00", "northern_ireland_to_eu": false }]);
        client.compare(&on("2020-12-31", kept, json!([])));
    });
}
