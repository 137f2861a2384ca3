//! The words of a check of the limits, with their descriptions for the API document.

use serde::{Serialize, Serializer};
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::Schema;
use vat_schemes::thresholds as calculated;

use super::vocabulary::{vocabulary, word_schema};

vocabulary! {
    /// Whether a month's figures are those of the books.
    MonthBasis of calculated::Basis, in calculated::Basis::ALL, extensible: false {
        calculated::Basis::Actual => "from the books",
        calculated::Basis::Forecast => "expected",
    }
}

vocabulary! {
    /// A limit.
    LimitName of calculated::Limit, in calculated::Limit::ALL, extensible: true {
        calculated::Limit::RegistrationPastYear => "liability to be registered: taxable supplies of the twelve months to each month end (VATA 1994 Schedule 1 paragraph 1(1)(a))",
        calculated::Limit::RegistrationNextThirtyDays => "liability to be registered: taxable supplies of the next thirty days alone (paragraph 1(1)(b))",
        calculated::Limit::RegistrationException => "the exception where the year ahead stays within the deregistration limit (paragraph 1(3))",
        calculated::Limit::Deregistration => "ending a registration by choice: the year ahead (paragraph 4)",
        calculated::Limit::GoodsOnHand => "VAT on goods on hand when a registration ends (VATA 1994 Schedule 4 paragraph 8)",
        calculated::Limit::FlatRateJoining => "joining the Flat Rate Scheme: taxable supplies of the year ahead (VAT Regulations 1995 regulation 55L)",
        calculated::Limit::FlatRateLeavingAnniversary => "leaving it: income with VAT of the year to each anniversary of the start (regulation 55M(1)(a))",
        calculated::Limit::FlatRateRunningIncome => "early warning between anniversaries: income with VAT of the twelve months to each month end; nothing is crossed by it",
        calculated::Limit::FlatRateLeavingNextThirtyDays => "leaving it: income of the next thirty days alone (regulation 55M(1)(b))",
        calculated::Limit::FlatRateStaying => "staying in it after an anniversary: income of the year ahead (regulation 55M(2))",
        calculated::Limit::CashAccountingJoining => "joining cash accounting: taxable supplies of the year ahead (regulation 58)",
        calculated::Limit::CashAccountingLeaving => "leaving it: the twelve months to the end of a VAT period (regulation 60)",
        calculated::Limit::AnnualAccountingJoining => "joining annual accounting: taxable supplies of the year ahead (regulation 52)",
        calculated::Limit::AnnualAccountingLeaving => "leaving it: the accounting year (regulation 53)",
    }
}

vocabulary! {
    /// How a figure stands to its limit. Exactly the limit is not over it; close is within a tenth of it, a measure of this service.
    LimitStatus of calculated::Status, in calculated::Status::ALL, extensible: true {
        calculated::Status::Clear => "below the limit by more than a tenth",
        calculated::Status::Close => "not over the limit, but within a tenth of it; or an early warning",
        calculated::Status::Crossed => "over the limit",
        calculated::Status::Expected => "not over the limit yet, but over it by the forecast or at the present run",
        calculated::Status::NotChecked => "figures are wanting: figures_needed says which",
        calculated::Status::NotApplicable => "the limit says nothing to this business now",
    }
}

vocabulary! {
    /// What follows, as far as this limit goes. HMRC and a qualified adviser decide.
    LimitOutcome of calculated::Outcome, in calculated::Outcome::ALL, extensible: true {
        calculated::Outcome::MustRegister => "liable to be registered; with the status expected, if the figures come true",
        calculated::Outcome::NeedNotRegister => "not liable by this test",
        calculated::Outcome::NoLimit => "there is no limit for this business: refer",
        calculated::Outcome::MayAskForException => "HMRC may except it from registration",
        calculated::Outcome::NoException => "no exception",
        calculated::Outcome::MayDeregister => "it may ask HMRC to end its registration",
        calculated::Outcome::MayNotDeregister => "it may not",
        calculated::Outcome::VatDueOnGoods => "VAT on goods on hand would be due",
        calculated::Outcome::NoVatDueOnGoods => "no VAT on goods on hand would be due",
        calculated::Outcome::MayJoin => "it may join",
        calculated::Outcome::MayNotJoin => "it may not join",
        calculated::Outcome::MustLeave => "its use of the scheme ends; with the status expected, if the figures come true",
        calculated::Outcome::Stays => "it stays",
        calculated::Outcome::MayAskToStay => "HMRC may let it stay",
        calculated::Outcome::MayNotAskToStay => "it cannot stay",
        calculated::Outcome::Nothing => "nothing is known, or nothing follows",
    }
}

vocabulary! {
    /// How the future is seen.
    OutlookMethod of calculated::Method, in calculated::Method::ALL, extensible: true {
        calculated::Method::OwnForecast => "the caller's own forecast",
        calculated::Method::TrailingThreeMonths => "the average of the last three actual months goes on: an estimate",
        calculated::Method::TrailingTwelveMonths => "the average of the last twelve actual months goes on: an estimate",
    }
}

vocabulary! {
    /// The answer to a question of fact, as far as the request tells.
    FactAnswer of calculated::Answer, in calculated::Answer::ALL, extensible: true {
        calculated::Answer::Yes => "yes",
        calculated::Answer::No => "no",
        calculated::Answer::NotKnown => "not known: to be asked",
    }
}

vocabulary! {
    /// What an answer means for the use of the scheme.
    FactBearing of calculated::Bearing, in calculated::Bearing::ALL, extensible: true {
        calculated::Bearing::NoObstacle => "it stands in the way of nothing",
        calculated::Bearing::Obstacle => "it keeps the business out, or ends its use",
        calculated::Bearing::Open => "open until the question is answered",
    }
}
