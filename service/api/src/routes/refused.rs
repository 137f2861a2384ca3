//! The calculation's refusals as a problem.

use vat_schemes::law::Law;
use vat_schemes::refusal::{Place, Refusal, RefusalCode, Refusals};

use crate::near::nearest;
use crate::problem::{FieldError, Problem, ProblemCode};

/// The most categories of business that a refusal names.
const MOST_NAMED: usize = 5;

/// The places in the request that refusals name. `sector` tells the category of business that the request gives at a place, and
/// `pointer` where the place stands in the request.
pub(super) fn field_errors<'r>(
    law: &Law,
    Refusals(refusals): Refusals,
    sector: impl Fn(Place) -> Option<&'r str>,
    pointer: impl Fn(Place) -> String,
) -> Vec<FieldError> {
    refusals
        .into_iter()
        .map(|Refusal { place, code, mut detail }| {
            if code == RefusalCode::UnknownSector {
                detail.push_str(&where_to_look(law, sector(place)));
            }
            FieldError { pointer: pointer(place), code: code.into(), detail }
        })
        .collect()
}

/// The problem of a request that gets no answer. What two calculations refuse alike is said once.
pub(super) fn not_accepted(errors: impl IntoIterator<Item = FieldError>) -> Problem {
    let mut each: Vec<FieldError> = Vec::new();
    for error in errors {
        if !each.contains(&error) {
            each.push(error);
        }
    }
    Problem::of_fields(ProblemCode::FiguresNotAccepted, each, false)
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
