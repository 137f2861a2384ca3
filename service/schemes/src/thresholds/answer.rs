//! What a check of the limits answers.

use std::borrow::Cow;

use jiff::civil::Date;

use crate::answer::LawBehind;
use crate::money::Money;
use crate::words::words;
use crate::workings::Step;

use super::figures::Basis;

words! {
    /// A limit.
    Limit {
        /// Registration: taxable supplies of the past twelve months, at each month end.
        RegistrationPastYear => "registration_past_year",
        /// Registration: taxable supplies of the next thirty days alone.
        RegistrationNextThirtyDays => "registration_next_30_days",
        /// The exception from registration where turnover was high only for a time.
        RegistrationException => "registration_exception",
        /// Ending a registration.
        Deregistration => "deregistration",
        /// VAT on goods on hand when a registration ends.
        GoodsOnHand => "goods_on_hand",
        /// Joining the Flat Rate Scheme.
        FlatRateJoining => "flat_rate_joining",
        /// Leaving the Flat Rate Scheme: the past year, at each anniversary of its start.
        FlatRateLeavingAnniversary => "flat_rate_leaving_anniversary",
        /// Early warning between anniversaries.
        FlatRateRunningIncome => "flat_rate_running_income",
        /// Leaving the Flat Rate Scheme: the next thirty days alone.
        FlatRateLeavingNextThirtyDays => "flat_rate_leaving_next_30_days",
        /// Staying in it although the limit was passed at an anniversary.
        FlatRateStaying => "flat_rate_staying",
        /// Joining cash accounting.
        CashAccountingJoining => "cash_accounting_joining",
        /// Leaving cash accounting.
        CashAccountingLeaving => "cash_accounting_leaving",
        /// Joining annual accounting.
        AnnualAccountingJoining => "annual_accounting_joining",
        /// Leaving annual accounting.
        AnnualAccountingLeaving => "annual_accounting_leaving",
    }
}

words! {
    /// How a figure stands to its limit.
    Status {
        /// More than a tenth of the limit below it.
        Clear => "clear",
        /// Not over the limit, and within a tenth of it.
        Close => "close",
        /// Over the limit.
        Crossed => "crossed",
        /// Not over it yet, but going over it at the present run or by the caller's forecast.
        Expected => "expected",
        /// Figures are wanting.
        NotChecked => "not_checked",
        /// The limit says nothing to this business now.
        NotApplicable => "not_applicable",
    }
}

words! {
    /// What follows.
    Outcome {
        /// The business must be registered.
        MustRegister => "must_register",
        /// It need not be registered by this test.
        NeedNotRegister => "need_not_register",
        /// There is no limit for it: refer.
        NoLimit => "no_limit",
        /// It may ask HMRC not to be registered.
        MayAskForException => "may_ask_for_exception",
        /// It may not.
        NoException => "no_exception",
        /// It may ask to end its registration.
        MayDeregister => "may_deregister",
        /// It may not.
        MayNotDeregister => "may_not_deregister",
        /// VAT is due on goods on hand.
        VatDueOnGoods => "vat_due_on_goods",
        /// No VAT is due on them.
        NoVatDueOnGoods => "no_vat_due_on_goods",
        /// It may join as far as this limit goes.
        MayJoin => "may_join",
        /// It may not join.
        MayNotJoin => "may_not_join",
        /// It must leave the scheme.
        MustLeave => "must_leave",
        /// It stays as far as this limit goes.
        Stays => "stays",
        /// It may ask HMRC to stay.
        MayAskToStay => "may_ask_to_stay",
        /// It may not.
        MayNotAskToStay => "may_not_ask_to_stay",
        /// Nothing follows, or nothing is known.
        Nothing => "nothing",
    }
}

words! {
    /// How the future is seen.
    Method {
        /// The caller's own forecast.
        OwnForecast => "own_forecast",
        /// The average of the last three actual months goes on.
        TrailingThreeMonths => "trailing_three_months",
        /// The average of the last twelve actual months goes on.
        TrailingTwelveMonths => "trailing_twelve_months",
    }
}

/// One month as it counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MonthCounted {
    /// Its first day.
    pub first: Date,
    /// Whether its figures are actual.
    pub basis: Basis,
    /// Taxable supplies: for joining the Flat Rate Scheme, and for cash and annual accounting.
    pub taxable_supplies: Money,
    /// What counts for registration and its end.
    pub registration_supplies: Money,
    /// Income with VAT: for leaving the Flat Rate Scheme.
    pub total_income: Money,
}

/// A limit tested on one day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TestedDay {
    /// The day.
    pub on: Date,
    /// Whether all figures are actual.
    pub basis: Basis,
    /// The figure measured.
    pub measured: Money,
    /// The limit on that day.
    pub limit: Money,
    /// Limit less figure.
    pub headroom: Money,
}

/// When a limit would be passed by one way of seeing the future.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Outlook {
    /// The way.
    pub method: Method,
    /// The amount a month that is taken to go on.
    pub monthly: Option<Money>,
    /// The first day on which the limit is passed; none within the time looked at.
    pub crosses_on: Option<Date>,
    /// The day for which `measured` stands.
    pub on: Date,
    /// The twelve months to that day.
    pub measured: Money,
}

/// One limit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LimitCheck {
    /// Which limit.
    pub limit: Limit,
    /// How the figure stands to it.
    pub status: Status,
    /// What follows.
    pub outcome: Outcome,
    /// What was found, in plain English.
    pub finding: String,
    /// Figures to give so that it can be tested.
    pub figures_needed: Vec<&'static str>,
    /// The day, figure and limit that decide.
    pub decisive: Option<TestedDay>,
    /// Every day tested.
    pub days: Vec<TestedDay>,
    /// The future.
    pub outlook: Vec<Outlook>,
    /// The day on which the limit was passed.
    pub crossed_on: Option<Date>,
    /// The day from which the business is liable.
    pub liable_on: Option<Date>,
    /// The last day for telling HMRC.
    pub notify_by: Option<Date>,
    /// The first day registered, or the first outside the scheme.
    pub effective_from: Option<Date>,
    /// What to do, in plain English; empty where nothing.
    pub what_to_do: String,
    /// On what authority.
    pub authority: &'static [&'static str],
}

/// The months as they count, and each limit.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Limits {
    /// Each month.
    pub months: Vec<MonthCounted>,
    /// Each limit.
    pub checks: Vec<LimitCheck>,
}

words! {
    /// The answer to a question of fact.
    Answer {
        /// Yes.
        Yes => "yes",
        /// No.
        No => "no",
        /// Not known: to be asked.
        NotKnown => "not_known",
    }
}

words! {
    /// What an answer means for using the scheme.
    Bearing {
        /// It stands in the way of nothing.
        NoObstacle => "no_obstacle",
        /// It keeps the business out, or ends its use.
        Obstacle => "obstacle",
        /// It is open.
        Open => "open",
    }
}

/// A question of eligibility.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// Its name, stable.
    pub id: &'static str,
    /// The question.
    pub question: &'static str,
    /// The answer from the request's facts.
    pub answer: Answer,
    /// What it means here.
    pub bearing: Bearing,
    /// What follows from an obstacle, in plain English.
    pub consequence: Cow<'static, str>,
    /// The first day outside the scheme, where the answer ends its use on a known day.
    pub out_from: Option<Date>,
    /// The last day for telling HMRC of it.
    pub notify_by: Option<Date>,
    /// On what authority.
    pub authority: &'static [&'static str],
}

/// Whether the business may use the Flat Rate Scheme.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Eligibility {
    /// Whether it may join, as far as is known.
    pub may_join: Answer,
    /// Whether it must leave, as far as is known; not known also where it is not in the scheme.
    pub must_leave: Option<Answer>,
    /// Every condition of joining.
    pub conditions: Vec<Question>,
    /// Every cause of leaving.
    pub causes_of_leaving: Vec<Question>,
    /// The questions without an answer.
    pub to_ask: Vec<&'static str>,
    /// The first day outside the scheme.
    pub out_from: Option<Date>,
    /// The first day on which it may come back.
    pub return_from: Option<Date>,
    /// How and from when it may leave by its own choice.
    pub leaving_by_choice: String,
    /// The last day of the present VAT period.
    pub usual_last_day: Option<Date>,
}

/// Something to do by a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ActBy {
    /// The day.
    pub on: Date,
    /// What it is, short.
    pub title: &'static str,
    /// What to do, in plain English.
    pub what_to_do: String,
    /// On what authority.
    pub authority: &'static [&'static str],
}

/// The answer of a check of the limits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ThresholdAnswer {
    /// The day from which past and future were seen.
    pub as_of: Date,
    /// The limits.
    pub limits: Limits,
    /// The Flat Rate Scheme's conditions.
    pub eligibility: Eligibility,
    /// Days to act by, in their order.
    pub act_by: Vec<ActBy>,
    /// What the answer leaves out.
    pub cautions: Vec<Cow<'static, str>>,
    /// The law behind it.
    pub law: LawBehind,
    /// Every sum.
    pub workings: Vec<Step>,
}
