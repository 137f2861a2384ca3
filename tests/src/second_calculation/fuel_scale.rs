//! Road fuel scale charges for periods that begin from 1 May 2025 to 30 April 2026, with VAT (VATA 1994 s 57). Common practice: from
//! secondary copies of HMRC's table.

use super::money::{Exact, whole};
use super::request::{Car, Request};
use crate::calendar;

/// Band, and the charges for one, three and twelve months.
const CHARGES: [(i64, i64, i64, i64); 22] = [
    (120, 54, 164, 661),
    (125, 82, 248, 990),
    (130, 87, 263, 1059),
    (135, 93, 280, 1122),
    (140, 99, 297, 1191),
    (145, 103, 313, 1255),
    (150, 109, 330, 1323),
    (155, 115, 347, 1387),
    (160, 120, 363, 1456),
    (165, 126, 380, 1520),
    (170, 131, 396, 1588),
    (175, 137, 412, 1652),
    (180, 143, 429, 1721),
    (185, 148, 446, 1784),
    (190, 153, 462, 1853),
    (195, 159, 479, 1917),
    (200, 164, 496, 1985),
    (205, 170, 512, 2049),
    (210, 175, 528, 2118),
    (215, 181, 545, 2182),
    (220, 187, 561, 2250),
    (225, 192, 578, 2314),
];

/// The charge for a car. Emissions between two bands go down to the lower; a car without a figure goes by its engine (VIT55400).
pub fn charge(request: &Request, car: &Car) -> Exact {
    let emissions = car.co2_emissions.unwrap_or_else(|| match car.engine_capacity.unwrap_or_default() {
        ..=1400 => 140,
        1401..=2000 => 175,
        _ => 225,
    });
    let row = CHARGES.iter().rfind(|row| row.0 <= emissions).unwrap_or(&CHARGES[0]);
    match calendar::whole_months(request.period.start, request.period.end) {
        Some(1) => whole(row.1),
        Some(3) => whole(row.2),
        Some(12) => whole(row.3),
        other => panic!("no scale charge for {other:?} months"),
    }
}
