//! Warnings of the limited cost test.

use crate::answer::{Severity, Warning, WarningCode};
use crate::figures::Spend;
use crate::flat_rate::{Categories, Tested};
use crate::law::rule as cite;
use crate::lines::PurchaseLine;
use crate::money::Overflow;
use crate::spend::MOTOR_TRADES;

use super::{purchase, warning};

const TEST: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55A,
    cite::VAT_REGULATIONS_1995_REGULATION_55KA,
    cite::NOTICE_733_SECTION_4,
];

/// Warns of the outcome of a test, of what it rests on, and of how close it is.
pub(crate) fn warn(
    tested: &Tested,
    categories: &Categories<'_>,
    purchases: &[PurchaseLine],
    warnings: &mut Vec<Warning>,
) -> Result<(), Overflow> {
    let test = &tested.answer;
    if test.limited_cost_business {
        let short = test.required.minus(test.relevant_goods)?;
        warnings.push(Warning {
            measured: Some(test.relevant_goods.to_string()),
            limit: Some(test.required.to_string()),
            act_by: Some(test.days.end()),
            ..warning(
                WarningCode::LimitedCostBusiness,
                Severity::Action,
                format!(
                    "The business is a limited cost business from {} to {}: it spent £{} on relevant goods and needs £{} to keep its category's \
                     percentage, £{short} more.",
                    test.days.start(), test.days.end(), test.relevant_goods, test.required
                ),
                TEST,
            )
        });
    }
    if tested.close_to_limit {
        let message = if test.limited_cost_business {
            format!(
                "Spending on relevant goods, £{}, is within a tenth of the £{} needed. Check that every purchase of goods is in, with its VAT, and \
                 is of the right kind.",
                test.relevant_goods, test.required
            )
        } else {
            format!(
                "Spending on relevant goods, £{}, passes the £{} needed by less than a tenth. One purchase that turns out not to count, or a little \
                 more turnover, would make this a limited cost business.",
                test.relevant_goods, test.required
            )
        };
        warnings.push(Warning {
            measured: Some(test.relevant_goods.to_string()),
            limit: Some(test.required.to_string()),
            act_by: Some(test.days.end()),
            ..warning(WarningCode::GoodsCloseToLimit, Severity::Attention, message, TEST)
        });
    }
    if !tested.rests_on_default.is_empty() {
        warnings.push(Warning {
            measured: Some(test.relevant_goods.to_string()),
            limit: Some(test.required.to_string()),
            lines: tested.rests_on_default.iter().copied().map(purchase).collect(),
            ..warning(
                WarningCode::GoodsTestRestsOnDefault,
                Severity::Attention,
                "The outcome of the goods test rests on an assumption: whether the main business activity ordinarily sells or hires out such \
                 goods, or owns or leases a vehicle for its transport. Say so with for_main_activity on the lines named.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::DECISION_GOODS_FOR_MAIN_ACTIVITY],
            )
        });
    }
    if MOTOR_TRADES.contains(&categories.on(test.days.start()).id()) {
        let lines: Vec<_> = purchases
            .iter()
            .filter(|line| matches!(line.spend, Spend::StockForResale | Spend::VehicleFuelAndParts | Spend::Materials))
            .map(|line| purchase(line.index))
            .collect();
        if !lines.is_empty() {
            warnings.push(Warning {
                lines,
                ..warning(
                    WarningCode::MotorTradeGoods,
                    Severity::Attention,
                    "The regulation leaves vehicles, their parts and fuel out of relevant goods in every category but transport, so a motor \
                     trade's own stock may not count. Fuel and parts are left out here; stock and materials are counted as entered. Ask a \
                     qualified adviser.",
                    &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::DECISION_MOTOR_TRADE_GOODS],
                )
            });
        }
    }
    Ok(())
}
