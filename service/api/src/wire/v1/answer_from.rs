//! From the calculation to the wire.

use std::borrow::Cow;

use vat_schemes::answer::{self as calculated, NumberKind};
use vat_schemes::period;

use super::adjustments_answer::Adjustments;
use super::answer::{
    Boxes, Comparison, EarlierSupplies, FlatRate, FlatRatePart, GoodsTest, LawUsed, NumberUsed, OutsideScheme, Period,
    SectorAt, StandardAccounting, TestedLine, Warning,
};
use super::category_answer::CategoryChoice;
use super::goods_answer::{GoodsTestAnswer, WhatWouldChange};
use super::request::ComparisonRequest;
use super::scalars::{Amount, Date, Percentage, Reference, SectorId, Share, WholePounds};
use super::vocabulary::{PercentageBasis, Severity, SpendKind, WarningKind};
use super::workings::Workings;

impl Comparison {
    /// The answer to a request: the comparison, and the one by money received where that was asked for too.
    pub fn new(
        request: ComparisonRequest,
        answer: calculated::Answer,
        received: Option<Box<calculated::Answer>>,
    ) -> Self {
        let mut law: LawUsed = answer.law.into();
        if let Some(received) = &received {
            law.add(received.law.used.iter().cloned().map(Into::into));
        }
        Self {
            period: answer.period.into(),
            standard: answer.standard.into(),
            flat_rate: answer.flat_rate.into(),
            goods_test: answer.goods_test.map(Into::into),
            comparison: answer.comparison.into(),
            received: received.map(|received| (*received).into()),
            adjustments: Adjustments::of(answer.adjustments),
            cash_accounting: answer.cash_accounting.map(Into::into),
            category: CategoryChoice::of(&request.business, answer.category),
            limits: answer.limits.map(Into::into),
            reference: request.reference,
            warnings: answer.warnings.into_iter().map(Into::into).collect(),
            workings: Workings::new(answer.workings),
            cautions: answer.cautions,
            law,
        }
    }
}

impl LawUsed {
    /// Adds numbers that another calculation used, each once.
    fn add(&mut self, used: impl Iterator<Item = NumberUsed>) {
        for number in used {
            if !self.parameters.iter().any(|known| known.link == number.link && known.from == number.from) {
                self.parameters.push(number);
            }
        }
    }
}

impl GoodsTestAnswer {
    /// The answer to a request with this reference.
    pub fn new(reference: Option<Reference>, answer: calculated::GoodsAnswer) -> Self {
        Self {
            reference,
            period: answer.period.into(),
            goods_test: answer.goods_test.into(),
            what_would_change: answer.what_would_change.into(),
            warnings: answer.warnings.into_iter().map(Into::into).collect(),
            workings: Workings::new(answer.workings),
            cautions: answer.cautions,
            law: answer.law.into(),
        }
    }
}

impl From<calculated::WhatWouldChange> for WhatWouldChange {
    fn from(change: calculated::WhatWouldChange) -> Self {
        Self {
            spend_needed: Amount(change.spend_needed),
            most_turnover: change.most_turnover.map(Amount),
            category_percentage: Percentage(change.category_percentage),
            limited_cost_percentage: Percentage(change.limited_cost_percentage),
        }
    }
}

impl From<period::Period> for Period {
    fn from(days: period::Period) -> Self {
        Self { start: Date(days.start()), end: Date(days.end()) }
    }
}

impl From<calculated::StandardAccounting> for StandardAccounting {
    fn from(standard: calculated::StandardAccounting) -> Self {
        Self {
            output_tax: Amount(standard.output_tax),
            input_tax: Amount(standard.input_tax),
            vat_payable: Amount(standard.vat_payable),
            vat_on_purchases: Amount(standard.vat_on_purchases),
            vat_not_recovered: Amount(standard.vat_not_recovered),
            boxes: standard.boxes.into(),
            partial_exemption: standard.partial_exemption.map(Into::into),
        }
    }
}

impl From<calculated::Boxes> for Boxes {
    fn from(boxes: calculated::Boxes) -> Self {
        Self {
            box1: Amount(boxes.box1),
            box2: Amount(boxes.box2),
            box3: Amount(boxes.box3),
            box4: Amount(boxes.box4),
            box5: Amount(boxes.box5),
            box6: WholePounds(boxes.box6),
            box7: WholePounds(boxes.box7),
            box8: WholePounds(boxes.box8),
            box9: WholePounds(boxes.box9),
        }
    }
}

impl From<calculated::FlatRate> for FlatRate {
    fn from(flat_rate: calculated::FlatRate) -> Self {
        Self {
            turnover: Amount(flat_rate.turnover),
            parts: flat_rate.parts.into_iter().map(Into::into).collect(),
            sector_at: flat_rate.sector_at.into_iter().map(Into::into).collect(),
            earlier_supplies: flat_rate.earlier_supplies.into_iter().map(Into::into).collect(),
            outside_scheme: flat_rate.outside_scheme.map(Into::into),
            input_tax: Amount(flat_rate.input_tax),
            vat_payable: Amount(flat_rate.vat_payable),
            boxes: flat_rate.boxes.into(),
            partial_exemption: flat_rate.partial_exemption.map(Into::into),
        }
    }
}

impl From<calculated::SectorAt> for SectorAt {
    fn from(at: calculated::SectorAt) -> Self {
        Self { from: Date(at.from), sector: SectorId(Cow::Owned(at.sector)) }
    }
}

impl From<calculated::EarlierSupplies> for EarlierSupplies {
    fn from(supplies: calculated::EarlierSupplies) -> Self {
        Self {
            percentage: Percentage(supplies.percentage),
            turnover: Amount(supplies.turnover),
            vat: Amount(supplies.vat),
        }
    }
}

impl From<calculated::OutsideScheme> for OutsideScheme {
    fn from(outside: calculated::OutsideScheme) -> Self {
        Self { days: outside.days.into_iter().map(Into::into).collect(), vat_on_sales: Amount(outside.vat_on_sales) }
    }
}

impl From<calculated::Part> for FlatRatePart {
    fn from(part: calculated::Part) -> Self {
        Self {
            start: Date(part.days.start()),
            end: Date(part.days.end()),
            turnover: Amount(part.turnover),
            percentage: Percentage(part.percentage),
            basis: PercentageBasis(part.basis),
            sector: SectorId(Cow::Owned(part.sector)),
            first_year_reduction: part.first_year_reduction.map(Percentage),
            vat: Amount(part.vat),
        }
    }
}

impl From<calculated::GoodsTest> for GoodsTest {
    fn from(test: calculated::GoodsTest) -> Self {
        Self {
            start: Date(test.days.start()),
            end: Date(test.days.end()),
            limited_cost_business: test.limited_cost_business,
            relevant_goods: Amount(test.relevant_goods),
            turnover: Amount(test.turnover),
            share_percentage: test.share_percentage.map(Share),
            two_percent_of_turnover: Amount(test.two_percent_of_turnover),
            minimum_for_period: Amount(test.minimum_for_period),
            required: Amount(test.required),
            headroom: Amount(test.headroom),
            lines: test.lines.into_iter().map(Into::into).collect(),
        }
    }
}

impl From<calculated::TestedLine> for TestedLine {
    fn from(line: calculated::TestedLine) -> Self {
        Self {
            line: ["/purchases/", itoa::Buffer::new().format(line.purchase)].concat(),
            spend: SpendKind(line.spend),
            relevant: line.relevant,
            amount: Amount(line.amount),
            reason: line.reason,
            authority: line.authority,
        }
    }
}

impl From<calculated::Warning> for Warning {
    fn from(warning: calculated::Warning) -> Self {
        Self {
            code: WarningKind(warning.code),
            severity: Severity(warning.severity),
            message: warning.message,
            measured: warning.measured,
            limit: warning.limit,
            act_by: warning.act_by.map(Date),
            lines: warning.lines,
            authority: warning.authority,
        }
    }
}

impl From<calculated::LawBehind> for LawUsed {
    fn from(law: calculated::LawBehind) -> Self {
        Self {
            edition: law.edition,
            checked_on: Date(law.checked_on),
            parameters: law.used.into_iter().map(Into::into).collect(),
        }
    }
}

impl From<calculated::LawUsed> for NumberUsed {
    fn from(used: calculated::LawUsed) -> Self {
        let link = match used.kind {
            NumberKind::Parameter => ["/v1/parameters/", &used.id].concat(),
            NumberKind::Sector => ["/v1/sectors/", &used.id].concat(),
            NumberKind::FuelScale => format!("/v1/fuel-scale-charges?on={}", used.from),
        };
        Self {
            link,
            id: used.id,
            value: used.value,
            from: Date(used.from),
            to: used.to.map(Date),
            authority: used.authority,
        }
    }
}
