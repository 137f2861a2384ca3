//! Amounts, percentages, dates and identifiers: each a text with a form of its own.

use std::borrow::Cow;
use std::fmt::{self, Write as _};

use arrayvec::ArrayString;
use serde::{Serialize, Serializer};
use utoipa::openapi::schema::{ObjectBuilder, Schema, SchemaFormat, Type};
use utoipa::openapi::{KnownFormat, RefOr};

/// The first day of a request's dates: VAT began on it (Finance Act 1972).
pub const FIRST_DATE: jiff::civil::Date = jiff::civil::date(1973, 4, 1);
/// The last day of a request's dates.
pub const LAST_DATE: jiff::civil::Date = jiff::civil::date(2099, 12, 31);
/// The most characters of a reference.
pub const MAX_REFERENCE: usize = 64;
/// The most characters of the description of an activity.
pub const MAX_DESCRIPTION: usize = 100;
/// The most characters of the reason for a category.
pub const MAX_REASON: usize = 500;
/// The most characters of an identifier.
pub const MAX_IDENTIFIER: usize = 100;
/// The most digits of an amount before its point.
pub const MAX_AMOUNT_DIGITS: usize = 13;

/// The most digits of a quantity before its point.
pub const MAX_QUANTITY_DIGITS: usize = 9;

/// What is written as a text, without the machinery for texts of every kind: an answer is mostly such texts.
trait AsWritten {
    fn as_written(&self) -> impl AsRef<str>;
}

macro_rules! as_written {
    ($($type:ty: |$value:ident| $text:expr,)*) => {
        $(impl AsWritten for $type {
            fn as_written(&self) -> impl AsRef<str> {
                let $value = self;
                $text
            }
        })*
    };
}

as_written! {
    vat_schemes::money::Money: |amount| amount.shown(),
    vat_schemes::money::FinePounds: |amount| amount.shown(),
    vat_schemes::money::WholePounds: |pounds| pounds.shown(),
    vat_schemes::money::Quantity: |quantity| quantity.shown(),
    vat_schemes::money::Percentage: |percentage| percentage.shown(),
    vat_schemes::money::Share: |share| share.shown(),
    jiff::civil::Date: |day| written_day(*day),
    MonthOfYear: |month| month.to_string(),
    Cow<'static, str>: |text| text.as_ref(),
    String: |text| text,
}

/// Year, month and day: the library's own way to show a day knows much more than answers need.
fn written_day(day: jiff::civil::Date) -> ArrayString<16> {
    let mut written = ArrayString::new();
    if let Ok(year @ 0..=9999) = u16::try_from(day.year()) {
        let digit = |of: u16| char::from(b'0' + (of % 10) as u8);
        let (month, day) = (u16::from(day.month().unsigned_abs()), u16::from(day.day().unsigned_abs()));
        for character in [
            digit(year / 1000),
            digit(year / 100),
            digit(year / 10),
            digit(year),
            '-',
            digit(month / 10),
            digit(month),
            '-',
            digit(day / 10),
            digit(day),
        ] {
            written.push(character);
        }
    } else {
        // Fourteen characters at most.
        let _ = write!(written, "{day}");
    }
    written
}

/// How a text is described in the API document.
struct TextSchema {
    description: &'static str,
    format: Option<SchemaFormat>,
    pattern: &'static str,
    min_length: usize,
    max_length: usize,
    example: &'static str,
}

impl TextSchema {
    fn build(self) -> RefOr<Schema> {
        ObjectBuilder::new()
            .schema_type(Type::String)
            .description(Some(self.description))
            .format(self.format)
            .pattern(Some(self.pattern))
            .min_length(Some(self.min_length))
            .max_length(Some(self.max_length))
            .examples([self.example])
            .into()
    }
}

macro_rules! text {
    ($(#[$doc:meta])* $name:ident($inner:ty) { $($field:ident: $value:expr,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq)]
        pub struct $name(pub $inner);

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.0.as_written().as_ref())
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str(self.0.as_written().as_ref())
            }
        }

        impl utoipa::PartialSchema for $name {
            fn schema() -> RefOr<Schema> {
                TextSchema { $($field: $value,)* }.build()
            }
        }

        impl utoipa::ToSchema for $name {}
    };
}

fn decimal() -> Option<SchemaFormat> {
    Some(SchemaFormat::Custom("decimal".to_owned()))
}

text! {
    /// An amount in a request.
    GivenAmount(vat_schemes::money::Money) {
        description: "An amount in pounds: up to 13 digits, a point and at most two decimals, a minus sign in front if negative. A text, never a JSON number.",
        format: decimal(),
        pattern: r"^-?(0|[1-9][0-9]{0,12})(\.[0-9]{1,2})?$",
        min_length: 1,
        max_length: 17,
        example: "1234.50",
    }
}

text! {
    /// An amount in a request that is not negative.
    UnsignedAmount(vat_schemes::money::Money) {
        description: "An amount in pounds that is not negative: up to 13 digits, a point and at most two decimals. A text, never a JSON number.",
        format: decimal(),
        pattern: r"^(0|[1-9][0-9]{0,12})(\.[0-9]{1,2})?$",
        min_length: 1,
        max_length: 16,
        example: "325.00",
    }
}

text! {
    /// An amount in an answer.
    Amount(vat_schemes::money::Money) {
        description: "An amount in pounds, always with two decimals; a minus sign in front if negative.",
        format: decimal(),
        pattern: r"^-?(0|[1-9][0-9]{0,24})\.[0-9]{2}$",
        min_length: 4,
        max_length: 29,
        example: "1234.50",
    }
}

text! {
    /// The price of one unit in a request.
    GivenUnitPrice(vat_schemes::money::FinePounds) {
        description: "The price of one unit in pounds, without VAT: up to 13 digits, a point and at most four decimals, a minus sign in front if negative. A text, never a JSON number.",
        format: decimal(),
        pattern: r"^-?(0|[1-9][0-9]{0,12})(\.[0-9]{1,4})?$",
        min_length: 1,
        max_length: 19,
        example: "0.0125",
    }
}

text! {
    /// A number of units in a request.
    GivenQuantity(vat_schemes::money::Quantity) {
        description: "A number of units: up to 9 digits, a point and at most three decimals. A text, never a JSON number.",
        format: decimal(),
        pattern: r"^(0|[1-9][0-9]{0,8})(\.[0-9]{1,3})?$",
        min_length: 1,
        max_length: 13,
        example: "12",
    }
}

text! {
    /// An amount in an answer that may be finer than a penny.
    FineAmount(vat_schemes::money::FinePounds) {
        description: "An amount in pounds with two to seven decimals, no more than it needs; a minus sign in front if negative.",
        format: decimal(),
        pattern: r"^-?(0|[1-9][0-9]{0,24})\.[0-9]{2,7}$",
        min_length: 4,
        max_length: 34,
        example: "0.867",
    }
}

text! {
    /// Whole pounds in an answer.
    WholePounds(vat_schemes::money::WholePounds) {
        description: "Whole pounds, pence cut off; a minus sign in front if negative.",
        format: decimal(),
        pattern: "^-?(0|[1-9][0-9]{0,24})$",
        min_length: 1,
        max_length: 26,
        example: "1234",
    }
}

text! {
    /// A percentage in a request.
    GivenPercentage(vat_schemes::money::Percentage) {
        description: "A percentage in per cent, 0 to 100 with at most two decimals. A text, never a JSON number.",
        format: decimal(),
        pattern: r"^((0|[1-9][0-9]?)(\.[0-9]{1,2})?|100(\.0{1,2})?)$",
        min_length: 1,
        max_length: 6,
        example: "62.5",
    }
}

text! {
    /// A percentage in an answer.
    Percentage(vat_schemes::money::Percentage) {
        description: "A percentage in per cent, in its shortest form.",
        format: decimal(),
        pattern: r"^(0|[1-9][0-9]?|100)(\.([0-9]?[1-9]))?$",
        min_length: 1,
        max_length: 5,
        example: "14.5",
    }
}

text! {
    /// A share that is only shown.
    Share(vat_schemes::money::Share) {
        description: "A share in per cent, always with two decimals; it may be negative or more than 100.",
        format: decimal(),
        pattern: r"^-?(0|[1-9][0-9]{0,24})\.[0-9]{2}$",
        min_length: 4,
        max_length: 29,
        example: "1.11",
    }
}

text! {
    /// A date in a request.
    GivenDate(jiff::civil::Date) {
        description: "A day from 1973-04-01, when VAT began, to 2099-12-31 (RFC 3339 full-date).",
        format: Some(SchemaFormat::KnownFormat(KnownFormat::Date)),
        pattern: "^(1973-(0[4-9]|1[0-2])|(197[4-9]|19[89][0-9]|20[0-9]{2})-(0[1-9]|1[0-2]))-(0[1-9]|[12][0-9]|3[01])$",
        min_length: 10,
        max_length: 10,
        example: "2026-04-01",
    }
}

text! {
    /// A date in an answer.
    Date(jiff::civil::Date) {
        description: "A day (RFC 3339 full-date).",
        format: Some(SchemaFormat::KnownFormat(KnownFormat::Date)),
        pattern: "^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
        min_length: 10,
        max_length: 10,
        example: "2026-04-01",
    }
}

text! {
    /// A month.
    Month(MonthOfYear) {
        description: "A month, from 2000-01 to 2099-12.",
        format: None,
        pattern: "^20[0-9]{2}-(0[1-9]|1[0-2])$",
        min_length: 7,
        max_length: 7,
        example: "2026-04",
    }
}

/// A month by its first day, written without the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MonthOfYear(jiff::civil::Date);

impl fmt::Display for MonthOfYear {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{:04}-{:02}", self.0.year(), self.0.month())
    }
}

impl Month {
    /// The month of a day.
    pub fn of(day: jiff::civil::Date) -> Self {
        Self(MonthOfYear(day.first_of_month()))
    }

    /// Its first day.
    pub fn first(&self) -> jiff::civil::Date {
        self.0.0
    }
}

text! {
    /// The id of a category of business.
    SectorId(Cow<'static, str>) {
        description: "The id of a category of business, as GET /v1/sectors lists them.",
        format: None,
        pattern: "^[a-z0-9]+(-[a-z0-9]+)*$",
        min_length: 1,
        max_length: MAX_IDENTIFIER,
        example: "management-consultancy",
    }
}

text! {
    /// The id of a dated number of the law.
    ParameterId(Cow<'static, str>) {
        description: "The id of a dated number of the law, as GET /v1/parameters lists them.",
        format: None,
        pattern: "^[a-z0-9]+(_[a-z0-9]+)*$",
        min_length: 1,
        max_length: MAX_IDENTIFIER,
        example: "vat_registration",
    }
}

text! {
    /// The id of an authority.
    AuthorityId(Cow<'static, str>) {
        description: "The id of a provision, of a paragraph of guidance or of a decision that a figure rests on, as GET /v1/authorities lists them.",
        format: None,
        pattern: "^[a-z0-9]+(-[a-z0-9]+)*$",
        min_length: 1,
        max_length: MAX_IDENTIFIER,
        example: "vat-regulations-1995-regulation-55a",
    }
}

text! {
    /// The caller's own name for a request.
    Reference(String) {
        description: "The caller's own name for the request, 1 to 64 characters and no control characters. It comes back in the answer and is not looked at otherwise.",
        format: None,
        pattern: r"^[^\u0000-\u001f\u007f-\u009f]{1,64}$",
        min_length: 1,
        max_length: MAX_REFERENCE,
        example: "client 1042, quarter to June 2026",
    }
}

text! {
    /// What an activity of the business is.
    ActivityDescription(String) {
        description: "What an activity of the business is, 1 to 100 characters and no control characters.",
        format: None,
        pattern: r"^[^\u0000-\u001f\u007f-\u009f]{1,100}$",
        min_length: 1,
        max_length: MAX_DESCRIPTION,
        example: "colouring and cutting hair",
    }
}

text! {
    /// Why a business chose its category.
    SectorReason(String) {
        description: "Why the business chose its category, 1 to 500 characters and no control characters. It is not looked at.",
        format: None,
        pattern: r"^[^\u0000-\u001f\u007f-\u009f]{1,500}$",
        min_length: 1,
        max_length: MAX_REASON,
        example: "More than half of next year's turnover is expected from advice.",
    }
}

impl From<&vat_schemes::law::AuthorityId> for AuthorityId {
    fn from(id: &vat_schemes::law::AuthorityId) -> Self {
        Self(Cow::Borrowed(id.as_str()))
    }
}

#[cfg(test)]
mod tests {
    use super::Date;

    #[test]
    fn days_are_shown_as_they_are() {
        let mut day = jiff::civil::date(1999, 12, 25);
        while day < jiff::civil::date(2004, 3, 5) {
            assert_eq!(Date(day).to_string(), day.to_string());
            day = day.tomorrow().expect("a day after");
        }
        for day in
            [jiff::civil::Date::MIN, jiff::civil::date(0, 1, 1), jiff::civil::date(987, 6, 5), jiff::civil::Date::MAX]
        {
            assert_eq!(Date(day).to_string(), day.to_string());
        }
    }
}
