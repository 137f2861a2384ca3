//! What every answer leaves out, and who decides; the sentences that fit the case.

use std::borrow::Cow;

use crate::figures::TurnoverMethod;
use crate::warnings::Findings;

/// The cautions of an answer, the general ones first.
pub(crate) fn fitting(findings: &Findings<'_>) -> Vec<Cow<'static, str>> {
    let mut cautions: Vec<Cow<'static, str>> = vec![
        Cow::Owned(format!(
            "This is a calculation, not advice: an estimate from the totals given, on the law as last checked on {}. HMRC and a qualified \
             adviser decide, and the business stays responsible for its return.",
            findings.law.checked_on()
        )),
        Cow::Borrowed(
            "The category of business is the user's own choice on what it reasonably expects to do; the service does not choose it, and a \
             wrong one changes everything.",
        ),
        Cow::Borrowed(
            "One period proves little: compare a year. The cost of a change of scheme, such as stock on hand and the twelve months before a \
             business may come back, is left out.",
        ),
        Cow::Borrowed(
            "Whether the business may use the Flat Rate Scheme is not checked: turnover limits, associated businesses, second-hand goods, land and \
             the capital goods scheme can close it. Corrections, bad debts, pre-registration VAT and fuel scale charges are left out.",
        ),
        Cow::Borrowed(
            "Totals are taken as given: tax points, invoices held and the use of each purchase are not tested. The figures here are no digital \
             link to a VAT Return.",
        ),
    ];
    let tested = findings.flat_rate.tested.as_ref();
    if tested.is_some() {
        cautions.push(Cow::Borrowed(
            "The limited cost test is made anew each period, so the percentage may alternate. Goods bought only to pass it are \
             seldom a saving.",
        ));
    }
    if findings.standard.partial_exemption.is_some() {
        cautions.push(Cow::Borrowed(
            "Partial exemption was worked out on the period's own supplies; last year's percentage may govern instead, and the tests are made again \
             for the year, which decides. Bank interest entered as non-business stays out of the fraction.",
        ));
    }
    match findings.figures.business.turnover_method {
        TurnoverMethod::Basic => {}
        TurnoverMethod::Cash => cautions.push(Cow::Borrowed(
            "With the cash turnover method the percentage is that of the time of supply: receipts for supplies of an earlier period with another \
             percentage are not told apart. Give spending on goods on the same basis as turnover.",
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
    cautions
}
