//! The request of a check of the limits.

use vat_schemes::thresholds as calculated;

use super::scalars::{amount, date, month, period, reference, unsigned_amount};
use super::words;
use crate::json::{Decoder, Node};
use crate::wire::v1::threshold_request::{
    FlatRateFacts, GoodsOnHand, MAX_MONTHS, PastYearTotals, ThresholdBusiness, ThresholdCheckRequest, Turnover,
    TurnoverMonth, TurnoverTotals,
};
use crate::wire::v1::threshold_vocabulary::MonthBasis;

const REQUEST: &[&str] = &["reference", "as_of", "period", "business", "turnover", "goods_on_hand", "flat_rate_facts"];
const BUSINESS: &[&str] = &[
    "registered_on",
    "trading_from",
    "established_in_uk",
    "flat_rate_from",
    "flat_rate_until",
    "uses_cash_accounting",
    "uses_annual_accounting",
];
const TURNOVER: &[&str] = &["past_year", "next_year", "next_30_days", "months"];
const PAST_YEAR: &[&str] = &["end", "taxable_supplies", "overseas_services_received", "total_income"];
const TOTALS: &[&str] = &["taxable_supplies", "overseas_services_received", "total_income"];
const MONTH: &[&str] = &[
    "month",
    "basis",
    "standard_rated",
    "reduced_rated",
    "zero_rated",
    "domestic_reverse_charge_made",
    "exempt",
    "outside_scope",
    "non_business",
    "capital_assets",
    "taxable_capital_land",
    "own_building_work",
    "overseas_services_received",
    "construction_reverse_charge_received",
    "other_domestic_reverse_charge_received",
    "vat_on_sales",
];
const GOODS: &[&str] = &["value", "vat"];
const FACTS: &[&str] = &[
    "tour_operator",
    "capital_goods_scheme",
    "second_hand_margin_scheme",
    "vat_offence_in_past_year",
    "left_flat_rate_in_past_year",
    "eligible_for_vat_group",
    "eligible_for_vat_group_in_past_two_years",
    "registered_in_divisions",
    "registered_in_divisions_in_past_two_years",
    "dominant_influence",
    "financial_links",
    "economic_links",
    "organisational_links",
    "associated_in_past_two_years",
    "retail_scheme",
    "tour_operator_from",
    "capital_item_intended_on",
    "margin_scheme_from",
    "associated_from",
    "opts_out_on",
    "terminated_by_hmrc_on",
];

/// What to do about too many months.
const LATEST: &str = "Give the latest.";

/// The request.
pub(super) fn request(decoder: &mut Decoder, node: &Node<'_>) -> Option<ThresholdCheckRequest> {
    let (mut reference_given, mut as_of, mut period_given, mut business_given) = (None, None, None, None);
    let (mut turnover_given, mut goods_on_hand, mut flat_rate_facts) = (None, None, None);
    let given = decoder.object(node, REQUEST, |decoder, field, node| match field {
        "reference" => reference_given = reference(decoder, node),
        "as_of" => as_of = date(decoder, node),
        "period" => period_given = period(decoder, node),
        "business" => business_given = business(decoder, node),
        "turnover" => turnover_given = turnover(decoder, node),
        "goods_on_hand" => goods_on_hand = goods(decoder, node),
        _ => flat_rate_facts = facts(decoder, node),
    })?;
    decoder.require(given, "as_of", "give the day from which past and future are seen, for example \"2026-04-30\".");
    Some(ThresholdCheckRequest {
        reference: reference_given,
        as_of: as_of?,
        period: period_given,
        business: business_given,
        turnover: turnover_given,
        goods_on_hand,
        flat_rate_facts,
    })
}

fn business(decoder: &mut Decoder, node: &Node<'_>) -> Option<ThresholdBusiness> {
    let mut business = ThresholdBusiness::default();
    decoder.object(node, BUSINESS, |decoder, field, node| match field {
        "registered_on" => business.registered_on = date(decoder, node),
        "trading_from" => business.trading_from = date(decoder, node),
        "established_in_uk" => business.established_in_uk = decoder.boolean(node),
        "flat_rate_from" => business.flat_rate_from = date(decoder, node),
        "flat_rate_until" => business.flat_rate_until = date(decoder, node),
        "uses_cash_accounting" => business.uses_cash_accounting = decoder.boolean(node),
        _ => business.uses_annual_accounting = decoder.boolean(node),
    })?;
    Some(business)
}

/// Turnover of the past and the future.
pub(super) fn turnover(decoder: &mut Decoder, node: &Node<'_>) -> Option<Turnover> {
    let mut turnover = Turnover::default();
    decoder.object(node, TURNOVER, |decoder, field, node| match field {
        "past_year" => turnover.past_year = past_year(decoder, node),
        "next_year" => turnover.next_year = totals(decoder, node),
        "next_30_days" => turnover.next_30_days = totals(decoder, node),
        _ => turnover.months = decoder.list(node, MAX_MONTHS, LATEST, one_month).unwrap_or_default(),
    })?;
    Some(turnover)
}

fn past_year(decoder: &mut Decoder, node: &Node<'_>) -> Option<PastYearTotals> {
    let (mut end, mut taxable_supplies, mut overseas, mut total_income) = (None, None, None, None);
    decoder.object(node, PAST_YEAR, |decoder, field, node| match field {
        "end" => end = date(decoder, node),
        "taxable_supplies" => taxable_supplies = amount(decoder, node),
        "overseas_services_received" => overseas = amount(decoder, node),
        _ => total_income = amount(decoder, node),
    })?;
    Some(PastYearTotals { end, taxable_supplies, overseas_services_received: overseas, total_income })
}

fn totals(decoder: &mut Decoder, node: &Node<'_>) -> Option<TurnoverTotals> {
    let (mut taxable_supplies, mut overseas, mut total_income) = (None, None, None);
    decoder.object(node, TOTALS, |decoder, field, node| match field {
        "taxable_supplies" => taxable_supplies = amount(decoder, node),
        "overseas_services_received" => overseas = amount(decoder, node),
        _ => total_income = amount(decoder, node),
    })?;
    Some(TurnoverTotals { taxable_supplies, overseas_services_received: overseas, total_income })
}

fn one_month(decoder: &mut Decoder, node: &Node<'_>) -> Option<TurnoverMonth> {
    let (mut month_given, mut basis) = (None, None);
    let (mut standard_rated, mut reduced_rated, mut zero_rated, mut domestic_made) = (None, None, None, None);
    let (mut exempt, mut outside_scope, mut non_business) = (None, None, None);
    let (mut capital_assets, mut land, mut building) = (None, None, None);
    let (mut overseas, mut construction, mut other_domestic, mut vat_on_sales) = (None, None, None, None);
    let given = decoder.object(node, MONTH, |decoder, field, node| match field {
        "month" => month_given = month(decoder, node),
        "basis" => basis = words!(decoder, node, calculated::Basis, MonthBasis),
        "standard_rated" => standard_rated = amount(decoder, node),
        "reduced_rated" => reduced_rated = amount(decoder, node),
        "zero_rated" => zero_rated = amount(decoder, node),
        "domestic_reverse_charge_made" => domestic_made = amount(decoder, node),
        "exempt" => exempt = amount(decoder, node),
        "outside_scope" => outside_scope = amount(decoder, node),
        "non_business" => non_business = amount(decoder, node),
        "capital_assets" => capital_assets = amount(decoder, node),
        "taxable_capital_land" => land = amount(decoder, node),
        "own_building_work" => building = amount(decoder, node),
        "overseas_services_received" => overseas = amount(decoder, node),
        "construction_reverse_charge_received" => construction = amount(decoder, node),
        "other_domestic_reverse_charge_received" => other_domestic = amount(decoder, node),
        _ => vat_on_sales = amount(decoder, node),
    })?;
    decoder.require(given, "month", "give the month, for example \"2026-04\".");
    Some(TurnoverMonth {
        month: month_given?,
        basis,
        standard_rated,
        reduced_rated,
        zero_rated,
        domestic_reverse_charge_made: domestic_made,
        exempt,
        outside_scope,
        non_business,
        capital_assets,
        taxable_capital_land: land,
        own_building_work: building,
        overseas_services_received: overseas,
        construction_reverse_charge_received: construction,
        other_domestic_reverse_charge_received: other_domestic,
        vat_on_sales,
    })
}

fn goods(decoder: &mut Decoder, node: &Node<'_>) -> Option<GoodsOnHand> {
    let (mut value, mut vat) = (None, None);
    let given = decoder.object(node, GOODS, |decoder, field, node| match field {
        "value" => value = unsigned_amount(decoder, node),
        _ => vat = unsigned_amount(decoder, node),
    })?;
    decoder.require_one(given, ["value", "vat"], "give the value of goods on hand without VAT, or the VAT on them.");
    Some(GoodsOnHand { value, vat })
}

fn facts(decoder: &mut Decoder, node: &Node<'_>) -> Option<FlatRateFacts> {
    let mut facts = FlatRateFacts::default();
    decoder.object(node, FACTS, |decoder, field, node| match field {
        "tour_operator" => facts.tour_operator = decoder.boolean(node),
        "capital_goods_scheme" => facts.capital_goods_scheme = decoder.boolean(node),
        "second_hand_margin_scheme" => facts.second_hand_margin_scheme = decoder.boolean(node),
        "vat_offence_in_past_year" => facts.vat_offence_in_past_year = decoder.boolean(node),
        "left_flat_rate_in_past_year" => facts.left_flat_rate_in_past_year = decoder.boolean(node),
        "eligible_for_vat_group" => facts.eligible_for_vat_group = decoder.boolean(node),
        "eligible_for_vat_group_in_past_two_years" => {
            facts.eligible_for_vat_group_in_past_two_years = decoder.boolean(node);
        }
        "registered_in_divisions" => facts.registered_in_divisions = decoder.boolean(node),
        "registered_in_divisions_in_past_two_years" => {
            facts.registered_in_divisions_in_past_two_years = decoder.boolean(node);
        }
        "dominant_influence" => facts.dominant_influence = decoder.boolean(node),
        "financial_links" => facts.financial_links = decoder.boolean(node),
        "economic_links" => facts.economic_links = decoder.boolean(node),
        "organisational_links" => facts.organisational_links = decoder.boolean(node),
        "associated_in_past_two_years" => facts.associated_in_past_two_years = decoder.boolean(node),
        "retail_scheme" => facts.retail_scheme = decoder.boolean(node),
        "tour_operator_from" => facts.tour_operator_from = date(decoder, node),
        "capital_item_intended_on" => facts.capital_item_intended_on = date(decoder, node),
        "margin_scheme_from" => facts.margin_scheme_from = date(decoder, node),
        "associated_from" => facts.associated_from = date(decoder, node),
        "opts_out_on" => facts.opts_out_on = date(decoder, node),
        _ => facts.terminated_by_hmrc_on = date(decoder, node),
    })?;
    Some(facts)
}
