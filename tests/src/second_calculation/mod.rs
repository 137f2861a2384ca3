//! A second calculation, for the tests: the same question as `POST /v1/comparisons`, answered once more from the law and the
//! published guidance by other means.
//!
//! It shares no code with the service, works in exact fractions, says its own figures of the law (`law`), and is plain rather than
//! fast. Where it and the service differ, one of the two misreads the law.

pub mod adjustments;
pub mod flat_rate;
pub mod fuel_scale;
pub mod goods_test;
pub mod law;
pub mod length;
pub mod lines;
pub mod money;
pub mod partial_exemption;
pub mod pieces;
pub mod purchases;
pub mod refused;
pub mod request;
pub mod requests;
mod requests_adjustments;
mod requests_lines;
pub mod returns;
pub mod scheme;
pub mod standard;

use money::{pounds_text, read, to_penny, whole};
use refused::Refused;
use request::Request;
use returns::Boxes;
use serde_json::{Value, json};

/// The figures of a comparison.
pub struct Figures {
    /// As in a summary.
    pub summary: Value,
    /// As in an answer.
    pub answer: Value,
}

/// Works a comparison out; `None` for a request with something in it that is beyond this calculation.
pub fn compare(request: &Value) -> Option<Result<Figures, Refused>> {
    let read = serde_json::from_value::<Request>(request.clone()).ok();
    let known = read.filter(|request| request.business.sector_changes.iter().all(scheme::is_known));
    known.map(|request| {
        refuse_early(&request)?;
        figures(&without_supplies_outside_scope(request))
    })
}

/// Wages and the like are no supply at all, so that there is no VAT on them, nothing to import and no reverse charge (VATA 1994 s 1, from
/// memory).
fn without_supplies_outside_scope(mut request: Request) -> Request {
    for purchase in request.purchases.iter_mut().filter(|purchase| purchase.spend == "wages_and_other_outside_scope") {
        "ordinary".clone_into(&mut purchase.supply);
        purchase.treatment = None;
    }
    request
}

fn figures(request: &Request) -> Result<Figures, Refused> {
    let mut sales = Vec::new();
    for (index, sale) in request.sales.iter().enumerate() {
        sales.push((sale, lines::of_sale(request, sale, &format!("/sales/{index}"))?));
    }
    let mut bought = Vec::new();
    for (index, purchase) in request.purchases.iter().enumerate() {
        bought.push((purchase, lines::of_purchase(request, purchase, &format!("/purchases/{index}"))?));
    }
    let beside = adjustments::beside(request)?;
    let supplies = partial_exemption::supplies(sales.iter().map(|(sale, amounts)| (*sale, amounts.net)));

    let mut standard = Boxes::empty();
    let mut tax = partial_exemption::Attributed::nothing();
    for (sale, amounts) in &sales {
        standard::sell(&mut standard, sale, *amounts);
    }
    for (purchase, amounts) in &bought {
        standard::buy(&mut standard, &mut tax, purchase, *amounts);
    }
    let recovered = partial_exemption::recovered(request, supplies, tax)?;
    standard.four = recovered.input_tax + beside.standard.input_tax;
    standard.one += beside.standard.output_tax;
    standard.six += beside.standard.value;
    let on_purchases = standard::vat_on_purchases(bought.iter().copied());

    let flat_rate = flat_rate::flat_rate(request, &sales, &bought, supplies, &beside)?;
    let limited_cost = flat_rate.goods_test.as_ref().map(|test| test.limited_cost);
    let goods_test = flat_rate.goods_test.map_or(Value::Null, |test| test.shown);

    let comparison = side_by_side(request, &standard, &flat_rate.boxes);
    let summary = json!({
        "standard": { "vat_payable": pounds_text(standard.payable()), "boxes": standard.shown() },
        "flat_rate": { "vat_payable": pounds_text(flat_rate.boxes.payable()), "boxes": flat_rate.boxes.shown() },
        "comparison": comparison,
        "limited_cost_business": limited_cost,
    });
    let mut shown_standard = json!({
        "output_tax": pounds_text(standard.three()),
        "input_tax": pounds_text(standard.four),
        "vat_payable": pounds_text(standard.payable()),
        "boxes": standard.shown(),
        "vat_on_purchases": pounds_text(on_purchases),
        "vat_not_recovered": pounds_text(on_purchases - recovered.input_tax),
    });
    if !recovered.shown.is_null() {
        shown_standard["partial_exemption"] = recovered.shown;
    }
    let mut shown_flat_rate = flat_rate.shown;
    shown_flat_rate["boxes"] = flat_rate.boxes.shown();
    let answer = json!({
        "standard": shown_standard,
        "flat_rate": shown_flat_rate,
        "goods_test": goods_test,
        "comparison": summary["comparison"],
    });
    Ok(Figures { summary, answer })
}

/// What is refused before anything is worked out.
fn refuse_early(request: &Request) -> Result<(), Refused> {
    let before_northern_ireland = request.period.end < law::northern_ireland_begins();
    for (index, sale) in request.sales.iter().enumerate() {
        if sale.northern_ireland_to_eu && before_northern_ireland {
            let pointer = format!("/sales/{index}/northern_ireland_to_eu");
            return Err(Refused::one("northern_ireland_too_early", &pointer));
        }
    }
    for (index, purchase) in request.purchases.iter().enumerate() {
        let pointer = format!("/purchases/{index}/supply");
        if purchase.supply == "postponed_import" && request.period.start < law::postponed_imports_begin() {
            return Err(Refused::one("postponed_import_too_early", &pointer));
        }
        if purchase.supply == "northern_ireland_acquisition" && before_northern_ireland {
            return Err(Refused::one("northern_ireland_too_early", &pointer));
        }
    }
    Ok(())
}

/// Both schemes side by side. VAT saved is profit, so that after tax it is less by the marginal rate (HMRC manual BIM31585).
fn side_by_side(request: &Request, standard: &Boxes, flat_rate: &Boxes) -> Value {
    let difference = flat_rate.payable() - standard.payable();
    let zero = whole(0);
    let cheaper = match difference.cmp(&zero) {
        std::cmp::Ordering::Less => "flat_rate",
        std::cmp::Ordering::Equal => "equal",
        std::cmp::Ordering::Greater => "standard",
    };
    let saving = if difference < zero { -difference } else { difference };
    let mut shown = json!({
        "cheaper": cheaper,
        "saving": pounds_text(saving),
        "flat_rate_minus_standard": pounds_text(difference),
        "break_even_input_tax": pounds_text(standard.payable() + standard.four - flat_rate.payable()),
    });
    if let Some(percentage) = &request.marginal_tax_percentage {
        let kept = whole(1) - read(percentage) / whole(100);
        shown["after_tax"] = json!({
            "saving": pounds_text(to_penny(saving * kept)),
            "flat_rate_minus_standard": pounds_text(to_penny(difference * kept)),
        });
    }
    shown
}
