//! Which form of an answer the caller takes (RFC 9110 section 12.5.1).

use actix_web::HttpRequest;
use actix_web::http::header::ACCEPT;

use crate::prepared::{JSON, LINES};
use crate::problem::{Problem, ProblemCode};

/// Makes sure that the caller takes JSON.
pub fn accepts_json(request: &HttpRequest) -> Result<(), Problem> {
    accepts(request, JSON)
}

/// Makes sure that the caller takes lines of JSON.
pub fn accepts_lines(request: &HttpRequest) -> Result<(), Problem> {
    accepts(request, LINES)
}

/// Makes sure that the caller takes an answer of this type.
fn accepts(request: &HttpRequest, media_type: &'static str) -> Result<(), Problem> {
    let mut ranges = request.headers().get_all(ACCEPT).peekable();
    if ranges.peek().is_none() {
        return Ok(());
    }
    let (kind, form) = media_type.split_once('/').unwrap_or_default();
    let lists: Vec<&str> = ranges.filter_map(|value| value.to_str().ok()).collect();
    if takes(&lists.join(","), kind, form) {
        Ok(())
    } else {
        Err(Problem::new(
            ProblemCode::NotAcceptable,
            format!("This resource answers with {media_type}, which the Accept header does not allow."),
        ))
    }
}

/// Whether a list of media ranges takes a type. The most exact range decides; a weight of nought refuses.
fn takes(list: &str, kind: &str, form: &str) -> bool {
    if list.trim().is_empty() {
        return true;
    }
    let mut best: Option<(u8, bool)> = None;
    for range in list.split(',') {
        let mut parts = range.split(';').map(str::trim);
        let Some((range_kind, range_form)) = parts.next().and_then(|name| name.split_once('/')) else { continue };
        let exactness = match (range_kind, range_form) {
            ("*", "*") => 0,
            (range_kind, "*") if range_kind.eq_ignore_ascii_case(kind) => 1,
            (range_kind, range_form)
                if range_kind.eq_ignore_ascii_case(kind) && range_form.eq_ignore_ascii_case(form) =>
            {
                2
            }
            _ => continue,
        };
        let refused = parts
            .filter_map(|parameter| parameter.split_once('='))
            .find(|(name, _)| name.trim().eq_ignore_ascii_case("q"))
            .is_some_and(|(_, weight)| is_nought(weight.trim()));
        if best.is_none_or(|(so_far, taken)| exactness > so_far || (exactness == so_far && !taken)) {
            best = Some((exactness, !refused));
        }
    }
    best.is_some_and(|(_, taken)| taken)
}

/// Whether a weight is 0, 0., 0.0 and so on.
fn is_nought(weight: &str) -> bool {
    weight.strip_prefix('0').is_some_and(|rest| rest.chars().all(|character| character == '.' || character == '0'))
}

#[cfg(test)]
mod tests {
    use super::takes;

    #[test]
    fn json_is_taken_by_name_by_kind_and_by_wildcard() {
        for list in [
            "",
            "*/*",
            "application/*",
            "application/json",
            "APPLICATION/JSON",
            "text/html, application/json;q=0.5",
            "application/json; charset=utf-8",
            "text/html,*/*;q=0.1",
        ] {
            assert!(takes(list, "application", "json"), "{list}");
        }
    }

    #[test]
    fn what_does_not_allow_json_refuses_it() {
        for list in [
            "text/html",
            "application/xml, text/*",
            "application/json;q=0",
            "application/json;q=0.000, */*",
            "application/*;q=0, */*",
            "*/*;q=0",
            "json",
        ] {
            assert!(!takes(list, "application", "json"), "{list}");
        }
    }
}
