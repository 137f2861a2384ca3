//! Cutting a stream of bytes into lines.

use actix_web::web::{Bytes, BytesMut};

/// A line that is not blank.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Line {
    /// Its number, from 1; blank lines count.
    pub number: u64,
    /// What it holds; none where it is longer than a line may be.
    pub text: Option<Bytes>,
}

/// Cuts bytes into lines. It keeps what has come of a line that has not ended, and no more than a line may have.
#[derive(Debug)]
pub(super) struct Lines {
    most_bytes: usize,
    kept: BytesMut,
    /// How much of what is kept holds no end of a line.
    searched: usize,
    /// Whether the rest of a line that is too long is being passed over.
    passing_over: bool,
    number: u64,
    /// Lines without anything but white space.
    pub blank: u64,
}

impl Lines {
    /// Lines of so many bytes at most.
    pub fn new(most_bytes: usize) -> Self {
        Self { most_bytes, kept: BytesMut::new(), searched: 0, passing_over: false, number: 0, blank: 0 }
    }

    /// Takes in bytes.
    pub fn push(&mut self, bytes: &[u8]) {
        self.kept.extend_from_slice(bytes);
    }

    /// How many bytes are kept.
    #[cfg(test)]
    pub fn kept(&self) -> usize {
        self.kept.len()
    }

    /// The next line that has ended and is not blank.
    pub fn next_ended(&mut self) -> Option<Line> {
        loop {
            let Some(end) = memchr::memchr(b'\n', &self.kept[self.searched..]) else {
                self.searched = self.kept.len();
                if self.passing_over || self.kept.len() > self.most_bytes {
                    self.passing_over = true;
                    self.kept.clear();
                    self.searched = 0;
                }
                return None;
            };
            let mut text = self.kept.split_to(self.searched + end + 1);
            text.truncate(text.len() - 1);
            self.searched = 0;
            if let Some(line) = self.line(text) {
                return Some(line);
            }
        }
    }

    /// What stands after the last end of a line, where it is not blank. Nothing may be taken in after it.
    pub fn last(&mut self) -> Option<Line> {
        let text = self.kept.split();
        self.searched = 0;
        if text.is_empty() && !self.passing_over { None } else { self.line(text) }
    }

    fn line(&mut self, text: BytesMut) -> Option<Line> {
        self.number += 1;
        let number = self.number;
        if std::mem::take(&mut self.passing_over) || text.len() > self.most_bytes {
            return Some(Line { number, text: None });
        }
        if text.iter().all(u8::is_ascii_whitespace) {
            self.blank += 1;
            return None;
        }
        Some(Line { number, text: Some(text.freeze()) })
    }
}

#[cfg(test)]
mod tests {
    use super::Lines;

    /// The lines of a text that comes in pieces of so many bytes.
    fn cut(text: &str, piece: usize, most_bytes: usize) -> (Vec<(u64, Option<String>)>, u64) {
        let mut lines = Lines::new(most_bytes);
        let mut found = Vec::new();
        let mut take = |line: super::Line| {
            found.push((line.number, line.text.map(|text| String::from_utf8(text.to_vec()).expect("UTF-8"))));
        };
        for piece in text.as_bytes().chunks(piece) {
            lines.push(piece);
            while let Some(line) = lines.next_ended() {
                take(line);
            }
            assert!(lines.kept() <= most_bytes, "a line that is too long is not kept");
        }
        if let Some(line) = lines.last() {
            take(line);
        }
        (found, lines.blank)
    }

    fn line(number: u64, text: &str) -> (u64, Option<String>) {
        (number, Some(text.to_owned()))
    }

    #[test]
    fn lines_are_the_same_however_they_come() {
        let text = "one\n\n  \r\ntwo\r\n123456789012\nthree";
        let expected = vec![line(1, "one"), line(4, "two\r"), (5, None), line(6, "three")];
        for piece in 1..=text.len() {
            assert_eq!(cut(text, piece, 10), (expected.clone(), 2), "in pieces of {piece}");
        }
    }

    #[test]
    fn a_line_of_the_most_bytes_is_taken_and_one_more_is_too_long() {
        for piece in 1..=12 {
            assert_eq!(cut("1234567890\n", piece, 10).0, [line(1, "1234567890")]);
            assert_eq!(cut("12345678901\n", piece, 10).0, [(1, None)]);
            assert_eq!(cut("12345678901", piece, 10).0, [(1, None)]);
            assert_eq!(cut("1234567890", piece, 10).0, [line(1, "1234567890")]);
        }
    }

    #[test]
    fn nothing_is_no_line() {
        assert_eq!(cut("", 1, 10), (vec![], 0));
        assert_eq!(cut("\n", 1, 10), (vec![], 1));
        assert_eq!(cut("\n ", 1, 10), (vec![], 2));
        assert_eq!(cut("a\n", 1, 10), (vec![line(1, "a")], 0));
    }
}
