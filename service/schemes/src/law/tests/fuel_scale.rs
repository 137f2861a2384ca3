//! The road fuel scale charges, on the days around their table, and every way in which a table can be unsound.

use super::soundness::{edited, find, refused};
use super::{day, law};
use crate::law::{Evidence, FuelScaleLength, Tables};

/// Band, one, three and twelve months, written out by hand.
const CHARGES: &[(i32, &str, &str, &str)] = &[
    (120, "54.00", "164.00", "661.00"),
    (125, "82.00", "248.00", "990.00"),
    (130, "87.00", "263.00", "1059.00"),
    (135, "93.00", "280.00", "1122.00"),
    (140, "99.00", "297.00", "1191.00"),
    (145, "103.00", "313.00", "1255.00"),
    (150, "109.00", "330.00", "1323.00"),
    (155, "115.00", "347.00", "1387.00"),
    (160, "120.00", "363.00", "1456.00"),
    (165, "126.00", "380.00", "1520.00"),
    (170, "131.00", "396.00", "1588.00"),
    (175, "137.00", "412.00", "1652.00"),
    (180, "143.00", "429.00", "1721.00"),
    (185, "148.00", "446.00", "1784.00"),
    (190, "153.00", "462.00", "1853.00"),
    (195, "159.00", "479.00", "1917.00"),
    (200, "164.00", "496.00", "1985.00"),
    (205, "170.00", "512.00", "2049.00"),
    (210, "175.00", "528.00", "2118.00"),
    (215, "181.00", "545.00", "2182.00"),
    (220, "187.00", "561.00", "2250.00"),
    (225, "192.00", "578.00", "2314.00"),
];

#[test]
fn every_charge_of_the_table() {
    let law = law();
    for on in ["2025-05-01", "2026-04-30"] {
        let table = law.fuel_scale_charges(day(on)).expect("a table");
        assert_eq!(table.charges().bands().len(), CHARGES.len());
        for &(band, one, three, twelve) in CHARGES {
            for (length, charge) in FuelScaleLength::ALL.iter().zip([one, three, twelve]) {
                let number = table.charge(band, *length).expect("a charge");
                assert_eq!(number.value.to_string(), charge, "{band} {length:?}");
                assert_eq!(number.id.as_str(), format!("fuel_scale_charge_{band}_{}", length.as_str()));
            }
        }
        assert!(table.charge(121, FuelScaleLength::OneMonth).is_none());
        assert!(table.charge(230, FuelScaleLength::OneMonth).is_none());
    }
}

/// What the table says of itself: its days, what it rests on, its step, and the bands of cars without a figure of emissions.
#[test]
fn the_table_and_what_it_rests_on() {
    let law = law();
    let table = law.fuel_scale_charges(day("2025-05-01")).expect("a table");
    assert_eq!((table.from(), table.to()), (day("2025-05-01"), Some(day("2026-04-30"))));
    let authority: Vec<&str> = table.authority().iter().map(|id| id.as_str()).collect();
    assert_eq!(authority, ["vata-1994-section-57", "vit55400", "fuel-scale-charges-copies"]);
    assert_eq!((table.evidence(), table.checked_on()), (Evidence::Practice, day("2026-11-25")));
    assert!(table.note().is_some_and(|note| note.contains("secondary copies")));
    let charges = table.charges();
    assert_eq!(charges.step(), 5);
    let engines: Vec<(i32, i32)> = charges.engines().iter().map(|engine| (engine.up_to, engine.band())).collect();
    assert_eq!(engines, [(1400, 140), (2000, 175)]);
}

#[test]
fn there_is_no_charge_on_other_days() {
    let law = law();
    for on in ["2025-04-30", "2026-05-01"] {
        let missing = law.fuel_scale_charges(day(on)).expect_err("no table");
        assert_eq!(missing.known_days(), "from 2025-05-01 to 2026-04-30");
    }
    assert_eq!(law.last_day_of_fuel_scale_charges(), day("2026-04-30"));
}

#[test]
fn engines_without_a_figure_of_emissions() {
    let law = law();
    let table = law.fuel_scale_charges(day("2025-05-01")).expect("a table");
    for (capacity, band) in [(1, 140), (1400, 140), (1401, 175), (2000, 175), (2001, 225), (20_000, 225)] {
        assert_eq!(table.of_engine(capacity).value, band, "{capacity}");
    }
}

#[test]
fn lengths_that_have_a_charge() {
    for (months, length) in [(1, "one_month"), (3, "three_months"), (12, "twelve_months")] {
        assert_eq!(FuelScaleLength::of_months(months).map(FuelScaleLength::as_str), Some(length));
    }
    for months in [-1, 0, 2, 4, 6, 11, 13] {
        assert_eq!(FuelScaleLength::of_months(months), None, "{months}");
    }
}

macro_rules! unsound {
    ($($name:ident: $id:expr; put $new:literal for $old:literal => $what:literal;)+) => {
        $(
            #[test]
            fn $name() {
                let text = edited(Tables::BUILT_IN.fuel_scale_charges, "[[table]]", $old, $new);
                let error = refused(&Tables { fuel_scale_charges: &text, ..Tables::BUILT_IN });
                assert_eq!(find(&error, "fuel_scale_charges.toml", $id, $what), 1, "{error}");
            }
        )+
    };
}

const FIRST: Option<&str> = Some("2025-05-01");

unsound! {
    a_table_from_no_day: Some("1 May 2025"); put "from = \"1 May 2025\"" for "from = \"2025-05-01\"" => "is no day";
    a_table_to_no_day: FIRST; put "2026-04-31" for "2026-04-30" => "is no day";
    a_table_that_ends_before_it_begins: None; put "2025-04-30" for "2026-04-30" => "ends before it begins";
    a_table_that_cites_nothing: FIRST; put "authority = []" for "authority = [\"vata-1994-section-57\", \"vit55400\", \"fuel-scale-charges-copies\"]" => "no authority";
    a_table_of_no_evidence: FIRST; put "\"hearsay\"" for "\"practice\"" => "evidence \"hearsay\" is none of";
    a_table_checked_on_no_day: FIRST; put "checked_on = \"today\"" for "checked_on = \"2026-11-25\"" => "is no day";
    a_gap_between_bands: FIRST; put "" for "    { co2 = 160, one_month = \"120.00\", three_months = \"363.00\", twelve_months = \"1456.00\" },\n" => "the band 165 is not one step above the band 155";
    a_band_out_of_order: FIRST; put "{ co2 = 230" for "{ co2 = 225" => "the band 230 is not one step above";
    a_charge_below_the_one_before: FIRST; put "\"247.99\"" for "\"263.00\"" => "the charges of the band 130 are not above";
    a_charge_equal_to_the_one_before: FIRST; put "\"248.00\"" for "\"263.00\"" => "the charges of the band 130 are not above";
    a_charge_of_nothing: FIRST; put "\"0.00\"" for "\"54.00\"" => "band 120: the amount 0.00 is not more than 0";
    a_charge_that_is_none: FIRST; put "\"£54\"" for "\"54.00\"" => "band 120: \"£54\" is no amount";
    a_quarter_no_dearer_than_a_month: FIRST; put "three_months = \"54.00\"" for "three_months = \"164.00\"" => "a longer period has no larger charge";
    an_engine_of_no_band: FIRST; put "co2 = 141" for "co2 = 140" => "engines up to 1400 have the band 141";
    engines_out_of_order: FIRST; put "up_to = 1400" for "up_to = 2000" => "engines up to 1400 do not rise";
    no_engine: FIRST; put "engine = []" for "engine = [{ up_to = 1400, co2 = 140 }, { up_to = 2000, co2 = 175 }]" => "no band for a car without";
    a_field_that_is_not_known: None; put "colour = 5" for "band_step = 5" => "unknown field";
}

#[test]
fn a_step_out_of_all_proportion() {
    let text = edited(Tables::BUILT_IN.fuel_scale_charges, "[[table]]", "band_step = 5", "band_step = 0");
    let error = refused(&Tables { fuel_scale_charges: &text, ..Tables::BUILT_IN });
    find(&error, "fuel_scale_charges.toml", FIRST, "the step of the bands, 0, is out of all proportion");
}

#[test]
fn bands_that_are_no_multiples_of_their_step() {
    let text = edited(Tables::BUILT_IN.fuel_scale_charges, "[[table]]", "band_step = 5", "band_step = 7");
    let error = refused(&Tables { fuel_scale_charges: &text, ..Tables::BUILT_IN });
    find(&error, "fuel_scale_charges.toml", FIRST, "the band 120 is no multiple of the step 7");
}

#[test]
fn no_table_and_no_band() {
    let error = refused(&Tables { fuel_scale_charges: "table = []", ..Tables::BUILT_IN });
    assert_eq!(find(&error, "fuel_scale_charges.toml", None, "there is no table"), 1);
    let (head, _) = Tables::BUILT_IN.fuel_scale_charges.split_once("band = [").expect("bands");
    let text = format!("{head}band = []\n");
    let error = refused(&Tables { fuel_scale_charges: &text, ..Tables::BUILT_IN });
    assert_eq!(find(&error, "fuel_scale_charges.toml", FIRST, "there is no band"), 1);
}

#[test]
fn a_gap_between_tables() {
    let first = Tables::BUILT_IN.fuel_scale_charges;
    let (_, table) = first.split_once("[[table]]").expect("a table");
    for (from, what) in [("2026-05-02", Some("a gap between")), ("2026-04-30", Some("overlap")), ("2026-05-01", None)] {
        let second = table.replacen("2026-04-30", "2027-04-30", 1).replacen("2025-05-01", from, 1);
        let text = format!("{first}\n[[table]]{second}");
        let tables = Tables { fuel_scale_charges: &text, ..Tables::BUILT_IN };
        match what {
            Some(what) => assert_eq!(find(&refused(&tables), "fuel_scale_charges.toml", None, what), 1),
            None => {
                let law = crate::law::Law::from_tables(&tables).unwrap_or_else(|error| panic!("{error}"));
                assert!(law.fuel_scale_charges(day("2027-04-30")).is_ok());
                assert_eq!(law.last_day_of_fuel_scale_charges(), law.checked_on());
            }
        }
    }
}
