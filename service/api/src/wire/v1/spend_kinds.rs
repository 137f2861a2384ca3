//! Answers about the kinds of spend.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::figures::Spend;
use vat_schemes::spend;

use super::scalars::AuthorityId;
use super::vocabulary::{FlatRateClaim, Recovery, Relevance, SpendKind};

/// Every kind of spend, and what the law makes of each.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SpendKindList {
    /// The kinds, in the order of the API document.
    #[schema(max_items = 1000)]
    pub items: Vec<SpendKindRules>,
}

/// What the law makes of a kind of spend, for purchases from suppliers who charge whatever VAT there is.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SpendKindRules {
    /// Its word.
    pub id: SpendKind,
    /// What belongs to it.
    #[schema(max_length = 400)]
    pub name: &'static str,
    /// Whether it counts as relevant goods in the goods test.
    pub relevant_goods: Relevance,
    /// Why.
    #[schema(max_length = 1000)]
    pub relevant_goods_reason: &'static str,
    /// What standard accounting recovers of its VAT, before business use and partial exemption.
    pub standard_recovery: Recovery,
    /// Why.
    #[schema(max_length = 1000)]
    pub standard_recovery_reason: &'static str,
    /// What a flat rate user claims on it.
    pub flat_rate_claim: FlatRateClaim,
    /// Why.
    #[schema(max_length = 1000)]
    pub flat_rate_claim_reason: &'static str,
    /// On what authority, for all three.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: Vec<&'static str>,
}

impl SpendKindList {
    /// All kinds.
    pub fn all() -> Self {
        Self { items: Spend::ALL.iter().copied().map(Into::into).collect() }
    }
}

impl From<Spend> for SpendKindRules {
    fn from(kind: Spend) -> Self {
        let rules = spend::rules(kind);
        let mut authority = Vec::new();
        for id in [rules.relevance.authority, rules.recovery.authority, rules.claim.authority].into_iter().flatten() {
            if !authority.contains(id) {
                authority.push(*id);
            }
        }
        Self {
            id: SpendKind(kind),
            name: rules.name,
            relevant_goods: Relevance(rules.relevance.finding),
            relevant_goods_reason: rules.relevance.reason,
            standard_recovery: Recovery(rules.recovery.finding),
            standard_recovery_reason: rules.recovery.reason,
            flat_rate_claim: FlatRateClaim(rules.claim.finding),
            flat_rate_claim_reason: rules.claim.reason,
            authority,
        }
    }
}
