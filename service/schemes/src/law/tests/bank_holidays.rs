//! The bank holidays worked out, against the lists that gov.uk published.

use std::collections::BTreeSet;

use jiff::civil::{Date, date};

use super::law;
use crate::law::Nation;

/// The lists of gov.uk (https://www.gov.uk/bank-holidays) for 2012 to 2023, as month and day; 19 September 2022 and 8 May 2023, which were proclaimed
/// after the lists that were read, are from the London Gazette (notice 4158896) and from the news of the Scottish Government.
const PUBLISHED: [(Nation, [(i16, &str); 12]); 3] = [
    (
        Nation::EnglandAndWales,
        [
            (2012, "0102 0406 0409 0507 0604 0605 0827 1225 1226"),
            (2013, "0101 0329 0401 0506 0527 0826 1225 1226"),
            (2014, "0101 0418 0421 0505 0526 0825 1225 1226"),
            (2015, "0101 0403 0406 0504 0525 0831 1225 1228"),
            (2016, "0101 0325 0328 0502 0530 0829 1226 1227"),
            (2017, "0102 0414 0417 0501 0529 0828 1225 1226"),
            (2018, "0101 0330 0402 0507 0528 0827 1225 1226"),
            (2019, "0101 0419 0422 0506 0527 0826 1225 1226"),
            (2020, "0101 0410 0413 0508 0525 0831 1225 1228"),
            (2021, "0101 0402 0405 0503 0531 0830 1227 1228"),
            (2022, "0103 0415 0418 0502 0602 0603 0829 0919 1226 1227"),
            (2023, "0102 0407 0410 0501 0508 0529 0828 1225 1226"),
        ],
    ),
    (
        Nation::Scotland,
        [
            (2012, "0102 0103 0406 0507 0604 0605 0806 1130 1225 1226"),
            (2013, "0101 0102 0329 0506 0527 0805 1202 1225 1226"),
            (2014, "0101 0102 0418 0505 0526 0804 1201 1225 1226"),
            (2015, "0101 0102 0403 0504 0525 0803 1130 1225 1228"),
            (2016, "0101 0104 0325 0502 0530 0801 1130 1226 1227"),
            (2017, "0102 0103 0414 0501 0529 0807 1130 1225 1226"),
            (2018, "0101 0102 0330 0507 0528 0806 1130 1225 1226"),
            (2019, "0101 0102 0419 0506 0527 0805 1202 1225 1226"),
            (2020, "0101 0102 0410 0508 0525 0803 1130 1225 1228"),
            (2021, "0101 0104 0402 0503 0531 0802 1130 1227 1228"),
            (2022, "0103 0104 0415 0502 0602 0603 0801 0919 1130 1226 1227"),
            (2023, "0102 0103 0407 0501 0508 0529 0807 1130 1225 1226"),
        ],
    ),
    (
        Nation::NorthernIreland,
        [
            (2012, "0102 0319 0406 0409 0507 0604 0605 0712 0827 1225 1226"),
            (2013, "0101 0318 0329 0401 0506 0527 0712 0826 1225 1226"),
            (2014, "0101 0317 0418 0421 0505 0526 0714 0825 1225 1226"),
            (2015, "0101 0317 0403 0406 0504 0525 0713 0831 1225 1228"),
            (2016, "0101 0317 0325 0328 0502 0530 0712 0829 1226 1227"),
            (2017, "0102 0317 0414 0417 0501 0529 0712 0828 1225 1226"),
            (2018, "0101 0319 0330 0402 0507 0528 0712 0827 1225 1226"),
            (2019, "0101 0318 0419 0422 0506 0527 0712 0826 1225 1226"),
            (2020, "0101 0317 0410 0413 0508 0525 0713 0831 1225 1228"),
            (2021, "0101 0317 0402 0405 0503 0531 0712 0830 1227 1228"),
            (2022, "0103 0317 0415 0418 0502 0602 0603 0712 0829 0919 1226 1227"),
            (2023, "0102 0317 0407 0410 0501 0508 0529 0712 0828 1225 1226"),
        ],
    ),
];

#[test]
fn the_days_are_those_of_the_published_lists() {
    let law = law();
    for (nation, years) in PUBLISHED {
        for (year, list) in years {
            let found: Vec<String> = law
                .bank_holidays()
                .of(nation)
                .iter()
                .filter(|day| day.year() == year)
                .map(|day| format!("{:02}{:02}", day.month(), day.day()))
                .collect();
            assert_eq!(found.join(" "), list, "{nation:?} {year}");
        }
    }
}

/// Proclamations in the London Gazette: notices 4388378 (for 2024) and 4631404 (for 2025); the Scottish Government on 15 June 2026.
#[test]
fn the_days_proclaimed_since_are_among_them() {
    let law = law();
    let holidays = law.bank_holidays();
    for nation in [Nation::EnglandAndWales, Nation::NorthernIreland] {
        for day in [date(2024, 1, 1), date(2024, 5, 6), date(2025, 1, 1), date(2025, 5, 5)] {
            assert_eq!(holidays.is_working_day(nation, day), Some(false), "{nation:?} {day}");
        }
    }
    for day in [date(2024, 7, 12), date(2025, 7, 14)] {
        assert_eq!(holidays.is_working_day(Nation::NorthernIreland, day), Some(false), "{day}");
        assert_eq!(holidays.is_working_day(Nation::EnglandAndWales, day), Some(true), "{day}");
    }
    for nation in Nation::ALL {
        assert_eq!(
            holidays.is_working_day(*nation, date(2026, 6, 15)),
            Some(*nation != Nation::Scotland),
            "{nation:?}"
        );
    }
}

#[test]
fn no_holiday_falls_on_a_weekend_and_none_is_lost_to_another() {
    let law = law();
    for nation in Nation::ALL {
        let days = law.bank_holidays().of(*nation);
        assert!(days.iter().all(|day| day.weekday().to_monday_one_offset() <= 5), "{nation:?}");
        let least = match nation {
            Nation::EnglandAndWales => 8,
            Nation::Scotland => 9,
            Nation::NorthernIreland => 10,
        };
        for year in 2011..=2028 {
            let count = days.iter().filter(|day| day.year() == year).count();
            assert!((least..=least + 2).contains(&count), "{nation:?} {year}: {count}");
        }
        let unique: BTreeSet<&Date> = days.iter().collect();
        assert_eq!(unique.len(), days.len());
    }
}

#[test]
fn working_days_are_counted_over_weekends_and_holidays() {
    let law = law();
    let holidays = law.bank_holidays();
    let england = Nation::EnglandAndWales;
    // Easter 2026: Good Friday on 3 April, Easter Monday on 6 April; the Scots work on that Monday.
    assert_eq!(holidays.working_day_on_or_before(england, date(2026, 4, 6)), Some(date(2026, 4, 2)));
    assert_eq!(holidays.working_day_on_or_before(Nation::Scotland, date(2026, 4, 6)), Some(date(2026, 4, 6)));
    assert_eq!(holidays.working_day_on_or_before(england, date(2026, 4, 7)), Some(date(2026, 4, 7)));
    assert_eq!(holidays.working_days_after(england, date(2026, 4, 2), 1), Some(date(2026, 4, 7)));
    assert_eq!(holidays.working_days_after(england, date(2026, 4, 2), 3), Some(date(2026, 4, 9)));
    assert_eq!(holidays.working_days_after(england, date(2026, 4, 2), 0), Some(date(2026, 4, 2)));
}

#[test]
fn outside_the_days_known_nothing_is_said() {
    let law = law();
    let holidays = law.bank_holidays();
    assert_eq!(holidays.known_days(), (date(2011, 1, 1), date(2028, 12, 31)));
    assert_eq!(holidays.proclaimed_to(), date(2026, 12, 31));
    assert_eq!(holidays.checked_on(), date(2026, 11, 25));
    for (day, known) in [
        (date(2010, 12, 31), None),
        (date(2011, 1, 1), Some(false)),
        (date(2011, 1, 4), Some(true)),
        (date(2028, 12, 29), Some(true)),
        (date(2028, 12, 31), Some(false)),
        (date(2029, 1, 1), None),
    ] {
        assert_eq!(holidays.is_working_day(Nation::EnglandAndWales, day), known, "{day}");
    }
    // The last working day before is not known where that goes back too far, and the next is not where it goes on too far.
    assert_eq!(holidays.working_day_on_or_before(Nation::EnglandAndWales, date(2011, 1, 3)), None);
    assert_eq!(holidays.working_days_after(Nation::EnglandAndWales, date(2028, 12, 29), 1), None);
}
