//! How well a row is supported by what has been read.

use std::fmt;

/// How well the authorities that a row names support it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Evidence {
    /// Read in the legislation itself.
    Law,
    /// Read in HMRC's own guidance.
    OfficialGuidance,
    /// HMRC's wording, known through a quotation of it.
    OfficialGuidanceQuoted,
    /// Professional practice or commentary; no official text was read.
    Practice,
    /// From memory, and still to be compared with an official text.
    Memory,
}

impl Evidence {
    /// Every mark, from the strongest to the weakest.
    pub const ALL: [Evidence; 5] = [
        Evidence::Law,
        Evidence::OfficialGuidance,
        Evidence::OfficialGuidanceQuoted,
        Evidence::Practice,
        Evidence::Memory,
    ];

    /// The word for it in the tables and on the wire.
    pub const fn as_str(self) -> &'static str {
        match self {
            Evidence::Law => "law",
            Evidence::OfficialGuidance => "official_guidance",
            Evidence::OfficialGuidanceQuoted => "official_guidance_quoted",
            Evidence::Practice => "practice",
            Evidence::Memory => "memory",
        }
    }

    /// The mark that a word stands for.
    pub(super) fn from_word(word: &str) -> Option<Evidence> {
        Evidence::ALL.into_iter().find(|mark| mark.as_str() == word)
    }
}

impl fmt::Display for Evidence {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.as_str())
    }
}
