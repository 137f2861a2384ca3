//! Warnings about single lines of the request.

use crate::answer::{Severity, Warning, WarningCode};
use crate::figures::{Spend, Supply};
use crate::law::rule as cite;
use crate::lines::PurchaseLine;
use crate::money::{Overflow, Ratio};
use crate::refusal::Place;

use super::{Findings, purchase, warning};

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    capital_goods(findings, warnings)?;
    claimed(findings, warnings);
    vat_against_rate(findings, warnings);
    contradictions(findings, warnings);
    Ok(())
}

const CAPITAL_GOODS: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55E,
    cite::FRS6500,
    cite::NOTICE_733_SECTION_15,
    cite::DECISION_CAPITAL_GOODS_AT_LIMIT,
];

fn capital_goods(findings: &Findings<'_>, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    let Some(limit) = findings.flat_rate.capital_goods.limit else { return Ok(()) };
    let limit = limit.value;
    let nine_tenths = limit.exact().times(Ratio::new(9, 10)?)?;
    for line in &findings.flat_rate.capital_goods.purchases {
        let price = line.amounts.gross.value;
        let (code, severity, message) = if price == limit {
            (
                WarningCode::CapitalGoodsAtLimit,
                Severity::Attention,
                format!(
                    "A capital purchase cost exactly £{limit} with VAT. The claim is made here on HMRC's guidance, £{limit} or more; the regulation says \
                     more than £{limit}. Take advice before claiming."
                ),
            )
        } else if price < limit && nine_tenths.at_most(price.exact())? {
            (
                WarningCode::CapitalGoodsUnderLimit,
                Severity::Attention,
                format!(
                    "A capital purchase cost £{price} with VAT, just under the £{limit} from which a flat rate user claims. Check that the line is the \
                     whole of one purchase: things bought together on one invoice count together."
                ),
            )
        } else {
            continue;
        };
        warnings.push(Warning {
            measured: Some(price.to_string()),
            limit: Some(limit.to_string()),
            lines: vec![purchase(line.index)],
            ..warning(code, severity, message, CAPITAL_GOODS)
        });
    }
    Ok(())
}

/// What is claimed on stays known to the later sale, which stands outside the scheme (VAT Regulations 1995 reg 55C(4)).
fn claimed(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let lines: Vec<_> = findings.flat_rate.capital_goods.claimed.iter().map(|line| purchase(line.index)).collect();
    if !lines.is_empty() {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::CapitalGoodsClaimed,
                Severity::Information,
                "VAT is claimed on these capital goods under the Flat Rate Scheme. Keep that on record: when they are sold, enter the sale with the nature \
                 capital_asset_vat_claimed, since it stands outside the scheme with ordinary VAT.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55C, cite::VAT_REGULATIONS_1995_REGULATION_55E],
            )
        });
    }
}

fn vat_against_rate(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    for mismatch in &findings.lines.mismatches {
        let line = match mismatch.place {
            Place::Sale(index, _) => super::sale(index),
            Place::Purchase(index, _) => purchase(index),
            _ => continue,
        };
        warnings.push(Warning {
            measured: Some(mismatch.given.to_string()),
            limit: Some(mismatch.expected.to_string()),
            lines: vec![line],
            ..warning(
                WarningCode::VatDiffersFromRate,
                Severity::Attention,
                format!(
                    "The VAT given, £{}, is not what the rate makes of the value, about £{}, even allowing for the rounding of many invoices. It was \
                     used as given; check the amount and the treatment.",
                    mismatch.given, mismatch.expected
                ),
                &[cite::VATA_1994_SECTION_2, cite::NOTICE_700_SECTION_17, cite::DECISION_ROUNDING_TOLERANCE],
            )
        });
    }
}

fn contradictions(findings: &Findings<'_>, warnings: &mut Vec<Warning>) {
    let lines: Vec<_> =
        findings.lines.purchases.iter().filter(|line| contradicts(line)).map(|line| purchase(line.index)).collect();
    if !lines.is_empty() {
        warnings.push(Warning {
            lines,
            ..warning(
                WarningCode::SupplyContradictsSpend,
                Severity::Attention,
                "The kind of spend does not fit the way it was supplied: a reverse charge from abroad is for services, and only goods are imported \
                 or acquired. The VAT follows supply and the goods test follows both; check the lines named.",
                &[cite::VATA_1994_SECTION_8, cite::VAT_REGULATIONS_1995_REGULATION_55A],
            )
        });
    }
}

/// Whether goods are said to come as services from abroad, or services as goods.
fn contradicts(line: &PurchaseLine) -> bool {
    let services = match line.spend {
        Spend::Services
        | Spend::RentAndHire
        | Spend::DigitalContent
        | Spend::BusinessEntertainment
        | Spend::StaffEntertainment
        | Spend::CarLease
        | Spend::ShortCarHire
        | Spend::AccommodationForDirectors
        | Spend::WagesAndOtherOutsideScope => true,
        Spend::Materials
        | Spend::ConsumableGoods
        | Spend::StockForResale
        | Spend::GoodsForHireOut
        | Spend::PowerAndWater
        | Spend::FoodAndDrinkForSale
        | Spend::FoodAndDrinkForStaff
        | Spend::VehicleFuelAndParts
        | Spend::PromotionalGoodsAndGifts
        | Spend::CapitalGoods
        | Spend::CarPurchase
        | Spend::CarForBusinessOnly => false,
    };
    match line.supply {
        Supply::Ordinary | Supply::DomesticReverseCharge => false,
        Supply::OverseasServicesReverseCharge => !services,
        Supply::PostponedImport | Supply::NorthernIrelandAcquisition => services,
    }
}
