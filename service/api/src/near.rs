//! The nearest of the known names, for a message that says what was probably meant.

/// The known name most like the given one, if it is like it at all.
pub fn nearest<'k>(given: &str, known: impl Iterator<Item = &'k str>) -> Option<&'k str> {
    // A long text is no misspelt name, and comparing it would cost time for nothing.
    if given.len() > 100 {
        return None;
    }
    known
        .map(|name| (strsim::jaro_winkler(given, name), name))
        .filter(|(likeness, _)| *likeness >= 0.8)
        .max_by(|(one, _), (other, _)| one.total_cmp(other))
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_of_the_pen_is_recognised() {
        let known = ["net", "vat", "gross", "treatment"];
        assert_eq!(nearest("nett", known.into_iter()), Some("net"));
        assert_eq!(nearest("treatmnet", known.into_iter()), Some("treatment"));
    }

    #[test]
    fn a_stranger_is_not() {
        assert_eq!(nearest("colour", ["net", "vat"].into_iter()), None);
        assert_eq!(nearest(&"n".repeat(1000), ["net"].into_iter()), None);
    }
}
