//! Published cases: what was asked, what comes out, and where it is published.

use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::ToSchema;
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::Schema;

use super::vocabulary::word_schema;

/// Published cases that this build reproduces.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct WorkedExampleList {
    /// The cases found, by id.
    #[schema(max_items = 10000)]
    pub items: Vec<WorkedExample>,
}

/// A published case that this build reproduces: send `request` to `path`, and every member of `expected` is in the answer.
#[derive(Clone, Debug, Serialize, Deserialize, ToSchema)]
pub struct WorkedExample {
    /// Its id, which never changes.
    #[schema(max_length = 100, pattern = "^[a-z0-9_-]+$")]
    pub id: String,
    /// The case in a line.
    #[schema(max_length = 200)]
    pub title: String,
    /// What it is about: a word of the query parameter `topic`; more may come.
    #[schema(max_length = 64, pattern = "^[a-z-]+$")]
    pub topic: String,
    /// Where to send the request.
    #[serde(default = "comparisons")]
    #[schema(max_length = 100)]
    pub path: String,
    /// The body to send.
    #[schema(value_type = Object)]
    pub request: Value,
    /// The status of the answer.
    #[serde(default = "answered")]
    #[schema(minimum = 200, maximum = 599)]
    pub status: u16,
    /// What to find in the answer: every member named here with this value, a list with as many entries, and no value where `null` stands.
    #[schema(value_type = Object)]
    pub expected: Value,
    /// Where the case, or the rule that it shows, is published.
    #[schema(max_length = 500)]
    pub source: String,
    /// The address of the source; absent where there is no official one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 500, pattern = "^https?://")]
    pub url: Option<String>,
    /// How well the source supports the figures: a word of the query parameter `evidence`; more may come.
    #[schema(max_length = 64, pattern = "^[a-z]+$")]
    pub evidence: String,
    /// What was chosen or changed so that the case could be sent; absent where nothing was.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 2000)]
    pub adapted: Option<String>,
    /// Whether a part of the case rests on common practice that no official source states.
    #[serde(default)]
    pub common_practice: bool,
}

fn comparisons() -> String {
    "/v1/comparisons".to_owned()
}

fn answered() -> u16 {
    200
}

/// What a published case is about.
pub struct GivenTopic;

impl GivenTopic {
    /// The words, each with what it says.
    pub const WORDS: &[(&str, &str)] = &[
        ("adjustments", "bad debts, unpaid purchases, errors, VAT from before registration, scale charges, leaving"),
        ("after-tax", "the difference between the schemes after tax"),
        ("break-even", "where both schemes cost the same"),
        ("capital-goods", "capital goods bought and sold under the Flat Rate Scheme"),
        ("cash-method", "turnover by money received, and cash accounting"),
        ("category", "the category of business and its changes"),
        ("comparison", "both schemes side by side"),
        ("dates", "returns, payments and other days"),
        ("first-year", "the first-year reduction"),
        ("flat-rate", "flat rate turnover and the flat rate sum"),
        ("goods-test", "the limited cost test"),
        ("imports", "postponed imports and goods from the European Union"),
        ("input-tax", "what standard accounting recovers"),
        ("part-of-period", "periods only partly in the scheme"),
        ("partial-exemption", "input tax beside exempt supplies"),
        ("reverse-charge", "VAT that the customer accounts for"),
        ("rounding", "fractions and rounding"),
        ("standard", "standard accounting as a whole"),
        ("thresholds", "limits on turnover"),
    ];
}

impl utoipa::PartialSchema for GivenTopic {
    fn schema() -> RefOr<Schema> {
        word_schema("What a published case is about.", Self::WORDS.iter().copied(), false)
    }
}

impl ToSchema for GivenTopic {}

/// How well a source supports the figures of a case.
pub struct GivenCaseEvidence;

impl GivenCaseEvidence {
    /// The words, each with what it says.
    pub const WORDS: &[(&str, &str)] = &[
        ("official", "the figures are printed in an official example, manual, notice or decision"),
        ("professional", "the figures are printed by a professional body, firm, teacher or commentator"),
        ("derived", "the source states the rule; the figures are arithmetic on it"),
    ];
}

impl utoipa::PartialSchema for GivenCaseEvidence {
    fn schema() -> RefOr<Schema> {
        word_schema("How well the source of a published case supports its figures.", Self::WORDS.iter().copied(), false)
    }
}

impl ToSchema for GivenCaseEvidence {}
