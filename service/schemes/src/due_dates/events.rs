//! Days that follow from what has happened: notices, claims and repayments.

use jiff::ToSpan;
use jiff::civil::Date;

use super::answer::{About, DateKind, DateRule};
use super::diary::{Diary, Entry};
use super::figures::{Event, EventKind};
use super::periods::{current_at, ends_month, month_end};
use super::{returns, time_limits};
use crate::law::{Evidence, ParameterId, rule as cite};
use crate::period::{Period, next_day};
use crate::refusal::{DatesField, Place, Refusal, RefusalCode};
use crate::workings::Rule;

static REGISTRATION_NOTICE: DateRule = DateRule {
    kind: DateKind::RegistrationNotice,
    rule: Rule {
        says: "HMRC are told within 30 days after the end of the month in which the limit was found to be passed, or by the end of the 30 days in which it is \
               expected to be.",
        authority: &[
            cite::VATA_1994_SCHEDULE_1_PARAGRAPH_5,
            cite::VATA_1994_SCHEDULE_1_PARAGRAPH_6,
            cite::VATREG18300,
            cite::DECISION_THIRTY_DAYS,
        ],
    },
    evidence: Evidence::Law,
};
static REGISTERED_AFTER_LOOKING_BACK: DateRule = DateRule {
    kind: DateKind::RegistrationBegins,
    rule: Rule {
        says: "After the twelve months' test the registration takes effect at the end of the next month: in effect on the first day of the second.",
        authority: &[cite::VATA_1994_SCHEDULE_1_PARAGRAPH_5, cite::VATREG25050, cite::VATREG18300],
    },
    evidence: Evidence::Law,
};
static REGISTERED_AFTER_LOOKING_AHEAD: DateRule = DateRule {
    kind: DateKind::RegistrationBegins,
    rule: Rule {
        says: "After the thirty days' test the registration takes effect at the beginning of the thirty days.",
        authority: &[cite::VATA_1994_SCHEDULE_1_PARAGRAPH_6, cite::VATREG25050, cite::VATREG18300],
    },
    evidence: Evidence::Law,
};
static DEREGISTRATION_NOTICE: DateRule = DateRule {
    kind: DateKind::DeregistrationNotice,
    rule: Rule {
        says: "HMRC are told within 30 days of the day on which taxable supplies ceased.",
        authority: &[cite::VATDREG04050, cite::DECISION_THIRTY_DAYS],
    },
    evidence: Evidence::OfficialGuidance,
};
static ACTIVITY_NOTICE: DateRule = DateRule {
    kind: DateKind::ActivityChangeNotice,
    rule: Rule {
        says: "A flat rate user tells HMRC in writing within 30 days that a business activity was begun or given up, with the day and the percentages before and after.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55N, cite::DECISION_THIRTY_DAYS],
    },
    evidence: Evidence::Law,
};
static LEAVING_NOTICE: DateRule = DateRule {
    kind: DateKind::FlatRateLeavingNotice,
    rule: Rule {
        says: "A flat rate user that ceases to be eligible tells HMRC in writing within 30 days.",
        authority: &[
            cite::VAT_REGULATIONS_1995_REGULATION_55N,
            cite::VAT_REGULATIONS_1995_REGULATION_55M,
            cite::DECISION_THIRTY_DAYS,
        ],
    },
    evidence: Evidence::Law,
};
static DEBT_CLAIM_BEGINS: DateRule = DateRule {
    kind: DateKind::BadDebtClaimBegins,
    rule: Rule {
        says: "Relief for a debt may be claimed when it has been unpaid for six months from the later of the supply and the day on which payment was due.",
        authority: &[cite::VATA_1994_SECTION_36, cite::VR7420],
    },
    evidence: Evidence::Law,
};
static DEBT_CLAIM_ENDS: DateRule = DateRule {
    kind: DateKind::BadDebtClaimEnds,
    rule: Rule {
        says: "Relief for a debt is claimed within four years and six months of the later of the supply and the day on which payment was due.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_165A, cite::VR7420],
    },
    evidence: Evidence::Law,
};
static REPAYMENT: DateRule = DateRule {
    kind: DateKind::InputTaxRepayment,
    rule: Rule {
        says: "Input tax on a purchase that is unpaid six months after the later of the supply and the day on which payment was due is repaid, as a negative amount in \
               box 4 of the period in which the six months end; not by a business on cash accounting.",
        authority: &[cite::VATA_1994_SECTION_26A, cite::VAT_REGULATIONS_1995_REGULATION_172H],
    },
    evidence: Evidence::Law,
};

/// Notes the days that follow from each event.
///
/// # Errors
/// Refuses an event whose day must be the last of a month and is not.
pub(super) fn note(diary: &mut Diary<'_, '_>) -> Result<(), Vec<Refusal>> {
    let mut refusals = Vec::new();
    for (index, event) in diary.figures.events.iter().enumerate() {
        if let Err(refusal) = note_one(diary, index, *event) {
            refusals.push(refusal);
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

fn note_one(diary: &mut Diary<'_, '_>, index: usize, Event { kind, on: day }: Event) -> Result<(), Refusal> {
    let about = About::Event(index);
    match kind {
        EventKind::RegistrationLimitPassed => limit_passed(diary, index, day),
        EventKind::RegistrationLimitExpected => {
            registration_notice(diary, index, day)?;
            registered_from(diary, index, day, day, &REGISTERED_AFTER_LOOKING_AHEAD);
            Ok(())
        }
        EventKind::TaxableSuppliesCeased => {
            let on = diary.days_after(day, ParameterId::DeregistrationNotice)?;
            diary.note(Entry {
                on,
                by: &DEREGISTRATION_NOTICE,
                title: "Last day to tell HMRC that taxable supplies have ceased".to_owned(),
                what_to_do: "Ask HMRC to end the registration. VAT may be due on goods on hand, and the final return is due on a day that HMRC set.".to_owned(),
                about,
                counted_from: day,
            });
            Ok(())
        }
        EventKind::ActivityChanged => {
            let on = diary.days_after(day, ParameterId::FrsNotifyChange)?;
            diary.note(Entry {
                on,
                by: &ACTIVITY_NOTICE,
                title: "Last day to tell HMRC of a change of activity".to_owned(),
                what_to_do: format!(
                    "Write to HMRC: what was begun or given up on {day}, and the flat rate percentages before and after. The new percentage applies from that day."
                ),
                about,
                counted_from: day,
            });
            Ok(())
        }
        EventKind::FlatRateEndsEarly => {
            let on = diary.days_after(day, ParameterId::FrsNotifyChange)?;
            diary.note(Entry {
                on,
                by: &LEAVING_NOTICE,
                title: "Last day to tell HMRC that the Flat Rate Scheme ends".to_owned(),
                what_to_do: "Write to HMRC with the reason. From which day the scheme ends depends on it.".to_owned(),
                about,
                counted_from: day,
            });
            Ok(())
        }
        EventKind::ErrorInPeriod => time_limits::correction(diary, day, about),
        EventKind::InputTaxNotClaimed => not_claimed(diary, index, day),
        EventKind::CustomerHasNotPaid => bad_debt(diary, day, about),
        EventKind::SupplierNotPaid => repayment(diary, day, about),
    }
}

fn limit_passed(diary: &mut Diary<'_, '_>, index: usize, day: Date) -> Result<(), Refusal> {
    if !ends_month(day) {
        return Err(Refusal::new(
            Place::Dates(DatesField::EventOn(index)),
            RefusalCode::DatesOutOfOrder,
            format!(
                "The limit for registration is tested at the end of a month, and {day} is not one. Give the last day of the month, {}.",
                month_end(day, 0)
            ),
        ));
    }
    registration_notice(diary, index, day)?;
    registered_from(diary, index, day, next_day(month_end(day, 1)), &REGISTERED_AFTER_LOOKING_BACK);
    Ok(())
}

fn registration_notice(diary: &mut Diary<'_, '_>, index: usize, day: Date) -> Result<(), Refusal> {
    let on = diary.days_after(day, ParameterId::RegistrationNotice)?;
    diary.note(Entry {
        on,
        by: &REGISTRATION_NOTICE,
        title: "Last day to tell HMRC of the liability to be registered for VAT".to_owned(),
        what_to_do: "Apply for registration. After the twelve months' test, HMRC may instead be asked within this time not to register, if the coming year's supplies \
                     will be low enough."
            .to_owned(),
        about: About::Event(index),
        counted_from: day,
    });
    Ok(())
}

fn registered_from(diary: &mut Diary<'_, '_>, index: usize, day: Date, on: Date, by: &'static DateRule) {
    diary.note(Entry {
        on,
        by,
        title: "VAT registration takes effect".to_owned(),
        what_to_do: "Account for VAT on supplies from this day, whether or not the number has come.".to_owned(),
        about: About::Event(index),
        counted_from: day,
    });
}

/// The claim runs from the due date of the return of the period that ends on the day given.
fn not_claimed(diary: &mut Diary<'_, '_>, index: usize, day: Date) -> Result<(), Refusal> {
    // A period that is none of those of the business today was an ordinary one.
    let due = match current_at(&diary.figures.business, day).filter(|period| period.end() == day) {
        Some(period) => returns::due(diary, period)?.map(|(due, _)| due),
        None => returns::ordinary_due(diary, day)?,
    };
    match due {
        Some(due) => time_limits::claim(diary, due, day, About::Event(index)),
        None => {
            diary.not_computed(
                format!(
                    "The period to {day} ends inside a month, for which no due date is worked out, so neither is the last day for claiming its input tax: take \
                     four years from the due date of its return."
                ),
                vec![format!("/events/{index}/on")],
                &[cite::VAT_REGULATIONS_1995_REGULATION_29, cite::DECISION_DUE_DATES],
            );
            Ok(())
        }
    }
}

fn bad_debt(diary: &mut Diary<'_, '_>, day: Date, about: About) -> Result<(), Refusal> {
    let begins = diary.months_after(day, ParameterId::BadDebtWaitingMonths)?;
    let ends = diary.months_after(day, ParameterId::BadDebtClaimMonths)?;
    diary.note(Entry {
        on: begins,
        by: &DEBT_CLAIM_BEGINS,
        title: "Relief for a bad debt may be claimed".to_owned(),
        what_to_do: format!("If the debt is still unpaid and written off, claim relief in box 4 of the return for a period that ends on or after this day, by {ends}."),
        about,
        counted_from: day,
    });
    diary.note(Entry {
        on: ends,
        by: &DEBT_CLAIM_ENDS,
        title: "Last day to claim relief for a bad debt".to_owned(),
        what_to_do: "Claim relief for what is still unpaid by this day; after it the relief is lost.".to_owned(),
        about,
        counted_from: day,
    });
    Ok(())
}

fn repayment(diary: &mut Diary<'_, '_>, day: Date, about: About) -> Result<(), Refusal> {
    let on = diary.months_after(day, ParameterId::UnpaidPurchaseMonths)?;
    let period = match current_at(&diary.figures.business, on) {
        Some(period) => format!("for the period from {} to {}", period.start(), period.end()),
        None => format!("for the VAT period that holds {on}"),
    };
    diary.note(Entry {
        on,
        by: &REPAYMENT,
        title: "Pay the supplier, or repay the input tax".to_owned(),
        what_to_do: format!("If the purchase is unpaid on this day, repay its input tax, in proportion to what is unpaid, on the return {period}."),
        about,
        counted_from: day,
    });
    Ok(())
}

/// How far before the window an event can lie and still have a day in it.
pub(super) fn earliest(window: Period) -> Date {
    window.start().saturating_sub(52.months())
}
