//! What an invoice or a till receipt says.

use jiff::civil::Date;

use crate::money::{FinePounds, Money, Quantity};
use crate::words::words;

words! {
    /// Who issues the document, which decides how its VAT may be rounded.
    IssuedBy {
        /// A business that works the VAT out on prices without it and invoices it on top (Notice 700 para 17.5).
        InvoiceTrader => "invoice_trader",
        /// A retailer (Notice 700 para 17.6).
        Retailer => "retailer",
    }
}

words! {
    /// How VAT treats a supply on the document.
    InvoiceTreatment {
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
    }
}

words! {
    /// A permitted way to round the VAT of the document.
    InvoiceRounding {
        /// The VAT of the whole invoice down to a whole penny.
        InvoiceTotalDown => "invoice_total_down",
        /// The VAT of the whole document to the nearest penny.
        InvoiceTotalNearestPenny => "invoice_total_nearest_penny",
        /// The VAT of each line down to a tenth of a penny.
        LineDownToTenthOfPenny => "line_down_to_tenth_of_penny",
        /// The VAT of each line to the nearest penny.
        LineNearestPenny => "line_nearest_penny",
        /// The VAT of each line to the nearest half penny.
        LineNearestHalfPenny => "line_nearest_half_penny",
        /// The VAT of a unit worked to four digits after the point and rounded to three.
        UnitThreeDigits => "unit_three_digits",
        /// The VAT of a unit to the nearest penny, never to nil.
        UnitNearestPennyNotNil => "unit_nearest_penny_not_nil",
        /// The VAT of a unit to the nearest half penny, never to nil.
        UnitNearestHalfPennyNotNil => "unit_nearest_half_penny_not_nil",
    }
}

words! {
    /// Whether prices are said without VAT or with it.
    Prices {
        /// Without VAT.
        Net => "net",
        /// With VAT.
        Gross => "gross",
    }
}

/// What is charged for a line.
#[derive(Debug, Clone, Copy)]
pub enum Charge {
    /// Without VAT.
    Net(Money),
    /// With VAT.
    Gross(Money),
    /// A price of one unit without VAT, and how many units.
    Units {
        /// The price of one.
        unit_price: FinePounds,
        /// How many.
        quantity: Quantity,
    },
}

/// A line of the document.
#[derive(Debug, Clone, Copy)]
pub struct InvoiceLine {
    /// How VAT treats it.
    pub treatment: InvoiceTreatment,
    /// What is charged.
    pub charge: Charge,
}

/// An invoice, a credit note (negative amounts) or a till receipt.
#[derive(Debug, Clone)]
pub struct InvoiceFigures {
    /// The tax point, which decides the rates.
    pub date: Date,
    /// Who issues it.
    pub issued_by: IssuedBy,
    /// How its VAT is rounded.
    pub rounding: InvoiceRounding,
    /// One price with VAT for all lines, whose own prices are then those at which each is sold alone.
    pub price: Option<Money>,
    /// Its lines.
    pub lines: Vec<InvoiceLine>,
    /// An amount received on it.
    pub payment: Option<Money>,
}
