//! What stands on the return beside the period's own figures.

use super::fuel_scale;
use super::money::{Exact, read, to_penny, whole};
use super::refused::Refused;
use super::request::{BadDebt, BoughtBefore, Request};
use crate::calendar::Day;

/// Entries beside the period's own, on the return of each scheme.
pub struct Beside {
    /// Under standard accounting.
    pub standard: Entries,
    /// Under the Flat Rate Scheme.
    pub flat_rate: Entries,
}

/// Entries on one return.
pub struct Entries {
    /// In box 1.
    pub output_tax: Exact,
    /// In box 4.
    pub input_tax: Exact,
    /// In box 6.
    pub value: Exact,
}

/// Works them out.
pub fn beside(request: &Request) -> Result<Beside, Refused> {
    let nothing = || Entries { output_tax: whole(0), input_tax: whole(0), value: whole(0) };
    let (mut standard, mut flat_rate) = (nothing(), nothing());
    let adjustments = &request.adjustments;
    // Beside the cash turnover method stands cash accounting, with which VAT follows the money: on what is unpaid none was
    // accounted for and none was claimed (VAT Regulations 1995 regs 57, 64A; VATA 1994 s 26A).
    let cash = request.business.turnover_method == "cash";
    for (index, debt) in adjustments.bad_debts.iter().enumerate() {
        let pointer = format!("/adjustments/bad_debts/{index}/supplied_on");
        let (of_standard, of_flat_rate) = relief(request, debt, &pointer)?;
        standard.input_tax += of_standard;
        flat_rate.input_tax += of_flat_rate;
    }
    for bought in &adjustments.pre_registration {
        let claimed = claimed_before(request.business.registered_on, bought);
        standard.input_tax += claimed;
        flat_rate.input_tax += claimed;
    }
    if let Some(amount) = &adjustments.partial_exemption_year {
        // On the return of either scheme alike: regulation 107 knows no other.
        standard.input_tax += read(amount);
        flat_rate.input_tax += read(amount);
    }
    for repaid in &adjustments.relief_repaid {
        // Relief goes back in the share of what was outstanding that is paid (reg 171; VBDR4200).
        let elsewhere = repaid.allocated_elsewhere.as_deref().map_or(whole(0), read);
        let share = (read(&repaid.payment) - elsewhere) / read(&repaid.outstanding_at_claim);
        let back = to_penny(read(&repaid.relief_claimed) * share);
        flat_rate.output_tax += back;
        if !cash {
            standard.output_tax += back;
        }
    }
    for (index, unpaid) in adjustments.unpaid_purchases.iter().enumerate() {
        let from = unpaid.due_on.map_or(unpaid.supplied_on, |due| due.max(unpaid.supplied_on));
        if !request.period.hold(from.months_later(6)) {
            let named = if from == unpaid.supplied_on { "supplied_on" } else { "due_on" };
            let pointer = format!("/adjustments/unpaid_purchases/{index}/{named}");
            return Err(Refused::one("belongs_to_another_period", &pointer));
        }
        // Input tax goes back in the share that is unpaid (reg 172H).
        let share = (read(&unpaid.gross) - read(&unpaid.paid)) / read(&unpaid.gross);
        let back = to_penny(read(&unpaid.input_tax_claimed) * share);
        if !cash {
            standard.input_tax -= back;
        }
        if unpaid.claimed_under_flat_rate {
            flat_rate.input_tax -= back;
        }
    }
    for paid in &adjustments.purchases_paid_later {
        // And is had again in the share that is paid (reg 172I).
        let share = read(&paid.payment) / read(&paid.unpaid_at_repayment);
        let again = to_penny(read(&paid.input_tax_repaid) * share);
        if !cash {
            standard.input_tax += again;
        }
        if paid.claimed_under_flat_rate {
            flat_rate.input_tax += again;
        }
    }
    for car in &adjustments.fuel_scale_charges {
        // A charge holds its VAT; a flat rate user, who recovers none on fuel, owes none (VATA 1994 ss 56, 57; from memory).
        let charge = fuel_scale::charge(request, car);
        let vat = to_penny(charge / whole(6));
        standard.output_tax += vat;
        standard.value += charge - vat;
    }
    Ok(Beside { standard, flat_rate })
}

/// Relief for a debt (VATA 1994 s 36; VAT Regulations 1995 regs 55V, 165A): six months after the supply or the day on which it was
/// due, and not later than four years and six months after it. With the cash turnover method VAT on the debt was never accounted
/// for: cash accounting, beside it, has nothing to claim back, and the flat rate user claims the VAT charged less what the scheme
/// would have taken, never less than nothing.
fn relief(request: &Request, debt: &BadDebt, pointer: &str) -> Result<(Exact, Exact), Refused> {
    let from = debt.due_on.map_or(debt.supplied_on, |due| due.max(debt.supplied_on));
    if from.months_later(6) > request.period.end {
        return Err(Refused::one("bad_debt_too_early", pointer));
    }
    if from.months_later(54) < request.period.start {
        return Err(Refused::one("bad_debt_too_late", pointer));
    }
    let vat = read(&debt.vat);
    if request.business.turnover_method != "cash" {
        return Ok((vat, vat));
    }
    let percentage = debt.percentage_at_supply.as_deref().map(read);
    let Some(percentage) = percentage else {
        return Err(Refused::one("percentage_at_supply_needed", pointer));
    };
    let relief = vat - to_penny(read(&debt.gross) * percentage / whole(100));
    Ok((whole(0), relief.max(whole(0))))
}

/// VAT on a purchase before registration (VAT Regulations 1995 reg 111): goods of the last four years that are still on hand,
/// services of the last six months.
fn claimed_before(registered_on: Day, bought: &BoughtBefore) -> Exact {
    let may = match bought.kind.as_str() {
        "goods" => bought.on_hand != Some(false) && bought.bought_on >= registered_on.months_later(-48),
        _ => bought.bought_on >= registered_on.months_later(-6),
    };
    if may { read(&bought.vat) } else { whole(0) }
}
