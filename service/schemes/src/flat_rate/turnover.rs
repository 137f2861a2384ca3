//! Which sales are in flat rate turnover, and which stay outside the sum.

use crate::figures::{Nature, Treatment};
use crate::lines::SaleLine;

/// Where a sale stands under the Flat Rate Scheme.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Standing {
    /// In turnover, with its VAT.
    Turnover,
    /// Outside the sum, with its own VAT in box 1 and its value in box 6.
    OwnVat,
    /// Outside the sum, with its value in box 6 alone.
    ValueOnly,
    /// Not on the return.
    Nowhere,
}

/// Relevant turnover is taxable supplies with their VAT, and exempt supplies (VATA 1994 s 26B(2)(c)). Capital goods on
/// which VAT was claimed are sold outside the scheme (reg 55C(4)), and so are reverse charge supplies (reg 55C(6)) and
/// supplies outside the scope of VAT. Deemed supplies are no relevant supplies either (reg 55C(5)); of what no VAT was claimed
/// on there is none (VATA 1994 Sch 4 para 5).
pub(crate) fn standing(sale: &SaleLine) -> Standing {
    match (sale.treatment, sale.nature) {
        (
            Treatment::StandardRated
            | Treatment::ReducedRated
            | Treatment::HospitalityRated
            | Treatment::ZeroRated
            | Treatment::Exempt,
            Nature::Ordinary | Nature::CapitalAsset,
        ) => Standing::Turnover,
        (
            Treatment::StandardRated | Treatment::ReducedRated | Treatment::HospitalityRated,
            Nature::CapitalAssetVatClaimed | Nature::DeemedSupplyVatClaimed,
        ) => Standing::OwnVat,
        (Treatment::ZeroRated | Treatment::Exempt, Nature::CapitalAssetVatClaimed | Nature::DeemedSupplyVatClaimed) => {
            Standing::ValueOnly
        }
        (_, Nature::DeemedSupply) | (Treatment::NonBusiness, _) => Standing::Nowhere,
        (Treatment::DomesticReverseCharge | Treatment::OutsideScope, _) => Standing::ValueOnly,
    }
}
