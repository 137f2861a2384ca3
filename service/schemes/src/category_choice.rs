//! The choice of the category of business: what share of expected turnover each activity has, and what sources say. The
//! service shows; the user decides (authority `decision-category-is-the-users`).

use std::borrow::Cow;

use crate::answer::{ActivityShare, CategoryChoice};
use crate::figures::Activity;
use crate::law::{Law, ParameterId, rule as cite};
use crate::money::{Money, Ratio, Rounding, Share};
use crate::period::Period;
use crate::refusal::{ActivityField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

const GENERAL_BUILDING: &str = "general-building-or-construction-services";
const LABOUR_ONLY_BUILDING: &str = "labour-only-building-or-construction-services";
const PUBS: &str = "pubs";
const CATERING: &str = "catering-services-including-restaurants-and-takeaways";

static SHARE: Rule = Rule {
    says: "The category is that of the activity from which the largest share of turnover is reasonably expected.",
    authority: &[
        cite::VATA_1994_SECTION_26B,
        cite::VAT_REGULATIONS_1995_REGULATION_55K,
        cite::DECISION_CATEGORY_IS_THE_USERS,
    ],
};
static MATERIALS: Rule = Rule {
    says: "Building work in which materials are worth less than the statutory share of its turnover is labour-only; at the share or above it is general.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55K],
};

/// Shows the shares of the activities stated, with what sources say of their categories.
///
/// # Errors
/// Unknown categories, negative amounts, and activities without any turnover.
pub(crate) fn show(
    run: &mut Run<'_>,
    activities: &[Activity],
    used: &str,
    period: Period,
) -> Result<Option<CategoryChoice>, Vec<Refusal>> {
    if activities.is_empty() {
        return Ok(None);
    }
    check(run.law, activities)?;
    let one = |refusal: Refusal| vec![refusal];
    let turnovers: Vec<_> = activities
        .iter()
        .enumerate()
        .map(|(index, activity)| {
            Traced::given(activity.expected_turnover, Place::Activity(index, ActivityField::ExpectedTurnover))
        })
        .collect();
    let name = Name::new(Scope::Category, "expected_turnover", "Expected turnover", &SHARE);
    let total = run.total(name, &turnovers).map_err(|overflow| vec![overflow.into()])?;
    if !total.value.is_positive() {
        return Err(one(Refusal::new(
            Place::Activity(0, ActivityField::ExpectedTurnover),
            RefusalCode::NoTurnoverExpected,
            "No turnover is expected from any activity, so there are no shares to show. Give the turnover expected in the coming year, with VAT.",
        )));
    }
    let mut shares = Vec::with_capacity(activities.len());
    for (index, (activity, turnover)) in activities.iter().zip(&turnovers).enumerate() {
        shares.push(activity_share(run, index, activity, *turnover, total, period).map_err(one)?);
    }
    let largest = largest(activities).map_err(one)?;
    Ok(Some(CategoryChoice {
        agrees: largest.as_deref() == Some(used),
        largest,
        shares,
        notes: vec![
            Cow::Borrowed(
                "Take the activity with the largest expected turnover, and the category that its description fits in ordinary English; where none does, \
                 one \"not listed elsewhere\". The lists of HMRC interpret, they are not law.",
            ),
            Cow::Borrowed(
                "Write down the choice, the figures, the reason and the date. The smaller percentage is no reason. A reasonable choice that was recorded \
                 stands for the past; a change for the past is asked for, not claimed.",
            ),
        ],
    }))
}

fn check(law: &Law, activities: &[Activity]) -> Result<(), Vec<Refusal>> {
    let mut refusals = Vec::new();
    for (index, activity) in activities.iter().enumerate() {
        if law.sector(&activity.sector).is_none() {
            refusals.push(Refusal::new(
                Place::Activity(index, ActivityField::Sector),
                RefusalCode::UnknownSector,
                format!("No category of business has the id \"{}\".", activity.sector),
            ));
        }
        let amounts = [
            (Some(activity.expected_turnover), ActivityField::ExpectedTurnover),
            (activity.materials, ActivityField::Materials),
        ];
        for (amount, field) in amounts {
            if amount.is_some_and(Money::is_negative) {
                refusals.push(Refusal::new(
                    Place::Activity(index, field),
                    RefusalCode::AmountNegative,
                    "What is expected of an activity is nought or more. Give it without a minus sign.",
                ));
            }
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

/// The category with the largest expected turnover, activities of one category together; none where two are equal.
fn largest(activities: &[Activity]) -> Result<Option<String>, Refusal> {
    let mut totals: Vec<(&str, Money)> = Vec::new();
    for activity in activities {
        match totals.iter_mut().find(|(sector, _)| *sector == activity.sector) {
            Some((_, total)) => *total = total.plus(activity.expected_turnover)?,
            None => totals.push((&activity.sector, activity.expected_turnover)),
        }
    }
    let most = totals.iter().map(|(_, total)| *total).max();
    let mut found = totals.iter().filter(|(_, total)| Some(*total) == most);
    Ok(match (found.next(), found.next()) {
        (Some((sector, _)), None) => Some((*sector).to_owned()),
        _ => None,
    })
}

fn activity_share(
    run: &mut Run<'_>,
    index: usize,
    activity: &Activity,
    turnover: Traced<Money>,
    total: Traced<Money>,
    period: Period,
) -> Result<ActivityShare, Refusal> {
    let scope = Scope::CategoryShare(index);
    let share = run.step(
        Name::new(scope, "share_percentage", "Share of expected turnover", &SHARE).gives(&["share_percentage"]),
        Ratio::new(turnover.value.pence(), total.value.pence())?.to_share()?,
        Rounding::NearestHundredth,
        "{} ÷ {} × 100",
        &[turnover.operand(), total.operand()],
    );
    let mut notes = border_notes(&activity.sector);
    let materials_percentage = match activity.materials {
        Some(materials) if turnover.value.is_positive() => {
            let materials = Traced::given(materials, Place::Activity(index, ActivityField::Materials));
            Some(materials_share(run, scope, activity, (materials, turnover), period, &mut notes)?)
        }
        Some(_) | None => None,
    };
    Ok(ActivityShare { sector: activity.sector.clone(), share_percentage: share.value, materials_percentage, notes })
}

/// Less than ten per cent materials is labour-only building, ten or more is general (note to the Table).
fn materials_share(
    run: &mut Run<'_>,
    scope: Scope,
    activity: &Activity,
    (materials, turnover): (Traced<Money>, Traced<Money>),
    period: Period,
    notes: &mut Vec<Cow<'static, str>>,
) -> Result<Share, Refusal> {
    let exact = Ratio::new(materials.value.pence(), turnover.value.pence())?;
    let shown = run.step(
        Name::new(scope, "materials_percentage", "Materials as a share of the activity's turnover", &MATERIALS)
            .gives(&["materials_percentage"]),
        exact.to_share()?,
        Rounding::NearestHundredth,
        "{} ÷ {} × 100",
        &[materials.operand(), turnover.operand()],
    );
    let limit = run.percentage(
        ParameterId::FrsLabourOnlyMaterialsShare,
        period.start(),
        "Share of materials below which building work is labour-only",
    )?;
    let labour_only = run.step(
        Name::new(scope, "labour_only", "Whether building work is labour-only", &MATERIALS),
        exact.less_than(limit.value.as_fraction())?,
        Rounding::None,
        "{} < {} ÷ 100 × {}",
        &[materials.operand(), limit.operand(), turnover.operand()],
    );
    let fits = if labour_only.value { LABOUR_ONLY_BUILDING } else { GENERAL_BUILDING };
    if [LABOUR_ONLY_BUILDING, GENERAL_BUILDING].contains(&activity.sector.as_str()) {
        let word = if activity.sector == fits { "fits" } else { "does not fit" };
        notes.push(Cow::Owned(format!(
            "Materials are {}% of this building work's turnover; the line is drawn at {}%, so the category {fits} is the one, and the one stated {word}.",
            shown.value, limit.value
        )));
    }
    Ok(shown.value)
}

/// Where sources draw lines around a category.
fn border_notes(sector: &str) -> Vec<Cow<'static, str>> {
    let notes: &[&'static str] = match sector {
        PUBS => &[
            "Drink sales must be the greater part; where food sales are greater, the category is catering. Common practice, no source.",
        ],
        CATERING => &[
            "A public house whose drink sales are the greater part is in pubs. Common practice, no source.",
            "Ice cream and milkshakes from a kiosk in a square were retailing food on their facts (Chilly Wizard, 2007).",
            "A tea shop with gifts was retailing while gifts were expected to bring more, and catering once that had changed (Vintage Tea House, 2014).",
        ],
        GENERAL_BUILDING | LABOUR_ONLY_BUILDING => &[
            "Building work is labour-only where the materials supplied are worth less than a tenth of the turnover from it; at a tenth it is general \
             (note to the Table in regulation 55K). Give materials to see the share.",
        ],
        "architect-civil-and-structural-engineer-or-surveyor" => &[
            "Mechanical engineers of plant and subsea equipment were not in this category (Idess, 2014; SLL Subsea, 2015): it is for civil and structural \
             engineers.",
        ],
        "management-consultancy" | "business-services-not-listed-elsewhere" => &[
            "HMRC once put consultants in health and safety, employment and marketing in management consultancy and later in business services not listed \
             elsewhere.",
        ],
        "retailing-food-confectionery-tobacco-newspapers-or-childrens-clothing" => &[
            "Hot food and food eaten on the spot are catering; a kiosk in a square was retailing on its facts (Chilly Wizard, 2007).",
        ],
        _ => &[],
    };
    notes.iter().map(|note| Cow::Borrowed(*note)).collect()
}
