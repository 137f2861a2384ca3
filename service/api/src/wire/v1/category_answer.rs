//! How the category of business was chosen: the service shows, the business decides.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::answer as calculated;

use super::request::Business;
use super::scalars::{ActivityDescription, SectorId, SectorReason, Share};

/// The choice of the category of business: the business's own reason, shares of expected turnover, and what sources say. Nothing is
/// decided (VAT Regulations 1995 regulation 55K).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct CategoryChoice {
    /// Why the business chose its category, as the request says; absent where it doesn't.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<SectorReason>,
    /// The category with the largest expected turnover; absent where two have the same, or where no activities were given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest: Option<SectorId>,
    /// Whether it is the category that was used on the period's first day in the scheme; absent where no activities were given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub agrees: Option<bool>,
    /// Each activity, in the order of the request.
    #[schema(max_items = 20)]
    pub shares: Vec<ActivityShare>,
    /// How the choice is made, in plain English.
    #[schema(max_items = 20)]
    pub notes: Vec<Cow<'static, str>>,
}

/// The share of an activity in expected turnover.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ActivityShare {
    /// What it is, as the request says.
    pub description: ActivityDescription,
    /// The category of business that the request gives it.
    pub sector: SectorId,
    /// Its share of the turnover expected from all activities, in per cent.
    pub share_percentage: Share,
    /// For building work, the materials in per cent of the activity's turnover; absent where no materials were given, or where no
    /// turnover is expected from it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub materials_percentage: Option<Share>,
    /// What sources say of such a category, and where they draw lines, in plain English.
    #[schema(max_items = 20)]
    pub notes: Vec<Cow<'static, str>>,
}

impl CategoryChoice {
    /// The choice as the calculation shows it, with the business's own words; nothing where neither activities nor a reason were
    /// given.
    pub(super) fn of(business: &Business, choice: Option<calculated::CategoryChoice>) -> Option<Self> {
        let reason = business.sector_reason.clone();
        let Some(choice) = choice else {
            return reason.is_some().then(|| Self {
                reason,
                largest: None,
                agrees: None,
                shares: Vec::new(),
                notes: Vec::new(),
            });
        };
        let descriptions = business.activities.iter().map(|activity| activity.description.clone());
        Some(Self {
            reason,
            largest: choice.largest.map(Cow::Owned).map(SectorId),
            agrees: Some(choice.agrees),
            shares: descriptions
                .zip(choice.shares)
                .map(|(description, share)| ActivityShare::of(description, share))
                .collect(),
            notes: choice.notes,
        })
    }
}

impl ActivityShare {
    fn of(description: ActivityDescription, share: calculated::ActivityShare) -> Self {
        Self {
            description,
            sector: SectorId(Cow::Owned(share.sector)),
            share_percentage: Share(share.share_percentage),
            materials_percentage: share.materials_percentage.map(Share),
            notes: share.notes,
        }
    }
}
