//! The answer of a check of the limits.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::thresholds as calculated;

use super::answer::LawUsed;
use super::scalars::{Amount, AuthorityId, Date, Month, Reference};
use super::threshold_vocabulary::{
    FactAnswer, FactBearing, LimitName, LimitOutcome, LimitStatus, MonthBasis, OutlookMethod,
};
use super::workings::{Step, Workings};

/// Every limit as seen from a day, the conditions of the Flat Rate Scheme, and the days to act by. A calculation, not advice: HMRC
/// and a qualified adviser decide. Members may be added: ignore those you don't know.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ThresholdCheck {
    /// The caller's own name for the request, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The day from which past and future were seen.
    pub as_of: Date,
    /// The months as they count, and each limit.
    pub limits: Limits,
    /// Whether the business may use the Flat Rate Scheme.
    pub flat_rate_eligibility: FlatRateEligibility,
    /// Days to act by, in their order.
    #[schema(max_items = 100)]
    pub act_by: Vec<ActBy>,
    /// Every sum that was made, in order, so that a reviewer can follow each figure to the request and to the law.
    #[schema(value_type = Vec<Step<'static>>, max_items = 100000)]
    pub workings: Workings,
    /// What the answer leaves out, and who decides, in plain English.
    #[schema(max_items = 100)]
    pub cautions: Vec<Cow<'static, str>>,
    /// The tables of law that were used.
    pub law: LawUsed,
}

/// The months as they count towards the limits, and each limit.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Limits {
    /// The months given.
    #[schema(max_items = 60)]
    pub months: Vec<MonthCounted>,
    /// Each limit.
    #[schema(max_items = 100)]
    pub checks: Vec<LimitCheck>,
}

/// A month as it counts, in pounds.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct MonthCounted {
    /// The month.
    pub month: Month,
    /// Whether its figures are actual.
    pub basis: MonthBasis,
    /// Taxable supplies: for joining the Flat Rate Scheme, and for cash and annual accounting.
    pub taxable_supplies: Amount,
    /// What counts for registration and its end.
    pub registration_supplies: Amount,
    /// Income with VAT: for leaving the Flat Rate Scheme.
    pub total_income: Amount,
}

/// One limit.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LimitCheck {
    /// Which limit.
    pub check: LimitName,
    /// How the figure stands to it.
    pub status: LimitStatus,
    /// What follows.
    pub outcome: LimitOutcome,
    /// What was found, in plain English.
    #[schema(max_length = 4000)]
    pub finding: String,
    /// Figures to give so that it can be tested; absent where none are wanting.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 10, required = false)]
    pub figures_needed: Vec<&'static str>,
    /// The day that decides: a month end, an anniversary, the end of a period, or the day from which the future is seen. Absent, with
    /// the three figures, where nothing was tested.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tested_on: Option<Date>,
    /// The figure that decides, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured: Option<Amount>,
    /// The limit in force on that day, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<Amount>,
    /// Limit less figure, in pounds; negative where it is over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub headroom: Option<Amount>,
    /// Each day tested, where the limit is tested on several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 60, required = false)]
    pub days: Vec<LimitDay>,
    /// When the limit would be passed, each way of seeing the future apart; absent where there is no run to carry forward.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 3, required = false)]
    pub outlook: Vec<LimitOutlook>,
    /// The day on which the limit was passed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub crossed_on: Option<Date>,
    /// The day on which the business is liable to be registered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liable_on: Option<Date>,
    /// The last day for telling HMRC.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub notify_by: Option<Date>,
    /// The first day registered, or the first day outside the scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub effective_from: Option<Date>,
    /// What to do, in plain English; absent where nothing.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schema(max_length = 4000, required = false)]
    pub what_to_do: String,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'static [&'static str],
}

/// A limit tested on one day.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LimitDay {
    /// The day.
    pub on: Date,
    /// Whether all figures are actual.
    pub basis: MonthBasis,
    /// The figure, in pounds.
    pub measured: Amount,
    /// The limit in force on that day, in pounds.
    pub limit: Amount,
    /// Limit less figure, in pounds; negative where it is over.
    pub headroom: Amount,
}

/// When a limit would be passed, by one way of seeing the future.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LimitOutlook {
    /// The way.
    pub method: OutlookMethod,
    /// The amount a month that is taken to go on, in pounds to the nearest penny; absent for a forecast.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub monthly: Option<Amount>,
    /// The first day tested on which the limit is passed; absent where it is not passed within the time looked at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub crosses_on: Option<Date>,
    /// The day for which `measured` stands.
    pub on: Date,
    /// The twelve months to that day, in pounds.
    pub measured: Amount,
}

/// Whether the business may use the Flat Rate Scheme: conditions and causes as questions. What the request does not tell is asked,
/// never assumed.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct FlatRateEligibility {
    /// Whether it may join (VAT Regulations 1995 regulation 55L): no where one condition fails, yes where all are met.
    pub may_join: FactAnswer,
    /// Whether its use ends (regulation 55M): yes where one cause is there, no where none is; absent where it does not use the scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub must_leave: Option<FactAnswer>,
    /// Every condition of joining.
    #[schema(max_items = 50)]
    pub conditions: Vec<EligibilityQuestion>,
    /// Every cause of leaving.
    #[schema(max_items = 50)]
    pub causes_of_leaving: Vec<EligibilityQuestion>,
    /// The questions to ask.
    #[schema(max_items = 50)]
    pub questions_to_ask: Vec<&'static str>,
    /// The first day outside the scheme, where its end is known (regulation 55Q).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub out_from: Option<Date>,
    /// The first day on which the business may come back (regulation 55L(1)(c)).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub return_from: Option<Date>,
    /// How and from when it may leave by its own choice, in plain English.
    #[schema(max_length = 4000)]
    pub leaving_by_choice: String,
    /// The last day of the present VAT period, on which a choice to leave usually takes effect; absent where no period was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usual_last_day: Option<Date>,
}

/// A question of eligibility.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct EligibilityQuestion {
    /// Its name.
    #[schema(max_length = 64, pattern = "^[a-z0-9_]+$", example = "tour_operator")]
    pub id: &'static str,
    /// The question, in plain English.
    #[schema(max_length = 1000)]
    pub question: &'static str,
    /// The answer.
    pub answer: FactAnswer,
    /// What it means.
    pub bearing: FactBearing,
    /// What follows from an obstacle, in plain English.
    #[schema(max_length = 1000)]
    pub consequence: Cow<'static, str>,
    /// The first day outside the scheme, where the answer ends its use.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub out_from: Option<Date>,
    /// The last day for telling HMRC in writing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub notify_by: Option<Date>,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'static [&'static str],
}

/// Something to do by a day.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ActBy {
    /// The day.
    pub on: Date,
    /// What it is, short.
    #[schema(max_length = 200)]
    pub title: &'static str,
    /// What to do, in plain English.
    #[schema(max_length = 4000)]
    pub what_to_do: String,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'static [&'static str],
}

impl ThresholdCheck {
    /// The answer to a request with this reference.
    pub fn new(reference: Option<Reference>, answer: calculated::ThresholdAnswer) -> Self {
        Self {
            reference,
            as_of: Date(answer.as_of),
            limits: answer.limits.into(),
            flat_rate_eligibility: answer.eligibility.into(),
            act_by: answer.act_by.into_iter().map(Into::into).collect(),
            workings: Workings::new(answer.workings),
            cautions: answer.cautions,
            law: answer.law.into(),
        }
    }
}

impl From<calculated::Limits> for Limits {
    fn from(limits: calculated::Limits) -> Self {
        Self {
            months: limits.months.into_iter().map(Into::into).collect(),
            checks: limits.checks.into_iter().map(Into::into).collect(),
        }
    }
}

impl From<calculated::MonthCounted> for MonthCounted {
    fn from(month: calculated::MonthCounted) -> Self {
        Self {
            month: Month::of(month.first),
            basis: MonthBasis(month.basis),
            taxable_supplies: Amount(month.taxable_supplies),
            registration_supplies: Amount(month.registration_supplies),
            total_income: Amount(month.total_income),
        }
    }
}

impl From<calculated::LimitCheck> for LimitCheck {
    fn from(check: calculated::LimitCheck) -> Self {
        Self {
            check: LimitName(check.limit),
            status: LimitStatus(check.status),
            outcome: LimitOutcome(check.outcome),
            finding: check.finding,
            figures_needed: check.figures_needed,
            tested_on: check.decisive.map(|day| Date(day.on)),
            measured: check.decisive.map(|day| Amount(day.measured)),
            limit: check.decisive.map(|day| Amount(day.limit)),
            headroom: check.decisive.map(|day| Amount(day.headroom)),
            days: check.days.into_iter().map(Into::into).collect(),
            outlook: check.outlook.into_iter().map(Into::into).collect(),
            crossed_on: check.crossed_on.map(Date),
            liable_on: check.liable_on.map(Date),
            notify_by: check.notify_by.map(Date),
            effective_from: check.effective_from.map(Date),
            what_to_do: check.what_to_do,
            authority: check.authority,
        }
    }
}

impl From<calculated::TestedDay> for LimitDay {
    fn from(day: calculated::TestedDay) -> Self {
        Self {
            on: Date(day.on),
            basis: MonthBasis(day.basis),
            measured: Amount(day.measured),
            limit: Amount(day.limit),
            headroom: Amount(day.headroom),
        }
    }
}

impl From<calculated::Outlook> for LimitOutlook {
    fn from(outlook: calculated::Outlook) -> Self {
        Self {
            method: OutlookMethod(outlook.method),
            monthly: outlook.monthly.map(Amount),
            crosses_on: outlook.crosses_on.map(Date),
            on: Date(outlook.on),
            measured: Amount(outlook.measured),
        }
    }
}

impl From<calculated::Eligibility> for FlatRateEligibility {
    fn from(eligibility: calculated::Eligibility) -> Self {
        Self {
            may_join: FactAnswer(eligibility.may_join),
            must_leave: eligibility.must_leave.map(FactAnswer),
            conditions: eligibility.conditions.into_iter().map(Into::into).collect(),
            causes_of_leaving: eligibility.causes_of_leaving.into_iter().map(Into::into).collect(),
            questions_to_ask: eligibility.to_ask,
            out_from: eligibility.out_from.map(Date),
            return_from: eligibility.return_from.map(Date),
            leaving_by_choice: eligibility.leaving_by_choice,
            usual_last_day: eligibility.usual_last_day.map(Date),
        }
    }
}

impl From<calculated::Question> for EligibilityQuestion {
    fn from(question: calculated::Question) -> Self {
        Self {
            id: question.id,
            question: question.question,
            answer: FactAnswer(question.answer),
            bearing: FactBearing(question.bearing),
            consequence: question.consequence,
            out_from: question.out_from.map(Date),
            notify_by: question.notify_by.map(Date),
            authority: question.authority,
        }
    }
}

impl From<calculated::ActBy> for ActBy {
    fn from(act: calculated::ActBy) -> Self {
        Self { on: Date(act.on), title: act.title, what_to_do: act.what_to_do, authority: act.authority }
    }
}
