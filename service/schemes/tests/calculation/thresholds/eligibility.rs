//! Whether the business may use the Flat Rate Scheme, what ends its use, and the days to act by (VAT Regulations 1995 regs 55A(2), 55L,
//! 55M, 55N, 55P and 55Q).

use crate::support::day;
use crate::support::thresholds::*;
use vat_schemes::thresholds::{Answer, FlatRateFacts, Question, ThresholdAnswer, ThresholdFigures};

fn all_clear() -> FlatRateFacts {
    let no = Some(false);
    FlatRateFacts {
        tour_operator: no,
        capital_goods_scheme: no,
        second_hand_margin_scheme: no,
        vat_offence_in_past_year: no,
        left_flat_rate_in_past_year: no,
        eligible_for_vat_group: no,
        eligible_for_vat_group_in_past_two_years: no,
        registered_in_divisions: no,
        registered_in_divisions_in_past_two_years: no,
        dominant_influence: no,
        financial_links: Some(true),
        economic_links: Some(true),
        organisational_links: no,
        associated_in_past_two_years: no,
        retail_scheme: no,
        ..FlatRateFacts::default()
    }
}

fn with(facts: FlatRateFacts) -> ThresholdFigures {
    let mut figures = registered("2026-04-30");
    figures.turnover.next_year = Some(taxable("100000.00"));
    figures.facts = facts;
    figures
}

fn condition<'a>(answer: &'a ThresholdAnswer, id: &str) -> &'a Question {
    answer.eligibility.conditions.iter().find(|question| question.id == id).expect("a condition")
}

fn cause<'a>(answer: &'a ThresholdAnswer, id: &str) -> &'a Question {
    answer.eligibility.causes_of_leaving.iter().find(|question| question.id == id).expect("a cause")
}

/// Reg 55L(1): every condition must be met, and each one alone can keep the business out; reg 55A(2): all three links together.
#[test]
fn every_condition_of_joining_counts_alone() {
    type Fact = fn(&mut FlatRateFacts) -> &mut Option<bool>;
    assert_eq!(tested(&with(all_clear())).eligibility.may_join, Answer::Yes);
    let facts: [(Fact, bool); 15] = [
        (|facts| &mut facts.tour_operator, true),
        (|facts| &mut facts.capital_goods_scheme, true),
        (|facts| &mut facts.second_hand_margin_scheme, true),
        (|facts| &mut facts.vat_offence_in_past_year, true),
        (|facts| &mut facts.left_flat_rate_in_past_year, true),
        (|facts| &mut facts.eligible_for_vat_group, true),
        (|facts| &mut facts.eligible_for_vat_group_in_past_two_years, true),
        (|facts| &mut facts.registered_in_divisions, true),
        (|facts| &mut facts.registered_in_divisions_in_past_two_years, true),
        (|facts| &mut facts.dominant_influence, true),
        (|facts| &mut facts.organisational_links, true),
        (|facts| &mut facts.associated_in_past_two_years, true),
        (|facts| &mut facts.retail_scheme, true),
        // Two of three links are there and the third is not: these decide nothing.
        (|facts| &mut facts.financial_links, false),
        (|facts| &mut facts.economic_links, false),
    ];
    for (index, (fact, decides)) in facts.iter().enumerate() {
        let mut changed = all_clear();
        *fact(&mut changed) = Some(true);
        let expected = if *decides { Answer::No } else { Answer::Yes };
        assert_eq!(tested(&with(changed)).eligibility.may_join, expected, "{index}");
        *fact(&mut changed) = None;
        let answer = tested(&with(changed));
        assert_eq!(answer.eligibility.may_join, if *decides { Answer::NotKnown } else { Answer::Yes }, "{index}");
        assert_eq!(answer.eligibility.to_ask.len(), usize::from(*decides), "{index}");
    }
    let mut over = with(all_clear());
    over.turnover.next_year = Some(taxable("150000.01"));
    assert_eq!(tested(&over).eligibility.may_join, Answer::No);
    over.turnover.next_year = None;
    assert_eq!(tested(&over).eligibility.may_join, Answer::NotKnown);
    let mut cash = with(all_clear());
    cash.business.uses_cash_accounting = true;
    assert_eq!(tested(&cash).eligibility.may_join, Answer::No);
    let mut not_registered = with(all_clear());
    not_registered.business.registered_on = None;
    assert_eq!(tested(&not_registered).eligibility.may_join, Answer::NotKnown);
}

/// Reg 55A(2): a dominant influence alone, or all three links.
#[test]
fn association_needs_an_influence_or_all_three_links() {
    let (yes, no) = (Some(true), Some(false));
    for (influence, links, expected) in [
        (no, [yes, yes, yes], Answer::Yes),
        (yes, [no, no, no], Answer::Yes),
        (yes, [None, None, None], Answer::Yes),
        (None, [yes, yes, yes], Answer::Yes),
        (no, [yes, yes, no], Answer::No),
        (no, [no, None, None], Answer::No),
        (no, [yes, yes, None], Answer::NotKnown),
        (None, [no, no, no], Answer::NotKnown),
        (None, [None, None, None], Answer::NotKnown),
    ] {
        let [financial_links, economic_links, organisational_links] = links;
        let facts = FlatRateFacts {
            dominant_influence: influence,
            financial_links,
            economic_links,
            organisational_links,
            ..all_clear()
        };
        assert_eq!(condition(&tested(&with(facts)), "associated").answer, expected, "{influence:?} {links:?}");
    }
}

/// What is not told is asked, and never assumed.
#[test]
fn nothing_known_means_everything_asked() {
    let answer = tested(&unregistered("2026-04-30"));
    let eligibility = &answer.eligibility;
    assert_eq!((eligibility.may_join, eligibility.must_leave), (Answer::NotKnown, None));
    let open: Vec<&str> = eligibility
        .conditions
        .iter()
        .filter(|question| question.bearing.as_str() == "open")
        .map(|question| question.question)
        .collect();
    assert_eq!(open, eligibility.to_ask);
    // Only whether cash accounting is used has a default.
    assert_eq!(open.len() + 1, eligibility.conditions.len());
    // A user is asked for causes of leaving; one who left, for both.
    let causes = tested(&user("2025-04-30")).eligibility.to_ask;
    assert_eq!(causes.len(), 7);
    let mut left = user("2025-04-30");
    left.business.flat_rate_until = Some(day("2025-03-31"));
    let both = tested(&left).eligibility.to_ask;
    assert_eq!(both.len(), eligibility.conditions.len() - 3 + causes.len());
}

/// Regs 55M(1), 55N and 55Q: the first day outside by cause, and thirty days for telling HMRC.
#[test]
fn every_cause_of_leaving_has_its_day() {
    let on = Some(day("2025-03-10"));
    for (facts, id, told) in [
        (FlatRateFacts { tour_operator_from: on, ..FlatRateFacts::default() }, "tour_operator", true),
        (FlatRateFacts { capital_item_intended_on: on, ..FlatRateFacts::default() }, "capital_item", true),
        (FlatRateFacts { margin_scheme_from: on, ..FlatRateFacts::default() }, "margin_scheme", true),
        (FlatRateFacts { associated_from: on, ..FlatRateFacts::default() }, "group_or_association", true),
        (FlatRateFacts { opts_out_on: on, ..FlatRateFacts::default() }, "opts_out", true),
        (FlatRateFacts { terminated_by_hmrc_on: on, ..FlatRateFacts::default() }, "terminated_by_hmrc", false),
    ] {
        for (as_of, to_come) in [("2025-03-09", true), ("2025-03-10", false), ("2025-03-31", false)] {
            let mut figures = user(as_of);
            figures.facts = facts;
            let answer = tested(&figures);
            assert_eq!(answer.eligibility.must_leave, Some(Answer::Yes), "{id}");
            assert_eq!(answer.eligibility.out_from, on, "{id}");
            assert_eq!(answer.eligibility.return_from, Some(day("2026-03-10")), "{id}");
            let found = cause(&answer, id);
            assert_eq!((found.out_from, found.notify_by), (on, told.then(|| day("2025-04-09"))), "{id}");
            assert_eq!(found.consequence.contains("is still to come"), to_come, "{id} seen on {as_of}");
            let days: Vec<_> = answer.act_by.iter().map(|act| act.on.to_string()).collect();
            assert_eq!(days, if told { vec!["2025-04-09", "2026-03-10"] } else { vec!["2026-03-10"] }, "{id}");
        }
    }
    // The earliest of several counts; a fact without a day is a cause without a day.
    let mut figures = user("2025-03-31");
    figures.facts = FlatRateFacts {
        opts_out_on: Some(day("2025-05-01")),
        associated_from: Some(day("2025-04-02")),
        tour_operator: Some(true),
        ..FlatRateFacts::default()
    };
    let answer = tested(&figures);
    assert_eq!(answer.eligibility.out_from, Some(day("2025-04-02")));
    assert_eq!((cause(&answer, "tour_operator").answer, cause(&answer, "tour_operator").out_from), (Answer::Yes, None));
}

/// With every fact known and income within the limits, only whether HMRC ended the use is open.
#[test]
fn what_is_known_of_a_user() {
    let clear = |past: &str, next: &str| {
        let mut figures = user("2025-02-15");
        figures.turnover.past_year = year(None, income(past));
        figures.turnover.next_30_days = Some(income(next));
        figures.facts = all_clear();
        tested(&figures)
    };
    let answer = clear("1.00", "1.00");
    assert_eq!(answer.eligibility.must_leave, Some(Answer::NotKnown));
    assert_eq!(answer.eligibility.to_ask, ["Have HMRC ended its use?"]);
    assert_eq!((answer.eligibility.out_from, answer.act_by.len()), (None, 0));
    assert_eq!(answer.eligibility.usual_last_day, Some(day("2025-04-30")));
    assert!(answer.eligibility.leaving_by_choice.contains("as a rule 2025-04-30"));
    for id in ["income_past_year", "income_next_30_days", "group_or_association"] {
        assert_eq!(cause(&answer, id).answer, Answer::No, "{id}");
    }
    let answer = clear("230000.01", "1.00");
    assert_eq!(answer.eligibility.must_leave, Some(Answer::Yes));
    let found = cause(&answer, "income_past_year");
    assert_eq!((found.out_from, found.notify_by), (Some(day("2025-05-01")), Some(day("2025-03-17"))));
    let answer = clear("1.00", "230000.01");
    let found = cause(&answer, "income_next_30_days");
    assert_eq!((found.out_from, found.notify_by), (Some(day("2025-02-15")), Some(day("2025-03-17"))));
    // A year that is still to come ends nothing yet.
    let mut figures = user("2025-01-31");
    figures.turnover.months = months("2024-02", &[2_000_000; 12]);
    let answer = tested(&figures);
    assert_eq!(
        (cause(&answer, "income_past_year").answer, cause(&answer, "income_past_year").out_from),
        (Answer::No, None)
    );
    // One of the facts of a group is enough, and one that is not known leaves it open.
    for (facts, expected) in [
        (FlatRateFacts { registered_in_divisions: Some(true), ..all_clear() }, Answer::Yes),
        (FlatRateFacts { registered_in_divisions: None, ..all_clear() }, Answer::NotKnown),
        (
            FlatRateFacts { registered_in_divisions: None, eligible_for_vat_group: Some(true), ..all_clear() },
            Answer::Yes,
        ),
    ] {
        let mut figures = user("2025-02-15");
        figures.facts = facts;
        assert_eq!(cause(&tested(&figures), "group_or_association").answer, expected);
    }
}

/// Reg 55L(1)(c): a business that left may come back after twelve months.
#[test]
fn a_business_that_left_may_come_back_after_twelve_months() {
    for (as_of, expected) in [
        ("2024-12-31", Answer::NotKnown),
        ("2025-01-01", Answer::Yes),
        ("2025-12-31", Answer::Yes),
        ("2026-01-01", Answer::No),
    ] {
        let mut figures = registered(as_of);
        figures.business.flat_rate_from = Some(day("2020-01-01"));
        figures.business.flat_rate_until = Some(day("2024-12-31"));
        let answer = tested(&figures);
        assert_eq!(condition(&answer, "left_flat_rate_in_past_year").answer, expected, "{as_of}");
        assert_eq!(answer.eligibility.out_from, Some(day("2025-01-01")), "{as_of}");
        assert_eq!(answer.eligibility.return_from, Some(day("2026-01-01")), "{as_of}");
    }
    let mut facts = with(all_clear());
    facts.facts.left_flat_rate_in_past_year = Some(true);
    assert_eq!(condition(&tested(&facts), "left_flat_rate_in_past_year").answer, Answer::Yes);
}

/// The days to act by, in their order, with what each is.
#[test]
fn the_days_to_act_by() {
    let acts = |figures: &ThresholdFigures| -> Vec<(String, &'static str)> {
        tested(figures).act_by.iter().map(|act| (act.on.to_string(), act.title)).collect()
    };
    let owned = |expected: &[(&str, &'static str)]| -> Vec<(String, &'static str)> {
        expected.iter().map(|(on, title)| ((*on).to_owned(), *title)).collect()
    };
    const TELL_OF_REGISTRATION: &str = "Last day to tell HMRC of the liability to be registered";
    const REGISTERED: &str = "Registered for VAT from this day: charge VAT";
    const TELL_OF_LEAVING: &str = "Last day to tell HMRC in writing that the use of the Flat Rate Scheme ends";
    const OUTSIDE: &str = "First day outside the Flat Rate Scheme";
    const BACK: &str = "First day on which the business may come back to the Flat Rate Scheme";
    let mut figures = unregistered("2025-04-30");
    figures.turnover.past_year = year(None, taxable("95000.00"));
    figures.turnover.next_30_days = Some(taxable("95000.00"));
    assert_eq!(
        acts(&figures),
        owned(&[
            ("2025-04-30", REGISTERED),
            ("2025-05-30", TELL_OF_REGISTRATION),
            ("2025-05-30", TELL_OF_REGISTRATION),
            ("2025-06-01", REGISTERED),
        ])
    );
    figures.as_of = day("2025-04-29");
    figures.turnover.past_year = year(Some("2025-04-29"), taxable("95000.00"));
    figures.turnover.next_30_days = None;
    let expected = "Add up the twelve months: liability to be registered is expected";
    assert_eq!(acts(&figures), owned(&[("2025-04-30", expected)]));

    let mut figures = user("2025-02-15");
    figures.turnover.past_year = year(None, income("230000.01"));
    let leaving = [("2025-03-17", TELL_OF_LEAVING), ("2025-05-01", OUTSIDE), ("2026-05-01", BACK)];
    assert_eq!(acts(&figures), owned(&leaving));
    figures.turnover.past_year = None;
    figures.turnover.next_30_days = Some(income("230000.01"));
    assert_eq!(
        acts(&figures),
        owned(&[("2025-02-15", OUTSIDE), ("2025-03-17", TELL_OF_LEAVING), ("2026-02-15", BACK)])
    );
    // What is expected at an anniversary is not a day to act by yet.
    let mut figures = user("2025-01-31");
    figures.turnover.months = months("2024-02", &[2_000_000; 12]);
    assert_eq!(acts(&figures), []);

    let mut figures = registered("2025-03-31");
    figures.business.uses_cash_accounting = true;
    figures.business.uses_annual_accounting = true;
    figures.turnover.past_year = year(None, taxable("1600000.01"));
    assert_eq!(
        acts(&figures),
        owned(&[
            ("2025-04-01", "First day outside cash accounting"),
            ("2025-04-01", "First day outside annual accounting")
        ])
    );
}
