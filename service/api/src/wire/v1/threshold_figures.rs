//! From the request of a check of the limits to the calculation.

use vat_schemes::thresholds as calculated;

use super::scalars::{GivenAmount, GivenDate};
use super::threshold_request::{
    FlatRateFacts, GoodsOnHand, PastYearTotals, ThresholdBusiness, ThresholdCheckRequest, Turnover, TurnoverMonth,
    TurnoverTotals,
};

impl From<&ThresholdCheckRequest> for calculated::ThresholdFigures {
    fn from(request: &ThresholdCheckRequest) -> Self {
        Self {
            as_of: request.as_of.0,
            period: request.period.as_ref().map(Into::into),
            business: request.business.as_ref().unwrap_or(&ThresholdBusiness::default()).into(),
            turnover: request.turnover.as_ref().map(Into::into).unwrap_or_default(),
            goods_on_hand: request.goods_on_hand.as_ref().and_then(goods_on_hand),
            facts: request.flat_rate_facts.as_ref().map(Into::into).unwrap_or_default(),
        }
    }
}

impl From<&ThresholdBusiness> for calculated::CheckedBusiness {
    fn from(business: &ThresholdBusiness) -> Self {
        Self {
            registered_on: day(business.registered_on.as_ref()),
            trading_from: day(business.trading_from.as_ref()),
            established_in_uk: business.established_in_uk.unwrap_or(true),
            flat_rate_from: day(business.flat_rate_from.as_ref()),
            flat_rate_until: day(business.flat_rate_until.as_ref()),
            uses_cash_accounting: business.uses_cash_accounting.unwrap_or(false),
            uses_annual_accounting: business.uses_annual_accounting.unwrap_or(false),
        }
    }
}

impl From<&Turnover> for calculated::Turnover {
    fn from(turnover: &Turnover) -> Self {
        Self {
            past_year: turnover.past_year.as_ref().map(Into::into),
            next_year: turnover.next_year.as_ref().map(Into::into),
            next_30_days: turnover.next_30_days.as_ref().map(Into::into),
            months: turnover.months.iter().map(Into::into).collect(),
        }
    }
}

impl From<&PastYearTotals> for calculated::PastYear {
    fn from(year: &PastYearTotals) -> Self {
        Self {
            end: day(year.end.as_ref()),
            totals: calculated::Totals {
                taxable_supplies: money(year.taxable_supplies.as_ref()),
                overseas_services_received: money(year.overseas_services_received.as_ref()),
                total_income: money(year.total_income.as_ref()),
            },
        }
    }
}

impl From<&TurnoverTotals> for calculated::Totals {
    fn from(totals: &TurnoverTotals) -> Self {
        Self {
            taxable_supplies: money(totals.taxable_supplies.as_ref()),
            overseas_services_received: money(totals.overseas_services_received.as_ref()),
            total_income: money(totals.total_income.as_ref()),
        }
    }
}

impl From<&TurnoverMonth> for calculated::Month {
    fn from(month: &TurnoverMonth) -> Self {
        Self {
            first: month.month.first(),
            basis: month.basis.map(|basis| basis.0),
            amounts: calculated::MonthAmounts {
                standard_rated: money(month.standard_rated.as_ref()),
                reduced_rated: money(month.reduced_rated.as_ref()),
                zero_rated: money(month.zero_rated.as_ref()),
                domestic_reverse_charge_made: money(month.domestic_reverse_charge_made.as_ref()),
                exempt: money(month.exempt.as_ref()),
                outside_scope: money(month.outside_scope.as_ref()),
                non_business: money(month.non_business.as_ref()),
                capital_assets: money(month.capital_assets.as_ref()),
                taxable_capital_land: money(month.taxable_capital_land.as_ref()),
                own_building_work: money(month.own_building_work.as_ref()),
                overseas_services_received: money(month.overseas_services_received.as_ref()),
                construction_reverse_charge_received: money(month.construction_reverse_charge_received.as_ref()),
                other_domestic_reverse_charge_received: money(month.other_domestic_reverse_charge_received.as_ref()),
                vat_on_sales: money(month.vat_on_sales.as_ref()),
            },
        }
    }
}

impl From<&FlatRateFacts> for calculated::FlatRateFacts {
    fn from(facts: &FlatRateFacts) -> Self {
        Self {
            tour_operator: facts.tour_operator,
            capital_goods_scheme: facts.capital_goods_scheme,
            second_hand_margin_scheme: facts.second_hand_margin_scheme,
            vat_offence_in_past_year: facts.vat_offence_in_past_year,
            left_flat_rate_in_past_year: facts.left_flat_rate_in_past_year,
            eligible_for_vat_group: facts.eligible_for_vat_group,
            eligible_for_vat_group_in_past_two_years: facts.eligible_for_vat_group_in_past_two_years,
            registered_in_divisions: facts.registered_in_divisions,
            registered_in_divisions_in_past_two_years: facts.registered_in_divisions_in_past_two_years,
            dominant_influence: facts.dominant_influence,
            financial_links: facts.financial_links,
            economic_links: facts.economic_links,
            organisational_links: facts.organisational_links,
            associated_in_past_two_years: facts.associated_in_past_two_years,
            retail_scheme: facts.retail_scheme,
            tour_operator_from: day(facts.tour_operator_from.as_ref()),
            capital_item_intended_on: day(facts.capital_item_intended_on.as_ref()),
            margin_scheme_from: day(facts.margin_scheme_from.as_ref()),
            associated_from: day(facts.associated_from.as_ref()),
            opts_out_on: day(facts.opts_out_on.as_ref()),
            terminated_by_hmrc_on: day(facts.terminated_by_hmrc_on.as_ref()),
        }
    }
}

/// The reader requires exactly one of the two.
fn goods_on_hand(goods: &GoodsOnHand) -> Option<calculated::GoodsOnHand> {
    let value = goods.value.as_ref().map(|value| calculated::GoodsOnHand::Value(value.0));
    value.or(goods.vat.as_ref().map(|vat| calculated::GoodsOnHand::Vat(vat.0)))
}

fn day(given: Option<&GivenDate>) -> Option<jiff::civil::Date> {
    given.map(|date| date.0)
}

fn money(given: Option<&GivenAmount>) -> Option<vat_schemes::money::Money> {
    given.map(|amount| amount.0)
}
