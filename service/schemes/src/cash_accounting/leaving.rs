//! What is outstanding when a business leaves the cash accounting scheme.

use jiff::ToSpan;
use jiff::civil::Date;

use crate::answer::{CashCondition, CashConditionKind, CashLeavingAnswer, LeavingTime};
use crate::figures::{CashLeaving, Outstanding, OutstandingTreatment};
use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Rounding};
use crate::period::{Period, next_day, previous_day};
use crate::refusal::{CashLeavingField, OutstandingField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

static OUTPUT_TAX: Rule = Rule {
    says: "On leaving cash accounting VAT is due on what customers still owe for supplies made in it: the VAT fraction of each total, to the nearest \
           penny.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_61,
        cite::VCAS6100,
        cite::VIT55400,
        cite::DECISION_CASH_ACCOUNTING_LEAVING,
    ],
};
static INPUT_TAX: Rule = Rule {
    says: "On leaving cash accounting VAT is recovered on what is still owed for supplies received in it, as far as it may be recovered at all: the VAT \
           fraction of each total, to the nearest penny.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_61,
        cite::VCAS6100,
        cite::VIT55400,
        cite::DECISION_CASH_ACCOUNTING_LEAVING,
    ],
};
static NET_DUE: Rule = Rule {
    says: "What is due on leaving cash accounting is the output tax outstanding less the input tax; a negative amount is repaid.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_61, cite::VCAS6100],
};
static LAST_THREE_MONTHS: Rule = Rule {
    says: "There are no six months on leaving where taxable supplies of the three months to the end of the last period in the scheme, without VAT, were \
           more than the limit.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_61, cite::VCAS6250],
};
const TIME: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_61, cite::VCAS6250];

/// Works out what is outstanding and by when it is accounted for (VAT Regulations 1995 regs 61, 63 and 64).
pub(super) fn work_out(run: &mut Run<'_>, leaving: &CashLeaving, period: Period) -> Result<CashLeavingAnswer, Refusal> {
    let on = leaving.on;
    if on < period.start() || on > period.end() {
        return Err(Refusal::new(
            Place::CashLeaving(CashLeavingField::On),
            RefusalCode::DatesOutOfOrder,
            format!(
                "The last day in cash accounting, {on}, is not in the period from {} to {}. The scheme is left at the end of a period: ask with the \
                 figures of that period.",
                period.start(),
                period.end()
            ),
        ));
    }
    let scope = Scope::CashLeaving;
    let mut due = Vec::with_capacity(leaving.debtors.len());
    for (index, debtor) in leaving.debtors.iter().enumerate() {
        let place = |field| Place::CashDebtor(index, field);
        let name = Name::new(Scope::CashDebtor(index), "vat", "VAT on what customers owe", &OUTPUT_TAX);
        due.extend(vat_within(run, name, debtor, place, on)?);
    }
    let name = Name::new(scope, "output_tax", "Output tax outstanding", &OUTPUT_TAX);
    let output_tax = run.total(name.gives(&["output_tax"]), &due)?;
    let mut recovered = Vec::with_capacity(leaving.creditors.len());
    for (index, creditor) in leaving.creditors.iter().enumerate() {
        let place = |field| Place::CashCreditor(index, field);
        let name = Name::new(Scope::CashCreditor(index), "vat", "VAT on what is owed to suppliers", &INPUT_TAX);
        recovered.extend(vat_within(run, name, creditor, place, on)?);
    }
    let name = Name::new(scope, "input_tax", "Input tax outstanding", &INPUT_TAX);
    let input_tax = run.total(name.gives(&["input_tax"]), &recovered)?;
    let name = Name::new(scope, "net_due", "Net VAT due on leaving", &NET_DUE);
    let net_due = run.difference(name.gives(&["net_due"]), output_tax, input_tax)?;
    let conditions = conditions(run, leaving)?;
    let time = time(&conditions);
    let months = run.law.months(ParameterId::CashAccountingLeavingMonths, on)?.value;
    Ok(CashLeavingAnswer {
        output_tax: output_tax.value,
        input_tax: input_tax.value,
        net_due: net_due.value,
        time,
        six_months_until: match time {
            LeavingTime::AtOnceOrWithinSixMonths => Some(months_from(next_day(on), months)),
            LeavingTime::AtOnce | LeavingTime::NotKnown => None,
        },
        conditions,
    })
}

/// The last of so many months that begin on a day.
fn months_from(first: Date, months: u16) -> Date {
    previous_day(first.saturating_add(i32::from(months).months()))
}

/// The VAT in a total that is owed; none where what it is owed for bears none.
fn vat_within(
    run: &mut Run<'_>,
    name: Name,
    owed: &Outstanding,
    place: impl Fn(OutstandingField) -> Place,
    on: Date,
) -> Result<Option<Traced<Money>>, Refusal> {
    let rate = match owed.treatment {
        OutstandingTreatment::StandardRated => ParameterId::VatRateStandard,
        OutstandingTreatment::ReducedRated => ParameterId::VatRateReduced,
        OutstandingTreatment::ZeroRated | OutstandingTreatment::Exempt | OutstandingTreatment::OutsideScope => {
            return Ok(None);
        }
    };
    let rate = run.percentage(rate, on, "Rate of VAT")?;
    let gross = Traced::given(owed.gross, place(OutstandingField::Gross));
    let whole = gross.value.exact().times(rate.value.vat_fraction()?)?;
    let mut operands = vec![gross.operand(), rate.operand(), rate.operand()];
    let (exact, formula) = match owed.recoverable {
        None => (whole, "{} × {} ÷ (100 + {})"),
        Some(share) => {
            operands.push(Traced::given(share, place(OutstandingField::RecoverablePercentage)).operand());
            (whole.times(share.as_fraction())?, "{} × {} ÷ (100 + {}) × {} ÷ 100")
        }
    };
    let vat = exact.to_money(Rounding::NearestPenny)?;
    Ok(Some(run.step(name, vat, Rounding::NearestPenny, formula, &operands)))
}

/// What takes the six months away, each with its answer.
fn conditions(run: &mut Run<'_>, leaving: &CashLeaving) -> Result<Vec<CashCondition>, Refusal> {
    let parameter = ParameterId::CashAccountingLeavingThreeMonths;
    let limit = run.law.amount(parameter, leaving.on)?.value;
    let above = match leaving.turnover_last_three_months {
        None => None,
        Some(turnover) => {
            let limit = run.amount(parameter, leaving.on, "Supplies of three months above which there is no time")?;
            let turnover = Traced::given(turnover, Place::CashLeaving(CashLeavingField::TurnoverLastThreeMonths));
            let name = Name::new(
                Scope::CashLeaving,
                "last_three_months_above_limit",
                "Whether supplies of the last three months are above the limit",
                &LAST_THREE_MONTHS,
            );
            let above = turnover.value > limit.value;
            Some(run.step(name, above, Rounding::None, "{} > {}", &[turnover.operand(), limit.operand()]).value)
        }
    };
    let condition = |kind, question: String, fact: Option<bool>, consequence, authority| CashCondition {
        kind,
        question,
        answer: fact.into(),
        consequence,
        authority,
    };
    Ok(vec![
        condition(
            CashConditionKind::LastThreeMonthsAboveLimit,
            format!("Were taxable supplies of the three months to {} more than £{limit}, without VAT?", leaving.on),
            above,
            "If so, all that is outstanding is accounted for at once.",
            TIME,
        ),
        condition(
            CashConditionKind::LeftLate,
            "Did the business leave later than at the end of the period in which it passed the limit?".to_owned(),
            leaving.left_late,
            "If so, all that is outstanding is accounted for at once.",
            TIME,
        ),
        condition(
            CashConditionKind::Removed,
            "Did HMRC remove the business from the scheme?".to_owned(),
            leaving.removed,
            "If so, all that is outstanding is accounted for on the return of the period in which it was removed.",
            &[cite::VAT_REGULATIONS_1995_REGULATION_64, cite::VCAS6250],
        ),
        condition(
            CashConditionKind::Deregistered,
            "Does the registration of the business end?".to_owned(),
            leaving.deregistered,
            "If so, all that is outstanding is accounted for on the final return, for which there are two months.",
            &[cite::VATDREG08050],
        ),
    ])
}

/// At once where anything takes the six months away; otherwise the business may choose, once everything is known.
fn time(conditions: &[CashCondition]) -> LeavingTime {
    use crate::answer::CashConditionAnswer;
    let any = |answer| conditions.iter().any(|condition| condition.answer == answer);
    if any(CashConditionAnswer::Yes) {
        LeavingTime::AtOnce
    } else if any(CashConditionAnswer::NotKnown) {
        LeavingTime::NotKnown
    } else {
        LeavingTime::AtOnceOrWithinSixMonths
    }
}
