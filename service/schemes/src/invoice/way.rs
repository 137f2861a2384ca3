//! The ways in which the VAT of an invoice may be rounded: at what level, how, and by whom.

use crate::law::rule as cite;
use crate::money::Rounding;
use crate::workings::Rule;

use super::figures::InvoiceRounding;

/// What the VAT is worked out on before it is rounded for the first time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Level {
    /// The whole document.
    Whole,
    /// Each line.
    Line(Rounding),
    /// Each unit.
    Unit(Rounding),
}

static INVOICE_TOTAL_DOWN: Rule = Rule {
    says: "The VAT of the whole invoice is rounded down to a whole penny: a concession to invoice traders. Down is towards nought, so that a credit \
           note takes back what was invoiced.",
    authority: &[cite::NOTICE_700_SECTION_17, cite::VATREC12010, cite::DECISION_INVOICE_ROUNDING],
};
static INVOICE_TOTAL_NEAREST_PENNY: Rule = Rule {
    says: "The VAT of the whole document is rounded once, to the nearest penny: less than half a penny goes down, half a penny and more goes up.",
    authority: &[cite::NOTICE_700_SECTION_17, cite::VATREC12030, cite::DECISION_INVOICE_ROUNDING],
};
static LINE_DOWN_TO_TENTH_OF_PENNY: Rule = Rule {
    says: "The VAT of each line is rounded down to a tenth of a penny, and that of the whole invoice down to a whole penny. Down is towards nought.",
    authority: &[cite::NOTICE_700_SECTION_17, cite::VATREC12010, cite::DECISION_INVOICE_ROUNDING],
};
static LINE_NEAREST_PENNY: Rule = Rule {
    says: "The VAT of each line is rounded to the nearest penny: less than half a penny goes down, half a penny and more goes up.",
    authority: &[cite::NOTICE_700_SECTION_17, cite::VATREC12030, cite::DECISION_INVOICE_ROUNDING],
};
static LINE_NEAREST_HALF_PENNY: Rule = Rule {
    says: "The VAT of each line is rounded to the nearest half penny, and that of the whole invoice down to a whole penny.",
    authority: &[cite::NOTICE_700_SECTION_17, cite::VATREC12010, cite::DECISION_INVOICE_ROUNDING],
};
static UNIT_THREE_DIGITS: Rule = Rule {
    says: "The VAT of a unit is worked to four digits after the point, later ones not looked at, and rounded to three, which is the nearest tenth of a \
           penny; the VAT of the whole invoice is rounded down to a whole penny. A line without a unit price is one unit.",
    authority: &[cite::NOTICE_700_SECTION_17, cite::VATREC12010, cite::DECISION_INVOICE_ROUNDING],
};
static UNIT_NEAREST_PENNY_NOT_NIL: Rule = Rule {
    says: "The VAT of a unit is rounded to the nearest penny, but never to nil where any is due: then it is a penny. The VAT of the whole invoice is \
           rounded down to a whole penny. A line without a unit price is one unit.",
    authority: &[cite::NOTICE_700_SECTION_17, cite::VATREC12010, cite::DECISION_INVOICE_ROUNDING],
};
static UNIT_NEAREST_HALF_PENNY_NOT_NIL: Rule = Rule {
    says: "The VAT of a unit is rounded to the nearest half penny, but never to nil where any is due: then it is half a penny. The VAT of the whole \
           invoice is rounded down to a whole penny. A line without a unit price is one unit.",
    authority: &[cite::NOTICE_700_SECTION_17, cite::VATREC12010, cite::DECISION_INVOICE_ROUNDING],
};

impl InvoiceRounding {
    /// The rule in words, with its authorities.
    #[must_use]
    pub fn rule(self) -> &'static Rule {
        match self {
            Self::InvoiceTotalDown => &INVOICE_TOTAL_DOWN,
            Self::InvoiceTotalNearestPenny => &INVOICE_TOTAL_NEAREST_PENNY,
            Self::LineDownToTenthOfPenny => &LINE_DOWN_TO_TENTH_OF_PENNY,
            Self::LineNearestPenny => &LINE_NEAREST_PENNY,
            Self::LineNearestHalfPenny => &LINE_NEAREST_HALF_PENNY,
            Self::UnitThreeDigits => &UNIT_THREE_DIGITS,
            Self::UnitNearestPennyNotNil => &UNIT_NEAREST_PENNY_NOT_NIL,
            Self::UnitNearestHalfPennyNotNil => &UNIT_NEAREST_HALF_PENNY_NOT_NIL,
        }
    }

    /// Whether a retailer may use it: each calculation goes up and down to the nearest penny (Notice 700 para 17.6;
    /// VATREC12020, VATREC12030).
    #[must_use]
    pub fn is_open_to_retailers(self) -> bool {
        match self {
            Self::InvoiceTotalNearestPenny | Self::LineNearestPenny => true,
            Self::InvoiceTotalDown
            | Self::LineDownToTenthOfPenny
            | Self::LineNearestHalfPenny
            | Self::UnitThreeDigits
            | Self::UnitNearestPennyNotNil
            | Self::UnitNearestHalfPennyNotNil => false,
        }
    }

    /// What is rounded first, and how.
    pub(super) fn level(self) -> Level {
        match self {
            Self::InvoiceTotalDown | Self::InvoiceTotalNearestPenny => Level::Whole,
            Self::LineDownToTenthOfPenny => Level::Line(Rounding::TowardsNoughtToTenthOfPenny),
            Self::LineNearestPenny => Level::Line(Rounding::NearestPenny),
            Self::LineNearestHalfPenny => Level::Line(Rounding::NearestHalfPenny),
            Self::UnitThreeDigits => Level::Unit(Rounding::NearestTenthOfPenny),
            Self::UnitNearestPennyNotNil => Level::Unit(Rounding::NearestPennyNotNil),
            Self::UnitNearestHalfPennyNotNil => Level::Unit(Rounding::NearestHalfPennyNotNil),
        }
    }

    /// How the VAT of the whole is rounded at the end. By the line to the nearest penny it is whole pence already.
    pub(super) fn of_the_whole(self) -> Rounding {
        if self.is_open_to_retailers() { Rounding::NearestPenny } else { Rounding::TowardsNoughtToPenny }
    }
}
