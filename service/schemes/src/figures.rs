//! What the books say of one period: the totals that a calculation is made from, as the caller gave them.

use jiff::civil::Date;

use crate::money::{Money, Percentage};
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
        /// A car that is available for private use.
        CarPurchase => "car_purchase",
        /// Leasing or long hire of a car that is available for private use.
        CarLease => "car_lease",
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
    /// Id of the category of business.
    pub sector: String,
    /// The day on which the Flat Rate Scheme started or would start; none means the period's first.
    pub flat_rate_from: Option<Date>,
    /// The day on which HMRC were told of the liability to register, if later.
    pub liability_notified_on: Option<Date>,
    /// How flat rate turnover is counted.
    pub turnover_method: TurnoverMethod,
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
    /// The part of the period that it belongs to.
    pub part: Option<Dates>,
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
    /// Its amounts.
    pub amounts: Amounts,
    /// The part of the period that it belongs to.
    pub part: Option<Dates>,
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
    /// How totals that don't say their part are to be shared out, if at all.
    pub split_estimate: Option<SplitEstimate>,
}
