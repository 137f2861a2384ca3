//! The trace that a request belongs to (W3C Trace Context).

use actix_web::http::header::HeaderMap;

/// The caller's own place in a trace, as hexadecimal digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TraceParent<'a> {
    /// The trace, 32 digits.
    pub trace: &'a str,
    /// The caller's span, 16 digits.
    pub span: &'a str,
    /// Its flags, 2 digits; the last bit says that the trace is recorded.
    pub flags: &'a str,
}

/// What a valid `traceparent` says; a malformed one is as good as none.
pub fn of(headers: &HeaderMap) -> Option<TraceParent<'_>> {
    let mut given = headers.get_all("traceparent");
    match (given.next(), given.next()) {
        (Some(value), None) => parse(value.to_str().ok()?),
        _ => None,
    }
}

fn parse(traceparent: &str) -> Option<TraceParent<'_>> {
    let mut parts = traceparent.splitn(5, '-');
    let (version, trace, span, flags, rest) =
        (parts.next()?, parts.next()?, parts.next()?, parts.next()?, parts.next());
    let well_formed = is_hexadecimal(version, 2)
        && version != "ff"
        && is_hexadecimal(trace, 32)
        && is_hexadecimal(span, 16)
        && is_hexadecimal(flags, 2)
        // Only later versions may say more.
        && (version != "00" || rest.is_none());
    let not_nought = |id: &str| id.bytes().any(|byte| byte != b'0');
    (well_formed && not_nought(trace) && not_nought(span)).then_some(TraceParent { trace, span, flags })
}

fn is_hexadecimal(text: &str, length: usize) -> bool {
    text.len() == length && text.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte))
}

#[cfg(test)]
mod tests {
    use super::{TraceParent, parse};

    const TRACE: &str = "4bf92f3577b34da6a3ce929d0e0e4736";

    #[test]
    fn valid_ones_are_read() {
        for (given, flags) in [
            (format!("00-{TRACE}-00f067aa0ba902b7-01"), "01"),
            (format!("00-{TRACE}-00f067aa0ba902b7-00"), "00"),
            (format!("cc-{TRACE}-00f067aa0ba902b7-01-what-comes-later"), "01"),
        ] {
            assert_eq!(parse(&given), Some(TraceParent { trace: TRACE, span: "00f067aa0ba902b7", flags }), "{given}");
        }
    }

    #[test]
    fn malformed_ones_are_not() {
        for given in [
            String::new(),
            "00".to_owned(),
            format!("00-{TRACE}-00f067aa0ba902b7"),
            format!("00-{TRACE}-00f067aa0ba902b7-01-more"),
            format!("ff-{TRACE}-00f067aa0ba902b7-01"),
            format!("00-{}-00f067aa0ba902b7-01", TRACE.to_uppercase()),
            format!("00-{}-00f067aa0ba902b7-01", "0".repeat(32)),
            format!("00-{TRACE}-{}-01", "0".repeat(16)),
            format!("00-{TRACE}0-00f067aa0ba902b7-01"),
        ] {
            assert_eq!(parse(&given), None, "{given}");
        }
    }
}
