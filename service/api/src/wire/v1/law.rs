//! Answers about the law: categories of business, dated numbers and authorities.

use serde::Serialize;
use utoipa::ToSchema;

use super::scalars::{AuthorityId, Date, ParameterId, Percentage, SectorId};
use super::vocabulary::{AuthorityKind, Evidence, ParameterKind};

/// Categories of business with the percentage in force on a day. The choice is the business's own: what sources say of a trade
/// is shown, and nothing is decided (VAT Regulations 1995 regulation 55K).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SectorList {
    /// The day for which the percentages are shown.
    pub on: Date,
    /// The categories found, by id.
    #[schema(max_items = 1000)]
    pub items: Vec<SectorOnDay>,
    /// Ids of the categories that take what no other names.
    #[schema(max_items = 1000)]
    pub not_listed_elsewhere: Vec<SectorId>,
    /// How to choose, and what the list rests on.
    #[schema(max_length = 2000)]
    pub note: String,
}

/// A category of business with the percentage in force on a day.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SectorOnDay {
    /// Its id.
    pub id: SectorId,
    /// Its name, in the words of the Table of flat rate percentages.
    #[schema(max_length = 200)]
    pub name: String,
    /// Its percentage, in per cent of flat rate turnover.
    pub percentage: Percentage,
    /// The first day on which the percentage applied.
    pub from: Date,
    /// The last day on which it applied; absent while it is in force.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Date>,
    /// How well the authority was read.
    pub evidence: Evidence,
    /// The day on which the row was last checked.
    pub checked_on: Date,
    /// On what authority.
    #[schema(max_items = 20)]
    pub authority: Vec<AuthorityId>,
    /// Trades that a source puts in the category: those that match the words sought, or all where none are.
    #[schema(max_items = 1000)]
    pub trades: Vec<Trade>,
}

/// A trade that a source puts in a category.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Trade {
    /// The trade.
    #[schema(max_length = 200)]
    pub trade: String,
    /// Who says so.
    #[schema(max_items = 20)]
    pub authority: Vec<AuthorityId>,
    /// How well the source was read.
    pub evidence: Evidence,
    /// What a reader should know besides; absent where there is nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 2000)]
    pub note: Option<String>,
}

/// A category of business with all its percentages.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SectorHistory {
    /// Its id.
    pub id: SectorId,
    /// Its name, in the words of the Table of flat rate percentages.
    #[schema(max_length = 200)]
    pub name: String,
    /// Its percentages, earliest first, without gap or overlap.
    #[schema(max_items = 1000, min_items = 1)]
    pub history: Vec<DatedPercentage>,
    /// Trades that a source puts in it.
    #[schema(max_items = 1000)]
    pub trades: Vec<Trade>,
}

/// A percentage and the days on which it applies.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct DatedPercentage {
    /// The percentage, in per cent of flat rate turnover.
    pub percentage: Percentage,
    /// The first day on which it applies.
    pub from: Date,
    /// The last day on which it applied; absent while it is in force.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Date>,
    /// How well the authority was read.
    pub evidence: Evidence,
    /// The day on which the row was last checked.
    pub checked_on: Date,
    /// On what authority.
    #[schema(max_items = 20)]
    pub authority: Vec<AuthorityId>,
    /// What a reader should know besides; absent where there is nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 2000)]
    pub note: Option<String>,
}

/// The dated numbers of the law in force on a day.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ParameterList {
    /// The day for which the values are shown.
    pub on: Date,
    /// The numbers in force on it, by id.
    #[schema(max_items = 1000)]
    pub items: Vec<ParameterOnDay>,
}

/// A dated number of the law with the value in force on a day.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ParameterOnDay {
    /// Its id.
    pub id: ParameterId,
    /// What it is.
    #[schema(max_length = 400)]
    pub title: String,
    /// What sort of value it has.
    pub kind: ParameterKind,
    /// Its value, written as its kind is.
    #[schema(max_length = 32, example = "90000.00")]
    pub value: String,
    /// What the value counts or measures.
    #[schema(max_length = 400)]
    pub unit: String,
    /// How a figure is compared with it, and what follows; absent where nothing is.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 400)]
    pub comparison: Option<String>,
    /// The first day on which the value applied.
    pub from: Date,
    /// The last day on which it applied; absent while it is in force.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Date>,
    /// How well the authority was read.
    pub evidence: Evidence,
    /// The day on which the row was last checked.
    pub checked_on: Date,
    /// On what authority.
    #[schema(max_items = 20)]
    pub authority: Vec<AuthorityId>,
    /// What a reader should know besides; absent where there is nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 2000)]
    pub note: Option<String>,
}

/// A dated number of the law with all its values.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ParameterHistory {
    /// Its id.
    pub id: ParameterId,
    /// What it is.
    #[schema(max_length = 400)]
    pub title: String,
    /// What sort of value it has.
    pub kind: ParameterKind,
    /// What the value counts or measures.
    #[schema(max_length = 400)]
    pub unit: String,
    /// How a figure is compared with it, and what follows; absent where nothing is.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 400)]
    pub comparison: Option<String>,
    /// Its values, earliest first, without gap or overlap.
    #[schema(max_items = 1000, min_items = 1)]
    pub history: Vec<DatedValue>,
}

/// A value and the days on which it applies.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct DatedValue {
    /// The value, written as its kind is.
    #[schema(max_length = 32, example = "90000.00")]
    pub value: String,
    /// The first day on which it applies.
    pub from: Date,
    /// The last day on which it applied; absent while it is in force.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Date>,
    /// How well the authority was read.
    pub evidence: Evidence,
    /// The day on which the row was last checked.
    pub checked_on: Date,
    /// On what authority.
    #[schema(max_items = 20)]
    pub authority: Vec<AuthorityId>,
    /// What a reader should know besides; absent where there is nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 2000)]
    pub note: Option<String>,
}

/// Everything that rules and figures rest on.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct AuthorityList {
    /// The authorities, by id.
    #[schema(max_items = 10000)]
    pub items: Vec<Authority>,
}

/// A text that a rule or a figure rests on, or a reading that this service adopts.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Authority {
    /// Its id.
    pub id: AuthorityId,
    /// What it is and what it is about.
    #[schema(max_length = 1000)]
    pub title: String,
    /// What sort of text it is.
    pub kind: AuthorityKind,
    /// Where the text is published; absent where no address is known or there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(format = "uri", max_length = 400, pattern = "^https://")]
    pub url: Option<String>,
}
