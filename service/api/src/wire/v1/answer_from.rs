//! From the calculation to the wire.

use std::borrow::Cow;

use vat_schemes::answer as calculated;
use vat_schemes::period;
use vat_schemes::workings::{self, Source};

use super::answer::{
    Boxes, Comparison, FlatRate, FlatRatePart, GoodsTest, LawUsed, NumberUsed, Operand, PartialExemption, Period,
    SideBySide, StandardAccounting, Step, TestedLine, Warning,
};
use super::scalars::{Amount, AuthorityId, Date, Percentage, Reference, Share, WholePounds, authorities};
use super::vocabulary::{Cheaper, PercentageBasis, RoundingRule, Severity, SpendKind, WarningKind};

impl Comparison {
    /// The answer to a request with this reference.
    pub fn new(reference: Option<Reference>, answer: calculated::Answer) -> Self {
        Self {
            reference,
            period: answer.period.into(),
            standard: answer.standard.into(),
            flat_rate: answer.flat_rate.into(),
            goods_test: answer.goods_test.map(Into::into),
            comparison: answer.comparison.into(),
            warnings: answer.warnings.into_iter().map(Into::into).collect(),
            workings: steps(answer.workings),
            cautions: answer.cautions,
            law: LawUsed {
                edition: answer.law_edition,
                checked_on: Date(answer.law_checked_on),
                parameters: answer.law_used.into_iter().map(Into::into).collect(),
            },
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

impl From<calculated::PartialExemption> for PartialExemption {
    fn from(method: calculated::PartialExemption) -> Self {
        Self {
            percentage: method.percentage.map(Percentage),
            taxable_supplies: Amount(method.taxable_supplies),
            exempt_supplies: Amount(method.exempt_supplies),
            input_tax_taxable: Amount(method.input_tax_taxable),
            input_tax_exempt: Amount(method.input_tax_exempt),
            input_tax_both: Amount(method.input_tax_both),
            residual_recoverable: method.residual_recoverable.map(Amount),
            exempt_input_tax: method.exempt_input_tax.map(Amount),
            de_minimis_limit: Amount(method.de_minimis_limit),
            simplified_test_1: method.simplified_test_1,
            simplified_test_2: method.simplified_test_2,
            main_test: method.main_test,
            recoverable: Amount(method.recoverable),
        }
    }
}

impl From<calculated::FlatRate> for FlatRate {
    fn from(flat_rate: calculated::FlatRate) -> Self {
        Self {
            turnover: Amount(flat_rate.turnover),
            parts: flat_rate.parts.into_iter().map(Into::into).collect(),
            input_tax: Amount(flat_rate.input_tax),
            vat_payable: Amount(flat_rate.vat_payable),
            boxes: flat_rate.boxes.into(),
            partial_exemption: flat_rate.partial_exemption.map(Into::into),
        }
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
            line: format!("/purchases/{}", line.purchase),
            spend: SpendKind(line.spend),
            relevant: line.relevant,
            amount: Amount(line.amount),
            reason: line.reason,
            authority: authorities(line.authority),
        }
    }
}

impl From<calculated::Comparison> for SideBySide {
    fn from(comparison: calculated::Comparison) -> Self {
        Self {
            cheaper: Cheaper(comparison.cheaper),
            saving: Amount(comparison.saving),
            flat_rate_minus_standard: Amount(comparison.flat_rate_minus_standard),
            break_even_input_tax: Amount(comparison.break_even_input_tax),
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
            authority: authorities(warning.authority),
        }
    }
}

impl From<calculated::LawUsed> for NumberUsed {
    fn from(used: calculated::LawUsed) -> Self {
        let collection = if used.is_sector { "sectors" } else { "parameters" };
        Self {
            link: format!("/v1/{collection}/{}", used.id),
            id: used.id,
            value: used.value,
            from: Date(used.from),
            to: used.to.map(Date),
            authority: used.authority.into_iter().map(|id| AuthorityId(Cow::Owned(id))).collect(),
        }
    }
}

/// The steps, each operand with the name of the step or the place in the request that it comes from.
fn steps(steps: Vec<workings::Step>) -> Vec<Step> {
    let names: Vec<Cow<'static, str>> = steps.iter().map(|step| step.id.clone()).collect();
    steps.into_iter().map(|step| one_step(step, &names)).collect()
}

fn one_step(step: workings::Step, names: &[Cow<'static, str>]) -> Step {
    let sum = step.sum();
    Step {
        sum,
        operands: step.operands.iter().map(|operand| one_operand(operand, names)).collect(),
        rounding: RoundingRule(step.rounding),
        result: step.result.to_string(),
        id: step.id,
        label: step.label,
        rule: step.rule,
        authority: step.authority.into_iter().map(AuthorityId).collect(),
        figures: step.figures,
    }
}

fn one_operand(operand: &workings::Operand, names: &[Cow<'static, str>]) -> Operand {
    let (step, input) = match operand.source {
        Source::Step(position) => {
            (usize::try_from(position).ok().and_then(|position| names.get(position)).cloned(), None)
        }
        Source::Input(place) => (None, Some(place.to_string())),
    };
    Operand { step, input, value: operand.value.to_string() }
}
