//! The words of the wire. Each word stands once, in the calculation; here it gets its description for the API document.

use serde::{Serialize, Serializer};
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::{ObjectBuilder, Schema, Type};
use vat_schemes::answer::{self, WarningCode};
use vat_schemes::figures;
use vat_schemes::invoice;
use vat_schemes::law;
use vat_schemes::money::Rounding;
use vat_schemes::partial_exemption_year;
use vat_schemes::spend;

/// A closed list of words, as the API document shows it.
pub(super) fn word_schema(
    intro: &str,
    words: impl Iterator<Item = (&'static str, &'static str)>,
    extensible: bool,
) -> RefOr<Schema> {
    let (words, lines): (Vec<&str>, Vec<String>) =
        words.map(|(word, says)| (word, format!("- `{word}`: {says}"))).unzip();
    let description = format!("{intro}\n\n{}", lines.join("\n"));
    let schema = ObjectBuilder::new().schema_type(Type::String).description(Some(description)).max_length(Some(64));
    if extensible {
        let words = utoipa::openapi::extensions::ExtensionsBuilder::new().add("x-extensible-enum", words).build();
        schema.pattern(Some("^[a-z0-9_]+$")).extensions(Some(words)).into()
    } else {
        schema.enum_values(Some(words)).into()
    }
}

macro_rules! vocabulary {
    ($(#[doc = $doc:literal])+ $name:ident of $type:ty, in $all:expr, extensible: $extensible:literal { $($variant:path => $says:literal,)* }) => {
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub struct $name(pub $type);

        impl $name {
            fn says(value: $type) -> &'static str {
                match value {
                    $($variant => $says,)*
                }
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.0.as_str())
            }
        }

        impl utoipa::PartialSchema for $name {
            fn schema() -> RefOr<Schema> {
                let intro = [$($doc.trim()),+].join(" ");
                word_schema(&intro, $all.iter().map(|value| (value.as_str(), Self::says(*value))), $extensible)
            }
        }

        impl utoipa::ToSchema for $name {}
    };
}
pub(super) use vocabulary;

vocabulary! {
    /// How VAT treats a sale.
    SaleTreatment of figures::Treatment, in figures::Treatment::ALL, extensible: false {
        figures::Treatment::StandardRated => "taxable at the standard rate of the line's dates (VATA 1994 section 2)",
        figures::Treatment::ReducedRated => "taxable at the reduced rate of 5 per cent (VATA 1994 section 29A)",
        figures::Treatment::HospitalityRated => "hospitality, holiday accommodation and attractions at their temporary rate: 5 per cent from 15 July 2020, 12.5 per cent from 1 October 2021 to 31 March 2022 (SI 2020/728; Finance Act 2021 sections 92 and 93)",
        figures::Treatment::ZeroRated => "taxable at the zero rate (VATA 1994 section 30); exports of goods belong here",
        figures::Treatment::Exempt => "exempt: it carries no VAT and no right to deduct, and counts in flat rate turnover (VATA 1994 section 26B(2)(c))",
        figures::Treatment::DomesticReverseCharge => "taxable, but the customer accounts for the VAT; outside flat rate turnover (VAT Regulations 1995 regulation 55C(6))",
        figures::Treatment::OutsideScope => "business supplies made where no UK VAT arises, with the right to deduct, such as services to business customers abroad",
        figures::Treatment::NonBusiness => "no supply in the course of business: grants, dividends, bank interest, private income",
    }
}

vocabulary! {
    /// What was sold.
    SaleNature of figures::Nature, in figures::Nature::ALL, extensible: false {
        figures::Nature::Ordinary => "the ordinary trade; the default",
        figures::Nature::CapitalAsset => "an asset of the business on which no VAT was claimed: in flat rate turnover",
        figures::Nature::CapitalAssetVatClaimed => "an asset of the business on which VAT was claimed: outside flat rate turnover, with VAT at the ordinary rate (VAT Regulations 1995 regulation 55C(4))",
        figures::Nature::DeemedSupply => "what the law takes as supplied, such as private use of goods or gifts, where a flat rate user would have claimed no VAT on it: VAT under standard accounting, nothing under the Flat Rate Scheme (VAT Regulations 1995 regulation 55C(5))",
        figures::Nature::DeemedSupplyVatClaimed => "such a supply of what a flat rate user claimed VAT on too: outside flat rate turnover, with VAT at the ordinary rate",
    }
}

vocabulary! {
    /// What was bought. GET /v1/spend-kinds tells of each whether it is relevant goods and what is recovered on it, and why.
    SpendKind of figures::Spend, in figures::Spend::ALL, extensible: false {
        figures::Spend::Materials => "materials used in the work, or itemised apart by a subcontractor",
        figures::Spend::ConsumableGoods => "goods that the business uses up within a year, standard software on a disk among them",
        figures::Spend::StockForResale => "stock to sell",
        figures::Spend::GoodsForHireOut => "goods bought to be let on hire",
        figures::Spend::PowerAndWater => "gas, electricity, heat and water, used only for the business",
        figures::Spend::FoodAndDrinkForSale => "food and drink to sell or for customers' meals",
        figures::Spend::FoodAndDrinkForStaff => "food and drink for the owner or staff",
        figures::Spend::VehicleFuelAndParts => "fuel and parts of vehicles",
        figures::Spend::PromotionalGoodsAndGifts => "goods to give away",
        figures::Spend::CapitalGoods => "equipment, furniture, a van and the like; one line is one purchase",
        figures::Spend::Services => "services: fees, subcontracted labour, repairs, telephone, travel",
        figures::Spend::RentAndHire => "rent, hire and leasing, other than of cars",
        figures::Spend::DigitalContent => "software, media and the like delivered electronically",
        figures::Spend::BusinessEntertainment => "entertaining customers and contacts in the United Kingdom: VAT blocked; reasonable refreshments at meetings with customers from abroad are services",
        figures::Spend::StaffEntertainment => "entertaining staff, where they are not only hosts to others",
        figures::Spend::CarPurchase => "a car that is available for private use: VAT blocked",
        figures::Spend::CarForBusinessOnly => "a car used only for the business, or mainly as a taxi, for self-drive hire or for driving lessons; one line is one purchase",
        figures::Spend::CarLease => "leasing or long hire of a car that is available for private use: half the VAT blocked",
        figures::Spend::ShortCarHire => "hire of a car for a business journey of ten days at most",
        figures::Spend::AccommodationForDirectors => "domestic accommodation for directors: no input tax",
        figures::Spend::WagesAndOtherOutsideScope => "wages, taxes and other payments outside the scope of VAT",
    }
}

vocabulary! {
    /// The rate that a lone figure of a purchase is completed at.
    PurchaseTreatment of figures::PurchaseTreatment, in figures::PurchaseTreatment::ALL, extensible: false {
        figures::PurchaseTreatment::StandardRated => "at the standard rate; the default but for wages",
        figures::PurchaseTreatment::ReducedRated => "at the reduced rate of 5 per cent",
        figures::PurchaseTreatment::HospitalityRated => "at the temporary hospitality rate, 15 July 2020 to 31 March 2022",
        figures::PurchaseTreatment::ZeroRated => "at the zero rate",
        figures::PurchaseTreatment::Exempt => "exempt: no VAT",
        figures::PurchaseTreatment::OutsideScope => "outside the scope: no VAT; the default for wages_and_other_outside_scope",
    }
}

vocabulary! {
    /// How a purchase was supplied: who accounts for its VAT.
    Supply of figures::Supply, in figures::Supply::ALL, extensible: false {
        figures::Supply::Ordinary => "the supplier charged whatever VAT there is; the default",
        figures::Supply::PostponedImport => "goods imported with the import VAT put on the return",
        figures::Supply::OverseasServicesReverseCharge => "services bought from abroad: the customer accounts for the VAT (VATA 1994 section 8)",
        figures::Supply::DomesticReverseCharge => "a reverse charge within the United Kingdom: the customer accounts for the VAT",
        figures::Supply::NorthernIrelandAcquisition => "goods acquired into Northern Ireland from the European Union",
    }
}

vocabulary! {
    /// What shows that the input tax of a purchase may be claimed (VAT Regulations 1995 regulation 29; HMRC manual VIT31000).
    InputTaxEvidence of figures::Evidence, in figures::Evidence::ALL, extensible: false {
        figures::Evidence::VatInvoice => "a VAT invoice, or what stands for one, such as a self-billed invoice, an authenticated receipt or a statement of import VAT; the default",
        figures::Evidence::LessDetailedInvoice => "a less detailed invoice, enough for one supply of at most £250 with VAT; a line above that gets a warning",
        figures::Evidence::NoneNeeded => "none is asked for, as of one payment of at most £25 at a toll, a coin machine or a car park; a line above that gets a warning",
        figures::Evidence::NotHeld => "none is held yet: neither scheme recovers the VAT in this period",
    }
}

vocabulary! {
    /// Which of the business's supplies a purchase was used for (VAT Regulations 1995 regulation 101).
    UsedFor of figures::UsedFor, in figures::UsedFor::ALL, extensible: false {
        figures::UsedFor::Taxable => "supplies that carry the right to deduct; the default",
        figures::UsedFor::Exempt => "exempt supplies",
        figures::UsedFor::Both => "both: residual input tax",
    }
}

vocabulary! {
    /// How flat rate turnover is counted (VAT Regulations 1995 regulation 55G; VAT Notice 733).
    TurnoverMethod of figures::TurnoverMethod, in figures::TurnoverMethod::ALL, extensible: false {
        figures::TurnoverMethod::Basic => "by invoice or payment, whichever comes first; the default",
        figures::TurnoverMethod::Cash => "by money received",
        figures::TurnoverMethod::Retailer => "by daily takings",
    }
}

vocabulary! {
    /// What changed in the business, so that its category changes (VAT Regulations 1995 regulations 55A(3), 55H).
    SectorChangeReason of figures::SectorChangeReason, in figures::SectorChangeReason::ALL, extensible: false {
        figures::SectorChangeReason::ActivityStarted => "a new activity is carried on from that day: the new category counts from it",
        figures::SectorChangeReason::ActivityStopped => "an activity is no longer carried on from that day: the new category counts from it",
        figures::SectorChangeReason::BalanceShifted => "the same activities, but another has become the main one: the new category counts from the first day of the period that contains the next anniversary of the scheme's start",
    }
}

vocabulary! {
    /// What was bought before registration (VAT Regulations 1995 regulation 111).
    BoughtBefore of figures::BoughtBefore, in figures::BoughtBefore::ALL, extensible: false {
        figures::BoughtBefore::Goods => "goods: claimable where bought within four years before registration and on hand on that day",
        figures::BoughtBefore::Services => "services: claimable where bought within six months before registration",
    }
}

vocabulary! {
    /// How totals that do not say their part of the period are shared out.
    SplitEstimate of figures::SplitEstimate, in figures::SplitEstimate::ALL, extensible: false {
        figures::SplitEstimate::ByDays => "by the number of days: an estimate, for the law goes by when turnover falls",
    }
}

vocabulary! {
    /// Where the percentage of a part comes from.
    PercentageBasis of answer::Basis, in [answer::Basis::Sector, answer::Basis::LimitedCost], extensible: true {
        answer::Basis::Sector => "the category of business (VAT Regulations 1995 regulation 55K)",
        answer::Basis::LimitedCost => "the limited cost percentage (VAT Regulations 1995 regulation 55KA)",
    }
}

vocabulary! {
    /// Which scheme costs less in the period.
    Cheaper of answer::Cheaper, in answer::Cheaper::ALL, extensible: true {
        answer::Cheaper::Standard => "standard accounting",
        answer::Cheaper::FlatRate => "the Flat Rate Scheme",
        answer::Cheaper::Equal => "neither: both cost the same",
    }
}

vocabulary! {
    /// What stands on the returns of both schemes alike.
    CommonKind of answer::CommonKind, in answer::CommonKind::ALL, extensible: true {
        answer::CommonKind::ReverseChargesAndImports => "VAT that the customer accounts for: reverse charges, postponed imports, acquisitions",
        answer::CommonKind::CapitalGoods => "capital goods claimed under both schemes",
        answer::CommonKind::AssetsWithVatClaimed => "assets and deemed supplies of what VAT was claimed on: ordinary VAT under both schemes",
        answer::CommonKind::PreRegistration => "VAT from before registration",
        answer::CommonKind::PartialExemptionYear => "the annual adjustment of partial exemption",
    }
}

vocabulary! {
    /// How much a warning asks of its reader.
    Severity of answer::Severity, in [answer::Severity::Action, answer::Severity::Attention, answer::Severity::Information], extensible: true {
        answer::Severity::Action => "something must be done or decided",
        answer::Severity::Attention => "something should be looked at",
        answer::Severity::Information => "good to know",
    }
}

vocabulary! {
    /// What a warning is about. More may come.
    WarningKind of WarningCode, in WarningCode::ALL, extensible: true {
        WarningCode::LimitedCostBusiness => "the business is a limited cost business this period",
        WarningCode::GoodsCloseToLimit => "relevant goods lie within a tenth of the limit, on either side",
        WarningCode::GoodsTestRestsOnDefault => "an assumption about for_main_activity decides the goods test",
        WarningCode::FirstYearReductionEnds => "the first-year reduction ends in this period or the next",
        WarningCode::CapitalGoodsAtLimit => "a capital purchase of exactly £2,000.00",
        WarningCode::CapitalGoodsUnderLimit => "a capital purchase just under £2,000",
        WarningCode::CapitalGoodsClaimed => "capital goods on which VAT is claimed, to be remembered when they are sold",
        WarningCode::ExemptIncomeTaxed => "exempt income on which the Flat Rate Scheme charges its percentage",
        WarningCode::VatDiffersFromRate => "a given VAT amount that is not what its rate makes",
        WarningCode::StandardPartlyExempt => "standard accounting would be partly exempt",
        WarningCode::LawNotCheckedForPeriod => "the period ends after the law was last checked",
        WarningCode::RoundingDownOfGrossPrices => "VAT in prices that include it is rounded down",
        WarningCode::TwoReducedRates => "two reduced rates were in force at once",
        WarningCode::JoiningLimitExceeded => "turnover to come is more than the limit for joining the Flat Rate Scheme (VAT Regulations 1995 regulation 55L)",
        WarningCode::JoiningLimitClose => "turnover to come is within a tenth of that limit",
        WarningCode::LeavingLimitExceeded => "income is more than the limit for leaving the Flat Rate Scheme, or is expected to be at the next anniversary (regulation 55M)",
        WarningCode::LeavingLimitClose => "income is within a tenth of that limit, or over it between anniversaries",
        WarningCode::DeregistrationPossible => "turnover to come would allow the registration to end (VATA 1994 Schedule 1 paragraph 4)",
        WarningCode::CashAccountingLimitExceeded => "turnover is more than the limit for using cash accounting, or is expected to be (regulation 60)",
        WarningCode::AdjustmentNeedsAttention => "a debt, an error or a purchase whose claim or correction needs attention",
        WarningCode::InputTaxEvidence => "input tax whose evidence is not held, or may not be enough",
        WarningCode::CategoryNotTheLargest => "the category used is not that of the largest expected turnover",
        WarningCode::SchemeCoversPart => "the scheme covers only some of the period's days",
        WarningCode::SchemeEnds => "the business leaves the scheme",
        WarningCode::CategoryChanges => "a change of category, and the day by which HMRC are to be told",
        WarningCode::SplitEstimatedByDays => "turnover was shared out by days",
        WarningCode::VatWithoutRecovery => "VAT that the Flat Rate Scheme accounts for and does not give back",
        WarningCode::PercentageNotConfirmed => "the category's percentage has not been read in the law itself",
        WarningCode::MotorTradeGoods => "goods of a motor trade in the goods test",
        WarningCode::SupplyContradictsSpend => "the kind of spend does not fit the way it was supplied",
        WarningCode::FuelScaleChargeWithoutClaim => "scale charges for cars, with no VAT on fuel claimed",
        WarningCode::FuelInTwoWays => "scale charges beside fuel that is claimed for its business part only",
        WarningCode::FuelScaleChargeAboveClaim => "scale charges that cost more than the claim which they allow",
        WarningCode::SupplyOutsideCashAccounting => "figures that cash accounting does not reach, among totals of money",
        WarningCode::CashAccountingNotOpen => "a condition for joining cash accounting is not met",
        WarningCode::CashAccountingMustLeave => "the business must leave cash accounting",
        WarningCode::CashAccountingLeft => "what is outstanding on leaving cash accounting, and when it is accounted for",
        WarningCode::TurnoverBasis => "the totals of both schemes must be on one basis",
        WarningCode::LongPeriod => "the period is longer than any ordinary VAT period",
        WarningCode::DueDateNotComputed => "a day is not worked out, and where to take it from",
        WarningCode::WorkingDaysNotKnown => "bank holidays are not known for a part of the time asked about",
        WarningCode::BankHolidaysNotProclaimed => "bank holidays of a part of that time may still be moved or added",
        WarningCode::LongerPeriodUnusual => "a partial exemption year that ends on an unusual day or has less than twelve months",
        WarningCode::ClaimDiffersFromCalculation => "a claim that is not what the period's partial exemption calculation gives",
        WarningCode::AnnualTestNotUpheld => "the annual test was used, and the year passes no de minimis test",
        WarningCode::AttributionChangesTotal => "the year's own attribution has another sum of input tax than its periods",
        WarningCode::StandardMethodOverridePossible => "residual input tax above the limit of the standard method override",
    }
}

vocabulary! {
    /// Where the percentage that shares residual input tax comes from (VAT Regulations 1995 regulation 101(2)).
    RecoveryBasis of answer::RecoveryBasis, in answer::RecoveryBasis::ALL, extensible: true {
        answer::RecoveryBasis::Period => "the supplies of the period itself, or of the year in a year's calculation",
        answer::RecoveryBasis::PreviousYear => "the percentage of the year before, as the request gives it",
    }
}

vocabulary! {
    /// A test that lets small exempt input tax through.
    DeMinimis of answer::DeMinimis, in answer::DeMinimis::ALL, extensible: true {
        answer::DeMinimis::SimplifiedOne => "all input tax, and exempt supplies at most half of all (VAT Notice 706 section 11)",
        answer::DeMinimis::SimplifiedTwo => "all input tax but that used only for taxable supplies, and exempt supplies at most half of all (VAT Regulations 1995 regulation 105A)",
        answer::DeMinimis::Main => "exempt input tax, and at most half of all input tax (VAT Regulations 1995 regulation 106)",
    }
}

vocabulary! {
    /// How a partial exemption year comes to its end (VAT Regulations 1995 regulation 99(1)).
    YearEndsBy of partial_exemption_year::figures::YearEndsBy, in partial_exemption_year::figures::YearEndsBy::ALL, extensible: false {
        partial_exemption_year::figures::YearEndsBy::TaxYear => "with the tax year: 31 March, 30 April or 31 May; the default",
        partial_exemption_year::figures::YearEndsBy::Deregistration => "with the registration for VAT",
    }
}

vocabulary! {
    /// A return that may carry the annual adjustment.
    AdjustmentReturn of partial_exemption_year::answer::AdjustmentReturn, in partial_exemption_year::answer::AdjustmentReturn::ALL, extensible: true {
        partial_exemption_year::answer::AdjustmentReturn::FirstAfterYear => "that of the first period after the year",
        partial_exemption_year::answer::AdjustmentReturn::LastInYear => "that of the last period in the year, by choice",
        partial_exemption_year::answer::AdjustmentReturn::FinalReturn => "the final return, on deregistration",
    }
}

vocabulary! {
    /// Who issues an invoice or a till receipt, which decides how its VAT may be rounded.
    IssuedBy of invoice::IssuedBy, in invoice::IssuedBy::ALL, extensible: false {
        invoice::IssuedBy::InvoiceTrader => "a business that invoices VAT on top of prices without it (Notice 700 paragraph 17.5); also a retailer that really sets its prices so (VATREC12020)",
        invoice::IssuedBy::Retailer => "a retailer, whose prices include the VAT (Notice 700 paragraph 17.6)",
    }
}

vocabulary! {
    /// How VAT treats a line of an invoice.
    InvoiceTreatment of invoice::InvoiceTreatment, in invoice::InvoiceTreatment::ALL, extensible: false {
        invoice::InvoiceTreatment::StandardRated => "at the standard rate (VATA 1994 section 2)",
        invoice::InvoiceTreatment::ReducedRated => "at the reduced rate of 5 per cent (VATA 1994 section 29A)",
        invoice::InvoiceTreatment::HospitalityRated => "hospitality, holiday accommodation and attractions: 5 per cent from 15 July 2020, 12.5 per cent from 1 October 2021 to 31 March 2022",
        invoice::InvoiceTreatment::ZeroRated => "at the zero rate (VATA 1994 section 30)",
        invoice::InvoiceTreatment::Exempt => "exempt: no VAT",
    }
}

vocabulary! {
    /// How the VAT of an invoice is rounded (Notice 700 section 17). Retailers: to the nearest penny.
    InvoiceRounding of invoice::InvoiceRounding, in invoice::InvoiceRounding::ALL, extensible: false {
        invoice::InvoiceRounding::InvoiceTotalDown => "the VAT of the whole invoice down to a whole penny (paragraph 17.5); not for retailers",
        invoice::InvoiceRounding::InvoiceTotalNearestPenny => "the VAT of the whole document to the nearest penny (paragraph 17.6)",
        invoice::InvoiceRounding::LineDownToTenthOfPenny => "the VAT of each line down to 0.1p, then the whole down to a penny (paragraph 17.5.1); not for retailers",
        invoice::InvoiceRounding::LineNearestPenny => "the VAT of each line to the nearest penny (paragraphs 17.5.1, 17.6)",
        invoice::InvoiceRounding::LineNearestHalfPenny => "the VAT of each line to the nearest 0.5p, then the whole down to a penny (paragraph 17.5.1); not for retailers",
        invoice::InvoiceRounding::UnitThreeDigits => "the VAT of a unit in pounds worked to four digits and rounded to three, then the whole down to a penny (paragraph 17.5.2); not for retailers",
        invoice::InvoiceRounding::UnitNearestPennyNotNil => "the VAT of a unit to the nearest penny, never to nil, then the whole down to a penny (paragraph 17.5.2); not for retailers",
        invoice::InvoiceRounding::UnitNearestHalfPennyNotNil => "the VAT of a unit to the nearest 0.5p, never to nil, then the whole down to a penny (paragraph 17.5.2); not for retailers",
    }
}

vocabulary! {
    /// Whether prices are said without VAT or with it.
    Prices of invoice::Prices, in invoice::Prices::ALL, extensible: true {
        invoice::Prices::Net => "without VAT",
        invoice::Prices::Gross => "with VAT",
    }
}

vocabulary! {
    /// How a sum was rounded. Half up is in magnitude, away from nought.
    RoundingRule of Rounding, in Rounding::ALL, extensible: true {
        Rounding::None => "not at all: the result is exactly the sum",
        Rounding::NearestPenny => "to the nearest penny, half a penny up",
        Rounding::NearestHundredth => "to the nearest hundredth of one per cent, half up",
        Rounding::UpToPenny => "up to a whole penny",
        Rounding::DownToPenny => "down to a whole penny",
        Rounding::TowardsNoughtToPenny => "to a whole penny, towards nought",
        Rounding::TowardsNoughtToTenthOfPenny => "to a tenth of a penny, towards nought",
        Rounding::NearestTenthOfPenny => "to the nearest tenth of a penny, half of it up",
        Rounding::NearestHalfPenny => "to the nearest half penny, half of it up",
        Rounding::NearestHalfPennyNotNil => "to the nearest half penny, half of it up, but never to nil",
        Rounding::NearestPennyNotNil => "to the nearest penny, half a penny up, but never to nil",
        Rounding::UpToWholePercent => "up to a whole per cent",
        Rounding::UpToTwoDecimals => "up to two decimals of one per cent",
        Rounding::DownToWhole => "down to a whole number",
        Rounding::PenceCutOff => "pence cut off towards nought",
    }
}

vocabulary! {
    /// How well what has been read supports a row.
    Evidence of law::Evidence, in law::Evidence::ALL, extensible: true {
        law::Evidence::Law => "read in the legislation itself",
        law::Evidence::OfficialGuidance => "read in HMRC's own guidance",
        law::Evidence::OfficialGuidanceQuoted => "HMRC's wording, known through a quotation of it",
        law::Evidence::Practice => "professional practice or commentary; no official text was read",
        law::Evidence::Memory => "from memory, and still to be compared with an official text",
    }
}

vocabulary! {
    /// What sort of value a dated number has.
    ParameterKind of law::ParameterKind, in law::ParameterKind::ALL, extensible: true {
        law::ParameterKind::Amount => "an amount in pounds with two decimals",
        law::ParameterKind::Percentage => "per cent, or percentage points, in the shortest form",
        law::ParameterKind::Days => "a whole number of days",
        law::ParameterKind::Months => "a whole number of months",
        law::ParameterKind::Date => "a day",
    }
}

vocabulary! {
    /// What sort of text an authority is.
    AuthorityKind of law::AuthorityKind, in law::AuthorityKind::ALL, extensible: true {
        law::AuthorityKind::Act => "an Act of Parliament",
        law::AuthorityKind::Regulations => "regulations made under an Act",
        law::AuthorityKind::Order => "an order made under an Act",
        law::AuthorityKind::Notice => "a numbered notice of HMRC, or a direction of theirs with the force of law",
        law::AuthorityKind::Manual => "a page of an HMRC manual",
        law::AuthorityKind::Guidance => "other official guidance",
        law::AuthorityKind::Case => "a decision of a court or tribunal",
        law::AuthorityKind::Practice => "professional practice or commentary",
        law::AuthorityKind::Decision => "a reading that this service adopts where the texts leave room",
    }
}

/// Every kind of relevance.
const RELEVANCE: [spend::Relevance; 4] =
    [spend::Relevance::Yes, spend::Relevance::No, spend::Relevance::IfMainActivity, spend::Relevance::IfTransport];

vocabulary! {
    /// Whether a kind of spend counts as relevant goods in the goods test (VAT Regulations 1995 regulation 55A(4)).
    Relevance of spend::Relevance, in RELEVANCE, extensible: true {
        spend::Relevance::Yes => "it counts",
        spend::Relevance::No => "it never counts",
        spend::Relevance::IfMainActivity => "it counts where the main business activity ordinarily sells or hires out such goods",
        spend::Relevance::IfTransport => "it counts in the transport category where the business owns or leases a vehicle for it",
    }
}

vocabulary! {
    /// What standard accounting recovers of the VAT on a kind of spend, before business use and partial exemption.
    Recovery of spend::Recovery, in [spend::Recovery::All, spend::Recovery::Half, spend::Recovery::None], extensible: true {
        spend::Recovery::All => "all of it",
        spend::Recovery::Half => "half of it",
        spend::Recovery::None => "none of it",
    }
}

vocabulary! {
    /// What a flat rate user claims on a kind of spend (VAT Regulations 1995 regulation 55E).
    FlatRateClaim of spend::Claim, in [spend::Claim::AtLimit, spend::Claim::None], extensible: true {
        spend::Claim::AtLimit => "all VAT on one purchase at or above the limit for capital goods",
        spend::Claim::None => "nothing",
    }
}

vocabulary! {
    /// How VAT treats what is outstanding on leaving cash accounting.
    OutstandingTreatment of figures::OutstandingTreatment, in figures::OutstandingTreatment::ALL, extensible: false {
        figures::OutstandingTreatment::StandardRated => "at the standard rate",
        figures::OutstandingTreatment::ReducedRated => "at the reduced rate of 5 per cent",
        figures::OutstandingTreatment::ZeroRated => "at the zero rate",
        figures::OutstandingTreatment::Exempt => "exempt: no VAT",
        figures::OutstandingTreatment::OutsideScope => "outside the scope: no VAT",
    }
}

vocabulary! {
    /// A condition of the cash accounting scheme (VAT Regulations 1995 regulations 58, 60, 61, 64).
    CashConditionKind of answer::CashConditionKind, in answer::CashConditionKind::ALL, extensible: true {
        answer::CashConditionKind::ExpectedTurnoverWithinLimit => "expected supplies are within the limit for joining",
        answer::CashConditionKind::ReturnsAndPaymentsUpToDate => "returns and payments are up to date",
        answer::CashConditionKind::NoVatOffenceInPastYear => "the past year is free of VAT offences",
        answer::CashConditionKind::PastTurnoverAboveLimit => "past supplies are above the limit for staying",
        answer::CashConditionKind::NotToBeRepeated => "that happened for the first time and is not expected again",
        answer::CashConditionKind::GenuineCommercialActivity => "that came from genuine commercial activity",
        answer::CashConditionKind::ExpectedTurnoverBelowLimit => "expected supplies are below the limit for staying after it",
        answer::CashConditionKind::LastThreeMonthsAboveLimit => "supplies of the last three months are above the limit for having six months",
        answer::CashConditionKind::LeftLate => "the business left late",
        answer::CashConditionKind::Removed => "HMRC removed the business",
        answer::CashConditionKind::Deregistered => "the registration ends",
    }
}

vocabulary! {
    /// An answer from the facts given.
    CashConditionAnswer of answer::CashConditionAnswer, in answer::CashConditionAnswer::ALL, extensible: true {
        answer::CashConditionAnswer::Yes => "yes",
        answer::CashConditionAnswer::No => "no",
        answer::CashConditionAnswer::NotKnown => "the fact was not given: answer the question",
    }
}

vocabulary! {
    /// When what is outstanding on leaving cash accounting is accounted for (VAT Regulations 1995 regulation 61; VCAS6250).
    LeavingTime of answer::LeavingTime, in answer::LeavingTime::ALL, extensible: true {
        answer::LeavingTime::AtOnce => "on the return of the last period in the scheme",
        answer::LeavingTime::AtOnceOrWithinSixMonths => "on that return, or as it is paid within six months and the rest on the return for the period in which they end",
        answer::LeavingTime::NotKnown => "a fact that decides was not given",
    }
}
