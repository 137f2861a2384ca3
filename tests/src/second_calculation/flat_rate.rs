//! The Flat Rate Scheme: a percentage of turnover with VAT, and beside it what stays outside the sum (VATA 1994 s 26B; VAT
//! Regulations 1995 Part VIIA).

use super::adjustments::Beside;
use super::goods_test::{GoodsTest, goods_test};
use super::law;
use super::lines::Amounts;
use super::money::{Exact, percentage_text, pounds_text, read, to_penny, whole};
use super::partial_exemption::{Attributed, Supplies, recovered};
use super::pieces::{cut, cut_amount};
use super::purchases;
use super::refused::Refused;
use super::request::{Days, Purchase, Request, Sale};
use super::returns::Boxes;
use super::scheme::{category_on, days_in_scheme, parts};
use super::standard;
use serde_json::{Value, json};

/// The period under the scheme.
pub struct FlatRate {
    /// The return.
    pub boxes: Boxes,
    /// As an answer shows it, without the boxes.
    pub shown: Value,
    /// The goods test; none before 1 April 2017.
    pub goods_test: Option<GoodsTest>,
}

/// Whether a sale is in flat rate turnover: taxable and exempt supplies are, with VAT on; not what the customer accounts for, what
/// is outside the scope, assets sold after a claim, and what is only deemed supplied (VATA 1994 s 26B(2); reg 55C).
fn is_turnover(sale: &Sale) -> bool {
    let treated = !matches!(sale.treatment.as_str(), "domestic_reverse_charge" | "outside_scope" | "non_business");
    treated && matches!(sale.nature.as_str(), "ordinary" | "capital_asset")
}

/// One line with the days of the period that it belongs to.
struct Piece<'line, L> {
    line: &'line L,
    days: Days,
    amounts: Amounts,
    pointer: String,
    /// Whether the days of the piece are its own, or those of the whole run because the line does not say.
    part: Option<Days>,
}

/// Works the scheme out.
pub fn flat_rate(
    request: &Request,
    sales: &[(&Sale, Amounts)],
    bought: &[(&Purchase, Amounts)],
    supplies: Supplies,
    beside: &Beside,
) -> Result<FlatRate, Refused> {
    let period = request.period;
    let by_days = request.split_estimate.is_some();
    let scheme =
        days_in_scheme(request).ok_or_else(|| Refused::one("scheme_outside_period", "/business/flat_rate_from"))?;
    let runs = runs_of(period, scheme);
    let sales = pieces(sales, "/sales", |sale| (sale.part, sale_on_a_side(sale)), &runs, by_days)?;
    let bought =
        pieces(bought, "/purchases", |purchase| (purchase.part, purchase_on_a_side(purchase)), &runs, by_days)?;
    let inside = |days: Days| scheme.hold(days.start);

    let goods_test = tested(request, scheme, &sales, &bought, by_days)?;
    let limited_cost = goods_test.as_ref().is_some_and(|test| test.limited_cost);
    let parts = parts(&request.business, period, scheme, limited_cost);
    let part_days: Vec<Days> = parts.iter().map(|(days, _)| *days).collect();

    let mut boxes = Boxes::empty();
    let mut turnover: Vec<Exact> = vec![whole(0); parts.len()];
    let mut earlier: Vec<(Exact, Exact)> = Vec::new();
    for piece in &sales {
        let (sale, amounts) = (piece.line, piece.amounts);
        if !inside(piece.days) {
            standard::sell(&mut boxes, sale, amounts);
            continue;
        }
        if sale.northern_ireland_to_eu && sale.treatment != "non_business" {
            boxes.eight += amounts.net;
        }
        if is_turnover(sale) {
            if let Some(percentage) = &sale.percentage_at_supply {
                let percentage = read(percentage);
                match earlier.iter_mut().find(|(other, _)| *other == percentage) {
                    Some((_, sum)) => *sum += amounts.gross(),
                    None => earlier.push((percentage, amounts.gross())),
                }
                continue;
            }
            for (days, share) in cut_amount(amounts.gross(), piece.part, &part_days, by_days, &piece.pointer)? {
                for ((part, _), sum) in parts.iter().zip(&mut turnover) {
                    if part.hold(days.start) {
                        *sum += share;
                    }
                }
            }
        } else if sale.nature == "deemed_supply" || sale.treatment == "non_business" {
            // No supply, or none that a flat rate user owes anything on: no credit was had on it (VATA 1994 Sch 4 para 5).
        } else {
            boxes.six += amounts.net;
            if sale.nature != "ordinary" {
                boxes.one += amounts.vat;
            }
        }
    }

    let mut tax = Attributed::nothing();
    let mut claimed = whole(0);
    for piece in &bought {
        let (purchase, amounts) = (piece.line, piece.amounts);
        if !inside(piece.days) {
            standard::buy(&mut boxes, &mut tax, purchase, amounts);
            continue;
        }
        standard::account_for(&mut boxes, purchase, amounts);
        let capital = purchases::is_capital_claim(purchase, amounts);
        if capital {
            claimed += amounts.vat;
        }
        if purchases::is_reverse_charge(purchase) {
            tax.add(purchase, purchases::input_tax(purchase, amounts));
        }
        if capital || purchase.supply != "ordinary" {
            boxes.seven += amounts.net;
        }
    }
    let recovered = recovered(request, supplies, tax)?;

    let mut shown_parts = Vec::new();
    let mut vat = whole(0);
    for ((days, percentage), sum) in parts.iter().zip(&turnover) {
        // Percentage × turnover, to the penny for each part, and added (reg 55D).
        let of_part = to_penny(*sum * percentage.applied / whole(100));
        vat += of_part;
        shown_parts.push(json!({
            "start": days.start.to_string(),
            "end": days.end.to_string(),
            "turnover": pounds_text(*sum),
            "percentage": percentage_text(percentage.applied),
            "basis": percentage.basis,
            "sector": category_on(&request.business, days.start),
            "vat": pounds_text(of_part),
        }));
    }
    let mut all_turnover = turnover.iter().fold(whole(0), |sum, part| sum + part);
    for (percentage, sum) in &earlier {
        vat += to_penny(*sum * percentage / whole(100));
        all_turnover += sum;
    }
    boxes.one += vat + beside.flat_rate.output_tax;
    boxes.six += all_turnover + beside.flat_rate.value;
    boxes.four += claimed + recovered.input_tax + beside.flat_rate.input_tax;
    let mut shown = json!({
        "turnover": pounds_text(all_turnover),
        "parts": shown_parts,
        "input_tax": pounds_text(boxes.four),
        "vat_payable": pounds_text(boxes.payable()),
    });
    if !recovered.shown.is_null() && !tax.is_nothing() {
        shown["partial_exemption"] = recovered.shown;
    }
    Ok(FlatRate { boxes, shown, goods_test })
}

/// The days of the period before, in and after the scheme.
fn runs_of(period: Days, scheme: Days) -> Vec<Days> {
    let mut runs = vec![scheme];
    if period.start < scheme.start {
        runs.insert(0, Days { start: period.start, end: scheme.start.days_later(-1) });
    }
    if scheme.end < period.end {
        runs.push(Days { start: scheme.end.days_later(1), end: period.end });
    }
    runs
}

/// Whether a line must lie on one side of the scheme's first or last day.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    /// It must, or is shared out.
    Needed,
    /// It must, and is never shared out.
    Whole,
    /// Nothing turns on it.
    Either,
}

fn sale_on_a_side(sale: &Sale) -> Side {
    if sale.treatment == "non_business" { Side::Either } else { Side::Needed }
}

fn purchase_on_a_side(purchase: &Purchase) -> Side {
    if !purchases::stands_in_box_7(purchase) {
        Side::Either
    } else if purchases::is_capital(purchase) {
        // One line is one purchase, made on one day.
        Side::Whole
    } else {
        Side::Needed
    }
}

fn pieces<'line, L>(
    lines: &[(&'line L, Amounts)],
    name: &str,
    read: impl Fn(&L) -> (Option<Days>, Side),
    runs: &[Days],
    by_days: bool,
) -> Result<Vec<Piece<'line, L>>, Refused> {
    let mut all = Vec::new();
    for (index, (line, amounts)) in lines.iter().enumerate() {
        let pointer = format!("{name}/{index}");
        let (part, side) = read(line);
        let by_days = by_days && side != Side::Whole || side == Side::Either;
        for (days, amounts) in cut(*amounts, part, runs, by_days, &pointer)? {
            all.push(Piece { line: *line, days, amounts, pointer: pointer.clone(), part: part.map(|_| days) });
        }
    }
    Ok(all)
}

/// The goods test on the days in the scheme from 1 April 2017 on.
fn tested(
    request: &Request,
    scheme: Days,
    sales: &[Piece<'_, Sale>],
    bought: &[Piece<'_, Purchase>],
    by_days: bool,
) -> Result<Option<GoodsTest>, Refused> {
    let begins = law::goods_test_begins();
    if scheme.end < begins {
        return Ok(None);
    }
    let tested = Days { start: scheme.start.max(begins), end: scheme.end };
    let mut runs = vec![tested];
    if scheme.start < begins {
        runs.insert(0, Days { start: scheme.start, end: begins.days_later(-1) });
    }
    let mut turnover = whole(0);
    for piece in sales.iter().filter(|piece| is_turnover(piece.line) && scheme.hold(piece.days.start)) {
        for (days, share) in cut_amount(piece.amounts.gross(), piece.part, &runs, by_days, &piece.pointer)? {
            if tested.hold(days.start) {
                turnover += share;
            }
        }
    }
    let mut goods = whole(0);
    // Goods of which it is not said on which side of the first day of the test they were bought.
    let mut unsaid_goods = whole(0);
    let mut unsaid = None;
    for piece in bought.iter().filter(|piece| scheme.hold(piece.days.start)) {
        // What the business does is seen on the days of the line.
        let category = category_on(&request.business, piece.days.start);
        if !purchases::is_relevant_goods(piece.line, category) {
            continue;
        }
        match cut_amount(piece.amounts.gross(), piece.part, &runs, by_days, &piece.pointer) {
            Ok(shares) => {
                goods += shares
                    .iter()
                    .filter(|(days, _)| tested.hold(days.start))
                    .fold(whole(0), |sum, (_, share)| sum + share);
            }
            Err(refused) => {
                unsaid_goods += piece.amounts.gross();
                unsaid = unsaid.or(Some(refused));
            }
        }
    }
    // They need their day only where they decide the outcome; what is shown is what comes closer to the other one.
    let (without, with) = (goods_test(tested, goods, turnover), goods_test(tested, goods + unsaid_goods, turnover));
    match unsaid {
        Some(refused) if without.limited_cost != with.limited_cost => Err(refused),
        _ if with.limited_cost => Ok(Some(with)),
        _ => Ok(Some(without)),
    }
}
