//! What every answer leaves out, and who decides; the sentences that fit the case.

use std::borrow::Cow;

use crate::answer::RecoveryBasis;
use crate::figures::{Treatment, TurnoverMethod};
use crate::law::Law;
use crate::partial_exemption_year::answer::YearAnswer;
use crate::warnings::Findings;

const CATEGORY: &str = "The category of business is the user's own choice on what it reasonably expects to do; the service does not choose it, \
                        and a wrong one changes everything.";
const ONE_PERIOD: &str = "One period proves little: compare a year. The cost of a change of scheme, such as stock on hand and the twelve months before a \
             business may come back, is left out.";
const LIMITS_TESTED: &str = "Limits on turnover are tested only as far as figures for them were given as turnover. Whether the business may use the Flat Rate \
                             Scheme is not checked otherwise: associated businesses, second-hand goods, land and the capital goods scheme can close it.";
const LIMITS_NOT_TESTED: &str = "Where no turnover is given, no limit is tested: for joining and for leaving the Flat Rate Scheme, for cash accounting, and for \
                                 ending the registration. Nor is anything else checked that can close the scheme: associated businesses, second-hand \
                                 goods, land and the capital goods scheme.";
const AS_GIVEN: &str = "Bad debts, unpaid purchases, VAT from before registration, scale charges and errors of earlier returns are in only as far as they \
                        were given; the partial exemption year is worked out by itself.";
const TEST: &str = "The limited cost test is made anew each period, so the percentage may alternate. Goods bought only to pass it are seldom a \
                    saving.";
const TOTALS: &str = "Totals are taken as given: tax points, invoices held and the use of each purchase are not tested. The figures here are no \
                      digital link to a VAT Return.";

/// The cautions of every answer, whatever it says.
#[must_use]
pub fn general_cautions(law: &Law) -> Vec<Cow<'static, str>> {
    vec![
        no_advice(law),
        Cow::Borrowed(CATEGORY),
        Cow::Borrowed(ONE_PERIOD),
        Cow::Borrowed(LIMITS_NOT_TESTED),
        Cow::Borrowed(AS_GIVEN),
        Cow::Borrowed(TOTALS),
    ]
}

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

/// The cautions of an invoice.
pub(crate) fn of_invoice(law: &Law) -> Vec<Cow<'static, str>> {
    vec![
        no_advice(law),
        Cow::Borrowed(
            "The ways of rounding are for single invoices and till receipts: never apply them to the totals of a period. Choose one and keep to it; another one may be agreed with HMRC.",
        ),
        Cow::Borrowed(
            "The treatment of each line and the tax point are taken as given, and so is that the prices by which one price is shared out are those at which each supply is really sold alone; HMRC accept any fair and supported method. Discounts for prompt payment, foreign money and what a VAT invoice must say besides are left out.",
        ),
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
    let mut cautions = general_cautions(findings.law);
    if findings.limits.is_some() {
        cautions.retain(|caution| caution != LIMITS_NOT_TESTED);
        cautions.push(Cow::Borrowed(LIMITS_TESTED));
    }
    let tested = findings.flat_rate.tested.as_ref();
    if tested.is_some() {
        cautions.push(Cow::Borrowed(TEST));
    }
    if let Some(calculation) = &findings.standard.partial_exemption {
        cautions.push(Cow::Borrowed(of_partial_exemption(calculation.percentage_basis)));
    }
    if findings.lines.sales.iter().any(|sale| sale.treatment == Treatment::NonBusiness) {
        cautions.push(Cow::Borrowed(
            "Income entered as non-business stays out of box 6 on both returns. Strictly, bank interest is an exempt supply whose value belongs there; \
             no tax turns on it.",
        ));
    }
    match findings.figures.business.turnover_method {
        TurnoverMethod::Basic => {}
        TurnoverMethod::Cash => {
            cautions.push(Cow::Borrowed(
                "With the cash turnover method the percentage is that of the time of supply, which some read the bare regulation against: say the part or the \
                 percentage for receipts of earlier supplies, and leave out receipts for supplies accounted for before joining. Give spending on goods on \
                 the same basis as turnover.",
            ));
            cautions.push(Cow::Borrowed(
                "The standard side is then the cash accounting scheme. Outside it are hire purchase, conditional and credit sale, lease purchase, invoices not \
                 due in full within six months, and invoices issued before delivery or performance: give these by invoice.",
            ));
        }
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
    if findings.figures.marginal_tax.is_some() {
        cautions.push(Cow::Borrowed(
            "The difference after tax takes all of it as profit taxed at the rate given. VAT on capital items is relieved through capital allowances, VAT on \
             costs that tax law disallows not at all, and taking profit out of a company costs more; all that is left out.",
        ));
    }
    if !findings.adjustments.fuel_scale_charges.is_empty() {
        cautions.push(Cow::Borrowed(
            "The table of road fuel scale charges is known from secondary copies: compare it with gov.uk before using a charge. A charge is for one car \
             throughout the period; a car that takes another's place within it counts with that one by time, which is not worked out here. In partial \
             exemption the charges stay out of the fraction.",
        ));
    }
    if findings.cash_accounting.is_some() {
        cautions.push(Cow::Borrowed(
            "The cash accounting scheme and the Flat Rate Scheme cannot be used together. To change from one to the other is to leave the one first, and \
             what is outstanding on leaving cash accounting is accounted for beside flat rate turnover: take advice on the change. HMRC can end the use \
             of cash accounting to protect the revenue.",
        ));
    }
    if findings.cash_accounting.is_some_and(|cash| cash.leaving.is_some()) {
        cautions.push(Cow::Borrowed(
            "What is outstanding on leaving cash accounting is shown apart and stands on neither return. Relief for bad debts among it may be claimed in \
             the period of leaving, or at the end of the six months, where the debt is six months overdue and written off.",
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
