//! Days that follow from the registration: its first anniversary, the first-year reduction, VAT from before it.

use jiff::ToSpan;

use super::answer::{About, DateKind, DateRule};
use super::diary::{Diary, Entry};
use super::periods::current_at;
use super::returns;
use crate::flat_rate::newly_registered;
use crate::law::{Evidence, ParameterId, rule as cite};
use crate::period::anniversary;
use crate::refusal::Refusal;
use crate::workings::Rule;

static ANNIVERSARY: DateRule = DateRule {
    kind: DateKind::RegistrationAnniversary,
    rule: Rule {
        says: "From the first anniversary of the effective date of registration no percentage is reduced.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55JB, cite::FRS7100, cite::DECISION_ANNIVERSARY_29_FEBRUARY],
    },
    evidence: Evidence::Law,
};
static REDUCTION_BEGINS: DateRule = DateRule {
    kind: DateKind::FirstYearReductionBegins,
    rule: Rule {
        says: "The first-year reduction begins on the later of the scheme's start and the day on which HMRC were told of the liability to be registered.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55JB, cite::FRS7100],
    },
    evidence: Evidence::Law,
};
static REDUCTION_ENDS: DateRule = DateRule {
    kind: DateKind::FirstYearReductionEnds,
    rule: Rule {
        says: "The first-year reduction ends on the day before the first anniversary of the effective date of registration.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55JB, cite::FRS7100, cite::DECISION_ANNIVERSARY_29_FEBRUARY],
    },
    evidence: Evidence::Law,
};
static PRE_REGISTRATION: DateRule = DateRule {
    kind: DateKind::PreRegistrationClaim,
    rule: Rule {
        says: "VAT on goods bought within four years before registration and still on hand, and on services bought within six months before it, is claimed on \
               the first return.",
        authority: &[
            cite::VAT_REGULATIONS_1995_REGULATION_111,
            cite::VAT_REGULATIONS_1995_REGULATION_55F,
            cite::VDSOG400,
        ],
    },
    evidence: Evidence::Law,
};

/// Notes the days that follow from the registration.
pub(super) fn note(diary: &mut Diary<'_, '_>) -> Result<(), Refusal> {
    let business = &diary.figures.business;
    let registered_on = business.registered_on;
    diary.note(Entry {
        on: anniversary(registered_on, 1),
        by: &ANNIVERSARY,
        title: "First anniversary of VAT registration".to_owned(),
        what_to_do: "A flat rate user applies the full percentage from this day, cutting the period here if it falls inside one; a business that joins the scheme \
                     from now on has no reduction."
            .to_owned(),
        about: About::Business,
        counted_from: registered_on,
    });
    first_year(diary);
    pre_registration(diary)
}

/// The first-year reduction of a flat rate user, by the same rule as the calculation's (VAT Regulations 1995 reg 55JB).
fn first_year(diary: &mut Diary<'_, '_>) {
    let business = &diary.figures.business;
    let Some(starts) = business.flat_rate_from else { return };
    let registered_on = business.registered_on;
    let Some(days) = newly_registered(registered_on, starts, business.liability_notified_on) else { return };
    let leaves = business.flat_rate_until;
    let still_in = |day| leaves.is_none_or(|last| day <= last);
    if days.start() > starts && still_in(days.start()) {
        diary.note(Entry {
            on: days.start(),
            by: &REDUCTION_BEGINS,
            title: "The first-year reduction begins".to_owned(),
            what_to_do: "Take one point off the flat rate percentage from this day, cutting the period here if it falls inside one.".to_owned(),
            about: About::Business,
            counted_from: days.start(),
        });
    }
    if still_in(days.end()) {
        diary.note(Entry {
            on: days.end(),
            by: &REDUCTION_ENDS,
            title: "Last day of the first-year reduction".to_owned(),
            what_to_do: "Apply the full flat rate percentage from the next day, and draw up takings to this day if it is not the end of a period.".to_owned(),
            about: About::Business,
            counted_from: registered_on,
        });
    }
}

fn pre_registration(diary: &mut Diary<'_, '_>) -> Result<(), Refusal> {
    let registered_on = diary.figures.business.registered_on;
    let Some(first) = current_at(&diary.figures.business, registered_on) else { return Ok(()) };
    let Some((due, _)) = returns::due(diary, first)? else { return Ok(()) };
    if !diary.holds(due) {
        return Ok(());
    }
    let goods = registered_on.saturating_sub(diary.months(ParameterId::PreRegistrationGoodsMonths)?.months());
    let services = registered_on.saturating_sub(diary.months(ParameterId::PreRegistrationServicesMonths)?.months());
    diary.note(Entry {
        on: due,
        by: &PRE_REGISTRATION,
        title: "Claim VAT from before registration on the first return".to_owned(),
        what_to_do: format!(
            "Claim VAT on goods bought on or after {goods} and still on hand on {registered_on}, and on services bought on or after {services}, with the invoices \
             and a list of the stock."
        ),
        about: About::Period(first),
        counted_from: registered_on,
    });
    Ok(())
}
