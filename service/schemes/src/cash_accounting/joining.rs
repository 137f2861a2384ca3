//! Who may begin to use the cash accounting scheme.

use crate::answer::{CashCondition, CashConditionKind};
use crate::figures::CashAccounting;
use crate::law::{ParameterId, rule as cite};
use crate::money::Rounding;
use crate::period::Period;
use crate::refusal::{CashField, Place, Refusal};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

static WITHIN_LIMIT: Rule = Rule {
    says: "A business may begin to use cash accounting where it has good reason to expect taxable supplies of the coming year that are not more than \
           the limit, without VAT.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_58, cite::VCAS2050],
};
static MAY_USE: Rule = Rule {
    says: "Cash accounting may be begun, at the start of a period, where every condition is met; one that is not met closes it.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_58, cite::VCAS2050, cite::NOTICE_731_SECTION_2],
};
const AUTHORITY: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_58, cite::VCAS2050, cite::NOTICE_731_SECTION_2];

/// Judges the conditions (VAT Regulations 1995 reg 58(1)); none while a fact that decides was not given.
pub(super) fn judge(
    run: &mut Run<'_>,
    asked: &CashAccounting,
    period: Period,
    conditions: &mut Vec<CashCondition>,
) -> Result<Option<bool>, Refusal> {
    let on = period.start();
    let within = match asked.expected_turnover {
        None => None,
        Some(expected) => {
            let limit = run.amount(ParameterId::CashAccountingJoin, on, "Limit for joining cash accounting")?;
            let expected = Traced::given(expected, Place::CashAccounting(CashField::ExpectedTurnover));
            let name = Name::new(
                Scope::CashAccounting,
                "expected_turnover_within_limit",
                "Whether expected supplies are within the limit for joining",
                &WITHIN_LIMIT,
            );
            let within = expected.value <= limit.value;
            Some(run.step(name, within, Rounding::None, "{} ≤ {}", &[expected.operand(), limit.operand()]))
        }
    };
    let fact = |fact: Option<bool>, field| fact.map(|fact| Traced::given(fact, Place::CashAccounting(field)));
    let up_to_date = fact(asked.returns_and_payments_up_to_date, CashField::ReturnsAndPaymentsUpToDate);
    let no_offence = fact(asked.no_vat_offence_in_past_year, CashField::NoVatOffenceInPastYear);
    let limit = run.law.amount(ParameterId::CashAccountingJoin, on)?.value;
    let mut add = |kind, question, fact: Option<Traced<bool>>, consequence| {
        let answer = fact.map(|fact| fact.value).into();
        conditions.push(CashCondition { kind, question, answer, consequence, authority: AUTHORITY });
    };
    add(
        CashConditionKind::ExpectedTurnoverWithinLimit,
        format!("Are taxable supplies of not more than £{limit}, without VAT, expected in the next twelve months?"),
        within,
        "Only then may cash accounting be begun, at the start of a period and not for the past. A business already in it may stay until its past \
         supplies are above the limit for leaving.",
    );
    add(
        CashConditionKind::ReturnsAndPaymentsUpToDate,
        "Have all VAT Returns been made, and has all that is due on them and on assessments been paid, or its payment by instalments been agreed \
         with HMRC?"
            .to_owned(),
        up_to_date,
        "Only then may cash accounting be begun.",
    );
    add(
        CashConditionKind::NoVatOffenceInPastYear,
        "Is the past year free of a conviction for a VAT offence, of a sum paid to compound proceedings, of a penalty for evasion and of removal from \
         cash accounting?"
            .to_owned(),
        no_offence,
        "Only then may cash accounting be begun; otherwise a year after it at the earliest.",
    );
    let all = [within, up_to_date, no_offence];
    let known: Vec<Traced<bool>> = all.iter().flatten().copied().collect();
    let met = known.iter().all(|fact| fact.value);
    // What is met so far settles nothing while something is not known.
    if met && known.len() < all.len() {
        return Ok(None);
    }
    let formula = match known.len() {
        1 => "{}",
        2 => "{} and {}",
        _ => "{} and {} and {}",
    };
    let operands: Vec<_> = known.iter().map(|fact| fact.operand()).collect();
    let name = Name::new(
        Scope::CashAccounting,
        "may_use",
        "Whether cash accounting may be begun, from the conditions known",
        &MAY_USE,
    );
    Ok(Some(run.step(name.gives(&["may_use"]), met, Rounding::None, formula, &operands).value))
}
