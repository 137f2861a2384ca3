//! The goods test (VAT Regulations 1995 reg 55A(4), inserted by SI 2017/295 from 1 April 2017).

use super::law;
use super::length;
use super::money::{Exact, pounds_text, to_penny, up_to_penny, whole};
use super::request::Days;
use serde_json::{Value, json};

/// What the test says.
pub struct GoodsTest {
    /// Whether it is a limited cost business.
    pub limited_cost: bool,
    /// As an answer shows it.
    pub shown: Value,
}

/// Whether spending is less than the higher of two per cent of turnover and £1,000 a year. Both are held exactly; equality passes.
pub fn goods_test(days: Days, goods: Exact, turnover: Exact) -> GoodsTest {
    let share = turnover * law::goods_test_share();
    let amount = law::goods_test_amount() * length::share_of_year(days);
    let least = share.max(amount);
    let required = up_to_penny(least);
    let limited_cost = goods < least;
    let share_percentage = (turnover > whole(0)).then(|| pounds_text(to_penny(goods * whole(100) / turnover)));
    let shown = json!({
        "start": days.start.to_string(),
        "end": days.end.to_string(),
        "limited_cost_business": limited_cost,
        "relevant_goods": pounds_text(goods),
        "turnover": pounds_text(turnover),
        "share_percentage": share_percentage,
        "two_percent_of_turnover": pounds_text(to_penny(share)),
        "minimum_for_period": pounds_text(to_penny(amount)),
        "required": pounds_text(required),
        "headroom": pounds_text(goods - required),
    });
    GoodsTest { limited_cost, shown }
}
