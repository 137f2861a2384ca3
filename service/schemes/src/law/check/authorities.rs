//! The table of authorities.

use super::findings::{File, Findings};
use crate::law::authority::{Authority, AuthorityId, AuthorityKind};
use crate::law::rule;
use crate::law::tables::AuthoritiesTable;

const FILE: File = File::Authorities;

/// Every authority, by id. Each id may be cited from then on, whatever else is wrong with its entry.
pub(super) fn read(findings: &mut Findings, table: AuthoritiesTable) -> Vec<Authority> {
    let mut authorities: Vec<Authority> = Vec::with_capacity(table.authority.len());
    findings.known_authorities = Some(table.authority.iter().map(|entry| AuthorityId::new(&entry.id)).collect());
    for entry in table.authority {
        let id = entry.id.as_str();
        findings.id(FILE, id, '-');
        findings.text(FILE, Some(id), "title", &entry.title);
        if let Some(url) = &entry.url
            && (!url.starts_with("https://") || url.contains(char::is_whitespace))
        {
            findings.add(FILE, Some(id), format!("url \"{url}\" is no https address"));
        }
        let Some(kind) = AuthorityKind::from_word(&entry.kind) else {
            let words = AuthorityKind::ALL.map(AuthorityKind::as_str).join(", ");
            findings.add(FILE, Some(id), format!("kind \"{}\" is none of {words}", entry.kind));
            continue;
        };
        authorities.push(Authority { id: AuthorityId::new(id), title: entry.title, kind, url: entry.url });
    }
    authorities.sort_by_key(|authority| authority.id);
    for pair in authorities.windows(2) {
        if let [first, second] = pair
            && first.id == second.id
        {
            findings.add(FILE, Some(first.id.as_str()), "the id stands twice");
        }
    }
    authorities
}

/// The rules' own citations are in the table too, so that no answer cites what cannot be looked up.
pub(super) fn check_rules(findings: &mut Findings) {
    let missing: Vec<&str> = match &findings.known_authorities {
        Some(known) => rule::ALL.iter().copied().filter(|id| !known.contains(*id)).collect(),
        None => Vec::new(),
    };
    for id in missing {
        findings.add(FILE, Some(id), "a rule cites it, but it is missing");
    }
}
