//! When return and payment of a VAT period are due.

use jiff::ToSpan;
use jiff::civil::Date;

use super::answer::{About, DateKind, DateRule};
use super::diary::{Diary, Entry};
use super::figures::{AnnualAccounting, Instalments, Periods};
use super::periods::{ends_month, month_end};
use crate::law::{Evidence, ParameterId, rule as cite};
use crate::period::{Length, Period};
use crate::refusal::Refusal;
use crate::workings::Rule;

static DUE: DateRule = DateRule {
    kind: DateKind::ReturnAndPaymentDue,
    rule: Rule {
        says: "Return and electronic payment are due one calendar month and seven days after the end of the period.",
        authority: &[
            cite::VDSOG400,
            cite::VAT_REGULATIONS_1995_REGULATION_25,
            cite::VAT_REGULATIONS_1995_REGULATION_40,
            cite::DECISION_DUE_DATES,
            cite::GOV_UK_PAY_VAT,
        ],
    },
    evidence: Evidence::OfficialGuidance,
};
static DIRECT_DEBIT: DateRule = DateRule {
    kind: DateKind::DirectDebitCollected,
    rule: Rule {
        says: "HMRC collect by direct debit three working days after the payment deadline of the return.",
        authority: &[cite::GOV_UK_PAY_VAT, cite::DECISION_WORKING_DAYS],
    },
    evidence: Evidence::OfficialGuidance,
};
static ANNUAL_DUE: DateRule = DateRule {
    kind: DateKind::ReturnAndPaymentDue,
    rule: Rule {
        says: "With annual accounting return and balance are due by the last working day of the second month after the year.",
        authority: &[
            cite::VAT_REGULATIONS_1995_REGULATION_50,
            cite::VATAAS5100,
            cite::GOV_UK_ANNUAL_ACCOUNTING_DEADLINES,
            cite::DECISION_WORKING_DAYS,
        ],
    },
    evidence: Evidence::OfficialGuidance,
};
static SHORT_YEAR_DUE: DateRule = DateRule {
    kind: DateKind::ReturnAndPaymentDue,
    rule: Rule {
        says: "With annual accounting a period of less than four months has no instalments, and its return is due one month after it.",
        authority: &[cite::GOV_UK_ANNUAL_ACCOUNTING_DEADLINES, cite::VATAAS3400],
    },
    evidence: Evidence::OfficialGuidance,
};
static INSTALMENT: DateRule = DateRule {
    kind: DateKind::InstalmentDue,
    rule: Rule {
        says: "Instalments of annual accounting are due by the last working day of months 4 to 12 of the year, or of months 4, 7 and 10.",
        authority: &[
            cite::VAT_REGULATIONS_1995_REGULATION_50,
            cite::VATAAS5100,
            cite::GOV_UK_ANNUAL_ACCOUNTING_DEADLINES,
            cite::DECISION_WORKING_DAYS,
        ],
    },
    evidence: Evidence::OfficialGuidance,
};

/// Fewer months than this, and a year of annual accounting has no instalments.
const LEAST_MONTHS: i32 = 4;

/// The day on which return and payment of a period are due, and the rule; none for a period that ends inside a month.
pub(super) fn due(diary: &mut Diary<'_, '_>, period: Period) -> Result<Option<(Date, &'static DateRule)>, Refusal> {
    if !ends_month(period.end()) {
        return Ok(None);
    }
    if !matches!(diary.figures.business.periods, Periods::Annual(_)) {
        return Ok(ordinary_due(diary, period.end())?.map(|day| (day, &DUE)));
    }
    if is_short(period) {
        return Ok(Some((month_end(period.end(), 1), &SHORT_YEAR_DUE)));
    }
    let months = diary.months(ParameterId::AnnualAccountingReturnMonths)?;
    Ok(Some((last_working_day(diary, month_end(period.end(), months)), &ANNUAL_DUE)))
}

/// The day on which return and payment of an ordinary period with this last day are due; none for one that ends inside a month.
pub(super) fn ordinary_due(diary: &mut Diary<'_, '_>, period_end: Date) -> Result<Option<Date>, Refusal> {
    if !ends_month(period_end) {
        return Ok(None);
    }
    let months = diary.months(ParameterId::ReturnDueMonths)?;
    diary.days_after(month_end(period_end, months), ParameterId::ReturnDueDays).map(Some)
}

/// Notes when return and payment of a period are due, and the instalments of a year.
pub(super) fn note(diary: &mut Diary<'_, '_>, period: Period, instalment: Option<&str>) -> Result<(), Refusal> {
    let Some((on, by)) = due(diary, period)? else {
        inside_a_month(diary, period);
        return Ok(());
    };
    let about = About::Period(period);
    diary.note(Entry {
        on,
        by,
        title: format!("VAT return and payment due: {} to {}", period.start(), period.end()),
        what_to_do: "Send the return, and see that the money reaches HMRC's account on the last working day up to this day. A return is due even where \
                     nothing is to be paid."
            .to_owned(),
        about,
        counted_from: period.end(),
    });
    match diary.figures.business.periods {
        Periods::Annual(annual) => {
            if !is_short(period) {
                instalments(diary, &annual, period, instalment);
            }
        }
        Periods::Ordinary(_) | Periods::Listed(_) => direct_debit(diary, period, on)?,
    }
    Ok(())
}

fn direct_debit(diary: &mut Diary<'_, '_>, period: Period, due: Date) -> Result<(), Refusal> {
    let count = diary.days(ParameterId::DirectDebitCollection)?;
    let (holidays, nation) = (diary.run.law.bank_holidays(), diary.figures.business.nation);
    if let Some(on) = holidays.working_days_after(nation, due, count) {
        diary.note(Entry {
            on,
            by: &DIRECT_DEBIT,
            title: format!("VAT collected by direct debit: {} to {}", period.start(), period.end()),
            what_to_do: format!(
                "Only where the business pays by direct debit: have the money in the account. The return is still due on {due}, and the instruction must be in \
                 place at least three working days before it is sent."
            ),
            about: About::Period(period),
            counted_from: due,
        });
    }
    Ok(())
}

fn inside_a_month(diary: &mut Diary<'_, '_>, period: Period) {
    // Such a return can be due at most two months after its period: those whose day can lie in the window are spoken of.
    let latest = period.end().saturating_add(3.months());
    if period.end() > diary.window.end() || latest < diary.window.start() {
        return;
    }
    diary.not_computed(
        format!(
            "The period from {} to {} ends inside a month, for which no due date is worked out: HMRC's printed dates and a count of one month and seven \
             days differ. Take the day from the return or from HMRC's online account.",
            period.start(),
            period.end()
        ),
        Vec::new(),
        &[cite::VDSOG400, cite::DECISION_DUE_DATES],
    );
}

fn instalments(diary: &mut Diary<'_, '_>, annual: &AnnualAccounting, year: Period, amount: Option<&str>) {
    if year.start().day() != 1 {
        if year.end() >= diary.window.start() && year.start() <= diary.window.end() {
            diary.not_computed(
                format!(
                    "The accounting year from {} to {} starts inside a month, so the months of its instalments are not counted here. Take their days from \
                     HMRC's letter.",
                    year.start(),
                    year.end()
                ),
                Vec::new(),
                &[cite::VAT_REGULATIONS_1995_REGULATION_50, cite::GOV_UK_ANNUAL_ACCOUNTING_DEADLINES],
            );
        }
        return;
    }
    let months: &[i32] = match annual.instalments {
        Instalments::Nine => &[4, 5, 6, 7, 8, 9, 10, 11, 12],
        Instalments::Three => &[4, 7, 10],
    };
    for month in months {
        let end = month_end(year.start(), month - 1);
        if end > year.end() {
            break;
        }
        let on = last_working_day(diary, end);
        let amount =
            amount.map_or_else(|| "the instalment that HMRC's letter names".to_owned(), |amount| format!("£{amount}"));
        diary.note(Entry {
            on,
            by: &INSTALMENT,
            title: format!("VAT instalment due: month {month} of the year to {}", year.end()),
            what_to_do: format!("Pay {amount}, so that it reaches HMRC's account by this day. HMRC's letter decides if it names another sum."),
            about: About::Period(year),
            counted_from: end,
        });
    }
}

/// The last working day of a month, or its last day where bank holidays are not known.
fn last_working_day(diary: &Diary<'_, '_>, month_end: Date) -> Date {
    let nation = diary.figures.business.nation;
    diary.run.law.bank_holidays().working_day_on_or_before(nation, month_end).unwrap_or(month_end)
}

/// Whether a year of annual accounting is too short for instalments.
fn is_short(year: Period) -> bool {
    match year.length() {
        Length::Months(months) => months < LEAST_MONTHS,
        Length::Days { .. } => year.end() < year.start().saturating_add(LEAST_MONTHS.months()).saturating_sub(1.day()),
    }
}
