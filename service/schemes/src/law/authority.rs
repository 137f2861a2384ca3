//! The texts that rules and figures rest on.

use std::borrow::Borrow;
use std::collections::BTreeSet;
use std::fmt;
use std::sync::{Mutex, PoisonError};

/// The id of an authority, for example `vata-1994-section-26b`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct AuthorityId(&'static str);

impl AuthorityId {
    pub(super) fn new(id: &str) -> AuthorityId {
        AuthorityId(kept(id))
    }

    /// The id as text.
    pub fn as_str(&self) -> &'static str {
        self.0
    }
}

/// The one copy of an id that is kept, for good: every answer cites dozens of them, and tables that are read anew name the same ones.
fn kept(id: &str) -> &'static str {
    static KEPT: Mutex<BTreeSet<&'static str>> = Mutex::new(BTreeSet::new());
    let mut kept = KEPT.lock().unwrap_or_else(PoisonError::into_inner);
    match kept.get(id) {
        Some(known) => known,
        None => {
            let new = Box::leak(Box::<str>::from(id));
            kept.insert(new);
            new
        }
    }
}

impl Borrow<str> for AuthorityId {
    fn borrow(&self) -> &str {
        self.0
    }
}

impl AsRef<str> for AuthorityId {
    fn as_ref(&self) -> &str {
        self.0
    }
}

impl fmt::Display for AuthorityId {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.0)
    }
}

/// What sort of text an authority is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AuthorityKind {
    /// An Act of Parliament.
    Act,
    /// Regulations made under an Act.
    Regulations,
    /// An order made under an Act.
    Order,
    /// A numbered notice of HMRC, or a direction of theirs that has the force of law.
    Notice,
    /// A page of an HMRC manual.
    Manual,
    /// Other official guidance.
    Guidance,
    /// A decision of a court or tribunal.
    Case,
    /// Professional practice or commentary.
    Practice,
    /// A reading that this service adopts where the texts leave room.
    Decision,
}

impl AuthorityKind {
    /// Every kind, from the most to the least binding.
    pub const ALL: [AuthorityKind; 9] = [
        AuthorityKind::Act,
        AuthorityKind::Regulations,
        AuthorityKind::Order,
        AuthorityKind::Notice,
        AuthorityKind::Manual,
        AuthorityKind::Guidance,
        AuthorityKind::Case,
        AuthorityKind::Practice,
        AuthorityKind::Decision,
    ];

    /// The word for it in the tables and on the wire.
    pub const fn as_str(self) -> &'static str {
        match self {
            AuthorityKind::Act => "act",
            AuthorityKind::Regulations => "regulations",
            AuthorityKind::Order => "order",
            AuthorityKind::Notice => "notice",
            AuthorityKind::Manual => "manual",
            AuthorityKind::Guidance => "guidance",
            AuthorityKind::Case => "case",
            AuthorityKind::Practice => "practice",
            AuthorityKind::Decision => "decision",
        }
    }

    /// The kind that a word stands for.
    pub(super) fn from_word(word: &str) -> Option<AuthorityKind> {
        AuthorityKind::ALL.into_iter().find(|kind| kind.as_str() == word)
    }
}

impl fmt::Display for AuthorityKind {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.as_str())
    }
}

/// A text that a rule or a figure rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Authority {
    pub(super) id: AuthorityId,
    pub(super) title: String,
    pub(super) kind: AuthorityKind,
    pub(super) url: Option<String>,
}

impl Authority {
    /// Its id.
    pub fn id(&self) -> &AuthorityId {
        &self.id
    }

    /// What it is and what it is about.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// What sort of text it is.
    pub fn kind(&self) -> AuthorityKind {
        self.kind
    }

    /// Where the text is published, if the address is known.
    pub fn url(&self) -> Option<&str> {
        self.url.as_deref()
    }
}
