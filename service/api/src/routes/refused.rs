//! The calculation's refusals as a problem.

use vat_schemes::law::Law;
use vat_schemes::refusal::{Place, Refusal, RefusalCode, Refusals};

use crate::near::nearest;
use crate::problem::{FieldError, Problem, ProblemCode};

/// The most categories of business that a refusal names.
const MOST_NAMED: usize = 5;

/// The problem that refusals make. `sector` tells the category of business that the request gives at a place.
pub(super) fn refused<'r>(
    law: &Law,
    Refusals(refusals): Refusals,
    sector: impl Fn(Place) -> Option<&'r str>,
) -> Problem {
    let errors = refusals.into_iter().map(|refusal| field_error(law, refusal, &sector)).collect();
    Problem::of_fields(ProblemCode::FiguresNotAccepted, errors, false)
}

fn field_error<'r>(law: &Law, refusal: Refusal, sector: impl Fn(Place) -> Option<&'r str>) -> FieldError {
    let mut detail = refusal.detail;
    if refusal.code == RefusalCode::UnknownSector {
        detail.push_str(&where_to_look(law, sector(refusal.place)));
    }
    FieldError { pointer: refusal.place.to_string(), code: refusal.code.into(), detail }
}

/// The categories that may have been meant: by the likeness of the id, or by the trade that its words name.
fn where_to_look(law: &Law, given: Option<&str>) -> String {
    let near = given.and_then(|id| nearest(id, law.sectors().map(|sector| sector.id())));
    if let Some(near) = near {
        return format!(" Near it is \"{near}\"; GET /v1/sectors lists all.");
    }
    let of_trade = given.map(|id| law.find_sectors(id)).unwrap_or_default();
    if of_trade.is_empty() || of_trade.len() > MOST_NAMED {
        return " GET /v1/sectors lists all; with ?q= and words of the trade, those that it may belong to.".to_owned();
    }
    let ids: Vec<String> = of_trade.iter().map(|found| format!("\"{}\"", found.sector.id())).collect();
    format!(" Words of a trade lead to {}; GET /v1/sectors lists all.", ids.join(", "))
}

#[cfg(test)]
mod tests {
    use super::where_to_look;
    use crate::test_support::law;

    #[test]
    fn an_unknown_category_leads_to_known_ones() {
        let law = law();
        for (given, part) in [
            ("management-consulting", "\"management-consultancy\""),
            ("hairdressers", "\"hairdressing-or-other-beauty-treatment-services\""),
            ("zzz", "?q="),
        ] {
            let sentence = where_to_look(&law, Some(given));
            assert!(sentence.contains(part) && sentence.starts_with(' ') && sentence.ends_with('.'), "{sentence}");
        }
    }
}
