//! The amounts of a line: two of net, VAT and gross give the third; a lone one is completed at the rate of its treatment.
//!
//! VATA 1994 s 19(2): a price in money holds the VAT, so that the VAT in a gross amount is rate ÷ (100 + rate) of it (VIT55400).

use super::law;
use super::money::{Exact, read, to_penny, whole};
use super::refused::Refused;
use super::request::{Days, Purchase, Request, Sale};

/// The amounts of a line.
#[derive(Clone, Copy, Debug)]
pub struct Amounts {
    /// Without VAT.
    pub net: Exact,
    /// The VAT.
    pub vat: Exact,
}

impl Amounts {
    /// With VAT.
    pub fn gross(self) -> Exact {
        self.net + self.vat
    }
}

/// The amounts of a sale.
pub fn of_sale(request: &Request, sale: &Sale, pointer: &str) -> Result<Amounts, Refused> {
    let rate = rate(&sale.treatment, sale.part.unwrap_or(request.period), pointer);
    complete(&sale.net, &sale.vat, &sale.gross, rate, pointer)
}

/// The amounts of a purchase; what is outside the scope of VAT carries none.
pub fn of_purchase(request: &Request, purchase: &Purchase, pointer: &str) -> Result<Amounts, Refused> {
    let usual = if purchase.spend == "wages_and_other_outside_scope" { "outside_scope" } else { "standard_rated" };
    let treatment = purchase.treatment.as_deref().unwrap_or(usual);
    let rate = rate(treatment, purchase.part.unwrap_or(request.period), pointer);
    complete(&purchase.net, &purchase.vat, &purchase.gross, rate, pointer)
}

/// The rate of a treatment, the same on all days of the line; `Err` where it is not, for then only a lone amount is refused.
fn rate(treatment: &str, days: Days, pointer: &str) -> Result<Exact, Refused> {
    match treatment {
        "standard_rated" => Ok(law::standard_rate()),
        "reduced_rated" => Ok(law::reduced_rate()),
        "hospitality_rated" => match law::hospitality_rates(days)[..] {
            [] => Err(Refused::one("rate_not_in_force", &format!("{pointer}/treatment"))),
            [only] => Ok(only),
            _ => Err(Refused::one("rate_changes_inside_line", pointer)),
        },
        _ => Ok(whole(0)),
    }
}

fn complete(
    net: &Option<String>,
    vat: &Option<String>,
    gross: &Option<String>,
    rate: Result<Exact, Refused>,
    pointer: &str,
) -> Result<Amounts, Refused> {
    let given = |text: &Option<String>| text.as_deref().map(read);
    match (given(net), given(vat), given(gross)) {
        (Some(net), Some(vat), Some(gross)) if net + vat != gross => {
            Err(Refused::one("amounts_do_not_add_up", pointer))
        }
        (Some(net), Some(vat), _) => Ok(Amounts { net, vat }),
        (Some(net), None, Some(gross)) => Ok(Amounts { net, vat: gross - net }),
        (None, Some(vat), Some(gross)) => Ok(Amounts { net: gross - vat, vat }),
        (Some(net), None, None) => Ok(Amounts { net, vat: to_penny(net * rate? / whole(100)) }),
        (None, None, Some(gross)) => {
            let rate = rate?;
            let vat = to_penny(gross * rate / (whole(100) + rate));
            Ok(Amounts { net: gross - vat, vat })
        }
        (None, Some(vat), None) => {
            let rate = rate?;
            if rate == whole(0) {
                return Err(Refused::one("vat_alone_not_enough", &format!("{pointer}/vat")));
            }
            Ok(Amounts { net: to_penny(vat * whole(100) / rate), vat })
        }
        (None, None, None) => panic!("{pointer} gives no amount"),
    }
}
