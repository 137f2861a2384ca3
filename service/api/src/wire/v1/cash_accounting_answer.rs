//! What was asked about the cash accounting scheme, answered.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::answer as calculated;

use super::scalars::{Amount, AuthorityId, Date};
use super::vocabulary::{CashConditionAnswer, CashConditionKind, LeavingTime};

/// Whether the cash accounting scheme of standard accounting may be used, and what leaving it costs (VAT Regulations 1995 regulations
/// 56 to 65; VAT Notice 731). It stands on neither return of this answer.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct CashAccounting {
    /// Whether the business may begin to use the scheme; absent while a fact that decides is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub may_use: Option<bool>,
    /// Whether a business in the scheme must leave it at the end of the period; absent while a fact that decides is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub must_leave: Option<bool>,
    /// What that depends on. Where the answer is `not_known`, the question is to be answered.
    #[schema(max_items = 20)]
    pub conditions: Vec<CashCondition>,
    /// What leaving costs; absent where the request says nothing of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaving: Option<CashLeaving>,
}

/// A condition of the cash accounting scheme and how it is met.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct CashCondition {
    /// Which condition.
    pub condition: CashConditionKind,
    /// What is asked, in plain English.
    #[schema(max_length = 1000)]
    pub question: String,
    /// The answer, from the facts given.
    pub answer: CashConditionAnswer,
    /// What follows from it, in plain English.
    #[schema(max_length = 1000)]
    pub consequence: &'static str,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'static [&'static str],
}

/// What leaving the cash accounting scheme costs (VAT Regulations 1995 regulations 61, 64; HMRC manuals VCAS6100, VCAS6250).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct CashLeaving {
    /// VAT on what customers owe, in pounds.
    pub output_tax: Amount,
    /// VAT recovered on what is owed to suppliers, in pounds.
    pub input_tax: Amount,
    /// The one less the other, in pounds; negative for a repayment.
    pub net_due: Amount,
    /// When it is accounted for.
    pub time: LeavingTime,
    /// The last day of the six months; absent where they are not allowed, or where that is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub six_months_until: Option<Date>,
    /// What the time depends on. Where the answer is `not_known`, the question is to be answered.
    #[schema(max_items = 20)]
    pub conditions: Vec<CashCondition>,
}

impl From<calculated::CashAccountingAnswer> for CashAccounting {
    fn from(answer: calculated::CashAccountingAnswer) -> Self {
        Self {
            may_use: answer.may_use,
            must_leave: answer.must_leave,
            conditions: answer.conditions.into_iter().map(Into::into).collect(),
            leaving: answer.leaving.map(Into::into),
        }
    }
}

impl From<calculated::CashCondition> for CashCondition {
    fn from(condition: calculated::CashCondition) -> Self {
        Self {
            condition: CashConditionKind(condition.kind),
            question: condition.question,
            answer: CashConditionAnswer(condition.answer),
            consequence: condition.consequence,
            authority: condition.authority,
        }
    }
}

impl From<calculated::CashLeavingAnswer> for CashLeaving {
    fn from(leaving: calculated::CashLeavingAnswer) -> Self {
        Self {
            output_tax: Amount(leaving.output_tax),
            input_tax: Amount(leaving.input_tax),
            net_due: Amount(leaving.net_due),
            time: LeavingTime(leaving.time),
            six_months_until: leaving.six_months_until.map(Date),
            conditions: leaving.conditions.into_iter().map(Into::into).collect(),
        }
    }
}
