//! Trades, and the category of business in which a source puts each.

use super::authority::AuthorityId;
use super::evidence::Evidence;

/// A trade that a source puts in a category. It is what the source says, not a ruling: the business chooses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trade {
    pub(super) name: String,
    pub(super) authority: Vec<AuthorityId>,
    pub(super) evidence: Evidence,
    pub(super) note: Option<String>,
    // The name's words in lower case, for searching.
    pub(super) words: Vec<String>,
}

impl Trade {
    /// The trade.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The sources that put it in the category.
    pub fn authority(&self) -> &[AuthorityId] {
        &self.authority
    }

    /// How well they support it.
    pub fn evidence(&self) -> Evidence {
        self.evidence
    }

    /// What a reader should know besides.
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }
}
