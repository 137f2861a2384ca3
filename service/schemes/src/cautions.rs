//! What every answer leaves out, and who decides; the sentences that fit the case.

use std::borrow::Cow;

use crate::figures::TurnoverMethod;
use crate::law::Law;
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

/// The cautions of a list of dates.
pub(crate) fn of_dates(law: &Law) -> Vec<Cow<'static, str>> {
    vec![
        Cow::Owned(format!(
            "These days are worked out, not advice: from the facts given, on the law as last checked on {}. The day that HMRC show for a return or a payment prevails. HMRC \
             and a qualified adviser decide, and the business stays responsible for being in time.",
            law.checked_on()
        )),
        Cow::Borrowed(
            "Left out: payments on account, the final return after a registration ends, times that HMRC have agreed or extended, penalties and interest for being late, and a \
             first year of annual accounting of more than twelve months.",
        ),
        Cow::Borrowed(
            "Whether a limit is passed or the scheme may be used is not tested here: a day for a notice is of use only where there is something to tell.",
        ),
        Cow::Borrowed(
            "A payment can take days and passes through banks with hours and holidays of their own: ask the bank, and pay early. Bank holidays may be moved or added by \
             proclamation after this list was made.",
        ),
    ]
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
             the capital goods scheme can close it. Fuel scale charges, input tax to repay on unpaid purchases and the partial exemption year are left \
             out; bad debts, VAT from before registration and errors of earlier returns are in only as far as they were given.",
        ),
        Cow::Borrowed(TOTALS),
    ];
    let tested = findings.flat_rate.tested.as_ref();
    if tested.is_some() {
        cautions.push(Cow::Borrowed(TEST));
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
