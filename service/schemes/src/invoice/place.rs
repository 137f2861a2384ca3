use std::fmt;

/// A field of a line of an invoice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum InvoiceLineField {
    /// The line as a whole.
    Whole,
    /// Its treatment.
    Treatment,
    /// What it costs without VAT.
    Net,
    /// What it costs with VAT.
    Gross,
    /// The price of a unit.
    UnitPrice,
    /// How many units.
    Quantity,
}

/// A place in an invoice. Displayed as a path: `/lines/0/net`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum InvoicePlace {
    /// The tax point.
    Date,
    /// How the VAT is rounded.
    Rounding,
    /// The price of all lines.
    Price,
    /// All lines.
    Lines,
    /// A line, by its position.
    Line(usize, InvoiceLineField),
    /// The payment.
    Payment,
}

impl fmt::Display for InvoicePlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Date => f.write_str("/date"),
            Self::Rounding => f.write_str("/rounding"),
            Self::Price => f.write_str("/price"),
            Self::Lines => f.write_str("/lines"),
            Self::Line(index, field) => write!(f, "/lines/{index}{}", field.path()),
            Self::Payment => f.write_str("/payment"),
        }
    }
}

impl InvoiceLineField {
    const fn path(self) -> &'static str {
        match self {
            Self::Whole => "",
            Self::Treatment => "/treatment",
            Self::Net => "/net",
            Self::Gross => "/gross",
            Self::UnitPrice => "/unit_price",
            Self::Quantity => "/quantity",
        }
    }
}
