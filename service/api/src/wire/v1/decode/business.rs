//! The facts of the business.

use vat_schemes::figures;

use super::scalars::{amount, date, description, reason, sector};
use super::words;
use crate::json::{Decoder, Node};
use crate::wire::v1::request::{Activity, Business, MAX_ACTIVITIES, MAX_SECTOR_CHANGES, SectorChange};
use crate::wire::v1::vocabulary::{SectorChangeReason, TurnoverMethod};

const BUSINESS: &[&str] = &[
    "registered_on",
    "sector",
    "sector_changes",
    "flat_rate_from",
    "flat_rate_until",
    "liability_notified_on",
    "turnover_method",
    "activities",
    "sector_reason",
];
const ACTIVITY: &[&str] = &["description", "sector", "expected_turnover", "materials"];
const SECTOR_CHANGE: &[&str] = &["on", "sector", "reason"];

/// What to do about too many changes.
const LEAVE_OUT_EARLIER: &str = "Leave out those of earlier periods, and give the category of that time as sector.";

/// What to do about too many activities.
const PUT_TOGETHER: &str = "Put small ones of the same category together.";

/// What is to be said where the category of business is missing.
pub(super) const SECTOR_MISSING: &str = "give the id of the category of business; GET /v1/sectors lists them.";

/// The business of a comparison.
pub(super) fn business(decoder: &mut Decoder, node: &Node<'_>) -> Option<Business> {
    let (mut registered_on, mut sector_given, mut sector_changes) = (None, None, None);
    let (mut flat_rate_from, mut flat_rate_until) = (None, None);
    let (mut liability_notified_on, mut turnover_method) = (None, None);
    let (mut activities, mut sector_reason) = (None, None);
    let given = decoder.object(node, BUSINESS, |decoder, field, node| match field {
        "registered_on" => registered_on = date(decoder, node),
        "sector" => sector_given = sector(decoder, node),
        "sector_changes" => sector_changes = decoder.list(node, MAX_SECTOR_CHANGES, LEAVE_OUT_EARLIER, sector_change),
        "flat_rate_from" => flat_rate_from = date(decoder, node),
        "flat_rate_until" => flat_rate_until = date(decoder, node),
        "liability_notified_on" => liability_notified_on = date(decoder, node),
        "turnover_method" => turnover_method = words!(decoder, node, figures::TurnoverMethod, TurnoverMethod),
        "activities" => activities = decoder.list(node, MAX_ACTIVITIES, PUT_TOGETHER, activity),
        _ => sector_reason = reason(decoder, node),
    })?;
    decoder.require(
        given,
        "registered_on",
        "give the effective date of registration for VAT, for example \"2019-02-01\".",
    );
    decoder.require(given, "sector", SECTOR_MISSING);
    Some(Business {
        registered_on: registered_on?,
        sector: sector_given?,
        sector_changes: sector_changes.unwrap_or_default(),
        flat_rate_from,
        flat_rate_until,
        liability_notified_on,
        turnover_method,
        activities: activities.unwrap_or_default(),
        sector_reason,
    })
}

fn sector_change(decoder: &mut Decoder, node: &Node<'_>) -> Option<SectorChange> {
    let (mut on, mut sector_given, mut changed) = (None, None, None);
    let given = decoder.object(node, SECTOR_CHANGE, |decoder, field, node| match field {
        "on" => on = date(decoder, node),
        "sector" => sector_given = sector(decoder, node),
        _ => changed = words!(decoder, node, figures::SectorChangeReason, SectorChangeReason),
    })?;
    decoder.require(given, "on", "give the day of the change, for example \"2026-05-10\".");
    decoder.require(given, "sector", "give the id of the new category of business; GET /v1/sectors lists them.");
    decoder.require(given, "reason", "say what changed, for example \"activity_started\".");
    Some(SectorChange { on: on?, sector: sector_given?, reason: changed? })
}

fn activity(decoder: &mut Decoder, node: &Node<'_>) -> Option<Activity> {
    let (mut description_given, mut sector_given) = (None, None);
    let (mut expected_turnover, mut materials) = (None, None);
    let given = decoder.object(node, ACTIVITY, |decoder, field, node| match field {
        "description" => description_given = description(decoder, node),
        "sector" => sector_given = sector(decoder, node),
        "expected_turnover" => expected_turnover = amount(decoder, node),
        _ => materials = amount(decoder, node),
    })?;
    decoder.require(given, "description", "say what the activity is, for example \"repairing roofs\".");
    decoder.require(given, "sector", "give the id of the category that fits the activity; GET /v1/sectors lists them.");
    decoder.require(given, "expected_turnover", "give the turnover with VAT expected in the coming year.");
    Some(Activity {
        description: description_given?,
        sector: sector_given?,
        expected_turnover: expected_turnover?,
        materials,
    })
}
