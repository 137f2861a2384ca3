//! From the wire to the calculation: defaults are filled in here.

use vat_schemes::figures::{self, Amounts, Dates, Figures, GoodsFigures, GoodsGiven, TurnoverGiven};

use super::goods_request::GoodsTestRequest;
use super::request::{Activity, Business, ComparisonRequest, GivenPeriod, Purchase, Sale, SectorChange};
use super::scalars::GivenAmount;

impl From<&ComparisonRequest> for Figures {
    fn from(request: &ComparisonRequest) -> Self {
        Self {
            period: (&request.period).into(),
            business: (&request.business).into(),
            sales: request.sales.iter().map(Into::into).collect(),
            purchases: request.purchases.iter().map(Into::into).collect(),
            adjustments: request.adjustments.as_ref().map(Into::into).unwrap_or_default(),
            partial_exemption: request.partial_exemption.as_ref().map(Into::into).unwrap_or_default(),
            marginal_tax: request.marginal_tax_percentage.as_ref().map(|percentage| percentage.0),
            cash_accounting: request.cash_accounting.as_ref().map(Into::into),
            turnover: request.turnover.as_ref().map(Into::into),
            split_estimate: request.split_estimate.map(|estimate| estimate.0),
        }
    }
}

impl From<&GoodsTestRequest> for GoodsFigures {
    fn from(request: &GoodsTestRequest) -> Self {
        let turnover = match (&request.turnover, &request.sales) {
            (Some(total), _) => TurnoverGiven::Total(total.0),
            (None, sales) => TurnoverGiven::Sales(sales.iter().flatten().map(Into::into).collect()),
        };
        let goods = match (&request.relevant_goods, &request.purchases) {
            (Some(total), _) => GoodsGiven::Total(total.0),
            (None, purchases) => GoodsGiven::Purchases(purchases.iter().flatten().map(Into::into).collect()),
        };
        Self {
            period: (&request.period).into(),
            sector: request.business.sector.to_string(),
            turnover,
            goods,
            split_estimate: request.split_estimate.map(|estimate| estimate.0),
        }
    }
}

impl From<&GivenPeriod> for Dates {
    fn from(period: &GivenPeriod) -> Self {
        Self { start: period.start.0, end: period.end.0 }
    }
}

impl From<&Business> for figures::Business {
    fn from(business: &Business) -> Self {
        Self {
            registered_on: business.registered_on.0,
            sector: business.sector.to_string(),
            sector_changes: business.sector_changes.iter().map(Into::into).collect(),
            flat_rate_from: business.flat_rate_from.as_ref().map(|date| date.0),
            flat_rate_until: business.flat_rate_until.as_ref().map(|date| date.0),
            liability_notified_on: business.liability_notified_on.as_ref().map(|date| date.0),
            turnover_method: business.turnover_method.map_or(figures::TurnoverMethod::Basic, |method| method.0),
            activities: business.activities.iter().map(Into::into).collect(),
        }
    }
}

impl From<&SectorChange> for figures::SectorChange {
    fn from(change: &SectorChange) -> Self {
        Self { on: change.on.0, sector: change.sector.to_string(), reason: change.reason.0 }
    }
}

impl From<&Activity> for figures::Activity {
    fn from(activity: &Activity) -> Self {
        Self {
            description: activity.description.to_string(),
            sector: activity.sector.to_string(),
            expected_turnover: activity.expected_turnover.0,
            materials: activity.materials.as_ref().map(|materials| materials.0),
        }
    }
}

impl From<&Sale> for figures::Sale {
    fn from(sale: &Sale) -> Self {
        Self {
            treatment: sale.treatment.0,
            nature: sale.nature.map_or(figures::Nature::Ordinary, |nature| nature.0),
            amounts: amounts(sale.net.as_ref(), sale.vat.as_ref(), sale.gross.as_ref()),
            part: sale.part.as_ref().map(Into::into),
            percentage_at_supply: sale.percentage_at_supply.as_ref().map(|percentage| percentage.0),
            northern_ireland_to_eu: sale.northern_ireland_to_eu.unwrap_or(false),
        }
    }
}

impl From<&Purchase> for figures::Purchase {
    fn from(purchase: &Purchase) -> Self {
        Self {
            spend: purchase.spend.0,
            treatment: purchase.treatment.map(|treatment| treatment.0),
            supply: purchase.supply.map_or(figures::Supply::Ordinary, |supply| supply.0),
            used_for: purchase.used_for.map_or(figures::UsedFor::Taxable, |used_for| used_for.0),
            business_use: purchase.business_use_percentage.as_ref().map(|percentage| percentage.0),
            for_main_activity: purchase.for_main_activity,
            vat_blocked: purchase.vat_blocked.unwrap_or(false),
            evidence: purchase.evidence.map_or(figures::Evidence::VatInvoice, |evidence| evidence.0),
            amounts: amounts(purchase.net.as_ref(), purchase.vat.as_ref(), purchase.gross.as_ref()),
            part: purchase.part.as_ref().map(Into::into),
        }
    }
}

fn amounts(net: Option<&GivenAmount>, vat: Option<&GivenAmount>, gross: Option<&GivenAmount>) -> Amounts {
    let money = |amount: Option<&GivenAmount>| amount.map(|amount| amount.0);
    Amounts { net: money(net), vat: money(vat), gross: money(gross) }
}
