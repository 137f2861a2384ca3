//! Which form of an answer the caller takes (RFC 9110 section 12.5.1).

use actix_web::HttpRequest;
use actix_web::http::header::ACCEPT;

use crate::calendar::CALENDAR;
use crate::prepared::{JSON, LINES};
use crate::problem::{Problem, ProblemCode};

/// A form in which an answer can be given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// JSON.
    Json,
    /// Lines of JSON.
    Lines,
    /// An iCalendar text.
    Calendar,
}

impl Form {
    /// Its media type.
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Json => JSON,
            Self::Lines => LINES,
            Self::Calendar => CALENDAR,
        }
    }
}

/// Makes sure that the caller takes JSON.
pub fn accepts_json(request: &HttpRequest) -> Result<(), Problem> {
    chosen(request, &[Form::Json]).map(|_| ())
}

/// Makes sure that the caller takes lines of JSON.
pub fn accepts_lines(request: &HttpRequest) -> Result<(), Problem> {
    chosen(request, &[Form::Lines]).map(|_| ())
}

/// The form that the caller prefers of those that there are; of forms that it likes as much, the one that stands first.
pub fn chosen(request: &HttpRequest, forms: &[Form]) -> Result<Form, Problem> {
    let lists: Vec<&str> = request.headers().get_all(ACCEPT).filter_map(|value| value.to_str().ok()).collect();
    best(&lists.join(","), forms).ok_or_else(|| {
        let media_types: Vec<&str> = forms.iter().map(|form| form.media_type()).collect();
        Problem::new(
            ProblemCode::NotAcceptable,
            format!("This resource answers with {}, which the Accept header does not allow.", media_types.join(" or ")),
        )
    })
}

fn best(list: &str, forms: &[Form]) -> Option<Form> {
    let mut best: Option<(u16, Form)> = None;
    for form in forms {
        let weight = weight(list, form.media_type());
        if weight > best.map_or(0, |(so_far, _)| so_far) {
            best = Some((weight, *form));
        }
    }
    best.map(|(_, form)| form)
}

/// How much a list of media ranges likes a type, in thousandths; nought refuses it. The most exact range decides, and of ranges alike the one
/// that likes it best.
fn weight(list: &str, media_type: &str) -> u16 {
    if list.trim().is_empty() {
        return ALL;
    }
    let Some((kind, form)) = media_type.split_once('/') else { return 0 };
    let mut best: Option<(u8, u16)> = None;
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
        let weight = parts
            .filter_map(|parameter| parameter.split_once('='))
            .find(|(name, _)| name.trim().eq_ignore_ascii_case("q"))
            .map_or(ALL, |(_, weight)| thousandths(weight.trim()));
        best = best.max(Some((exactness, weight)));
    }
    best.map_or(0, |(_, weight)| weight)
}

/// The weight of a range that states none.
const ALL: u16 = 1000;

/// A weight such as 0.5 in thousandths; one that is not of the form of RFC 9110 counts in full.
fn thousandths(weight: &str) -> u16 {
    let (whole, decimals) = weight.split_once('.').unwrap_or((weight, ""));
    match (whole, decimals.bytes().all(|digit| digit.is_ascii_digit())) {
        ("0", true) => format!("{decimals:0<3}").get(..3).and_then(|digits| digits.parse().ok()).unwrap_or(ALL),
        _ => ALL,
    }
}

#[cfg(test)]
mod tests {
    use super::{Form, best, weight};

    fn takes(list: &str) -> bool {
        best(list, &[Form::Json]).is_some()
    }

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
            assert!(takes(list), "{list}");
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
            assert!(!takes(list), "{list}");
        }
    }

    #[test]
    fn the_form_that_is_liked_best_is_chosen_and_the_first_of_equals() {
        let both = [Form::Json, Form::Calendar];
        for (list, chosen) in [
            ("", Some(Form::Json)),
            ("*/*", Some(Form::Json)),
            ("text/calendar", Some(Form::Calendar)),
            ("Text/Calendar; charset=utf-8", Some(Form::Calendar)),
            ("text/*", Some(Form::Calendar)),
            ("application/json, text/calendar", Some(Form::Json)),
            ("application/json;q=0.5, text/calendar", Some(Form::Calendar)),
            ("application/json;q=0.5, text/calendar;q=0.501", Some(Form::Calendar)),
            ("application/json;q=0.5, text/calendar;q=0.5", Some(Form::Json)),
            ("text/calendar, */*;q=0.1", Some(Form::Calendar)),
            ("text/calendar;q=0, */*", Some(Form::Json)),
            ("application/json;q=0, */*;q=0.2", Some(Form::Calendar)),
            ("*/*;q=0.2, text/*;q=0.3, text/calendar;q=0.1", Some(Form::Json)),
            ("text/html", None),
            ("*/*;q=0", None),
            ("application/json;q=0, text/calendar;q=0.000", None),
        ] {
            assert_eq!(best(list, &both), chosen, "{list}");
        }
    }

    #[test]
    fn weights_are_thousandths() {
        for (q, expected) in [
            ("0", 0),
            ("0.", 0),
            ("0.0000", 0),
            ("0.1", 100),
            ("0.05", 50),
            ("0.999", 999),
            ("1", 1000),
            ("1.000", 1000),
            ("x", 1000),
        ] {
            assert_eq!(weight(&format!("text/calendar;q={q}"), "text/calendar"), expected, "{q}");
        }
    }
}
