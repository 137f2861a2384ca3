//! The id of a request: the caller's own, where it is fit for a log, else a new one.

use actix_web::http::header::HeaderMap;

use crate::headers::X_REQUEST_ID;

/// The most characters of an id.
const MOST: usize = 64;

/// The id of the request with these headers.
pub fn of(headers: &HeaderMap) -> String {
    let mut given = headers.get_all(X_REQUEST_ID);
    match (given.next().and_then(|value| value.to_str().ok()), given.next()) {
        (Some(id), None) if is_fit(id) => id.to_owned(),
        _ => uuid::Uuid::now_v7().to_string(),
    }
}

/// Letters, digits, points, underscores and hyphens: nothing that could pass for part of a log line.
fn is_fit(id: &str) -> bool {
    (1..=MOST).contains(&id.len())
        && id.bytes().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'_' | b'-'))
}

#[cfg(test)]
mod tests {
    use actix_web::test::TestRequest;

    use super::of;

    fn id(given: &[&str]) -> String {
        let mut request = TestRequest::get();
        for id in given {
            request = request.append_header(("x-request-id", *id));
        }
        of(request.to_http_request().headers())
    }

    #[test]
    fn a_fit_id_is_kept() {
        for given in ["a", "job-7_b.2", &"x".repeat(64)] {
            assert_eq!(id(&[given]), given);
        }
    }

    #[test]
    fn any_other_is_replaced_by_a_new_one() {
        for given in [&[][..], &[""], &["a b"], &["a\"b"], &["é"], &["a", "b"], &[&"x".repeat(65)]] {
            assert!(uuid::Uuid::try_parse(&id(given)).is_ok_and(|id| id.get_version_num() == 7), "{given:?}");
        }
        assert_ne!(id(&[]), id(&[]));
    }
}
