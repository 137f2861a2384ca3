//! Goods that move between Northern Ireland and the European Union, alike under both schemes (VATA 1994 Sch 9ZA; Notice 700/12).

use crate::support::*;
use vat_schemes::answer::Boxes;
use vat_schemes::figures::{Figures, Purchase, Sale, Spend, Supply, Treatment};

fn to_the_union(treatment: Treatment, amount: &str) -> Sale {
    Sale { northern_ireland_to_eu: true, ..sale(treatment, net(amount)) }
}

fn acquired(value: &str, vat: &str) -> Purchase {
    Purchase { supply: Supply::NorthernIrelandAcquisition, ..purchase(Spend::Materials, net_and_vat(value, vat)) }
}

fn trading() -> Figures {
    let mut figures = quarter();
    figures.sales = vec![
        to_the_union(Treatment::ZeroRated, "1000.60"),
        to_the_union(Treatment::StandardRated, "500.00"),
        to_the_union(Treatment::NonBusiness, "70.00"),
        sale(Treatment::ZeroRated, net("4000.00")),
    ];
    figures.purchases =
        vec![acquired("300.90", "60.18"), acquired("-100.00", "-20.00"), purchase(Spend::Materials, net("50.00"))];
    figures
}

/// Box 2 is VAT on acquisitions, box 8 goods sent, box 9 goods acquired; what is no business stands in none.
#[test]
fn boxes_2_8_and_9() {
    let answer = answer(&trading());
    let of = |boxes: &Boxes| {
        (
            boxes.box2.to_string(),
            boxes.box3.minus(boxes.box1),
            [boxes.box8, boxes.box9].map(|pounds| pounds.to_string()),
        )
    };
    let expected = ("40.18".to_owned(), Ok(money("40.18")), ["1500".to_owned(), "200".to_owned()]);
    assert_eq!(of(&answer.standard.boxes), expected);
    assert_eq!(of(&answer.flat_rate.boxes), expected);
}

/// A period that ends on or after 1 January 2021 may have such goods (SI 2020/1546; the Protocol); an earlier one may not.
#[test]
fn goods_before_the_rules_began_are_refused() {
    let with = |start: &str, end: &str| Figures { period: period(start, end).period, ..trading() };
    assert_eq!(answer(&with("2020-10-02", "2021-01-01")).standard.boxes.box8.to_string(), "1500");
    let places = ["/sales/0", "/sales/1", "/sales/2"].map(|line| format!("{line}/northern_ireland_to_eu"));
    let places = places.into_iter().chain(["/purchases/0/supply", "/purchases/1/supply"].map(str::to_owned));
    assert_eq!(
        refused(&with("2020-10-01", "2020-12-31")),
        places.map(|place| ("northern_ireland_too_early".to_owned(), place)).collect::<Vec<_>>()
    );
}
