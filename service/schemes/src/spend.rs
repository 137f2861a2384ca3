//! The kinds of spend: whether each counts as relevant goods, what standard accounting recovers on it, and what a flat
//! rate user may claim.

use crate::figures::Spend;
use crate::law::rule as cite;
use crate::words::words;

/// Category of business whose vehicle fuel and parts may count (VAT Regulations 1995 reg 55A(4)).
pub const TRANSPORT: &str = "transport-or-storage-including-couriers-freight-removals-and-taxis";
/// Category of business that hires out goods as its trade.
pub const HIRING: &str = "hiring-or-renting-goods";
/// Categories of business that trade in vehicles, their parts and fuel.
pub const MOTOR_TRADES: [&str; 2] = ["retailing-vehicles-or-fuel", "repairing-vehicles"];

words! {
    /// Whether a kind of spend counts as relevant goods in the limited cost test.
    Relevance {
        /// It counts.
        Yes => "yes",
        /// It never counts.
        No => "no",
        /// It counts where the main business activity ordinarily sells or hires out such goods.
        IfMainActivity => "if_main_activity",
        /// It counts in the transport category where the business owns or leases a vehicle for it.
        IfTransport => "if_transport",
    }
}

words! {
    /// What standard accounting recovers of the VAT on a kind of spend, before business use and partial exemption.
    Recovery {
        /// All of it.
        All => "all",
        /// Half of it.
        Half => "half",
        /// None of it.
        None => "none",
    }
}

words! {
    /// What a flat rate user may claim on a kind of spend.
    Claim {
        /// All VAT on one purchase at or above the limit for capital goods.
        AtLimit => "at_limit",
        /// Nothing.
        None => "none",
    }
}

/// A finding, with the reason in a sentence and the ids of its authorities.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reasoned<T: 'static> {
    /// The finding.
    pub finding: T,
    /// Why.
    pub reason: &'static str,
    /// On what authority.
    pub authority: &'static [&'static str],
}

const fn because<T>(finding: T, reason: &'static str, authority: &'static [&'static str]) -> Reasoned<T> {
    Reasoned { finding, reason, authority }
}

/// All that the law says of a kind of spend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SpendRules {
    /// Its name in plain English.
    pub name: &'static str,
    /// Whether it counts in the limited cost test.
    pub relevance: Reasoned<Relevance>,
    /// What standard accounting recovers.
    pub recovery: Reasoned<Recovery>,
    /// What a flat rate user may claim.
    pub claim: Reasoned<Claim>,
}

const GOODS: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_55A];
const GOODS_IN_GUIDANCE: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::NOTICE_733_SECTION_4];
const MAIN_ACTIVITY: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::DECISION_GOODS_FOR_MAIN_ACTIVITY];

const RECOVERED: Reasoned<Recovery> = because(
    Recovery::All,
    "The VAT is input tax as far as the purchase is for the business and an invoice is held.",
    &[cite::VATA_1994_SECTION_24, cite::VATA_1994_SECTION_26, cite::VAT_REGULATIONS_1995_REGULATION_29],
);
const NOT_CAPITAL: Reasoned<Claim> = because(
    Claim::None,
    "Goods used up within a year, made into goods supplied, or sold are not capital goods, so nothing is claimed.",
    &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::VAT_REGULATIONS_1995_REGULATION_55E],
);
const NOT_FOR_SERVICES: Reasoned<Claim> = because(
    Claim::None,
    "The claim is for capital goods; services give none at any price.",
    &[cite::VAT_REGULATIONS_1995_REGULATION_55E, cite::FRS6500],
);
const SERVICES: Reasoned<Relevance> =
    because(Relevance::No, "Only goods count; this is a supply of services.", GOODS_IN_GUIDANCE);

/// The rules for a kind of spend.
#[must_use]
pub const fn rules(spend: Spend) -> SpendRules {
    match spend {
        Spend::Materials => SpendRules {
            name: "Materials used in the work, or itemised apart by a subcontractor",
            relevance: because(Relevance::Yes, "Goods used exclusively for the business count.", GOODS_IN_GUIDANCE),
            recovery: RECOVERED,
            claim: NOT_CAPITAL,
        },
        Spend::ConsumableGoods => SpendRules {
            name: "Goods that the business uses up: stationery, cleaning products, standard software on a disk",
            relevance: because(Relevance::Yes, "Goods used exclusively for the business count.", GOODS_IN_GUIDANCE),
            recovery: RECOVERED,
            claim: NOT_CAPITAL,
        },
        Spend::StockForResale => SpendRules {
            name: "Stock to sell",
            relevance: because(
                Relevance::IfMainActivity,
                "Goods for resale count only where selling such goods is what the main activity ordinarily does.",
                MAIN_ACTIVITY,
            ),
            recovery: RECOVERED,
            claim: NOT_CAPITAL,
        },
        Spend::GoodsForHireOut => SpendRules {
            name: "Goods to let on hire",
            relevance: because(
                Relevance::IfMainActivity,
                "Goods for hire count only where hiring out such goods is what the main activity ordinarily does.",
                MAIN_ACTIVITY,
            ),
            recovery: RECOVERED,
            claim: because(
                Claim::None,
                "Goods bought to be let on hire are not capital goods of the scheme, whatever they cost.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55A],
            ),
        },
        Spend::PowerAndWater => SpendRules {
            name: "Gas, electricity, heat and water, used only for the business",
            relevance: because(Relevance::Yes, "Water and every form of power or heat are goods.", GOODS_IN_GUIDANCE),
            recovery: RECOVERED,
            claim: NOT_CAPITAL,
        },
        Spend::FoodAndDrinkForSale => SpendRules {
            name: "Food and drink to sell, or used in meals for customers",
            relevance: because(
                Relevance::IfMainActivity,
                "Food for customers counts like stock: where selling it is what the main activity ordinarily does.",
                MAIN_ACTIVITY,
            ),
            recovery: RECOVERED,
            claim: NOT_CAPITAL,
        },
        Spend::FoodAndDrinkForStaff => SpendRules {
            name: "Food and drink for the owner or staff",
            relevance: because(Relevance::No, "Food and drink for the owner or staff are left out.", GOODS),
            recovery: because(
                Recovery::All,
                "The VAT on food for staff is input tax; an owner's own meals are not for the business.",
                &[cite::VATA_1994_SECTION_24, cite::INPUT_TAX_ORDER_1992_ARTICLE_5],
            ),
            claim: NOT_CAPITAL,
        },
        Spend::VehicleFuelAndParts => SpendRules {
            name: "Fuel and parts of vehicles",
            relevance: because(
                Relevance::IfTransport,
                "Vehicles, their parts and fuel are left out, except in the transport category where the business owns or leases \
                 a vehicle for it.",
                GOODS,
            ),
            recovery: because(
                Recovery::All,
                "The VAT on the business part of fuel is input tax; private motoring needs a scale charge or a smaller share.",
                &[cite::VATA_1994_SECTION_24, cite::VIT55400],
            ),
            claim: NOT_CAPITAL,
        },
        Spend::PromotionalGoodsAndGifts => SpendRules {
            name: "Goods to give away",
            relevance: because(Relevance::No, "Promotional goods, gifts and donations are left out.", GOODS),
            recovery: RECOVERED,
            claim: NOT_CAPITAL,
        },
        Spend::CapitalGoods => SpendRules {
            name: "Goods of a capital nature: equipment, furniture, a van; one line is one purchase",
            relevance: because(Relevance::No, "Capital goods are left out at any price.", GOODS),
            recovery: RECOVERED,
            claim: because(
                Claim::AtLimit,
                "All VAT on one purchase of capital goods is claimed where its price with VAT reaches the limit.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55E, cite::FRS6500, cite::DECISION_CAPITAL_GOODS_AT_LIMIT],
            ),
        },
        Spend::Services => SpendRules {
            name: "Services: fees, subcontracted labour, repairs, telephone, travel",
            relevance: SERVICES,
            recovery: RECOVERED,
            claim: NOT_FOR_SERVICES,
        },
        Spend::RentAndHire => SpendRules {
            name: "Rent, hire and leasing, other than of cars",
            relevance: because(Relevance::No, "Rent, hire and leasing are services.", GOODS_IN_GUIDANCE),
            recovery: RECOVERED,
            claim: NOT_FOR_SERVICES,
        },
        Spend::DigitalContent => SpendRules {
            name: "Software, media and the like delivered electronically",
            relevance: because(
                Relevance::No,
                "What is delivered electronically is no moveable item.",
                GOODS_IN_GUIDANCE,
            ),
            recovery: RECOVERED,
            claim: NOT_FOR_SERVICES,
        },
        Spend::BusinessEntertainment => SpendRules {
            name: "Entertaining customers and contacts",
            relevance: because(
                Relevance::No,
                "Meals and events are services, and goods given away are gifts.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::COMMON_PRACTICE],
            ),
            recovery: because(
                Recovery::None,
                "The VAT on entertaining customers and contacts is blocked.",
                &[cite::INPUT_TAX_ORDER_1992_ARTICLE_5, cite::VIT13100],
            ),
            claim: because(
                Claim::None,
                "Blocked VAT stays blocked in the scheme.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55E, cite::INPUT_TAX_ORDER_1992_ARTICLE_5],
            ),
        },
        Spend::StaffEntertainment => SpendRules {
            name: "Entertaining staff, where they are not only hosts to others",
            relevance: because(
                Relevance::No,
                "Meals and events are services, and food and drink for staff are left out.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::COMMON_PRACTICE],
            ),
            recovery: because(
                Recovery::All,
                "The block is for entertaining others than staff; where staff only act as hosts to them, enter business_entertainment.",
                &[cite::VATA_1994_SECTION_24, cite::INPUT_TAX_ORDER_1992_ARTICLE_5, cite::COMMON_PRACTICE],
            ),
            claim: NOT_FOR_SERVICES,
        },
        Spend::CarPurchase => SpendRules {
            name: "A car that is available for private use",
            relevance: because(Relevance::No, "Vehicles are left out, and so are capital goods.", GOODS),
            recovery: because(
                Recovery::None,
                "The VAT on a car that is available for private use is blocked. A car for which an exception lifts the block is \
                 entered as car_for_business_only.",
                &[cite::INPUT_TAX_ORDER_1992_ARTICLE_7, cite::VIT52100],
            ),
            claim: because(
                Claim::None,
                "Blocked VAT stays blocked in the scheme.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55E, cite::INPUT_TAX_ORDER_1992_ARTICLE_7],
            ),
        },
        Spend::CarForBusinessOnly => SpendRules {
            name: "A car used only for the business and not available privately, or mainly as a taxi, for self-drive hire or for driving lessons; one \
                   line is one purchase",
            relevance: because(Relevance::No, "Vehicles are left out, and so are capital goods.", GOODS),
            recovery: because(
                Recovery::All,
                "An exception lifts the block for such a car. A motor dealer's cars to sell are stock_for_resale.",
                &[cite::INPUT_TAX_ORDER_1992_ARTICLE_7, cite::VIT52100, cite::VIT52700],
            ),
            claim: because(
                Claim::AtLimit,
                "Where an exception lifts the block, the car is claimed like other capital goods; not one bought to be let on hire.",
                &[
                    cite::VAT_REGULATIONS_1995_REGULATION_55A,
                    cite::VAT_REGULATIONS_1995_REGULATION_55E,
                    cite::INPUT_TAX_ORDER_1992_ARTICLE_7,
                ],
            ),
        },
        Spend::CarLease => SpendRules {
            name: "Leasing or long hire of a car that is available for private use",
            relevance: because(Relevance::No, "Leasing and hire are services.", GOODS_IN_GUIDANCE),
            recovery: because(
                Recovery::Half,
                "Half of the VAT on the rental is recovered while private use is possible; maintenance shown apart is a service.",
                &[cite::INPUT_TAX_ORDER_1992_ARTICLE_7, cite::COMMON_PRACTICE],
            ),
            claim: NOT_FOR_SERVICES,
        },
        Spend::ShortCarHire => SpendRules {
            name: "Hire of a car for a business journey of ten days at most",
            relevance: because(Relevance::No, "Leasing and hire are services.", GOODS_IN_GUIDANCE),
            recovery: because(
                Recovery::All,
                "The VAT on hire for business of ten days at most is not cut.",
                &[cite::INPUT_TAX_ORDER_1992_ARTICLE_7, cite::COMMON_PRACTICE],
            ),
            claim: NOT_FOR_SERVICES,
        },
        Spend::AccommodationForDirectors => SpendRules {
            name: "Domestic accommodation for directors and their families",
            relevance: because(Relevance::No, "It is not used exclusively for the business.", GOODS),
            recovery: because(
                Recovery::None,
                "The VAT on domestic accommodation that a company provides for its directors is no input tax.",
                &[cite::VATA_1994_SECTION_24],
            ),
            claim: because(
                Claim::None,
                "What is no input tax is not claimed in the scheme either.",
                &[cite::VAT_REGULATIONS_1995_REGULATION_55E, cite::VATA_1994_SECTION_24],
            ),
        },
        Spend::WagesAndOtherOutsideScope => SpendRules {
            name: "Wages, taxes and other payments outside the scope of VAT",
            relevance: because(Relevance::No, "Payments outside the scope of VAT buy no goods.", GOODS),
            recovery: because(Recovery::None, "They carry no VAT.", &[cite::NOTICE_700_12]),
            claim: because(Claim::None, "They carry no VAT.", &[cite::NOTICE_700_12]),
        },
    }
}

/// Whether a purchase of this kind may give a flat rate user a claim, so that one line is one purchase.
#[must_use]
pub const fn may_give_claim(spend: Spend) -> bool {
    matches!(rules(spend).claim.finding, Claim::AtLimit)
}

/// How a purchase line stands in the limited cost test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Standing {
    /// Whether it counts.
    pub relevant: bool,
    /// Whether the other answer to the question about the main activity would change that, and nobody answered it.
    pub rests_on_default: bool,
    /// Why it counts or not.
    pub reason: &'static str,
    /// On what authority.
    pub authority: &'static [&'static str],
}

/// The facts of a purchase that the limited cost test looks at.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'a> {
    /// What was bought.
    pub spend: Spend,
    /// Whether it is a service bought from abroad under the reverse charge.
    pub overseas_service: bool,
    /// Whether all of it is used for the business.
    pub exclusively_for_business: bool,
    /// The caller's answer to the question about the main activity.
    pub for_main_activity: Option<bool>,
    /// The category of business.
    pub sector: &'a str,
}

/// Whether a purchase counts as relevant goods: goods used exclusively for the business, less those that the regulation
/// leaves out (VAT Regulations 1995 reg 55A(4)).
#[must_use]
pub fn standing(facts: Facts<'_>) -> Standing {
    let rule = rules(facts.spend).relevance;
    let (counts, asks) = match rule.finding {
        Relevance::Yes => (true, false),
        Relevance::No => (false, false),
        Relevance::IfMainActivity => {
            let usual = facts.spend != Spend::GoodsForHireOut || facts.sector == HIRING;
            (facts.for_main_activity.unwrap_or(usual), true)
        }
        Relevance::IfTransport if facts.sector == TRANSPORT => (facts.for_main_activity.unwrap_or(true), true),
        Relevance::IfTransport => (false, false),
    };
    let could_count = counts || asks;
    if could_count && facts.overseas_service {
        return Standing {
            relevant: false,
            rests_on_default: false,
            reason: "A reverse charge on a purchase from abroad is for services, which never count.",
            authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::VATA_1994_SECTION_8],
        };
    }
    if could_count && !facts.exclusively_for_business {
        return Standing {
            relevant: false,
            rests_on_default: false,
            reason: "Goods must be used exclusively for the business; with any other use nothing of the line counts.",
            authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::DECISION_PRIVATE_USE_GOODS],
        };
    }
    Standing {
        relevant: counts,
        rests_on_default: asks && facts.for_main_activity.is_none(),
        reason: rule.reason,
        authority: rule.authority,
    }
}
