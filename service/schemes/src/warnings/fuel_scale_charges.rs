//! Warnings about road fuel scale charges and the fuel that they stand beside.

use crate::answer::{Severity, Warning, WarningCode};
use crate::figures::Spend;
use crate::law::rule as cite;
use crate::money::{Money, Overflow, Percentage, Rounding};

use super::{Findings, purchase, warning};

const AUTHORITY: &[&str] = &[cite::VATA_1994_SECTION_56, cite::VATA_1994_SECTION_57, cite::VIT55400];

pub(super) fn warn(findings: &Findings<'_>, warnings: &mut Vec<Warning>) -> Result<(), Overflow> {
    let charges = &findings.adjustments.fuel_scale_charges;
    if charges.is_empty() {
        return Ok(());
    }
    let due = charges.iter().try_fold(Money::ZERO, |sum, charge| sum.plus(charge.vat))?;
    let mut claimed = Money::ZERO;
    let mut in_part = Vec::new();
    for line in findings.lines.purchases.iter().filter(|line| line.spend == Spend::VehicleFuelAndParts) {
        let Some(vat) = line.amounts.vat else { continue };
        let share = line.business_use.map_or(Percentage::HUNDRED, |share| share.value);
        claimed = claimed.plus(vat.value.share(share)?.to_money(Rounding::NearestPenny)?)?;
        if share < Percentage::HUNDRED && !vat.value.is_zero() {
            in_part.push(purchase(line.index));
        }
    }
    if !in_part.is_empty() {
        warnings.push(Warning {
            lines: in_part,
            ..warning(
                WarningCode::FuelInTwoWays,
                Severity::Attention,
                "Scale charges go with all the VAT on fuel, and these lines claim a part of it only. Private use is paid for twice, or in two ways where one \
                 is to be used for all vehicles: claim the whole VAT on fuel beside the scale charges, or the business part without them.",
                AUTHORITY,
            )
        });
    }
    if !claimed.is_positive() {
        warnings.push(Warning {
            measured: Some(due.to_string()),
            limit: Some(claimed.to_string()),
            ..warning(
                WarningCode::FuelScaleChargeWithoutClaim,
                Severity::Attention,
                format!(
                    "Scale charges with VAT of £{due} are accounted for, but no VAT on fuel is claimed. A business that claims none on any vehicle owes no \
                     scale charge: leave the charges out, or add the fuel as vehicle_fuel_and_parts."
                ),
                AUTHORITY,
            )
        });
    } else if claimed < due {
        let more = due.minus(claimed)?;
        warnings.push(Warning {
            measured: Some(due.to_string()),
            limit: Some(claimed.to_string()),
            ..warning(
                WarningCode::FuelScaleChargeAboveClaim,
                Severity::Attention,
                format!(
                    "The VAT in the scale charges, £{due}, is £{more} more than all the VAT claimed on fuel and parts of vehicles, £{claimed}. To claim no VAT \
                     on fuel, for any vehicle, and to owe no scale charge would be cheaper under standard accounting; so may claiming the business \
                     part from a record of mileage be."
                ),
                AUTHORITY,
            )
        });
    }
    Ok(())
}
