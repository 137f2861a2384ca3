//! The dated numbers of the law.

use std::fmt;

use jiff::civil::Date;

use super::dated::{InForce, LawId, NotInForce, Timeline};
use crate::money::{Money, Percentage};

/// What sort of value a parameter has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ParameterKind {
    /// An amount in pounds.
    Amount,
    /// Per cent, or percentage points.
    Percentage,
    /// A number of days.
    Days,
    /// A number of months.
    Months,
    /// A day.
    Date,
}

impl ParameterKind {
    /// Every kind.
    pub const ALL: [ParameterKind; 5] = [
        ParameterKind::Amount,
        ParameterKind::Percentage,
        ParameterKind::Days,
        ParameterKind::Months,
        ParameterKind::Date,
    ];

    /// The word for it in the tables and on the wire.
    pub const fn as_str(self) -> &'static str {
        match self {
            ParameterKind::Amount => "amount",
            ParameterKind::Percentage => "percentage",
            ParameterKind::Days => "days",
            ParameterKind::Months => "months",
            ParameterKind::Date => "date",
        }
    }

    /// The kind that a word stands for.
    pub(super) fn from_word(word: &str) -> Option<ParameterKind> {
        ParameterKind::ALL.into_iter().find(|kind| kind.as_str() == word)
    }
}

impl fmt::Display for ParameterKind {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.as_str())
    }
}

/// Days of the tables that a parameter must cover.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Coverage {
    /// From the earliest day on which a period may start, and still in force.
    Throughout,
    /// From a later day, and still in force.
    FromLater,
    /// From a later day, and at an end.
    ForATime,
}

macro_rules! parameters {
    ($($(#[doc = $doc:literal])+ $name:ident = $id:literal, $kind:ident, $coverage:ident;)+) => {
        /// A dated number of the law. The tables hold each exactly once.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum ParameterId {
            $($(#[doc = $doc])+ $name,)+
        }

        impl ParameterId {
            /// Every parameter, in the order of the ids.
            pub const ALL: &[ParameterId] = &[$(ParameterId::$name),+];

            /// The id in the tables and on the wire.
            pub const fn as_str(self) -> &'static str {
                match self {
                    $(ParameterId::$name => $id,)+
                }
            }

            /// What sort of value it has.
            pub const fn kind(self) -> ParameterKind {
                match self {
                    $(ParameterId::$name => ParameterKind::$kind,)+
                }
            }

            pub(super) const fn coverage(self) -> Coverage {
                match self {
                    $(ParameterId::$name => Coverage::$coverage,)+
                }
            }
        }
    };
}

parameters! {
    /// One of nine instalments of annual accounting, of the VAT expected for the year.
    AnnualAccountingInstalmentOfNine = "annual_accounting_instalment_of_nine", Percentage, Throughout;
    /// One of three instalments of annual accounting, of the VAT expected for the year.
    AnnualAccountingInstalmentOfThree = "annual_accounting_instalment_of_three", Percentage, Throughout;
    /// Taxable supplies up to which a business may join annual accounting.
    AnnualAccountingJoin = "annual_accounting_join", Amount, Throughout;
    /// Taxable supplies above which it must leave annual accounting.
    AnnualAccountingLeave = "annual_accounting_leave", Amount, Throughout;
    /// Months after an accounting year of annual accounting, at whose end return and balance are due.
    AnnualAccountingReturnMonths = "annual_accounting_return_months", Months, Throughout;
    /// Months, from the later of supply and due date, within which relief for a bad debt may be claimed.
    BadDebtClaimMonths = "bad_debt_claim_months", Months, Throughout;
    /// Months, from the later of supply and due date, that a debt must have been unpaid.
    BadDebtWaitingMonths = "bad_debt_waiting_months", Months, Throughout;
    /// Share of the VAT on a car's rental that is recovered while private use is possible.
    CarLeaseRecoverableShare = "car_lease_recoverable_share", Percentage, Throughout;
    /// Taxable supplies up to which a business may join cash accounting.
    CashAccountingJoin = "cash_accounting_join", Amount, Throughout;
    /// Taxable supplies above which it must leave cash accounting.
    CashAccountingLeave = "cash_accounting_leave", Amount, Throughout;
    /// Months within which what is outstanding on leaving cash accounting may be accounted for.
    CashAccountingLeavingMonths = "cash_accounting_leaving_months", Months, Throughout;
    /// Taxable supplies of three months above which it is accounted for at once.
    CashAccountingLeavingThreeMonths = "cash_accounting_leaving_three_months", Amount, Throughout;
    /// VAT on goods on hand up to which ending a registration brings no charge.
    DeregistrationAssetsVat = "deregistration_assets_vat", Amount, Throughout;
    /// Days within which HMRC are told that taxable supplies have ceased.
    DeregistrationNotice = "deregistration_notice", Days, Throughout;
    /// Working days after the deadline on which HMRC collect by direct debit.
    DirectDebitCollection = "direct_debit_collection", Days, Throughout;
    /// The first day on which a period that the service calculates may start.
    EarliestPeriodStart = "earliest_period_start", Date, Throughout;
    /// Share of box 6 up to which a return can carry a larger net error.
    ErrorCorrectionBox6Share = "error_correction_box_6_share", Percentage, Throughout;
    /// Months, from the end of the period of an error, within which it may be corrected.
    ErrorCorrectionMonths = "error_correction_months", Months, Throughout;
    /// Net error above which a return can never carry the correction.
    ErrorCorrectionOnReturnLarge = "error_correction_on_return_large", Amount, Throughout;
    /// Net error below which a return can always carry the correction.
    ErrorCorrectionOnReturnSmall = "error_correction_on_return_small", Amount, Throughout;
    /// Price with VAT from which a flat rate user claims on capital goods.
    FrsCapitalGoods = "frs_capital_goods", Amount, Throughout;
    /// Points off the percentage in the first year of registration.
    FrsFirstYearReduction = "frs_first_year_reduction", Percentage, Throughout;
    /// Taxable turnover up to which a business may join the Flat Rate Scheme.
    FrsJoinTaxableTurnover = "frs_join_taxable_turnover", Amount, Throughout;
    /// Share of materials below which building work is labour-only.
    FrsLabourOnlyMaterialsShare = "frs_labour_only_materials_share", Percentage, Throughout;
    /// Income of the next 30 days above which the Flat Rate Scheme ends.
    FrsLeaveIncomeNext30Days = "frs_leave_income_next_30_days", Amount, Throughout;
    /// Income of the past year above which the Flat Rate Scheme ends.
    FrsLeaveIncomePastYear = "frs_leave_income_past_year", Amount, Throughout;
    /// Spend on relevant goods for a year, under which a business is a limited cost business.
    FrsLimitedCostAmount = "frs_limited_cost_amount", Amount, FromLater;
    /// Share of turnover spent on relevant goods, under which a business is a limited cost business.
    FrsLimitedCostPercent = "frs_limited_cost_percent", Percentage, FromLater;
    /// Days within which a flat rate user must tell HMRC of a change.
    FrsNotifyChange = "frs_notify_change", Days, Throughout;
    /// The first day of a period in which a flat rate user may account for postponed import VAT.
    FrsPostponedImports = "frs_postponed_imports", Date, FromLater;
    /// Expected income up to which HMRC may let a business stay in the Flat Rate Scheme.
    FrsStayIncomeNextYear = "frs_stay_income_next_year", Amount, Throughout;
    /// Months, from the due date of the return, within which input tax may be claimed late.
    InputTaxClaimMonths = "input_tax_claim_months", Months, Throughout;
    /// Price with VAT up to which no invoice is asked for small payments.
    InputTaxWithoutInvoice = "input_tax_without_invoice", Amount, Throughout;
    /// Price with VAT up to which a less detailed invoice is enough.
    LessDetailedInvoice = "less_detailed_invoice", Amount, Throughout;
    /// The percentage of a limited cost business.
    LimitedCostBusiness = "limited_cost_business", Percentage, FromLater;
    /// The first day on which goods between Northern Ireland and the European Union have rules of their own.
    NorthernIrelandGoods = "northern_ireland_goods", Date, FromLater;
    /// Input tax up to which the annual test may be used.
    PartialExemptionAnnualTestInputTax = "partial_exemption_annual_test_input_tax", Amount, Throughout;
    /// Exempt input tax a month up to which the main test passes.
    PartialExemptionMainTestMonthly = "partial_exemption_main_test_monthly", Amount, Throughout;
    /// Share of exempt input tax in all input tax up to which the main test passes.
    PartialExemptionMainTestShare = "partial_exemption_main_test_share", Percentage, Throughout;
    /// Residual input tax of a year up to which the standard method override does not apply.
    PartialExemptionOverrideResidual = "partial_exemption_override_residual", Amount, Throughout;
    /// Residual input tax a month up to which the percentage goes up to a whole number.
    PartialExemptionRoundingMonthly = "partial_exemption_rounding_monthly", Amount, Throughout;
    /// Input tax a month up to which the simplified tests pass.
    PartialExemptionSimplifiedTestMonthly = "partial_exemption_simplified_test_monthly", Amount, Throughout;
    /// Share of exempt supplies in all supplies up to which the simplified tests pass.
    PartialExemptionSimplifiedTestShare = "partial_exemption_simplified_test_share", Percentage, Throughout;
    /// Months before registration within which goods on hand were bought.
    PreRegistrationGoodsMonths = "pre_registration_goods_months", Months, Throughout;
    /// Months before registration within which services were bought.
    PreRegistrationServicesMonths = "pre_registration_services_months", Months, Throughout;
    /// Days within which HMRC are told of the liability to be registered.
    RegistrationNotice = "registration_notice", Days, Throughout;
    /// Days after the months that follow a period, by which return and payment are due.
    ReturnDueDays = "return_due_days", Days, Throughout;
    /// Months after a period, after which the days for return and payment are counted.
    ReturnDueMonths = "return_due_months", Months, Throughout;
    /// Months, from the later of supply and due date, after which input tax on an unpaid purchase is repaid.
    UnpaidPurchaseMonths = "unpaid_purchase_months", Months, Throughout;
    /// Taxable supplies up to which a business may ask to end its registration.
    VatDeregistration = "vat_deregistration", Amount, Throughout;
    /// The temporary reduced rate for hospitality, holiday accommodation and attractions.
    VatRateHospitality = "vat_rate_hospitality", Percentage, ForATime;
    /// The reduced rate of VAT.
    VatRateReduced = "vat_rate_reduced", Percentage, Throughout;
    /// The standard rate of VAT.
    VatRateStandard = "vat_rate_standard", Percentage, Throughout;
    /// The zero rate of VAT.
    VatRateZero = "vat_rate_zero", Percentage, Throughout;
    /// Taxable supplies above which a business is liable to be registered.
    VatRegistration = "vat_registration", Amount, Throughout;
}

impl ParameterId {
    /// The parameter that an id stands for.
    pub fn from_id(id: &str) -> Option<ParameterId> {
        ParameterId::ALL
            .binary_search_by(|parameter| parameter.as_str().cmp(id))
            .ok()
            .and_then(|index| ParameterId::ALL.get(index))
            .copied()
    }
}

impl fmt::Display for ParameterId {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.as_str())
    }
}

/// The values of a parameter and their days, by kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ParameterTimeline {
    /// Amounts in pounds.
    Amount(Timeline<Money>),
    /// Percentages.
    Percentage(Timeline<Percentage>),
    /// Numbers of days.
    Days(Timeline<u16>),
    /// Numbers of months.
    Months(Timeline<u16>),
    /// A day: exactly one row.
    Date(Timeline<Date>),
}

impl ParameterTimeline {
    /// The first day for which there is a value, and the last; no last day while a value is still in force.
    #[must_use]
    pub fn known_days(&self) -> (Date, Option<Date>) {
        match self {
            ParameterTimeline::Amount(timeline) => (timeline.known_from(), timeline.known_to()),
            ParameterTimeline::Percentage(timeline) => (timeline.known_from(), timeline.known_to()),
            ParameterTimeline::Days(timeline) | ParameterTimeline::Months(timeline) => {
                (timeline.known_from(), timeline.known_to())
            }
            ParameterTimeline::Date(timeline) => (timeline.known_from(), timeline.known_to()),
        }
    }
}

/// A parameter's value, whatever its kind. Its text is that of the wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ParameterValue {
    /// An amount in pounds.
    Amount(Money),
    /// Per cent, or percentage points.
    Percentage(Percentage),
    /// A number of days.
    Days(u16),
    /// A number of months.
    Months(u16),
    /// A day.
    Date(Date),
}

impl fmt::Display for ParameterValue {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ParameterValue::Amount(value) => value.fmt(formatter),
            ParameterValue::Percentage(value) => value.fmt(formatter),
            ParameterValue::Days(value) | ParameterValue::Months(value) => value.fmt(formatter),
            ParameterValue::Date(value) => value.fmt(formatter),
        }
    }
}

/// A dated number of the law, with all its values.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Parameter {
    pub(super) id: ParameterId,
    pub(super) title: String,
    pub(super) unit: String,
    pub(super) comparison: Option<String>,
    pub(super) timeline: ParameterTimeline,
}

impl Parameter {
    /// Its id.
    pub fn id(&self) -> ParameterId {
        self.id
    }

    /// What it is.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// What sort of value it has.
    pub fn kind(&self) -> ParameterKind {
        self.id.kind()
    }

    /// What the value counts or measures.
    pub fn unit(&self) -> &str {
        &self.unit
    }

    /// How a figure is compared with the value, and what follows.
    pub fn comparison(&self) -> Option<&str> {
        self.comparison.as_deref()
    }

    /// Its values, typed by kind.
    pub fn timeline(&self) -> &ParameterTimeline {
        &self.timeline
    }

    /// Every value and its days, earliest first.
    #[must_use]
    pub fn history(&self) -> Vec<InForce<'_, ParameterValue>> {
        match &self.timeline {
            ParameterTimeline::Amount(timeline) => self.listed(timeline, ParameterValue::Amount),
            ParameterTimeline::Percentage(timeline) => self.listed(timeline, ParameterValue::Percentage),
            ParameterTimeline::Days(timeline) => self.listed(timeline, ParameterValue::Days),
            ParameterTimeline::Months(timeline) => self.listed(timeline, ParameterValue::Months),
            ParameterTimeline::Date(timeline) => self.listed(timeline, ParameterValue::Date),
        }
    }

    fn listed<'law, T: Copy>(
        &self,
        timeline: &'law Timeline<T>,
        value: fn(T) -> ParameterValue,
    ) -> Vec<InForce<'law, ParameterValue>> {
        timeline.rows().iter().map(|row| row.in_force(LawId::Parameter(self.id)).map(value)).collect()
    }

    /// The value in force on a day, whatever its kind.
    ///
    /// # Errors
    /// [`NotInForce`] outside the days of the table.
    pub fn value(&self, on: Date) -> Result<InForce<'_, ParameterValue>, NotInForce> {
        let id = LawId::Parameter(self.id);
        match &self.timeline {
            ParameterTimeline::Amount(timeline) => Ok(timeline.in_force(id, on)?.map(ParameterValue::Amount)),
            ParameterTimeline::Percentage(timeline) => Ok(timeline.in_force(id, on)?.map(ParameterValue::Percentage)),
            ParameterTimeline::Days(timeline) => Ok(timeline.in_force(id, on)?.map(ParameterValue::Days)),
            ParameterTimeline::Months(timeline) => Ok(timeline.in_force(id, on)?.map(ParameterValue::Months)),
            ParameterTimeline::Date(timeline) => Ok(timeline.in_force(id, on)?.map(ParameterValue::Date)),
        }
    }

    /// The answer to a question that takes the parameter for another kind than it is.
    pub(super) fn not_a(&self, asked: ParameterKind, on: Date) -> NotInForce {
        let (known_from, known_to) = self.timeline.known_days();
        NotInForce { what: format!("{} as {asked} (it is {})", self.id, self.kind()), on, known_from, known_to }
    }
}
