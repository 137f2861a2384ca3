//! What every answer leaves out, and who decides; the sentences that fit the case.

use std::borrow::Cow;

use crate::answer::RecoveryBasis;
use crate::figures::TurnoverMethod;
use crate::law::Law;
use crate::partial_exemption_year::answer::YearAnswer;
use crate::warnings::Findings;

const CATEGORY: &str = "The category of business is the user's own choice on what it reasonably expects to do; the service does not choose it, \
                        and a wrong one changes everything.";
const TEST: &str = "The limited cost test is made anew each period, so the percentage may alternate. Goods bought only to pass it are seldom a \
                    saving.";
const TOTALS: &str = "Totals are taken as given: tax points, invoices held and the use of each purchase are not tested. The figures here are no \
                      digital link to a VAT Return.";

fn no_advice(law: &Law) -> Cow<'static, str> {
    Cow::Owned(format!(
        "This is a calculation, not advice: an estimate from the totals given, on the law as last checked on {}. HMRC and a qualified adviser \
         decide, and the business stays responsible for its return.",
        law.checked_on()
    ))
}

/// The cautions of a goods test alone.
pub(crate) fn of_goods_test(law: &Law) -> Vec<Cow<'static, str>> {
    vec![
        no_advice(law),
        Cow::Borrowed(CATEGORY),
        Cow::Borrowed(TEST),
        Cow::Borrowed(
            "Keep a record of what was spent on relevant goods with each return. Whether the business may use the Flat Rate Scheme is not \
             checked, and any first-year reduction is left out of the percentages shown.",
        ),
        Cow::Borrowed(TOTALS),
    ]
}

/// The caution of a period's partial exemption, by where its percentage comes from.
fn of_partial_exemption(basis: Option<RecoveryBasis>) -> &'static str {
    match basis {
        Some(RecoveryBasis::Period) => {
            "Partial exemption was worked out on the period's own supplies; last year's percentage may govern instead, and the tests are made again \
             for the year, which decides. Bank interest entered as non-business stays out of the fraction."
        }
        Some(RecoveryBasis::PreviousYear) => {
            "Partial exemption was worked out with last year's percentage as it was given; at the end of the year a percentage of its own is formed and \
             the tests are made again, and the year decides."
        }
        None => {
            "Partial exemption was worked out without a percentage, as none was needed; the tests are made again for the year, which decides."
        }
    }
}

/// The cautions of a partial exemption year.
pub(crate) fn of_exemption_year(law: &Law, answer: &YearAnswer) -> Vec<Cow<'static, str>> {
    let mut cautions = vec![
        no_advice(law),
        Cow::Borrowed(
            "Only the standard method is worked out: special methods agreed with HMRC, other longer periods that they approved, groups, the capital \
             goods scheme, changes of the intended use and the standard method override are left out.",
        ),
        Cow::Borrowed(
            "Give input tax without what is blocked or not for business, and with the VAT on reverse charges and imports; supplies without capital \
             assets sold and without incidental interest, land and finance. What each purchase was used for is not tested.",
        ),
        Cow::Borrowed(TOTALS),
    ];
    if answer.periods.iter().any(|period| period.partial_exemption.percentage_basis == Some(RecoveryBasis::Period)) {
        cautions.push(Cow::Borrowed(
            "The periods were worked out with percentages of their own. Where there was a longer period before, its percentage is used in them unless \
             the business chose otherwise throughout: give it as previous_year_percentage.",
        ));
    }
    cautions
}

/// The cautions of an answer, the general ones first.
pub(crate) fn fitting(findings: &Findings<'_>) -> Vec<Cow<'static, str>> {
    let mut cautions: Vec<Cow<'static, str>> = vec![
        no_advice(findings.law),
        Cow::Borrowed(CATEGORY),
        Cow::Borrowed(
            "One period proves little: compare a year. The cost of a change of scheme, such as stock on hand and the twelve months before a \
             business may come back, is left out.",
        ),
        Cow::Borrowed(
            "Whether the business may use the Flat Rate Scheme is not checked: turnover limits, associated businesses, second-hand goods, land and \
             the capital goods scheme can close it. Fuel scale charges and input tax to repay on unpaid purchases are left \
             out, and the partial exemption year is worked out by itself; bad debts, VAT from before registration and errors of earlier returns are in only as far as they were given.",
        ),
        Cow::Borrowed(TOTALS),
    ];
    let tested = findings.flat_rate.tested.as_ref();
    if tested.is_some() {
        cautions.push(Cow::Borrowed(TEST));
    }
    if let Some(calculation) = &findings.standard.partial_exemption {
        cautions.push(Cow::Borrowed(of_partial_exemption(calculation.percentage_basis)));
    }
    match findings.figures.business.turnover_method {
        TurnoverMethod::Basic => {}
        TurnoverMethod::Cash => cautions.push(Cow::Borrowed(
            "With the cash turnover method the percentage is that of the time of supply, which some read the bare regulation against: say the part or the \
             percentage for receipts of earlier supplies, and leave out receipts for supplies accounted for before joining. Give spending on goods on \
             the same basis as turnover.",
        )),
        TurnoverMethod::Retailer => cautions.push(Cow::Borrowed(
            "With the retailer's turnover method the sales are daily gross takings; no retail scheme goes with the Flat Rate Scheme.",
        )),
    }
    if findings.comparison_is_close() {
        cautions.push(Cow::Borrowed(
            "The two schemes differ by little: the difference is within the doubt of the facts, and time and record-keeping may weigh more.",
        ));
    }
    if findings.has_capital_goods() {
        cautions.push(Cow::Borrowed(
            "A claim on capital goods under the Flat Rate Scheme is for goods, not services, for one purchase, and not for things to sell, to hire \
             out or to use up within a year; VAT must be accounted for when they are sold.",
        ));
    }
    if findings.adjustments.leaving.is_some() {
        cautions.push(Cow::Borrowed(
            "What goods on hand mean on leaving the scheme is shown apart and stands on neither return: it belongs to the first ordinary return, and \
             only if the business remains registered. Value capital goods at what they would fetch, and take advice on the stock.",
        ));
    }
    cautions
}
