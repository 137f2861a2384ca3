//! The answer of a goods test alone.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;

use super::answer::{GoodsTest, LawUsed, Period, Warning};
use super::scalars::{Amount, Percentage, Reference};
use super::workings::{Step, Workings};

/// The limited cost test of one VAT period, and what would change its outcome. A calculation, not advice: HMRC and a qualified
/// adviser decide. Members may be added: ignore those you don't know.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct GoodsTestAnswer {
    /// The caller's own name for the request, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The VAT period.
    pub period: Period,
    /// The test.
    pub goods_test: GoodsTest,
    /// What would change its outcome.
    pub what_would_change: WhatWouldChange,
    /// What the reader should know or do.
    #[schema(max_items = 100000)]
    pub warnings: Vec<Warning>,
    /// Every sum that was made, in order, so that a reviewer can follow each figure to the request and to the law.
    #[schema(value_type = Vec<Step<'static>>, max_items = 100000)]
    pub workings: Workings,
    /// What the answer leaves out, and who decides, in plain English. Goods bought only to pass the test are seldom a saving.
    #[schema(max_items = 100)]
    pub cautions: Vec<Cow<'static, str>>,
    /// The tables of law that were used.
    pub law: LawUsed,
}

/// What would turn the outcome of a goods test round (VAT Regulations 1995 regulation 55A(4)).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct WhatWouldChange {
    /// The further spending on relevant goods with VAT that the test needs before the period ends, in pounds to the penny; `0.00`
    /// where it is passed.
    pub spend_needed: Amount,
    /// The most turnover with VAT at which the spending still passes, in pounds down to a penny. Absent where the spending passes
    /// with no turnover, as it is less than the minimum for the period.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_turnover: Option<Amount>,
    /// The percentage of the category of business on the last day of the period, in per cent, before any first-year reduction
    /// (regulation 55K): it applies where the test is passed.
    pub category_percentage: Percentage,
    /// The limited cost percentage on that day, in per cent, before any first-year reduction (regulation 55KA): it applies where
    /// the test is failed.
    pub limited_cost_percentage: Percentage,
}
