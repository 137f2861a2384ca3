//! The choice of the category: shares of expected turnover shown, the user decides (VAT Regulations 1995 reg 55K).

use crate::support::*;
use vat_schemes::figures::{Activity, Figures};

fn activity(sector: &str, turnover: &str, materials: Option<&str>) -> Activity {
    Activity {
        description: "work".to_owned(),
        sector: sector.to_owned(),
        expected_turnover: money(turnover),
        materials: materials.map(money),
    }
}

fn asked(sector: &str, activities: Vec<Activity>) -> Figures {
    let mut figures = quarter();
    figures.business.sector = sector.to_owned();
    figures.business.activities = activities;
    figures
}

const GENERAL: &str = "general-building-or-construction-services";
const LABOUR_ONLY: &str = "labour-only-building-or-construction-services";

#[test]
fn the_largest_share_is_shown_and_a_different_choice_is_warned_of() {
    let activities = || {
        vec![activity("pubs", "40000.00", None), activity(GENERAL, "35000.00", None), activity("pubs", "0.01", None)]
    };
    for (used, agrees) in [("pubs", true), (GENERAL, false)] {
        let answer = answer(&asked(used, activities()));
        let choice = answer.category.as_ref().expect("a choice");
        assert_eq!((choice.largest.as_deref(), choice.agrees), (Some("pubs"), agrees));
        assert_eq!(warned(&answer).contains(&"category_not_the_largest"), !agrees);
        let shares: Vec<_> = choice.shares.iter().map(|share| share.share_percentage.to_string()).collect();
        assert_eq!(shares, ["53.33", "46.67", "0.00"]);
    }
    // A penny decides; equal shares decide nothing.
    let equal = answer(&asked("pubs", vec![activity("pubs", "100.00", None), activity(GENERAL, "100.00", None)]));
    assert_eq!(equal.category.as_ref().expect("a choice").largest, None);
    assert!(warned(&equal).contains(&"category_not_the_largest"));
    let penny = answer(&asked("pubs", vec![activity("pubs", "100.01", None), activity(GENERAL, "100.00", None)]));
    assert_eq!(penny.category.expect("a choice").largest.as_deref(), Some("pubs"));
}

/// Note to the Table: materials of less than 10 per cent are labour-only; exactly 10 per cent is general.
#[test]
fn materials_draw_the_line_between_the_two_kinds_of_building() {
    for (materials, fits) in [("9999.99", LABOUR_ONLY), ("10000.00", GENERAL), ("10000.01", GENERAL)] {
        for stated in [GENERAL, LABOUR_ONLY] {
            let answer = answer(&asked(stated, vec![activity(stated, "100000.00", Some(materials))]));
            let choice = answer.category.expect("a choice");
            let notes = choice.shares[0].notes.join(" ");
            let word = if stated == fits { "the one stated fits" } else { "the one stated does not fit" };
            assert!(notes.contains(fits) && notes.contains(word), "{materials} {stated}: {notes}");
        }
    }
}

#[test]
fn what_cannot_be_shared_is_refused() {
    let figures = asked("pubs", vec![activity("no-such", "-1.00", Some("-1.00"))]);
    assert_eq!(
        refused(&figures),
        [
            ("unknown_sector".to_owned(), "/business/activities/0/sector".to_owned()),
            ("amount_negative".to_owned(), "/business/activities/0/expected_turnover".to_owned()),
            ("amount_negative".to_owned(), "/business/activities/0/materials".to_owned()),
        ]
    );
    assert_eq!(
        refused(&asked("pubs", vec![activity("pubs", "0.00", None)])),
        [("no_turnover_expected".into(), "/business/activities/0/expected_turnover".into())]
    );
}

/// An activity of which nothing is expected has no share of materials; lines around a category are told to those who may stand beside them.
#[test]
fn what_is_shown_of_an_activity() {
    let answer = answer(&asked(
        "pubs",
        vec![
            activity("pubs", "100.00", Some("33.34")),
            activity(GENERAL, "0.00", Some("5.00")),
            activity("photography", "0.00", None),
        ],
    ));
    let shares = answer.category.expect("a choice").shares;
    let materials = shares.iter().map(|share| share.materials_percentage.map(|share| share.to_string()));
    assert_eq!(materials.collect::<Vec<_>>(), [Some("33.34".to_owned()), None, None]);
    assert!(shares[0].notes.iter().any(|note| note.contains("where food sales are greater, the category is catering")));
    assert_eq!((shares[1].notes.len(), shares[2].notes.len()), (1, 0));
}

/// Where sources draw a line around a category, who may stand beside it is told.
#[test]
fn lines_around_a_category() {
    for (sector, told) in [
        ("pubs", "where food sales are greater"),
        ("catering-services-including-restaurants-and-takeaways", "drink sales are the greater part"),
        (GENERAL, "less than a tenth of the turnover"),
        (LABOUR_ONLY, "less than a tenth of the turnover"),
        ("architect-civil-and-structural-engineer-or-surveyor", "civil and structural engineers"),
        ("management-consultancy", "business services not listed elsewhere"),
        ("business-services-not-listed-elsewhere", "business services not listed elsewhere"),
        ("retailing-food-confectionery-tobacco-newspapers-or-childrens-clothing", "eaten on the spot are catering"),
        ("photography", ""),
    ] {
        let choice = answer(&asked(sector, vec![activity(sector, "100.00", None)])).category.expect("a choice");
        let notes = choice.shares[0].notes.join(" ");
        assert!(notes.contains(told) && notes.is_empty() == told.is_empty(), "{sector}: {notes}");
    }
}
