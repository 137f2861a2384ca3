//! What the books say of one period: the totals that a calculation is made from, as the caller gave them.

use jiff::civil::Date;

pub use crate::adjustments::{PurchasePaidLater, ReliefRepaid, UnpaidPurchase};
pub use crate::cash_accounting::figures::{CashAccounting, CashLeaving, Outstanding, OutstandingTreatment};
use crate::money::{Money, Percentage};
use crate::thresholds::Turnover;
use crate::words::words;

words! {
    /// How VAT treats a sale.
    Treatment {
        /// At the standard rate.
        StandardRated => "standard_rated",
        /// At the reduced rate of 5%.
        ReducedRated => "reduced_rated",
        /// Hospitality, holiday accommodation and attractions at their temporary rate, 15 July 2020 to 31 March 2022.
        HospitalityRated => "hospitality_rated",
        /// At the zero rate.
        ZeroRated => "zero_rated",
        /// Exempt.
        Exempt => "exempt",
        /// The customer accounts for the VAT.
        DomesticReverseCharge => "domestic_reverse_charge",
        /// Business supplies made where no UK VAT arises, with the right to deduct.
        OutsideScope => "outside_scope",
        /// Not business: no supply for VAT.
        NonBusiness => "non_business",
    }
}

words! {
    /// What was sold.
    Nature {
        /// The ordinary trade.
        Ordinary => "ordinary",
        /// An asset of the business on which no VAT was claimed.
        CapitalAsset => "capital_asset",
        /// An asset of the business on which VAT was claimed.
        CapitalAssetVatClaimed => "capital_asset_vat_claimed",
        /// Goods or services that the law takes as supplied, such as private use and gifts, on which no VAT was claimed.
        DeemedSupply => "deemed_supply",
        /// Such a supply of what VAT was claimed on.
        DeemedSupplyVatClaimed => "deemed_supply_vat_claimed",
    }
}

words! {
    /// What was bought: the kinds between which the law draws lines.
    Spend {
        /// Materials used in the work.
        Materials => "materials",
        /// Goods that the business uses up.
        ConsumableGoods => "consumable_goods",
        /// Stock to sell.
        StockForResale => "stock_for_resale",
        /// Goods to let on hire.
        GoodsForHireOut => "goods_for_hire_out",
        /// Gas, electricity, heat and water.
        PowerAndWater => "power_and_water",
        /// Food and drink to sell.
        FoodAndDrinkForSale => "food_and_drink_for_sale",
        /// Food and drink for the owner or staff.
        FoodAndDrinkForStaff => "food_and_drink_for_staff",
        /// Fuel and parts of vehicles.
        VehicleFuelAndParts => "vehicle_fuel_and_parts",
        /// Goods to give away.
        PromotionalGoodsAndGifts => "promotional_goods_and_gifts",
        /// Goods of a capital nature; one line is one purchase.
        CapitalGoods => "capital_goods",
        /// Services.
        Services => "services",
        /// Rent, hire and leasing, other than of cars.
        RentAndHire => "rent_and_hire",
        /// Software, media and the like delivered electronically.
        DigitalContent => "digital_content",
        /// Entertaining customers and contacts.
        BusinessEntertainment => "business_entertainment",
        /// Entertaining staff.
        StaffEntertainment => "staff_entertainment",
        /// A car that is available for private use.
        CarPurchase => "car_purchase",
        /// A car for which an exception lifts the block; one line is one purchase.
        CarForBusinessOnly => "car_for_business_only",
        /// Leasing or long hire of a car that is available for private use.
        CarLease => "car_lease",
        /// Hire of a car for a business journey of ten days at most.
        ShortCarHire => "short_car_hire",
        /// Domestic accommodation for directors.
        AccommodationForDirectors => "accommodation_for_directors",
        /// Wages, taxes and other payments outside the scope of VAT.
        WagesAndOtherOutsideScope => "wages_and_other_outside_scope",
    }
}

words! {
    /// The rate that a lone figure of a purchase is completed at.
    PurchaseTreatment {
        /// At the standard rate.
        StandardRated => "standard_rated",
        /// At the reduced rate of 5%.
        ReducedRated => "reduced_rated",
        /// At the temporary hospitality rate.
        HospitalityRated => "hospitality_rated",
        /// At the zero rate.
        ZeroRated => "zero_rated",
        /// Exempt.
        Exempt => "exempt",
        /// Outside the scope of VAT.
        OutsideScope => "outside_scope",
    }
}

words! {
    /// How a purchase was supplied: who accounts for its VAT.
    Supply {
        /// The supplier charged whatever VAT there is.
        Ordinary => "ordinary",
        /// Goods imported with the import VAT put on the return.
        PostponedImport => "postponed_import",
        /// Services bought from abroad: the customer accounts for the VAT.
        OverseasServicesReverseCharge => "overseas_services_reverse_charge",
        /// A reverse charge within the United Kingdom: the customer accounts for the VAT.
        DomesticReverseCharge => "domestic_reverse_charge",
        /// Goods acquired into Northern Ireland from the European Union.
        NorthernIrelandAcquisition => "northern_ireland_acquisition",
    }
}

words! {
    /// Which of the business's supplies a purchase was used for.
    UsedFor {
        /// Taxable supplies, and supplies treated like them.
        Taxable => "taxable",
        /// Exempt supplies.
        Exempt => "exempt",
        /// Both.
        Both => "both",
    }
}

words! {
    /// How flat rate turnover is counted.
    TurnoverMethod {
        /// By invoice or payment, whichever comes first.
        Basic => "basic",
        /// By money received.
        Cash => "cash",
        /// By daily takings.
        Retailer => "retailer",
    }
}

words! {
    /// How totals that don't say their part of the period are to be shared out.
    SplitEstimate {
        /// By the number of days.
        ByDays => "by_days",
    }
}

words! {
    /// Why the category of business changed.
    SectorChangeReason {
        /// A new activity is carried on from that day.
        ActivityStarted => "activity_started",
        /// An activity is no longer carried on from that day.
        ActivityStopped => "activity_stopped",
        /// The same activities, but another has become the main one.
        BalanceShifted => "balance_shifted",
    }
}

/// A change of the category of business.
#[derive(Debug, Clone)]
pub struct SectorChange {
    /// The day on which the activities or their balance changed.
    pub on: Date,
    /// Id of the new category.
    pub sector: String,
    /// What changed.
    pub reason: SectorChangeReason,
}

/// A first and a last day as given, not yet checked against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dates {
    /// The first day.
    pub start: Date,
    /// The last day.
    pub end: Date,
}

/// The facts of the business that the percentage depends on.
#[derive(Debug, Clone)]
pub struct Business {
    /// Effective date of registration for VAT.
    pub registered_on: Date,
    /// Id of the category of business, before the first of the changes.
    pub sector: String,
    /// Changes of the category, in the order of their days.
    pub sector_changes: Vec<SectorChange>,
    /// The day on which the Flat Rate Scheme started or would start; none means the period's first.
    pub flat_rate_from: Option<Date>,
    /// The last day in the scheme, where the business leaves it.
    pub flat_rate_until: Option<Date>,
    /// The day on which HMRC were told of the liability to register, if later.
    pub liability_notified_on: Option<Date>,
    /// How flat rate turnover is counted.
    pub turnover_method: TurnoverMethod,
    /// The activities between which the category was chosen.
    pub activities: Vec<Activity>,
}

/// One, two or three of net, VAT and gross, in pounds.
#[derive(Debug, Clone, Copy, Default)]
pub struct Amounts {
    /// Without VAT.
    pub net: Option<Money>,
    /// The VAT.
    pub vat: Option<Money>,
    /// With VAT.
    pub gross: Option<Money>,
}

/// A total of sales.
#[derive(Debug, Clone)]
pub struct Sale {
    /// How VAT treats it.
    pub treatment: Treatment,
    /// What was sold.
    pub nature: Nature,
    /// Its amounts.
    pub amounts: Amounts,
    /// The part of the period that it belongs to; with the cash method, the part in which the supplies were made.
    pub part: Option<Dates>,
    /// With the cash method, for supplies of an earlier period: the percentage in force when they were made.
    pub percentage_at_supply: Option<Percentage>,
    /// Whether they are goods sent from Northern Ireland to the European Union, or costs of sending them.
    pub northern_ireland_to_eu: bool,
}

words! {
    /// What shows that input tax may be claimed on a purchase.
    Evidence {
        /// A VAT invoice, or what stands for one: a certificate of import VAT, a self-billed invoice.
        VatInvoice => "vat_invoice",
        /// A less detailed invoice, for small supplies.
        LessDetailedInvoice => "less_detailed_invoice",
        /// None is asked for: small payments at coin machines, tolls and car parks.
        NoneNeeded => "none_needed",
        /// None is held yet.
        NotHeld => "not_held",
    }
}

/// A total of purchases; for capital goods, one purchase.
#[derive(Debug, Clone)]
pub struct Purchase {
    /// What was bought.
    pub spend: Spend,
    /// The rate that a lone figure is completed at, where stated.
    pub treatment: Option<PurchaseTreatment>,
    /// Who accounts for its VAT.
    pub supply: Supply,
    /// Which supplies it was used for.
    pub used_for: UsedFor,
    /// The share used for business, where stated; none means all.
    pub business_use: Option<Percentage>,
    /// Whether selling, hiring out or driving such goods is what the main activity ordinarily does, where stated.
    pub for_main_activity: Option<bool>,
    /// Whether its VAT is no input tax for a reason that the kind of spend does not tell.
    pub vat_blocked: bool,
    /// What shows that its input tax may be claimed.
    pub evidence: Evidence,
    /// Its amounts.
    pub amounts: Amounts,
    /// The part of the period that it belongs to.
    pub part: Option<Dates>,
}

/// What the goods test alone is made from.
#[derive(Debug, Clone)]
pub struct GoodsFigures {
    /// The VAT period.
    pub period: Dates,
    /// Id of the category of business.
    pub sector: String,
    /// Flat rate turnover.
    pub turnover: TurnoverGiven,
    /// Spending on goods.
    pub goods: GoodsGiven,
    /// How totals that don't say their part are to be shared out, if at all.
    pub split_estimate: Option<SplitEstimate>,
}

/// Flat rate turnover, as one figure or as the sales that make it.
#[derive(Debug, Clone)]
pub enum TurnoverGiven {
    /// One figure, with VAT.
    Total(Money),
    /// Totals of sales.
    Sales(Vec<Sale>),
}

/// Relevant goods, as one figure or as the purchases among which they are.
#[derive(Debug, Clone)]
pub enum GoodsGiven {
    /// One figure, with VAT.
    Total(Money),
    /// Totals of purchases.
    Purchases(Vec<Purchase>),
}

/// A debt that a customer did not pay.
#[derive(Debug, Clone)]
pub struct BadDebt {
    /// The day of the supply.
    pub supplied_on: Date,
    /// The day on which payment was due, where that is later.
    pub due_on: Option<Date>,
    /// The VAT charged on what is unpaid.
    pub vat: Money,
    /// What is unpaid, with VAT.
    pub gross: Money,
    /// With the cash method: the percentage in force when the supply was made.
    pub percentage_at_supply: Option<Percentage>,
}

words! {
    /// What was bought before registration.
    BoughtBefore {
        /// Goods.
        Goods => "goods",
        /// Services.
        Services => "services",
    }
}

/// VAT on a purchase before registration.
#[derive(Debug, Clone)]
pub struct PreRegistration {
    /// What was bought.
    pub kind: BoughtBefore,
    /// When.
    pub bought_on: Date,
    /// The VAT on it.
    pub vat: Money,
    /// For goods, whether they were on hand on the day of registration.
    pub on_hand: bool,
}

/// What a business has on hand when it leaves the scheme.
#[derive(Debug, Clone)]
pub struct Leaving {
    /// The last day in the scheme.
    pub on: Date,
    /// Value without VAT of standard-rated stock on joining on which VAT was recovered.
    pub stock_on_joining: Option<Money>,
    /// Value without VAT of standard-rated stock on leaving on which VAT was not recovered.
    pub stock_on_leaving: Option<Money>,
    /// Values without VAT of capital goods on hand on which VAT was claimed in the scheme.
    pub capital_goods: Vec<Money>,
}

/// An error found in an earlier return.
#[derive(Debug, Clone)]
pub struct ReturnError {
    /// The last day of the period in which it was made.
    pub period_end: Date,
    /// VAT under-declared, or negative where over-declared.
    pub amount: Money,
}

/// What stands on a return beside the period's own figures, or is asked about with it.
#[derive(Debug, Clone, Default)]
pub struct Adjustments {
    /// Debts written off.
    pub bad_debts: Vec<BadDebt>,
    /// Purchases before registration.
    pub pre_registration: Vec<PreRegistration>,
    /// What is on hand on leaving the scheme.
    pub leaving: Option<Leaving>,
    /// Errors found in earlier returns.
    pub errors: Vec<ReturnError>,
    /// Payments by debtors for whose debts relief was claimed.
    pub relief_repaid: Vec<ReliefRepaid>,
    /// Purchases not paid in full when six months are over.
    pub unpaid_purchases: Vec<UnpaidPurchase>,
    /// Payments for purchases on which input tax was repaid.
    pub purchases_paid_later: Vec<PurchasePaidLater>,
    /// The annual adjustment of partial exemption that stands on this return: positive to claim, negative to repay.
    pub partial_exemption_year: Option<Money>,
    /// Cars for which scale charges stand in for the private use of fuel.
    pub fuel_scale_charges: Vec<FuelScaleCar>,
}

/// What the scale charge of a car goes by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FuelScaleCar {
    /// Its CO2 emissions in whole g/km; of a bi-fuel car the lower figure.
    Co2Emissions(i32),
    /// Where it has no emissions figure: its cylinder capacity in cubic centimetres.
    EngineCapacity(i32),
}

/// One activity of the business, for the choice of its category.
#[derive(Debug, Clone)]
pub struct Activity {
    /// What it is.
    pub description: String,
    /// Id of the category that fits it.
    pub sector: String,
    /// Turnover with VAT expected from it in the coming year.
    pub expected_turnover: Money,
    /// For building work, materials supplied in it.
    pub materials: Option<Money>,
}

/// What the annual test of partial exemption is judged by.
#[derive(Debug, Clone, Copy)]
pub struct AnnualTestGiven {
    /// Whether the longer period before was de minimis.
    pub previous_year_de_minimis: bool,
    /// Input tax expected in this longer period.
    pub expected_input_tax: Money,
}

/// What a partial exemption calculation is told of the year before and the year to come.
#[derive(Debug, Clone, Copy, Default)]
pub struct PartialExemptionGiven {
    /// The recoverable percentage of the longer period before.
    pub previous_year_percentage: Option<Percentage>,
    /// What the annual test is judged by, where it is asked about.
    pub annual_test: Option<AnnualTestGiven>,
}

/// One period's totals and the facts that go with them.
#[derive(Debug, Clone)]
pub struct Figures {
    /// The VAT period.
    pub period: Dates,
    /// The business.
    pub business: Business,
    /// Totals of sales.
    pub sales: Vec<Sale>,
    /// Totals of purchases.
    pub purchases: Vec<Purchase>,
    /// What stands on the return beside them.
    pub adjustments: Adjustments,
    /// What partial exemption is told of the year.
    pub partial_exemption: PartialExemptionGiven,
    /// The marginal rate of income tax or corporation tax on the profit, for the difference after tax.
    pub marginal_tax: Option<Percentage>,
    /// What is asked about the cash accounting scheme, if anything.
    pub cash_accounting: Option<CashAccounting>,
    /// Turnover of the past and the future, for the limits.
    pub turnover: Option<Turnover>,
    /// How totals that don't say their part are to be shared out, if at all.
    pub split_estimate: Option<SplitEstimate>,
}
