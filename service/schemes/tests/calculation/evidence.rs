//! The evidence on which input tax is claimed (VAT Regulations 1995 reg 29; VIT31000).

use crate::support::*;
use vat_schemes::figures::{Evidence, Figures, Purchase, Spend, Supply, Treatment};

fn bought(purchase: Purchase, evidence: Evidence) -> Figures {
    let mut figures = quarter();
    figures.sales = vec![sale(Treatment::StandardRated, gross("12000.00"))];
    figures.purchases = vec![goods("5000.00"), Purchase { evidence, ..purchase }];
    figures
}

fn warns(figures: &Figures) -> bool {
    warned(&answer(figures)).contains(&"input_tax_evidence")
}

/// A penny either side of £250 and £25; the VAT stays in the figures, and a credit note is measured by its size.
#[test]
fn the_limits_of_small_purchases() {
    for (evidence, price, expected) in [
        (Evidence::VatInvoice, "250.01", false),
        (Evidence::LessDetailedInvoice, "249.99", false),
        (Evidence::LessDetailedInvoice, "250.00", false),
        (Evidence::LessDetailedInvoice, "250.01", true),
        (Evidence::LessDetailedInvoice, "-250.01", true),
        (Evidence::NoneNeeded, "24.99", false),
        (Evidence::NoneNeeded, "25.00", false),
        (Evidence::NoneNeeded, "25.01", true),
    ] {
        let figures = bought(purchase(Spend::Services, gross(price)), evidence);
        assert_eq!(warns(&figures), expected, "{evidence:?} {price}");
        let invoiced = bought(purchase(Spend::Services, gross(price)), Evidence::VatInvoice);
        assert_eq!(answer(&figures).standard.input_tax, answer(&invoiced).standard.input_tax);
    }
    // Where nothing is claimed nothing is to be shown.
    for spend in [Spend::BusinessEntertainment, Spend::CarPurchase, Spend::WagesAndOtherOutsideScope] {
        for evidence in [Evidence::LessDetailedInvoice, Evidence::NoneNeeded, Evidence::NotHeld] {
            assert!(!warns(&bought(purchase(spend, gross("9000.00")), evidence)), "{spend:?} {evidence:?}");
        }
    }
    assert!(!warns(&bought(purchase(Spend::Materials, net_and_vat("9000.00", "0.00")), Evidence::NotHeld)));
}

/// Without an invoice the VAT is not input tax of the period, whoever accounts for it, and no flat rate claim is made.
#[test]
fn what_is_not_held_is_not_recovered() {
    for supply in [
        Supply::Ordinary,
        Supply::PostponedImport,
        Supply::DomesticReverseCharge,
        Supply::OverseasServicesReverseCharge,
    ] {
        let line = |evidence| {
            let amounts = net_and_vat("2000.00", "400.00");
            bought(Purchase { supply, ..purchase(Spend::CapitalGoods, amounts) }, evidence)
        };
        let (held, not_held) = (answer(&line(Evidence::VatInvoice)), answer(&line(Evidence::NotHeld)));
        assert_eq!([held.standard.input_tax, held.flat_rate.input_tax], [money("400.00"); 2], "{supply:?}");
        assert_eq!([not_held.standard.input_tax, not_held.flat_rate.input_tax], [money("0.00"); 2], "{supply:?}");
        assert_eq!(not_held.standard.vat_not_recovered, money("400.00"));
        // The purchase itself stays: its VAT due, its value, and the goods test.
        assert_eq!(held.standard.boxes.box1, not_held.standard.boxes.box1);
        assert_eq!(held.standard.boxes.box7, not_held.standard.boxes.box7);
        assert_eq!(held.goods_test, not_held.goods_test);
        let warning = not_held.warnings.iter().find(|warning| warning.code.as_str() == "input_tax_evidence");
        assert_eq!(warning.map(|warning| warning.lines.clone()), Some(vec!["/purchases/1".to_owned()]));
        assert!(warning.is_some_and(|warning| warning.message.contains("48 months")));
    }
}
