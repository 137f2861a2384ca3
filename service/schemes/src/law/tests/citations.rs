//! What is cited is there, and what is there is cited.

use std::collections::BTreeSet;

use super::law;
use crate::law::{AuthorityId, AuthorityKind, rule};

#[test]
fn every_authority_that_a_rule_may_cite_can_be_looked_up() {
    let law = law();
    for id in rule::ALL {
        assert_eq!(law.authority(id).map(|authority| authority.id().as_str()), Some(*id));
    }
}

#[test]
fn every_authority_is_cited_by_a_table_or_by_a_rule() {
    let law = law();
    let mut cited: BTreeSet<&str> = rule::ALL.iter().copied().collect();
    for parameter in law.parameters() {
        for row in parameter.history() {
            cited.extend(row.authority.iter().map(AuthorityId::as_str));
        }
    }
    for sector in law.sectors() {
        let rows = sector.history().rows().iter().flat_map(|row| &row.authority);
        let trades = sector.trades().iter().flat_map(|trade| trade.authority());
        cited.extend(rows.chain(trades).map(AuthorityId::as_str));
    }
    cited.extend(law.bank_holidays().authority().map(AuthorityId::as_str));
    let known: BTreeSet<&str> = law.authorities().map(|authority| authority.id().as_str()).collect();
    assert_eq!(known.difference(&cited).collect::<Vec<_>>(), Vec::<&&str>::new());
}

#[test]
fn the_readings_of_this_service_are_marked_as_such() {
    let law = law();
    for authority in law.authorities() {
        let named_so = authority.id().as_str().starts_with("decision-");
        assert_eq!(authority.kind() == AuthorityKind::Decision, named_so, "{}", authority.id());
        // A reading is ours: it has no official address, and it is a whole sentence.
        if named_so {
            assert_eq!(authority.url(), None, "{}", authority.id());
            assert!(authority.title().ends_with('.'), "{}", authority.id());
        }
    }
    let practice = law.authority(rule::COMMON_PRACTICE).expect("common practice");
    assert_eq!((practice.title(), practice.kind()), ("Common practice, no source", AuthorityKind::Practice));
}

#[test]
fn constants_are_named_after_their_ids() {
    assert_eq!(rule::VATA_1994_SECTION_26B, "vata-1994-section-26b");
    assert_eq!(rule::VAT_REGULATIONS_1995_REGULATION_106ZA, "vat-regulations-1995-regulation-106za");
    let unique: BTreeSet<&str> = rule::ALL.iter().copied().collect();
    assert_eq!(unique.len(), rule::ALL.len());
}
