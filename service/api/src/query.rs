//! Query parameters: each known, each once.

use actix_web::HttpRequest;
use actix_web::web;

use crate::problem::{FieldError, Problem, ProblemCode};

/// The parameters of a request that passed.
#[derive(Debug)]
pub struct Query(Vec<(String, String)>);

impl Query {
    /// Reads the query, of which only these parameters are known.
    pub fn read(request: &HttpRequest, known: &[&str]) -> Result<Self, Problem> {
        Self::parse(request.query_string(), known)
    }

    fn parse(query: &str, known: &[&str]) -> Result<Self, Problem> {
        let Ok(pairs) = web::Query::<Vec<(String, String)>>::from_query(query) else {
            return Err(Problem::of_query(
                "",
                ProblemCode::QueryNotValid,
                "The query cannot be read: write name=value.",
            ));
        };
        let pairs = pairs.into_inner();
        let mut errors = Vec::new();
        for (position, (name, value)) in pairs.iter().enumerate() {
            let detail = if !known.contains(&name.as_str()) {
                let takes = match known {
                    [] => "It takes none.".to_owned(),
                    known => format!("It takes {}.", known.join(" and ")),
                };
                format!("This resource takes no query parameter {}. {takes}", crate::json::shown(name))
            } else if pairs.iter().take(position).any(|(earlier, _)| earlier == name) {
                format!("{name} stands more than once: give it once.")
            } else if value.contains(char::REPLACEMENT_CHARACTER) || value.chars().any(char::is_control) {
                format!("{name} holds bytes that are no text in UTF-8: encode it in UTF-8.")
            } else {
                continue;
            };
            let shown: String = name.chars().take(100).collect();
            errors.push(FieldError { pointer: format!("?{shown}"), code: ProblemCode::QueryNotValid, detail });
        }
        if errors.is_empty() {
            Ok(Self(pairs))
        } else {
            Err(Problem::of_fields(ProblemCode::RequestNotValid, errors, false))
        }
    }

    /// The value of a parameter that is true or false.
    pub fn boolean(&self, name: &str) -> Result<Option<bool>, Problem> {
        match self.get(name) {
            None => Ok(None),
            Some("true") => Ok(Some(true)),
            Some("false") => Ok(Some(false)),
            Some(other) => Err(Problem::of_query(
                name,
                ProblemCode::QueryNotValid,
                format!("{name} is true or false, and {} is neither.", crate::json::shown(other)),
            )),
        }
    }

    /// The value of a parameter.
    pub fn get(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::Query;
    use crate::problem::ProblemCode;

    #[test]
    fn known_parameters_are_read() {
        let query = Query::parse("on=2026-04-01&q=wine+bar%20", &["on", "q"]).expect("read");
        assert_eq!(query.get("on"), Some("2026-04-01"));
        assert_eq!(query.get("q"), Some("wine bar "));
        assert_eq!(Query::parse("", &[]).expect("read").get("on"), None);
    }

    #[test]
    fn unknown_repeated_and_garbled_ones_are_refused_all_at_once() {
        let problem = Query::parse("date=1&on=2026-04-01&on=2026-04-02&q=%ff", &["on", "q"]).expect_err("refused");
        assert_eq!(problem.code, ProblemCode::QueryNotValid);
        let places: Vec<&str> = problem.errors.iter().map(|error| error.pointer.as_str()).collect();
        assert_eq!(places, ["?date", "?on", "?q"]);
    }
}
