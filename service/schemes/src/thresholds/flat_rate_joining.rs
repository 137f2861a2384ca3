//! Joining the Flat Rate Scheme: the year ahead (VAT Regulations 1995 reg 55L(1)(a)(i), (2)).

use crate::law::{ParameterId, rule as cite};
use crate::refusal::Refusal;

use super::answer::{Limit, LimitCheck, Outcome};
use super::context::{Context, needed};
use super::months::Measure;

const LIMIT: (ParameterId, &str) = (ParameterId::FrsJoinTaxableTurnover, "Limit for joining the Flat Rate Scheme");
const JOINING: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_55L, cite::VATA_1994_SECTION_26B];

/// Taxable supplies of the year ahead without VAT, not more than the limit.
pub(super) fn joining(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::FlatRateJoining;
    if context.in_scheme() && !context.starting {
        return Ok(LimitCheck::not_applicable(limit, "The business uses the scheme.", JOINING));
    }
    let as_of = context.as_of();
    let Some((figure, basis)) = context.year_ahead(Measure::Taxable, as_of)? else {
        return Ok(LimitCheck::not_checked(limit, &[needed::NEXT_YEAR_TAXABLE], JOINING));
    };
    let tested = context.test(LIMIT, (as_of, basis), figure)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        ..LimitCheck::new(limit, tested.status(), Outcome::MayJoin, String::new(), JOINING)
    };
    if tested.is_over() {
        check.outcome = Outcome::MayNotJoin;
        check.finding = "Taxable supplies of the year ahead, without VAT, are more than the limit: the business may not join the scheme.".to_owned();
        check.what_to_do = "Stay with standard accounting. Look again when the forecast falls.".to_owned();
    } else {
        check.finding = "Taxable supplies of the year ahead, without VAT, are not more than the limit: as far as this limit goes the business may join."
            .to_owned();
        check.what_to_do = "Tell HMRC before the VAT period in which the scheme is to start, keep the forecast and what it rests on, and answer the other \
                            conditions of the scheme."
            .to_owned();
    }
    Ok(check)
}
