//! Road fuel scale charges (VATA 1994 ss 56, 57), at the edges of bands, engines, lengths and days.

use crate::support::*;
use vat_schemes::answer::{Answer, FuelScaleCharge};
use vat_schemes::figures::{Figures, FuelScaleCar, Spend, Treatment};

fn with_car(start: &str, end: &str, car: FuelScaleCar) -> Figures {
    let mut figures = period(start, end);
    figures.sales = vec![sale(Treatment::StandardRated, gross("12000.00"))];
    figures.purchases = vec![goods("5000.00"), purchase(Spend::VehicleFuelAndParts, gross("1200.00"))];
    figures.adjustments.fuel_scale_charges = vec![car];
    figures
}

fn of_co2(co2: i32) -> Figures {
    with_car("2025-06-01", "2025-08-31", FuelScaleCar::Co2Emissions(co2))
}

fn only(answer: &Answer) -> FuelScaleCharge {
    assert_eq!(answer.adjustments.fuel_scale_charges.len(), 1);
    answer.adjustments.fuel_scale_charges[0]
}

fn written(charge: FuelScaleCharge) -> (i32, String, String, String) {
    (charge.band, charge.charge.to_string(), charge.vat.to_string(), charge.net.to_string())
}

/// VAT of the quarter's charges, by the table that the law's secondary copies print.
const VAT_OF_QUARTER: [(i32, &str); 22] = [
    (120, "27.33"),
    (125, "41.33"),
    (130, "43.83"),
    (135, "46.67"),
    (140, "49.50"),
    (145, "52.17"),
    (150, "55.00"),
    (155, "57.83"),
    (160, "60.50"),
    (165, "63.33"),
    (170, "66.00"),
    (175, "68.67"),
    (180, "71.50"),
    (185, "74.33"),
    (190, "77.00"),
    (195, "79.83"),
    (200, "82.67"),
    (205, "85.33"),
    (210, "88.00"),
    (215, "90.83"),
    (220, "93.50"),
    (225, "96.33"),
];

#[test]
fn each_band_begins_at_its_own_figure_and_goes_to_the_next() {
    for (position, (band, vat)) in VAT_OF_QUARTER.iter().enumerate() {
        let below = position.checked_sub(1).map_or(120, |before| VAT_OF_QUARTER[before].0);
        assert_eq!(only(&answer(&of_co2(band - 1))).band, below, "{}", band - 1);
        for co2 in [*band, band + 1, band + 4] {
            let charge = only(&answer(&of_co2(co2)));
            assert_eq!((charge.band, charge.vat), (*band, money(vat)), "{co2}");
            assert_eq!(charge.vat.plus(charge.net), Ok(charge.charge));
        }
    }
    for (co2, band) in [(1, 120), (119, 120), (226, 225), (230, 225), (1000, 225)] {
        assert_eq!(only(&answer(&of_co2(co2))).band, band, "{co2}");
    }
}

#[test]
fn a_car_without_a_figure_goes_by_its_engine() {
    for (capacity, band) in [(1, 140), (1399, 140), (1400, 140), (1401, 175), (2000, 175), (2001, 225)] {
        let figures = with_car("2025-06-01", "2025-08-31", FuelScaleCar::EngineCapacity(capacity));
        assert_eq!(only(&answer(&figures)).band, band, "{capacity}");
    }
}

#[test]
fn the_table_is_that_of_the_day_on_which_the_period_begins() {
    for (start, end, charge) in [
        ("2025-05-01", "2025-05-31", "120.00"),
        ("2025-05-01", "2025-07-31", "363.00"),
        ("2026-04-30", "2026-07-29", "363.00"),
        ("2026-04-01", "2027-03-31", "1456.00"),
    ] {
        let figures = with_car(start, end, FuelScaleCar::Co2Emissions(160));
        assert_eq!(only(&answer(&figures)).charge, money(charge), "{start}");
    }
    for (start, end) in [("2025-04-30", "2025-07-29"), ("2026-05-01", "2026-07-31"), ("2024-06-01", "2025-05-31")] {
        let figures = with_car(start, end, FuelScaleCar::Co2Emissions(160));
        assert_eq!(
            refused(&figures),
            [("date_outside_law".into(), "/adjustments/fuel_scale_charges".into())],
            "{start}"
        );
    }
}

#[test]
fn only_a_month_a_quarter_and_a_year_have_a_charge() {
    for (end, charge) in [("2025-06-30", "120.00"), ("2025-08-31", "363.00"), ("2026-05-31", "1456.00")] {
        let figures = with_car("2025-06-01", end, FuelScaleCar::Co2Emissions(160));
        assert_eq!(only(&answer(&figures)).charge, money(charge), "{end}");
    }
    for end in
        ["2025-06-29", "2025-07-01", "2025-07-31", "2025-08-30", "2025-09-01", "2025-11-30", "2026-05-30", "2026-06-30"]
    {
        let figures = with_car("2025-06-01", end, FuelScaleCar::Co2Emissions(160));
        assert_eq!(
            refused(&figures),
            [("fuel_scale_length_not_in_table".into(), "/adjustments/fuel_scale_charges".into())],
            "{end}"
        );
    }
}

#[test]
fn charges_stand_in_boxes_1_and_6_of_standard_accounting_alone() {
    let mut figures = of_co2(163);
    figures.adjustments.fuel_scale_charges.push(FuelScaleCar::EngineCapacity(2001));
    let with = answer(&figures);
    let charges: Vec<_> = with.adjustments.fuel_scale_charges.iter().copied().map(written).collect();
    let texts = |band, charge: &str, vat: &str, net: &str| (band, charge.to_owned(), vat.to_owned(), net.to_owned());
    assert_eq!(charges, [texts(160, "363.00", "60.50", "302.50"), texts(225, "578.00", "96.33", "481.67")]);
    figures.adjustments.fuel_scale_charges.clear();
    let without = answer(&figures);
    assert_eq!(with.standard.boxes.box1.minus(without.standard.boxes.box1), Ok(money("156.83")));
    assert_eq!(without.standard.boxes.box6.to_string(), "10000");
    // 302.50 + 481.67 = 784.17.
    assert_eq!(with.standard.boxes.box6.to_string(), "10784");
    assert_eq!(with.standard.input_tax, without.standard.input_tax);
    assert_eq!(with.flat_rate, without.flat_rate);
}

#[test]
fn a_period_partly_in_the_scheme_is_refused_with_all_other_reasons() {
    let mut figures = with_car("2025-04-01", "2025-05-31", FuelScaleCar::Co2Emissions(160));
    figures.business.flat_rate_from = Some(day("2025-04-02"));
    figures.purchases[0].part = None;
    let place = "/adjustments/fuel_scale_charges".to_owned();
    assert_eq!(
        refused(&figures),
        [
            ("fuel_scale_in_part_of_period".to_owned(), place.clone()),
            ("fuel_scale_length_not_in_table".to_owned(), place.clone()),
            ("date_outside_law".to_owned(), place.clone()),
        ]
    );
    let mut figures = of_co2(160);
    figures.business.flat_rate_until = Some(day("2025-08-30"));
    assert_eq!(refused(&figures), [("fuel_scale_in_part_of_period".to_owned(), place)]);
    figures.business.flat_rate_until = Some(day("2025-08-31"));
    assert_eq!(only(&answer(&figures)).band, 160);
}

fn warned_with(fuel: Option<(&str, Option<&str>)>) -> Vec<(&'static str, Option<String>, String)> {
    let mut figures = of_co2(163);
    figures.purchases.pop();
    if let Some((vat, share)) = fuel {
        let mut line = purchase(Spend::VehicleFuelAndParts, net_and_vat("1000.00", vat));
        line.business_use = share.map(|share| share.parse().expect("a percentage"));
        figures.purchases.push(line);
    }
    let codes = ["fuel_scale_charge_without_claim", "fuel_in_two_ways", "fuel_scale_charge_above_claim"];
    let warnings = answer(&figures).warnings.into_iter().filter(|warning| codes.contains(&warning.code.as_str()));
    warnings.map(|warning| (warning.code.as_str(), warning.limit, warning.message)).collect()
}

/// The charge's VAT is 60.50.
#[test]
fn a_charge_that_does_not_go_with_the_fuel_is_warned_of() {
    let codes = |fuel| warned_with(fuel).into_iter().map(|(code, ..)| code).collect::<Vec<_>>();
    assert_eq!(codes(None), ["fuel_scale_charge_without_claim"]);
    assert_eq!(codes(Some(("0.00", None))), ["fuel_scale_charge_without_claim"]);
    assert_eq!(codes(Some(("200.00", None))), Vec::<&str>::new());
    assert_eq!(codes(Some(("200.00", Some("100")))), Vec::<&str>::new());
    assert_eq!(codes(Some(("200.00", Some("99.99")))), ["fuel_in_two_ways"]);
    assert_eq!(codes(Some(("200.00", Some("0")))), ["fuel_in_two_ways", "fuel_scale_charge_without_claim"]);
    assert_eq!(codes(Some(("60.50", None))), Vec::<&str>::new());
    let dearer = warned_with(Some(("60.49", None)));
    let [(code, limit, message)] = &dearer[..] else { panic!("{dearer:?}") };
    assert_eq!((*code, limit.as_deref()), ("fuel_scale_charge_above_claim", Some("60.49")));
    assert!(message.contains("£0.01 more"), "{message}");
}
