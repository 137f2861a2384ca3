//! The cash turnover method: receipts in the period, at the percentage of the time of supply.

use crate::support::*;
use vat_schemes::figures::{Figures, Sale, Treatment, TurnoverMethod};

fn receipt(amount: &str, percentage: &str) -> Sale {
    let mut receipt = sale(Treatment::StandardRated, gross(amount));
    receipt.percentage_at_supply = Some(percentage.parse().expect("a percentage"));
    receipt
}

fn cash() -> Figures {
    let mut figures = quarter();
    figures.business.turnover_method = TurnoverMethod::Cash;
    figures.sales = vec![sale(Treatment::StandardRated, gross("9000.00"))];
    figures.purchases = vec![goods("1000.00")];
    figures
}

/// Receipts for earlier supplies keep the percentage of their time, are rounded once for each percentage, and count as turnover.
#[test]
fn a_receipt_keeps_the_percentage_of_its_supply() {
    let mut figures = cash();
    figures.sales.extend([receipt("1000.33", "11"), receipt("600.00", "16.5"), receipt("1000.33", "11")]);
    let answer = answer(&figures);
    let flat_rate = &answer.flat_rate;
    let earlier: Vec<_> = flat_rate
        .earlier_supplies
        .iter()
        .map(|supplies| [supplies.percentage.to_string(), supplies.turnover.to_string(), supplies.vat.to_string()])
        .collect();
    assert_eq!(earlier, [["11", "2000.66", "220.07"], ["16.5", "600.00", "99.00"]]);
    assert_eq!(flat_rate.turnover, money("11600.66"));
    assert_eq!(flat_rate.parts[0].turnover, money("9000.00"));
    // £1,080.00 at 12%, £220.07 and £99.00.
    assert_eq!(flat_rate.vat_payable, money("1399.07"));
    assert_eq!(answer.goods_test.expect("a goods test").turnover, money("11600.66"));
}

/// Within the period the part says when the supply was made: a receipt after the first year's end, for a supply before it.
#[test]
fn a_part_says_when_the_supply_was_made() {
    let mut figures = cash();
    figures.business.registered_on = day("2024-05-10");
    figures.business.flat_rate_from = Some(day("2024-05-10"));
    figures.sales = vec![
        in_part(sale(Treatment::StandardRated, gross("6000.00")), "2025-04-01", "2025-05-09"),
        in_part(sale(Treatment::StandardRated, gross("3000.00")), "2025-05-10", "2025-06-30"),
        receipt("1000.00", "11"),
    ];
    let answer = answer(&figures);
    assert_eq!(
        parts(&answer),
        [("2025-04-01".to_owned(), "11".to_owned()), ("2025-05-10".to_owned(), "12".to_owned())]
    );
    // £660, £360 and £110.
    assert_eq!(answer.flat_rate.vat_payable, money("1130.00"));
}

#[test]
fn only_the_cash_method_looks_at_the_time_of_supply() {
    let mut figures = cash();
    figures.sales.push(receipt("600.00", "16.5"));
    for method in [TurnoverMethod::Basic, TurnoverMethod::Retailer] {
        figures.business.turnover_method = method;
        assert_eq!(
            refused(&figures),
            [("percentage_at_supply_not_used".into(), "/sales/1/percentage_at_supply".into())]
        );
    }
}
