//! The request for dates. The schemas state every bound; `decode` keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;

use super::dates_vocabulary::{EventKind, Instalments, Nation, ReturnPeriods};
use super::request::GivenPeriod;
use super::scalars::{GivenAmount, GivenDate, Reference, UnsignedAmount};

/// The most VAT periods that are listed: monthly ones of five years.
pub const MAX_PERIODS: usize = 60;
/// The most events.
pub const MAX_EVENTS: usize = 100;

/// What dates are asked for: a window of time, the facts of the business that dates turn on, and what has happened. Unknown fields are
/// refused, and so is `null`: leave out what does not apply.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DatesRequest {
    /// The caller's own name for the business; it comes back in the answer, and names the business in a calendar, where it keeps the entries
    /// of one client apart from those of another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The first day of the window: 2011-01-04 or later.
    pub from: GivenDate,
    /// Its last day: less than five years after the first.
    pub until: GivenDate,
    /// The business.
    pub business: DatesBusiness,
    /// What has happened that starts a time. Absent means nothing.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub events: Vec<GivenEvent>,
}

/// The facts of the business that dates turn on. Exactly one of `return_periods`, `annual_accounting` and `vat_periods` is given.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DatesBusiness {
    /// Effective date of registration: the first VAT period begins with it.
    pub registered_on: GivenDate,
    /// Whose bank holidays are no working days.
    pub nation: Nation,
    /// HMRC's ordinary VAT periods.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub return_periods: Option<ReturnPeriods>,
    /// Annual accounting: one return a year.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub annual_accounting: Option<GivenAnnualAccounting>,
    /// VAT periods agreed otherwise, in order. No due date is worked out for one that ends inside a month.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_items = 60)]
    pub vat_periods: Option<Vec<GivenPeriod>>,
    /// The first day in the Flat Rate Scheme. Absent: the business is not in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat_rate_from: Option<GivenDate>,
    /// The last day in it. Absent: it goes on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat_rate_until: Option<GivenDate>,
    /// The day on which HMRC were told of the liability to be registered, if later than registration (VAT Regulations 1995 regulation
    /// 55JB).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liability_notified_on: Option<GivenDate>,
}

/// Annual accounting (VAT Regulations 1995 regulations 49 to 55).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenAnnualAccounting {
    /// The last day of any of its years; the others end on the same day, or on the last day of the same month.
    pub year_ends_on: GivenDate,
    /// The first day in the scheme. Absent: the day of registration.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<GivenDate>,
    /// How the instalments are paid.
    pub instalments: Instalments,
    /// The VAT of a year, where the amounts of the instalments are asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liability: Option<GivenLiability>,
}

/// The VAT of a year of annual accounting.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenLiability {
    /// What was expected, in pounds.
    pub expected: UnsignedAmount,
    /// What the return came to, in pounds; negative for a repayment. Absent: not known yet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub actual: Option<GivenAmount>,
}

/// Something that happened, and its day.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenEvent {
    /// What happened, and which day is meant.
    pub kind: EventKind,
    /// That day.
    pub on: GivenDate,
}
