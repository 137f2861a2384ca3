//! Why a request gets no answer: the right shape, but the law or the figures admit none.

use std::fmt;

pub use crate::invoice::{InvoiceLineField, InvoicePlace};
use crate::money::Overflow;
use crate::words::words;

/// A figure of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Amount {
    /// Without VAT.
    Net,
    /// The VAT.
    Vat,
    /// With VAT.
    Gross,
}

/// A field of a sale or a purchase.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LineField {
    /// The line as a whole.
    Whole,
    /// One of its amounts.
    Amount(Amount),
    /// Its treatment.
    Treatment,
    /// The dates of the part of the period that it belongs to.
    Part,
    /// The last day of that part.
    PartEnd,
    /// How a purchase was supplied.
    Supply,
    /// The share of business use of a purchase.
    BusinessUse,
    /// The percentage in force when a receipt's supplies were made.
    PercentageAtSupply,
    /// Whether a sale is of goods sent from Northern Ireland to the European Union.
    NorthernIrelandToEu,
}

macro_rules! fields {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident => $path:literal,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum $name {
            $($(#[$field_doc])* $field,)*
        }

        impl $name {
            const fn path(self) -> &'static str {
                match self {
                    $(Self::$field => $path,)*
                }
            }
        }
    };
}

fields! {
    /// A field of a debt.
    DebtField {
        /// The day of the supply.
        SuppliedOn => "/supplied_on",
        /// The VAT.
        Vat => "/vat",
        /// What is unpaid.
        Gross => "/gross",
        /// The percentage at the time of supply.
        PercentageAtSupply => "/percentage_at_supply",
    }
}

fields! {
    /// A field of a payment by a debtor after relief.
    RepaidField {
        /// The relief that was claimed.
        ReliefClaimed => "/relief_claimed",
        /// What was outstanding when it was claimed.
        OutstandingAtClaim => "/outstanding_at_claim",
        /// The payment.
        Payment => "/payment",
        /// What of it went to supplies without relief.
        AllocatedElsewhere => "/allocated_elsewhere",
        /// The day of the payment.
        PaidOn => "/paid_on",
    }
}

fields! {
    /// A field of an unpaid purchase.
    UnpaidField {
        /// The day of the supply.
        SuppliedOn => "/supplied_on",
        /// The input tax claimed on it.
        InputTaxClaimed => "/input_tax_claimed",
        /// Its price.
        Gross => "/gross",
        /// What was paid.
        Paid => "/paid",
    }
}

fields! {
    /// A field of a payment for a purchase on which input tax was repaid.
    PaidLaterField {
        /// The input tax repaid.
        InputTaxRepaid => "/input_tax_repaid",
        /// What was unpaid when it was repaid.
        UnpaidAtRepayment => "/unpaid_at_repayment",
        /// The payment.
        Payment => "/payment",
        /// The day of the payment.
        PaidOn => "/paid_on",
    }
}

fields! {
    /// A field of a purchase before registration.
    BoughtField {
        /// The purchase as a whole.
        Whole => "",
        /// When it was bought.
        BoughtOn => "/bought_on",
        /// The VAT on it.
        Vat => "/vat",
    }
}

fields! {
    /// A field of an error in an earlier return.
    ErrorField {
        /// The end of its period.
        PeriodEnd => "/period_end",
        /// Its amount.
        Amount => "/amount",
    }
}

fields! {
    /// A field of an activity.
    ActivityField {
        /// Its category.
        Sector => "/sector",
        /// The turnover expected from it.
        ExpectedTurnover => "/expected_turnover",
        /// The materials supplied in it.
        Materials => "/materials",
    }
}

fields! {
    /// A field of what partial exemption is told of the year.
    PartialExemptionField {
        /// The percentage of the year before.
        PreviousYearPercentage => "/previous_year_percentage",
        /// Whether the year before was de minimis.
        PreviousYearDeMinimis => "/annual_test/previous_year_de_minimis",
        /// Input tax expected in the year.
        ExpectedInputTax => "/annual_test/expected_input_tax",
    }
}

fields! {
    /// A field of a month's totals.
    MonthField {
        /// The month itself.
        Month => "/month",
        /// Whether its figures are actual.
        Basis => "/basis",
        /// Sales at the standard rate.
        StandardRated => "/standard_rated",
        /// Sales at the reduced rate.
        ReducedRated => "/reduced_rated",
        /// Sales at the zero rate.
        ZeroRated => "/zero_rated",
        /// Sales for which the customer accounts for the VAT.
        DomesticReverseChargeMade => "/domestic_reverse_charge_made",
        /// Exempt sales.
        Exempt => "/exempt",
        /// Business supplies outside the scope.
        OutsideScope => "/outside_scope",
        /// Land sold as a capital asset.
        TaxableCapitalLand => "/taxable_capital_land",
        /// Own building work.
        OwnBuildingWork => "/own_building_work",
        /// Services bought from abroad.
        OverseasServicesReceived => "/overseas_services_received",
        /// Purchases under another domestic reverse charge.
        OtherDomesticReverseChargeReceived => "/other_domestic_reverse_charge_received",
        /// VAT on sales.
        VatOnSales => "/vat_on_sales",
    }
}

fields! {
    /// One of the five totals of a partial exemption calculation.
    ExemptionTotal {
        /// Taxable supplies.
        TaxableSupplies => "/taxable_supplies",
        /// Exempt supplies.
        ExemptSupplies => "/exempt_supplies",
        /// Input tax used for taxable supplies.
        InputTaxTaxable => "/input_tax_taxable",
        /// Input tax used for exempt supplies.
        InputTaxExempt => "/input_tax_exempt",
        /// Input tax used for both.
        InputTaxBoth => "/input_tax_both",
    }
}

/// A field of a partial exemption year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ExemptionYearField {
    /// The first day of the year.
    Start,
    /// The last day of the year.
    End,
    /// What is told of the year before and the year to come.
    OfTheYear(PartialExemptionField),
    /// All periods.
    Periods,
    /// A period, by its position.
    Period(usize),
    /// The first day of a period.
    PeriodStart(usize),
    /// The last day of a period.
    PeriodEnd(usize),
    /// A total of a period.
    PeriodTotal(usize, ExemptionTotal),
    /// What was claimed in a period.
    Claimed(usize),
    /// The year's own attribution.
    AttributedAfresh,
    /// A total of it.
    AttributedAfreshTotal(ExemptionTotal),
}

impl fmt::Display for ExemptionYearField {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Start => f.write_str("/year/start"),
            Self::End => f.write_str("/year/end"),
            Self::OfTheYear(field) => f.write_str(field.path()),
            Self::Periods => f.write_str("/periods"),
            Self::Period(index) => write!(f, "/periods/{index}"),
            Self::PeriodStart(index) => write!(f, "/periods/{index}/period/start"),
            Self::PeriodEnd(index) => write!(f, "/periods/{index}/period/end"),
            Self::PeriodTotal(index, total) => write!(f, "/periods/{index}{}", total.path()),
            Self::Claimed(index) => write!(f, "/periods/{index}/claimed"),
            Self::AttributedAfresh => f.write_str("/attributed_afresh"),
            Self::AttributedAfreshTotal(total) => write!(f, "/attributed_afresh{}", total.path()),
        }
    }
}

fields! {
    /// A field of the totals of a longer time.
    TotalsField {
        /// The last day of a past year.
        End => "/end",
        /// Taxable supplies.
        TaxableSupplies => "/taxable_supplies",
        /// Services bought from abroad.
        OverseasServicesReceived => "/overseas_services_received",
        /// Income with VAT.
        TotalIncome => "/total_income",
    }
}

fields! {
    /// A field of goods on hand.
    GoodsOnHandField {
        /// Their value without VAT.
        Value => "/value",
        /// The VAT on them.
        Vat => "/vat",
    }
}

/// A field of a request for dates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DatesField {
    /// The first day of the window.
    From,
    /// Its last day.
    Until,
    /// A VAT period, by its position.
    VatPeriod(usize),
    /// The last day of a VAT period.
    VatPeriodEnd(usize),
    /// The VAT expected for a year of annual accounting.
    ExpectedLiability,
    /// The VAT that the year came to.
    ActualLiability,
    /// The day of an event, by its position.
    EventOn(usize),
}

impl fmt::Display for DatesField {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::From => f.write_str("/from"),
            Self::Until => f.write_str("/until"),
            Self::VatPeriod(index) => write!(f, "/business/vat_periods/{index}"),
            Self::VatPeriodEnd(index) => write!(f, "/business/vat_periods/{index}/end"),
            Self::ExpectedLiability => f.write_str("/business/annual_accounting/liability/expected"),
            Self::ActualLiability => f.write_str("/business/annual_accounting/liability/actual"),
            Self::EventOn(index) => write!(f, "/events/{index}/on"),
        }
    }
}

/// A field of what is on hand on leaving the scheme.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LeavingField {
    /// The last day in the scheme.
    On,
    /// Stock on joining.
    StockOnJoining,
    /// Stock on leaving.
    StockOnLeaving,
    /// Capital goods, by their position.
    CapitalGoods(usize),
}

fields! {
    /// A field of what is outstanding on leaving cash accounting.
    CashLeavingField {
        /// The last day in the scheme.
        On => "/on",
        /// Supplies of the last three months.
        TurnoverLastThreeMonths => "/turnover_last_three_months",
    }
}

fields! {
    /// A field of what is asked about the cash accounting scheme.
    CashField {
        /// Supplies of the next twelve months.
        ExpectedTurnover => "/expected_turnover",
        /// Supplies of the past twelve months.
        PastTurnover => "/past_turnover",
        /// Whether returns and payments are up to date.
        ReturnsAndPaymentsUpToDate => "/returns_and_payments_up_to_date",
        /// Whether the past year is free of offences.
        NoVatOffenceInPastYear => "/no_vat_offence_in_past_year",
    }
}

fields! {
    /// A field of a total that is outstanding.
    OutstandingField {
        /// What is owed, with VAT.
        Gross => "/gross",
        /// The share of its VAT that may be recovered.
        RecoverablePercentage => "/recoverable_percentage",
    }
}

/// A place in what the caller gave. Displayed as a path: `/sales/0/net`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// All of it.
    Whole,
    /// The first day of the period.
    PeriodStart,
    /// The last day of the period.
    PeriodEnd,
    /// The category of business.
    Sector,
    /// The last day in the scheme.
    FlatRateUntil,
    /// A change of category, by its position.
    SectorChange(usize),
    /// The new category of a change.
    SectorChangeSector(usize),
    /// The effective date of registration.
    RegisteredOn,
    /// The day on which the Flat Rate Scheme starts or would start.
    FlatRateFrom,
    /// Flat rate turnover given as one total.
    Turnover,
    /// Relevant goods given as one total.
    RelevantGoods,
    /// The marginal rate of tax on the profit.
    MarginalTax,
    /// A place in an invoice.
    Invoice(InvoicePlace),
    /// All sales.
    Sales,
    /// A field of a debt, by its position.
    BadDebt(usize, DebtField),
    /// A field of a payment by a debtor after relief, by its position.
    ReliefRepaid(usize, RepaidField),
    /// A field of an unpaid purchase, by its position.
    UnpaidPurchase(usize, UnpaidField),
    /// A field of a payment for a purchase on which input tax was repaid, by its position.
    PurchasePaidLater(usize, PaidLaterField),
    /// The annual adjustment of partial exemption.
    PartialExemptionYear,
    /// A field of a purchase before registration, by its position.
    PreRegistration(usize, BoughtField),
    /// A field of what is on hand on leaving.
    Leaving(LeavingField),
    /// A field of an error in an earlier return, by its position.
    ReturnError(usize, ErrorField),
    /// All cars with a scale charge.
    FuelScaleCharges,
    /// The emissions of a car with a scale charge, by its position.
    FuelScaleCo2(usize),
    /// A field of what is asked about cash accounting.
    CashAccounting(CashField),
    /// A field of what is outstanding on leaving cash accounting.
    CashLeaving(CashLeavingField),
    /// A total that customers owe, by its position.
    CashDebtor(usize, OutstandingField),
    /// A total that is owed to suppliers, by its position.
    CashCreditor(usize, OutstandingField),
    /// A field of an activity, by its position.
    Activity(usize, ActivityField),
    /// A field of what a comparison's partial exemption is told of the year.
    PartialExemption(PartialExemptionField),
    /// A field of a partial exemption year.
    ExemptionYear(ExemptionYearField),
    /// The day from which past and future are seen.
    AsOf,
    /// A field of a month's totals, by its position.
    Month(usize, MonthField),
    /// A field of the past year's totals.
    PastYear(TotalsField),
    /// A field of the next year's totals.
    NextYear(TotalsField),
    /// A field of the totals of the next thirty days.
    NextThirtyDays(TotalsField),
    /// A field of goods on hand.
    GoodsOnHand(GoodsOnHandField),
    /// A field of a request for dates.
    Dates(DatesField),
    /// A sale, by its position.
    Sale(usize, LineField),
    /// A purchase, by its position.
    Purchase(usize, LineField),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Whole => Ok(()),
            Self::PeriodStart => f.write_str("/period/start"),
            Self::PeriodEnd => f.write_str("/period/end"),
            Self::Sector => f.write_str("/business/sector"),
            Self::FlatRateUntil => f.write_str("/business/flat_rate_until"),
            Self::SectorChange(index) => write!(f, "/business/sector_changes/{index}"),
            Self::SectorChangeSector(index) => write!(f, "/business/sector_changes/{index}/sector"),
            Self::RegisteredOn => f.write_str("/business/registered_on"),
            Self::FlatRateFrom => f.write_str("/business/flat_rate_from"),
            Self::Turnover => f.write_str("/turnover"),
            Self::RelevantGoods => f.write_str("/relevant_goods"),
            Self::MarginalTax => f.write_str("/marginal_tax_percentage"),
            Self::Invoice(place) => place.fmt(f),
            Self::Sales => f.write_str("/sales"),
            Self::BadDebt(index, field) => write!(f, "/adjustments/bad_debts/{index}{}", field.path()),
            Self::ReliefRepaid(index, field) => write!(f, "/adjustments/relief_repaid/{index}{}", field.path()),
            Self::UnpaidPurchase(index, field) => write!(f, "/adjustments/unpaid_purchases/{index}{}", field.path()),
            Self::PurchasePaidLater(index, field) => {
                write!(f, "/adjustments/purchases_paid_later/{index}{}", field.path())
            }
            Self::PartialExemptionYear => f.write_str("/adjustments/partial_exemption_year"),
            Self::PreRegistration(index, field) => write!(f, "/adjustments/pre_registration/{index}{}", field.path()),
            Self::Leaving(field) => match field {
                LeavingField::On => f.write_str("/adjustments/leaving/on"),
                LeavingField::StockOnJoining => f.write_str("/adjustments/leaving/stock_on_joining"),
                LeavingField::StockOnLeaving => f.write_str("/adjustments/leaving/stock_on_leaving"),
                LeavingField::CapitalGoods(index) => write!(f, "/adjustments/leaving/capital_goods/{index}"),
            },
            Self::ReturnError(index, field) => write!(f, "/adjustments/errors/{index}{}", field.path()),
            Self::FuelScaleCharges => f.write_str("/adjustments/fuel_scale_charges"),
            Self::FuelScaleCo2(index) => write!(f, "/adjustments/fuel_scale_charges/{index}/co2_emissions"),
            Self::CashAccounting(field) => write!(f, "/cash_accounting{}", field.path()),
            Self::CashLeaving(field) => write!(f, "/cash_accounting/leaving{}", field.path()),
            Self::CashDebtor(index, field) => write!(f, "/cash_accounting/leaving/debtors/{index}{}", field.path()),
            Self::CashCreditor(index, field) => write!(f, "/cash_accounting/leaving/creditors/{index}{}", field.path()),
            Self::Activity(index, field) => write!(f, "/business/activities/{index}{}", field.path()),
            Self::PartialExemption(field) => write!(f, "/partial_exemption{}", field.path()),
            Self::ExemptionYear(field) => field.fmt(f),
            Self::AsOf => f.write_str("/as_of"),
            Self::Month(index, field) => write!(f, "/turnover/months/{index}{}", field.path()),
            Self::PastYear(field) => write!(f, "/turnover/past_year{}", field.path()),
            Self::NextYear(field) => write!(f, "/turnover/next_year{}", field.path()),
            Self::NextThirtyDays(field) => write!(f, "/turnover/next_30_days{}", field.path()),
            Self::GoodsOnHand(field) => write!(f, "/goods_on_hand{}", field.path()),
            Self::Dates(field) => field.fmt(f),
            Self::Sale(index, field) => write!(f, "/sales/{index}{field}"),
            Self::Purchase(index, field) => write!(f, "/purchases/{index}{field}"),
        }
    }
}

impl fmt::Display for LineField {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Whole => "",
            Self::Amount(Amount::Net) => "/net",
            Self::Amount(Amount::Vat) => "/vat",
            Self::Amount(Amount::Gross) => "/gross",
            Self::Treatment => "/treatment",
            Self::Part => "/part",
            Self::PartEnd => "/part/end",
            Self::Supply => "/supply",
            Self::BusinessUse => "/business_use_percentage",
            Self::PercentageAtSupply => "/percentage_at_supply",
            Self::NorthernIrelandToEu => "/northern_ireland_to_eu",
        })
    }
}

words! {
    /// What kind of refusal it is. The word of each is stable.
    RefusalCode {
        /// The last day of a period or part comes before its first.
        PeriodEndBeforeStart => "period_end_before_start",
        /// The period starts before the tables begin.
        PeriodTooEarly => "period_too_early",
        /// The period starts before the business was registered.
        PeriodBeforeRegistration => "period_before_registration",
        /// The Flat Rate Scheme cannot start before registration.
        FlatRateBeforeRegistration => "flat_rate_before_registration",
        /// No day of the period is in the Flat Rate Scheme.
        SchemeOutsidePeriod => "scheme_outside_period",
        /// No category of business has this id.
        UnknownSector => "unknown_sector",
        /// Changes of category are not in the order of their days.
        SectorChangesOutOfOrder => "sector_changes_out_of_order",
        /// Totals must say which part of the period they belong to.
        PeriodMustBeSplit => "period_must_be_split",
        /// A part lies, wholly or partly, outside the period.
        PartOutsidePeriod => "part_outside_period",
        /// A part runs across a day on which the percentage applied changes.
        PartSpansChange => "part_spans_change",
        /// Net and VAT do not add up to gross.
        AmountsDoNotAddUp => "amounts_do_not_add_up",
        /// VAT stands on something that carries none.
        VatNotChargeable => "vat_not_chargeable",
        /// The VAT alone does not tell the other amounts.
        VatAloneNotEnough => "vat_alone_not_enough",
        /// The rate named was not in force on the line's dates.
        RateNotInForce => "rate_not_in_force",
        /// The rate changed within the line's dates.
        RateChangesInsideLine => "rate_changes_inside_line",
        /// A flat rate user's postponed import in a period that starts before 1 June 2022.
        PostponedImportTooEarly => "postponed_import_too_early",
        /// Goods between Northern Ireland and the European Union before 2021.
        NorthernIrelandTooEarly => "northern_ireland_too_early",
        /// Residual input tax and no supplies to attribute it by.
        PartialExemptionPercentageUnknown => "partial_exemption_percentage_unknown",
        /// Amounts too large for an exact sum.
        AmountTooLarge => "amount_too_large",
        /// A percentage at the time of supply where the turnover method does not use one.
        PercentageAtSupplyNotUsed => "percentage_at_supply_not_used",
        /// The cash method needs the percentage at the time of supply.
        PercentageAtSupplyNeeded => "percentage_at_supply_needed",
        /// Relief for a debt is claimed before it may be.
        BadDebtTooEarly => "bad_debt_too_early",
        /// Relief for a debt is claimed after the time for it.
        BadDebtTooLate => "bad_debt_too_late",
        /// VAT before registration is claimed on the first return only.
        NotTheFirstReturn => "not_the_first_return",
        /// A day that does not come where it must in the order of days.
        DatesOutOfOrder => "dates_out_of_order",
        /// Months that do not follow one another.
        MonthsOutOfOrder => "months_out_of_order",
        /// A month is called actual that has not begun.
        ActualMonthInFuture => "actual_month_in_future",
        /// An amount that cannot be negative here.
        AmountNegative => "amount_negative",
        /// An amount that cannot be nothing here.
        AmountNotPositive => "amount_not_positive",
        /// A part of an amount that is more than the whole.
        PartMoreThanWhole => "part_more_than_whole",
        /// An entry that stands on the return of another period.
        BelongsToAnotherPeriod => "belongs_to_another_period",
        /// A way of rounding that retailers may not use.
        RoundingNotForRetailers => "rounding_not_for_retailers",
        /// Prices with VAT and prices without it on one invoice.
        NetAndGrossMixed => "net_and_gross_mixed",
        /// One price for several supplies, and nothing to share it out by.
        PriceNeedsShelfPrices => "price_needs_shelf_prices",
        /// More was paid than the invoice comes to.
        PaymentMoreThanInvoice => "payment_more_than_invoice",
        /// Activities with no turnover to share.
        NoTurnoverExpected => "no_turnover_expected",
        /// A longer period of more than twelve months.
        LongerPeriodTooLong => "longer_period_too_long",
        /// The periods of a partial exemption year leave a gap, overlap, or do not make up the year.
        PeriodsDoNotMakeUpYear => "periods_do_not_make_up_year",
        /// Scale charges for a period that is neither a month, a quarter nor a year.
        FuelScaleLengthNotInTable => "fuel_scale_length_not_in_table",
        /// Scale charges for a period that is only partly in the Flat Rate Scheme.
        FuelScaleInPartOfPeriod => "fuel_scale_in_part_of_period",
        /// Dates are asked for over too long a time.
        WindowTooLong => "window_too_long",
        /// A date on which the tables have no value.
        DateOutsideLaw => "date_outside_law",
    }
}

/// One reason why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// Where in the request.
    pub place: Place,
    /// What kind.
    pub code: RefusalCode,
    /// What is wrong and what to change, in plain English.
    pub detail: String,
}

impl Refusal {
    #[cold]
    pub(crate) fn new(place: Place, code: RefusalCode, detail: impl Into<String>) -> Self {
        Self { place, code, detail: detail.into() }
    }
}

impl From<Overflow> for Refusal {
    #[cold]
    fn from(_: Overflow) -> Self {
        Self::new(
            Place::Whole,
            RefusalCode::AmountTooLarge,
            "The amounts add up to more than can be worked out exactly. Check them for misplaced digits, or give pounds rather \
             than pence.",
        )
    }
}

/// All reasons why there is no answer, in the order of the request.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusals(pub Vec<Refusal>);

impl<R: Into<Refusal>> From<R> for Refusals {
    fn from(refusal: R) -> Self {
        Self(vec![refusal.into()])
    }
}
