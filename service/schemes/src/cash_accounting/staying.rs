//! Who must leave the cash accounting scheme.

use crate::answer::{CashCondition, CashConditionKind};
use crate::figures::CashAccounting;
use crate::law::{ParameterId, rule as cite};
use crate::money::Rounding;
use crate::period::Period;
use crate::refusal::{CashField, Place, Refusal};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

static ABOVE_LIMIT: Rule = Rule {
    says: "A business leaves cash accounting at the end of a period where its taxable supplies of the year to that day, without VAT, were more than \
           the limit.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_60, cite::VCAS6100],
};
static NOT_AS_AN_EXCEPTION: Rule = Rule {
    says: "HMRC let a business stay whose supplies passed the limit once only, in genuine commercial activity, with less than the limit for joining \
           expected in the next year. Any of these that is wanting leaves the rule as it is.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_60, cite::VCAS6450],
};
const LEAVING: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_60, cite::VCAS6100];
const EXCEPTION: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_60, cite::VCAS6450];
const EXCEPTION_CONSEQUENCE: &str =
    "Only then may the business stay, with a record of how it came to that view; HMRC may see it otherwise.";

/// Judges whether a business in the scheme must leave it at the end of the period (VAT Regulations 1995 reg 60(1), (3)); none while a
/// fact that decides was not given.
pub(super) fn judge(
    run: &mut Run<'_>,
    asked: &CashAccounting,
    period: Period,
    conditions: &mut Vec<CashCondition>,
) -> Result<Option<bool>, Refusal> {
    let on = period.end();
    let limit = run.law.amount(ParameterId::CashAccountingLeave, on)?.value;
    let mut add = |kind, question, fact: Option<bool>, consequence, authority| {
        conditions.push(CashCondition { kind, question, answer: fact.into(), consequence, authority });
    };
    let above = match asked.past_turnover {
        None => None,
        Some(past) => {
            let limit = run.amount(ParameterId::CashAccountingLeave, on, "Limit for leaving cash accounting")?;
            let past = Traced::given(past, Place::CashAccounting(CashField::PastTurnover));
            let name = Name::new(
                Scope::CashAccounting,
                "past_turnover_above_limit",
                "Whether past supplies are above the limit for leaving",
                &ABOVE_LIMIT,
            );
            let above = past.value > limit.value;
            Some(run.step(name, above, Rounding::None, "{} > {}", &[past.operand(), limit.operand()]))
        }
    };
    add(
        CashConditionKind::PastTurnoverAboveLimit,
        format!("Were taxable supplies of the twelve months to {on} more than £{limit}, without VAT?"),
        above.map(|above| above.value),
        "If so, a business in cash accounting leaves it at the end of the period, unless the increase was a single one.",
        LEAVING,
    );
    let Some(above) = above else { return Ok(None) };
    let settle = |run: &mut Run<'_>, must_leave, rule, formula, operands: &[_]| {
        let name = Name::new(Scope::CashAccounting, "must_leave", "Whether cash accounting must be left", rule);
        Ok(Some(run.step(name.gives(&["must_leave"]), must_leave, Rounding::None, formula, operands).value))
    };
    if !above.value {
        return settle(run, false, &ABOVE_LIMIT, "{}", &[above.operand()]);
    }
    let expected_limit = run.law.amount(ParameterId::CashAccountingJoin, on)?.value;
    add(
        CashConditionKind::NotToBeRepeated,
        "Did the increase happen for the first time, and is it not expected again?".to_owned(),
        asked.not_to_be_repeated,
        EXCEPTION_CONSEQUENCE,
        EXCEPTION,
    );
    add(
        CashConditionKind::GenuineCommercialActivity,
        "Did the increase come from genuine commercial activity?".to_owned(),
        asked.genuine_commercial_activity,
        EXCEPTION_CONSEQUENCE,
        EXCEPTION,
    );
    add(
        CashConditionKind::ExpectedTurnoverBelowLimit,
        format!(
            "Are taxable supplies of less than £{expected_limit}, without VAT, expected in the next twelve months?"
        ),
        asked.expected_turnover.map(|expected| expected < expected_limit),
        EXCEPTION_CONSEQUENCE,
        EXCEPTION,
    );
    let single = [asked.not_to_be_repeated, asked.genuine_commercial_activity];
    if single.contains(&Some(false)) {
        return settle(run, true, &NOT_AS_AN_EXCEPTION, "{}", &[above.operand()]);
    }
    let Some(expected) = asked.expected_turnover else { return Ok(None) };
    let must_leave = expected >= expected_limit;
    if !must_leave && single.contains(&None) {
        return Ok(None);
    }
    let join = run.amount(ParameterId::CashAccountingJoin, on, "Limit for joining cash accounting")?;
    let expected = Traced::given(expected, Place::CashAccounting(CashField::ExpectedTurnover));
    let operands = [above.operand(), expected.operand(), join.operand()];
    settle(run, must_leave, &NOT_AS_AN_EXCEPTION, "{} and {} ≥ {}", &operands)
}
