//! Partial exemption: the percentage, its rounding, and a penny on either side of each de minimis test.

use crate::answers::{assert_sound, warning};
use acceptance::differences::differences;
use acceptance::figures::{pounds, quarter, request, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

fn purchase(used_for: &str, vat: i64) -> Value {
    json!({ "spend": "services", "net": pounds(vat * 5), "vat": pounds(vat), "used_for": used_for })
}

fn partly_exempt(taxable: i64, exempt: i64, purchases: Value) -> Value {
    quarter(
        json!([{ "treatment": "zero_rated", "net": pounds(taxable) }, { "treatment": "exempt", "net": pounds(exempt) }]),
        purchases,
    )
}

/// Each test is passed at its limit and failed a penny above (VAT Regulations 1995 regs 105A(1) and 106(1); PE24500; Notice 706
/// section 11). £625 a month is £1,875.00 for a quarter.
#[test]
fn each_de_minimis_test_turns_on_a_penny() {
    // Supplies, then input tax for taxable supplies, for exempt supplies and for both; the three tests.
    let cases: [(i64, i64, i64, i64, i64, [bool; 3]); 11] = [
        // All input tax: £1,875.00 passes the first, a penny more leaves the second.
        (2_000_000, 2_000_000, 100_000, 87_500, 0, [true, true, true]),
        (2_000_000, 2_000_000, 100_001, 87_500, 0, [false, true, true]),
        // All but that for taxable supplies.
        (2_000_000, 2_000_000, 200_000, 187_500, 0, [false, true, true]),
        (2_000_000, 2_000_000, 200_000, 187_501, 0, [false, false, false]),
        // One half exempt to the penny, and a penny more.
        (2_000_000, 2_000_000, 100_000, 50_000, 0, [true, true, true]),
        (2_000_000, 2_000_001, 100_000, 50_000, 0, [false, false, true]),
        // The main test: half of all input tax, and a penny more.
        (1_000_000, 2_000_000, 50_000, 50_000, 0, [false, false, true]),
        (1_000_000, 2_000_000, 50_000, 50_001, 0, [false, false, false]),
        // The main test on residual input tax: half of it is exempt input tax of £1,875.00, then £1,875.01.
        (1_000_000, 1_000_000, 500_000, 0, 375_000, [false, false, true]),
        (1_000_000, 1_000_000, 500_000, 1, 375_000, [false, false, false]),
        // Residual input tax of £1,875.00 passes the second test whatever part of it is exempt.
        (1_000_000, 1_000_000, 500_000, 0, 187_500, [false, true, true]),
    ];
    with_server(|client| {
        for (taxable, exempt, for_taxable, for_exempt, for_both, [first, second, main]) in cases {
            let purchases =
                json!([purchase("taxable", for_taxable), purchase("exempt", for_exempt), purchase("both", for_both)]);
            let request = partly_exempt(taxable, exempt, purchases);
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let pointer = "/standard/partial_exemption";
            let expected = json!({
                "simplified_test_1": first, "simplified_test_2": second, "main_test": main, "de_minimis_limit": "1875.00"
            });
            let found = answer.pointer(pointer).cloned().unwrap_or_default();
            let say = format!("{taxable} {exempt} {for_taxable} {for_exempt} {for_both}: {found:#}");
            assert_eq!(differences(&expected, &found), Vec::<String>::new(), "{say}");
            let passed = first || second || main;
            if passed {
                let all = pounds(for_taxable + for_exempt + for_both);
                assert_eq!(text_at(&answer, "/standard/input_tax"), all, "{say}");
            }
            // Recovered or not, the year decides: the reader is told either way, and told to look where something is lost.
            let severity = text_at(warning(&answer, "standard_partly_exempt"), "/severity");
            assert_eq!(severity == "information", passed, "{say}");
        }
    });
}

/// VAT Regulations 1995 reg 101(2)(d): without supplies no fraction can be formed, so that residual input tax is recovered only
/// where a test that needs none lets it through (reg 105A), or where the year before gives the percentage.
#[test]
fn residual_input_tax_of_a_period_without_supplies_needs_a_percentage() {
    with_server(|client| {
        let small = quarter(json!([]), json!([purchase("both", 187_500)]));
        let answer = client.compare(&small);
        assert_sound(&small, &answer);
        assert_eq!(text_at(&answer, "/standard/input_tax"), "1875.00");
        let mut large = quarter(json!([]), json!([purchase("both", 187_501)]));
        let problem = client.refuse(422, &large);
        assert_eq!(text_at(&problem, "/errors/0/code"), "partial_exemption_percentage_unknown");
        large["purchases"][0] = purchase("both", 1_000_001);
        large["partial_exemption"] = json!({ "previous_year_percentage": "60" });
        let answer = client.compare(&large);
        assert_sound(&large, &answer);
        assert_eq!(text_at(&answer, "/standard/input_tax"), "6000.01");
        // A single taxable sale makes the fraction a hundred per cent.
        let taxable =
            quarter(json!([{ "treatment": "zero_rated", "net": "1.00" }]), json!([purchase("both", 187_501)]));
        assert_eq!(text_at(&client.compare(&taxable), "/standard/input_tax"), "1875.01");
    });
}

/// The limit is £625 for each month, and for an odd period 12 × its share of the year (our reading; PE24500 for whole months).
#[test]
fn the_limit_goes_with_the_length_of_the_period() {
    with_server(|client| {
        for (start, end, limit) in [
            ("2025-04-01", "2025-04-30", "625.00"),
            ("2024-04-01", "2025-03-31", "7500.00"),
            // 92 of 365 days of £7,500 are £1,890.41.
            ("2025-04-01", "2025-07-01", "1890.41"),
        ] {
            let request = request(
                start,
                end,
                "business-services-not-listed-elsewhere",
                json!([{ "treatment": "exempt", "net": "1.00" }]),
                json!([purchase("both", 100)]),
            );
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/standard/partial_exemption/de_minimis_limit"), limit, "{start} to {end}");
        }
    });
}

/// Up to a whole per cent as long as residual input tax is at most £400,000 a month, and up to two decimals above (VAT
/// Regulations 1995 reg 101(5); SI 2005/762).
#[test]
fn the_rounding_of_the_percentage_turns_on_a_penny() {
    with_server(|client| {
        for (residual, percentage, recoverable) in
            [(120_000_000, "62", "744000.00"), (120_000_001, "61.24", "734880.01")]
        {
            let request = partly_exempt(
                612_345_600,
                387_654_400,
                json!([{
                    "spend": "services", "net": "6000000.00", "vat": pounds(residual), "used_for": "both"
                }]),
            );
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let expected =
                json!({ "percentage": percentage, "residual_recoverable": recoverable, "recoverable": recoverable });
            let found = answer["standard"]["partial_exemption"].clone();
            assert_eq!(differences(&expected, &found), Vec::<String>::new(), "{residual}");
        }
        for (taxable, exempt, percentage) in [
            (8_000_000, 2_000_000, "80"),
            (8_000_001, 2_000_000, "81"),
            (7_999_999, 2_000_000, "80"),
            (1, 10_000_000, "1"),
            (0, 10_000_000, "0"),
        ] {
            let answer = client.compare(&partly_exempt(taxable, exempt, json!([purchase("both", 1_000_000)])));
            assert_eq!(text_at(&answer, "/standard/partial_exemption/percentage"), percentage, "{taxable} of {exempt}");
        }
    });
}

/// What counts as taxable in the fraction, and what is left out of it (VAT Regulations 1995 regs 101(3), 103).
#[test]
fn the_fraction_holds_what_the_law_puts_in() {
    with_server(|client| {
        for (treatment, nature, taxable, exempt) in [
            ("standard_rated", "ordinary", "2000.00", "1000.00"),
            ("reduced_rated", "ordinary", "2000.00", "1000.00"),
            ("zero_rated", "ordinary", "2000.00", "1000.00"),
            ("domestic_reverse_charge", "ordinary", "2000.00", "1000.00"),
            ("outside_scope", "ordinary", "2000.00", "1000.00"),
            ("exempt", "ordinary", "1000.00", "2000.00"),
            ("non_business", "ordinary", "1000.00", "1000.00"),
            ("standard_rated", "capital_asset", "1000.00", "1000.00"),
            ("standard_rated", "capital_asset_vat_claimed", "1000.00", "1000.00"),
            ("exempt", "capital_asset", "1000.00", "1000.00"),
        ] {
            let request = quarter(
                json!([
                    { "treatment": "zero_rated", "net": "1000.00" },
                    { "treatment": "exempt", "net": "1000.00" },
                    { "treatment": treatment, "nature": nature, "net": "1000.00" }
                ]),
                json!([purchase("both", 1_000)]),
            );
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let expected = json!({ "taxable_supplies": taxable, "exempt_supplies": exempt });
            let found = answer["standard"]["partial_exemption"].clone();
            assert_eq!(differences(&expected, &found), Vec::<String>::new(), "{treatment} {nature}");
        }
    });
}

/// Blocked and private VAT is no input tax for any test; reverse charge and import VAT is (VATA 1994 section 24; Notice 706).
#[test]
fn only_input_tax_goes_into_the_tests() {
    with_server(|client| {
        let request = partly_exempt(
            1_000_000,
            1_000_000,
            json!([
                { "spend": "business_entertainment", "net": "1000.00", "vat": "200.00", "used_for": "both" },
                { "spend": "car_lease", "net": "1000.00", "vat": "200.00", "used_for": "exempt" },
                { "spend": "services", "net": "1000.00", "vat": "200.00", "used_for": "both", "business_use_percentage": "30" },
                { "spend": "services", "supply": "overseas_services_reverse_charge", "net": "1000.00", "vat": "200.00" },
                { "spend": "materials", "supply": "postponed_import", "net": "1000.00", "vat": "200.00", "used_for": "both" }
            ]),
        );
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        let expected =
            json!({ "input_tax_taxable": "200.00", "input_tax_exempt": "100.00", "input_tax_both": "260.00" });
        let found = answer["standard"]["partial_exemption"].clone();
        assert_eq!(differences(&expected, &found), Vec::<String>::new());
    });
}

/// A flat rate user attributes its reverse charge purchases by the ordinary rules (VAT Regulations 1995 reg 55E(3), our reading).
#[test]
fn reverse_charge_purchases_of_a_flat_rate_user_are_attributed() {
    with_server(|client| {
        let request = partly_exempt(
            1_000_000,
            1_000_000,
            json!([{
                "spend": "services", "supply": "domestic_reverse_charge", "net": "50000.00", "vat": "10000.00", "used_for": "both"
            }]),
        );
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/standard/input_tax"), "5000.00");
        assert_eq!(text_at(&answer, "/flat_rate/partial_exemption/recoverable"), "5000.00");
        assert_eq!(text_at(&answer, "/flat_rate/input_tax"), "5000.00");
    });
}

/// Without exempt supplies and without anything used for them there is nothing to work out; without any supplies there is no
/// fraction, and residual input tax needs one.
#[test]
fn a_calculation_is_made_only_where_there_is_one_to_make() {
    with_server(|client| {
        let taxable =
            quarter(json!([{ "treatment": "standard_rated", "net": "1000.00" }]), json!([purchase("both", 100)]));
        assert!(client.compare(&taxable)["standard"].get("partial_exemption").is_none());
        let no_residual = quarter(json!([]), json!([purchase("exempt", 100)]));
        let answer = client.compare(&no_residual);
        assert_sound(&no_residual, &answer);
        assert!(answer["standard"]["partial_exemption"].get("percentage").is_none());
        // Small enough for a simplified test, which needs no fraction: the main test cannot be formed, and is not passed.
        let small = quarter(json!([]), json!([purchase("exempt", 50_000), purchase("both", 50_000)]));
        let answer = client.compare(&small);
        assert_sound(&small, &answer);
        let expected =
            json!({ "simplified_test_1": true, "main_test": false, "percentage": null, "recoverable": "1000.00" });
        let found = answer["standard"]["partial_exemption"].clone();
        assert_eq!(differences(&expected, &found), Vec::<String>::new());
        let residual = quarter(json!([]), json!([purchase("exempt", 500_000), purchase("both", 500_000)]));
        let problem = client.refuse(422, &residual);
        assert_eq!(problem["code"], "partial_exemption_percentage_unknown");
    });
}
