//! Errors of earlier returns: their net, and whether the return of the period may carry it.

use jiff::civil::Date;

use crate::answer::Corrections;
use crate::figures::Figures;
use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Percentage, Rounding, WholePounds};
use crate::period::Period;
use crate::refusal::{ErrorField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::months_after;

static NET_ERROR: Rule = Rule {
    says: "Errors found in a period are netted: VAT under-declared less VAT over-declared, those that are out of time left out.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_34, cite::NOTICE_700_45],
};
static ON_RETURN: Rule = Rule {
    says: "The return may carry the net error up to the smaller limit, or up to the share of box 6 where that is more and the larger limit is not passed; \
           otherwise HMRC are told of it apart.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_34, cite::NOTICE_700_45, cite::DECISION_ERRORS_AT_LIMIT],
};

/// The last day for correcting each error (VAT Regulations 1995 reg 34(1A)).
///
/// # Errors
/// An error of a period that is not an earlier one.
pub(super) fn correct_by(run: &Run<'_>, figures: &Figures, period: Period) -> Result<Vec<Date>, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let mut days = Vec::with_capacity(figures.adjustments.errors.len());
    for (index, error) in figures.adjustments.errors.iter().enumerate() {
        if error.period_end >= period.start() {
            refusals.push(Refusal::new(
                Place::ReturnError(index, ErrorField::PeriodEnd),
                RefusalCode::DatesOutOfOrder,
                format!(
                    "The error's period ends on {}, but an earlier period ends before this one starts on {}. Correct the figures of this period instead.",
                    error.period_end, period.start()
                ),
            ));
            continue;
        }
        let registered_on = figures.business.registered_on;
        if error.period_end < registered_on {
            refusals.push(Refusal::new(
                Place::ReturnError(index, ErrorField::PeriodEnd),
                RefusalCode::DatesOutOfOrder,
                format!(
                    "The error's period ends on {}, before the registration on {registered_on}, so there was no return. Correct the day, or leave the error out.",
                    error.period_end
                ),
            ));
            continue;
        }
        match months_after(error.period_end, run.law.months(ParameterId::ErrorCorrectionMonths, period.start())) {
            Ok(day) => days.push(day),
            Err(refusal) => refusals.push(refusal),
        }
    }
    if refusals.is_empty() { Ok(days) } else { Err(refusals) }
}

/// Nets the errors and measures them against the limits (VAT Regulations 1995 reg 34; Notice 700/45), given the last day for
/// correcting each.
pub(crate) fn correct(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
    correct_by: Vec<Date>,
    [standard, flat_rate]: [Traced<WholePounds>; 2],
) -> Result<Option<Corrections>, Refusal> {
    let errors = &figures.adjustments.errors;
    if errors.is_empty() {
        return Ok(None);
    }
    let in_time: Vec<bool> = correct_by.iter().map(|day| period.end() <= *day).collect();
    let counted: Vec<_> = errors
        .iter()
        .enumerate()
        .zip(&in_time)
        .filter(|(_, in_time)| **in_time)
        .map(|((index, error), _)| Traced::given(error.amount, Place::ReturnError(index, ErrorField::Amount)))
        .collect();
    let name = Name::new(Scope::Errors, "net_error", "Net error", &NET_ERROR).gives(&["net_error"]);
    let net_error = run.total(name, &counted)?;
    let limits = Limits::of(run, period)?;
    Ok(Some(Corrections {
        net_error: net_error.value,
        on_return_standard: limits.allow(run, "on_return_standard", &["on_return_standard"], net_error, standard)?,
        on_return_flat_rate: limits.allow(
            run,
            "on_return_flat_rate",
            &["on_return_flat_rate"],
            net_error,
            flat_rate,
        )?,
        correct_by,
        in_time,
    }))
}

struct Limits {
    small: Traced<Money>,
    large: Traced<Money>,
    share: Traced<Percentage>,
}

impl Limits {
    fn of(run: &mut Run<'_>, period: Period) -> Result<Self, Refusal> {
        let on = period.start();
        Ok(Self {
            small: run.amount(
                ParameterId::ErrorCorrectionOnReturnSmall,
                on,
                "Net error that a return may always carry",
            )?,
            large: run.amount(
                ParameterId::ErrorCorrectionOnReturnLarge,
                on,
                "Net error that a return may never pass",
            )?,
            share: run.percentage(
                ParameterId::ErrorCorrectionBox6Share,
                on,
                "Share of box 6 up to which a return may carry more",
            )?,
        })
    }

    fn allow(
        &self,
        run: &mut Run<'_>,
        id: &'static str,
        figures: &'static [&'static str],
        net_error: Traced<Money>,
        box6: Traced<WholePounds>,
    ) -> Result<bool, Refusal> {
        let size = net_error.value.magnitude();
        let by_share = box6.value.exact().times(self.share.value.as_fraction())?;
        let limit = self.small.value.exact().larger(by_share)?;
        let allowed = size <= self.large.value && size.exact().at_most(limit)?;
        let operands = [
            net_error.operand(),
            self.large.operand(),
            net_error.operand(),
            self.small.operand(),
            box6.operand(),
            self.share.operand(),
        ];
        let name =
            Name::new(Scope::Errors, id, "Whether the return may carry the net error", &ON_RETURN).gives(figures);
        let formula = "abs({}) ≤ {} and abs({}) ≤ max({}, {} × {} ÷ 100)";
        Ok(run.step(name, allowed, Rounding::None, formula, &operands).value)
    }
}
