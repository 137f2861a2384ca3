//! What is recovered of the VAT on a purchase, what is claimed under the Flat Rate Scheme, and what counts as goods.

use super::law;
use super::lines::Amounts;
use super::money::{Exact, read, to_penny, whole};
use super::request::Purchase;

/// The share of the purchase that is for the business.
fn business_share(purchase: &Purchase) -> Exact {
    purchase.business_use_percentage.as_deref().map_or(whole(1), |percentage| read(percentage) / whole(100))
}

/// Input tax on the ordinary rules, before partial exemption: what is blocked, private or without evidence is none (VATA 1994
/// s 24; Input Tax Order 1992 arts 5 and 7; VAT Regulations 1995 reg 29). A share goes to the penny, once a line.
pub fn input_tax(purchase: &Purchase, amounts: Amounts) -> Exact {
    if purchase.vat_blocked || purchase.evidence.as_deref() == Some("not_held") {
        return whole(0);
    }
    let recovered = match purchase.spend.as_str() {
        // Art 5: entertainment of customers. Art 7: a car that is available for private use. S 24(3): directors' homes.
        "business_entertainment" | "car_purchase" | "accommodation_for_directors" => whole(0),
        // No VAT at all.
        "wages_and_other_outside_scope" => whole(0),
        "car_lease" => law::car_lease_share(),
        _ => whole(1),
    };
    to_penny(amounts.vat * recovered * business_share(purchase))
}

/// Whether the customer accounts for the VAT under a reverse charge: such purchases of a flat rate user are no relevant
/// purchases and follow the ordinary rules (VAT Regulations 1995 regs 55C(6), 55E(3), 55U; VATREVCON35100).
pub fn is_reverse_charge(purchase: &Purchase) -> bool {
    matches!(purchase.supply.as_str(), "overseas_services_reverse_charge" | "domestic_reverse_charge")
}

/// Whether it is a purchase of capital expenditure goods: a line of its own, which is never shared out.
pub fn is_capital(purchase: &Purchase) -> bool {
    matches!(purchase.spend.as_str(), "capital_goods" | "car_for_business_only")
}

/// Whether a flat rate user claims the VAT as that of capital expenditure goods (VAT Regulations 1995 reg 55E; FRS6500). The
/// claim is then for the whole VAT, whatever the use; a credit note of that size takes such a claim back.
pub fn is_capital_claim(purchase: &Purchase, amounts: Amounts) -> bool {
    let may_be_claimed =
        amounts.vat != whole(0) && !purchase.vat_blocked && purchase.evidence.as_deref() != Some("not_held");
    let size = amounts.gross().max(-amounts.gross());
    is_capital(purchase) && may_be_claimed && !is_reverse_charge(purchase) && size >= law::capital_goods_value()
}

/// Whether it counts as relevant goods (VAT Regulations 1995 reg 55A(4); VAT Notice 733 section 4): goods, wholly for the
/// business, and none of the kinds that are left out.
pub fn is_relevant_goods(purchase: &Purchase, category: &str) -> bool {
    let goods = match purchase.spend.as_str() {
        "materials" | "consumable_goods" | "power_and_water" => true,
        "stock_for_resale" | "food_and_drink_for_sale" => purchase.for_main_activity.unwrap_or(true),
        "goods_for_hire_out" => purchase.for_main_activity.unwrap_or(category == law::HIRING),
        "vehicle_fuel_and_parts" => category == law::TRANSPORT && purchase.for_main_activity.unwrap_or(true),
        _ => false,
    };
    let services = purchase.supply == "overseas_services_reverse_charge";
    goods && !services && business_share(purchase) == whole(1)
}

/// Whether its value belongs into box 7: wages, taxes and the like do not (VAT Notice 700/12).
pub fn stands_in_box_7(purchase: &Purchase) -> bool {
    purchase.spend != "wages_and_other_outside_scope"
}
