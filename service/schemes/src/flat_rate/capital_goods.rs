//! Capital goods on which a flat rate user claims input tax.

use jiff::civil::Date;

use crate::figures::Supply;
use crate::law::{ParameterId, rule as cite};
use crate::lines::PurchaseLine;
use crate::money::{Money, Rounding};
use crate::refusal::Refusal;
use crate::run::Run;
use crate::spend;
use crate::workings::{Formula, Rule, Step, Traced};

static AT_LIMIT: Rule = Rule {
    says: "All VAT on one purchase of capital goods is claimed where its price with VAT reaches the limit: HMRC's guidance says at the limit \
           or above, the regulation above.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_55E,
        cite::FRS6500,
        cite::NOTICE_733_SECTION_15,
        cite::DECISION_CAPITAL_GOODS_AT_LIMIT,
    ],
};

/// The capital purchases of a period and the limit they are measured against.
pub(crate) struct CapitalGoods<'a> {
    /// None where there are no such purchases.
    pub limit: Option<Traced<Money>>,
    /// Capital goods bought in a way that may give a claim, whatever they cost.
    pub purchases: Vec<&'a PurchaseLine>,
    /// Those among them on which VAT is claimed.
    pub claimed: Vec<&'a PurchaseLine>,
}

impl CapitalGoods<'_> {
    /// Whether VAT is claimed on a purchase line.
    pub fn claims(&self, line: &PurchaseLine) -> bool {
        // Lines keep the order of the request.
        self.claimed.binary_search_by_key(&line.index, |claimed| claimed.index).is_ok()
    }
}

/// Finds the purchases on which VAT is claimed (VAT Regulations 1995 reg 55E). One line is one purchase. The whole VAT is
/// claimed: neither private use nor exempt supplies cut it. Reverse charge purchases are not relevant purchases, so they
/// follow the ordinary rules instead (reg 55C(6)). A credit note for such a purchase takes the claim back.
pub(crate) fn find<'a>(
    run: &mut Run<'_>,
    purchases: &'a [PurchaseLine],
    on: Date,
) -> Result<CapitalGoods<'a>, Refusal> {
    let mut found = CapitalGoods { limit: None, purchases: Vec::new(), claimed: Vec::new() };
    for line in purchases.iter().filter(|line| may_give_claim(line)) {
        let limit = match found.limit {
            Some(limit) => limit,
            None => {
                let label = "Price with VAT from which capital goods give a claim";
                *found.limit.insert(run.amount(ParameterId::FrsCapitalGoods, on, label)?)
            }
        };
        let gross = line.amounts.gross;
        let reaches = gross.value.magnitude() >= limit.value;
        run.workings.record(|| {
            Step::new(
                format!("purchases/{}/reaches_capital_goods_limit", line.index),
                format!("Whether purchases line {} reaches the limit for capital goods", line.index + 1),
                Formula::Text("abs({}) ≥ {}"),
                vec![gross.operand(), limit.operand()],
                (reaches, Rounding::None),
                &AT_LIMIT,
            )
        });
        found.purchases.push(line);
        if reaches && line.amounts.vat.is_some_and(|vat| !vat.value.is_zero()) {
            found.claimed.push(line);
        }
    }
    Ok(found)
}

fn may_give_claim(line: &PurchaseLine) -> bool {
    spend::may_give_claim(line.spend)
        && !line.vat_blocked
        && match line.supply {
            Supply::Ordinary | Supply::PostponedImport | Supply::NorthernIrelandAcquisition => true,
            Supply::OverseasServicesReverseCharge | Supply::DomesticReverseCharge => false,
        }
}
