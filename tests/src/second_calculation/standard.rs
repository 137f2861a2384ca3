//! Standard accounting of a run of lines: output tax less the input tax that is recovered (VATA 1994 ss 24 to 26).

use super::lines::Amounts;
use super::money::{Exact, whole};
use super::partial_exemption::Attributed;
use super::purchases;
use super::request::{Purchase, Sale};
use super::returns::Boxes;

/// Puts a sale on a return, on the ordinary rules.
pub fn sell(boxes: &mut Boxes, sale: &Sale, amounts: Amounts) {
    boxes.one += amounts.vat;
    if sale.treatment != "non_business" {
        boxes.six += amounts.net;
    }
    if sale.northern_ireland_to_eu && sale.treatment != "non_business" {
        boxes.eight += amounts.net;
    }
}

/// Puts a purchase on a return, on the ordinary rules; its input tax goes to what was used for what.
pub fn buy(boxes: &mut Boxes, tax: &mut Attributed, purchase: &Purchase, amounts: Amounts) {
    account_for(boxes, purchase, amounts);
    if purchases::stands_in_box_7(purchase) {
        boxes.seven += amounts.net;
    }
    tax.add(purchase, purchases::input_tax(purchase, amounts));
}

/// The VAT that the customer accounts for: boxes 1 and 2, and the values that go with it in boxes 6 and 9.
pub fn account_for(boxes: &mut Boxes, purchase: &Purchase, amounts: Amounts) {
    match purchase.supply.as_str() {
        "overseas_services_reverse_charge" => {
            boxes.one += amounts.vat;
            boxes.six += amounts.net;
        }
        "domestic_reverse_charge" | "postponed_import" => boxes.one += amounts.vat,
        "northern_ireland_acquisition" => {
            boxes.two += amounts.vat;
            boxes.nine += amounts.net;
        }
        _ => {}
    }
}

/// The VAT on all purchases.
pub fn vat_on_purchases<'purchase>(purchases: impl Iterator<Item = (&'purchase Purchase, Amounts)>) -> Exact {
    purchases.map(|(_, amounts)| amounts.vat).fold(whole(0), |sum, vat| sum + vat)
}
