//! The four years within which errors of a period are corrected and its input tax is claimed.

use jiff::civil::Date;

use super::answer::{About, DateKind, DateRule};
use super::diary::{Diary, Entry};
use super::figures::EventKind;
use super::returns;
use crate::law::{Evidence, ParameterId, rule as cite};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::workings::Rule;

static CORRECTION: DateRule = DateRule {
    kind: DateKind::ErrorCorrectionEnds,
    rule: Rule {
        says: "An error may be corrected within four years after the end of the period in which it was made; a deliberate one never on a return.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_34, cite::NOTICE_700_45],
    },
    evidence: Evidence::Law,
};
static CLAIM: DateRule = DateRule {
    kind: DateKind::InputTaxClaimEnds,
    rule: Rule {
        says: "Input tax that was not claimed may be claimed within four years after the due date of the return on which it could have been.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_29, cite::VDSOG400],
    },
    evidence: Evidence::Law,
};

/// Notes both limits of a period, save one that an event of the request asks for anyway.
pub(super) fn note(diary: &mut Diary<'_, '_>, period: Period) -> Result<(), Refusal> {
    let events = &diary.figures.events;
    let asked = |kind| events.iter().any(|event| event.kind == kind && event.on == period.end());
    let (correction_asked, claim_asked) = (asked(EventKind::ErrorInPeriod), asked(EventKind::InputTaxNotClaimed));
    if !correction_asked {
        correction(diary, period.end(), About::Period(period))?;
    }
    match returns::due(diary, period)? {
        Some((due, _)) if !claim_asked => claim(diary, due, period.end(), About::Period(period)),
        _ => Ok(()),
    }
}

/// Notes the last day for correcting an error of the period that ends on a day (VAT Regulations 1995 reg 34(1A)).
pub(super) fn correction(diary: &mut Diary<'_, '_>, period_end: Date, about: About) -> Result<(), Refusal> {
    let on = diary.months_after(period_end, ParameterId::ErrorCorrectionMonths)?;
    diary.note(Entry {
        on,
        by: &CORRECTION,
        title: format!("Last day to correct VAT errors of the period to {period_end}"),
        what_to_do: "Correct or tell HMRC of any error of that period, in either direction, by this day; a claim for overpaid VAT is lost after it.".to_owned(),
        about,
        counted_from: period_end,
    });
    Ok(())
}

/// Notes the last day for claiming input tax of a period whose return was due on a day (VAT Regulations 1995 reg 29(1A)).
pub(super) fn claim(diary: &mut Diary<'_, '_>, due: Date, period_end: Date, about: About) -> Result<(), Refusal> {
    let on = diary.months_after(due, ParameterId::InputTaxClaimMonths)?;
    diary.note(Entry {
        on,
        by: &CLAIM,
        title: format!("Last day to claim input tax of the period to {period_end}"),
        what_to_do: "Claim any input tax of that period that no return has claimed yet, on a return sent by this day; after it the claim is lost.".to_owned(),
        about,
        counted_from: due,
    });
    Ok(())
}
