//! Road fuel for private use, accounted for by scale charges (VATA 1994 ss 56, 57).

use crate::answer::FuelScaleCharge;
use crate::figures::{Figures, FuelScaleCar};
use crate::flat_rate::Scheme;
use crate::law::{FuelScaleLength, FuelScaleTable, ParameterId, rule as cite};
use crate::money::{Money, Overflow, Rounding};
use crate::period::{Length, Period};
use crate::refusal::{Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::Adjusted;

static BAND_OF_EMISSIONS: Rule = Rule {
    says: "The band of a car is its CO2 emissions, down to a whole step of the bands, but never below the lowest band or above the highest.",
    authority: &[cite::VATA_1994_SECTION_57, cite::VIT55400, cite::FUEL_SCALE_CHARGES_COPIES],
};
static BAND_OF_ENGINE: Rule = Rule {
    says: "A car without a CO2 figure has the band that the table gives its cylinder capacity, and the highest above the largest of them.",
    authority: &[cite::VATA_1994_SECTION_57, cite::VIT55400, cite::FUEL_SCALE_CHARGES_COPIES],
};
static CHARGE: Rule = Rule {
    says: "The scale charge of a car is that of its band and of the length of the period, in the table in force on the day on which the period \
           begins. It is for standard accounting alone: a flat rate user recovers no VAT on fuel and owes none.",
    authority: &[cite::VATA_1994_SECTION_56, cite::VATA_1994_SECTION_57, cite::DECISION_FUEL_SCALE_CHARGES],
};
static VAT_IN_CHARGE: Rule = Rule {
    says: "A scale charge includes VAT: box 1 has the VAT fraction of it, to the nearest penny.",
    authority: &[cite::VATA_1994_SECTION_57, cite::VIT55400, cite::DECISION_ROUNDING],
};
static NET_OF_CHARGE: Rule = Rule {
    says: "Box 6 has the scale charge without its VAT.",
    authority: &[cite::VATA_1994_SECTION_56, cite::NOTICE_700_12],
};

/// Charges for each car, in boxes 1 and 6 of standard accounting.
pub(super) fn charge(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
    adjusted: &mut Adjusted,
) -> Result<(), Vec<Refusal>> {
    let cars = &figures.adjustments.fuel_scale_charges;
    if cars.is_empty() {
        return Ok(());
    }
    let refuse = |code, detail: String| Refusal::new(Place::FuelScaleCharges, code, detail);
    let mut refusals = Vec::new();
    if Scheme::of(&figures.business, period)?.days != period {
        refusals.push(refuse(
            RefusalCode::FuelScaleInPartOfPeriod,
            "The period is only partly in the Flat Rate Scheme. Scale charges are for whole periods, and a flat rate user owes none, so what is due for \
             the other days cannot be told. Leave the charges out and claim the business part of the fuel, or compare a period that lies wholly \
             in the scheme."
                .to_owned(),
        ));
    }
    let length = length(period).map_err(|detail| {
        refusals.push(refuse(RefusalCode::FuelScaleLengthNotInTable, detail));
    });
    let law = run.law;
    let table = law.fuel_scale_charges(period.start()).map_err(|missing| {
        let detail = format!(
            "The period begins on {}, and the tables hold road fuel scale charges for periods that begin {} only. Leave the charges out, and account \
             for the private use of fuel in another way.",
            missing.on,
            missing.known_days()
        );
        refusals.push(refuse(RefusalCode::DateOutsideLaw, detail));
    });
    let (Ok(length), Ok(table)) = (length, table) else { return Err(refusals) };
    if !refusals.is_empty() {
        return Err(refusals);
    }
    for (index, car) in cars.iter().enumerate() {
        let (answer, vat, net) =
            charge_one(run, (index, *car), (table, length), period).map_err(|found| vec![found])?;
        adjusted.answer.fuel_scale_charges.push(answer);
        adjusted.standard_box1.push(vat);
        adjusted.standard_box6.push(net);
    }
    Ok(())
}

/// The length of the period, where there are charges for it.
fn length(period: Period) -> Result<FuelScaleLength, String> {
    let length = period.length();
    let found = match length {
        Length::Months(months) => FuelScaleLength::of_months(months),
        Length::Days { .. } => None,
    };
    found.ok_or_else(|| {
        let given = match length {
            Length::Months(months) => format!("{months} months"),
            Length::Days { days, .. } => format!("{days} days, which are no whole months"),
        };
        format!(
            "The period is {given}. There are scale charges for one, three and twelve months only, and no part of one is worked out. Leave the \
             charges out and claim the business part of the fuel."
        )
    })
}

fn charge_one(
    run: &mut Run<'_>,
    (index, car): (usize, FuelScaleCar),
    (table, length): (FuelScaleTable<'_>, FuelScaleLength),
    period: Period,
) -> Result<(FuelScaleCharge, Traced<Money>, Traced<Money>), Refusal> {
    let scope = Scope::FuelScaleCharge(index);
    let band = match car {
        FuelScaleCar::Co2Emissions(co2) => {
            band_of_emissions(run, scope, Traced::given(co2, Place::FuelScaleCo2(index)), table)
        }
        FuelScaleCar::EngineCapacity(capacity) => {
            let of_engine = run.number(&table.of_engine(capacity), "Band of a car without a CO2 figure");
            let name = Name::new(scope, "band", "Band of the car", &BAND_OF_ENGINE).gives(&["band"]);
            run.step(name, of_engine.value, Rounding::None, "{}", &[of_engine.operand()])
        }
    };
    // Whatever comes out of a table's own steps is among its bands.
    let number = table.charge(band.value, length).ok_or(Overflow)?;
    let listed = run.number(&number, "Scale charge of the band");
    let charge =
        run.total(Name::new(scope, "charge", "Scale charge of the car", &CHARGE).gives(&["charge"]), &[listed])?;
    let rate = run.percentage(ParameterId::VatRateStandard, period.start(), "Rate of VAT")?;
    let name = Name::new(scope, "vat", "VAT in the scale charge", &VAT_IN_CHARGE).gives(&["vat"]);
    let exact = charge.value.exact().times(rate.value.vat_fraction()?)?;
    let vat = run.step(
        name,
        exact.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        "{} × {} ÷ (100 + {})",
        &[charge.operand(), rate.operand(), rate.operand()],
    );
    let net = run.difference(
        Name::new(scope, "net", "Scale charge without VAT", &NET_OF_CHARGE).gives(&["net"]),
        charge,
        vat,
    )?;
    let answer = FuelScaleCharge { band: band.value, charge: charge.value, vat: vat.value, net: net.value };
    Ok((answer, vat, net))
}

fn band_of_emissions(run: &mut Run<'_>, scope: Scope, co2: Traced<i32>, table: FuelScaleTable<'_>) -> Traced<i32> {
    let step = run.number(&table.step(), "Step of the bands");
    let lowest = run.number(&table.lowest(), "Lowest band");
    let highest = run.number(&table.highest(), "Highest band");
    // A table is refused where its step is not more than nought.
    let whole_steps = run.step(
        Name::new(scope, "whole_steps", "Whole steps in the emissions", &BAND_OF_EMISSIONS),
        co2.value.div_euclid(step.value.max(1)),
        Rounding::DownToWhole,
        "{} ÷ {}",
        &[co2.operand(), step.operand()],
    );
    let band = whole_steps.value.saturating_mul(step.value).min(highest.value).max(lowest.value);
    run.step(
        Name::new(scope, "band", "Band of the car", &BAND_OF_EMISSIONS).gives(&["band"]),
        band,
        Rounding::None,
        "max(min({} × {}, {}), {})",
        &[whole_steps.operand(), step.operand(), highest.operand(), lowest.operand()],
    )
}
