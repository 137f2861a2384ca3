//! VAT on purchases made before registration.

use crate::answer::{PreRegistrationClaim, PreRegistrationClaims};
use crate::figures::{BoughtBefore, Figures, PreRegistration};
use crate::law::{ParameterId, rule as cite};
use crate::money::Money;
use crate::period::Period;
use crate::refusal::{BoughtField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::{Adjusted, months_before};

static CLAIMED: Rule = Rule {
    says: "VAT on goods bought within four years before registration and still on hand, and on services bought within six months before it, is claimed \
           on the first return, alike under both schemes.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_111,
        cite::VAT_REGULATIONS_1995_REGULATION_55F,
        cite::COMMON_PRACTICE,
    ],
};

/// Claims VAT from before registration, in box 4 of both schemes (VAT Regulations 1995 regs 55F and 111).
pub(super) fn claim(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
    adjusted: &mut Adjusted,
) -> Result<(), Vec<Refusal>> {
    let purchases = &figures.adjustments.pre_registration;
    if purchases.is_empty() {
        return Ok(());
    }
    let registered_on = figures.business.registered_on;
    if period.start() != registered_on {
        return Err(vec![Refusal::new(
            Place::PreRegistration(0, BoughtField::Whole),
            RefusalCode::NotTheFirstReturn,
            format!(
                "VAT from before registration is claimed on the first return, which starts on {registered_on}; this period starts on {}. Put it in \
                 the first period, or leave it out.",
                period.start()
            ),
        )]);
    }
    let mut claims = Vec::with_capacity(purchases.len());
    let mut claimed: Vec<Traced<Money>> = Vec::new();
    let mut refusals = Vec::new();
    for (index, purchase) in purchases.iter().enumerate() {
        match judge(run, index, purchase, figures) {
            Ok(claim) => {
                if claim.claimable {
                    claimed.push(Traced::given(purchase.vat, Place::PreRegistration(index, BoughtField::Vat)));
                }
                claims.push(claim);
            }
            Err(refusal) => refusals.push(refusal),
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let name =
        Name::new(Scope::PreRegistration, "claimed", "VAT from before registration", &CLAIMED).gives(&["claimed"]);
    let total = run.total(name, &claimed).map_err(|overflow| vec![overflow.into()])?;
    adjusted.pre_registration = Some(total);
    adjusted.standard_box4.push(total);
    adjusted.flat_rate_box4.push(total);
    adjusted.answer.pre_registration = Some(PreRegistrationClaims { claimed: total.value, purchases: claims });
    Ok(())
}

fn judge(
    run: &Run<'_>,
    index: usize,
    purchase: &PreRegistration,
    figures: &Figures,
) -> Result<PreRegistrationClaim, Refusal> {
    let registered_on = figures.business.registered_on;
    if purchase.vat.is_negative() {
        return Err(Refusal::new(
            Place::PreRegistration(index, BoughtField::Vat),
            RefusalCode::AmountNegative,
            "VAT on a purchase before registration is given without a minus sign.",
        ));
    }
    if purchase.bought_on >= registered_on {
        return Err(Refusal::new(
            Place::PreRegistration(index, BoughtField::BoughtOn),
            RefusalCode::DatesOutOfOrder,
            format!(
                "The purchase of {} was not before the registration on {registered_on}. Enter it among the purchases of its period.",
                purchase.bought_on
            ),
        ));
    }
    let (parameter, in_time, too_early) = match purchase.kind {
        BoughtBefore::Goods => (
            ParameterId::PreRegistrationGoodsMonths,
            "Goods bought within four years before registration and on hand on that day are claimed.",
            "The goods were bought more than four years before registration.",
        ),
        BoughtBefore::Services => (
            ParameterId::PreRegistrationServicesMonths,
            "Services bought within six months before registration are claimed.",
            "The services were bought more than six months before registration.",
        ),
    };
    let first = months_before(registered_on, run.law.months(parameter, registered_on.max(figures.period.start)))?;
    let (claimable, reason) = match purchase.kind {
        _ if purchase.bought_on < first => (false, too_early),
        BoughtBefore::Goods if !purchase.on_hand => {
            (false, "The goods were no longer on hand on the day of registration.")
        }
        BoughtBefore::Goods | BoughtBefore::Services => (true, in_time),
    };
    Ok(PreRegistrationClaim { claimable, reason })
}
