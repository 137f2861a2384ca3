/// How an exact value becomes a figure of the answer. There is no rounding without one of these.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// None: the figure is exactly the sum.
    None,
    /// VAT and other amounts: the nearest penny, half a penny away from nought.
    NearestPenny,
    /// Shares that are only shown: the nearest hundredth of a per cent, half away from nought.
    NearestHundredth,
    /// The least spend that passes a test: up to the next whole penny.
    UpToPenny,
    /// The most turnover that a spend still covers: down to the whole penny.
    DownToPenny,
    /// The VAT of a whole invoice: down to the whole penny, and up to it below nought (Notice 700 para 17.5).
    TowardsNoughtToPenny,
    /// The VAT of a line of an invoice: down to the tenth of a penny, and up to it below nought (Notice 700 para 17.5.1).
    TowardsNoughtToTenthOfPenny,
    /// The VAT of a unit: the nearest tenth of a penny, half of it away from nought (Notice 700 para 17.5.2).
    NearestTenthOfPenny,
    /// The VAT of a line: the nearest half penny, half of it away from nought (Notice 700 para 17.5.1).
    NearestHalfPenny,
    /// The VAT of a unit: the nearest half penny, but half a penny where that is nil (Notice 700 para 17.5.2).
    NearestHalfPennyNotNil,
    /// The VAT of a unit: the nearest penny, but a penny where that is nil (Notice 700 para 17.5.2).
    NearestPennyNotNil,
    /// The partial exemption percentage: up to the next whole per cent (VAT Regulations 1995 reg 101(4)).
    UpToWholePercent,
    /// The partial exemption percentage of a large business: up to two decimals (VAT Regulations 1995 reg 101(5)).
    UpToTwoDecimals,
    /// How often one whole number goes into another: down to the whole number.
    DownToWhole,
    /// Boxes 6 to 9: the pence are cut off.
    PenceCutOff,
}

impl Rounding {
    /// Every way of rounding.
    pub const ALL: [Self; 15] = [
        Self::None,
        Self::NearestPenny,
        Self::NearestHundredth,
        Self::UpToPenny,
        Self::DownToPenny,
        Self::TowardsNoughtToPenny,
        Self::TowardsNoughtToTenthOfPenny,
        Self::NearestTenthOfPenny,
        Self::NearestHalfPenny,
        Self::NearestHalfPennyNotNil,
        Self::NearestPennyNotNil,
        Self::UpToWholePercent,
        Self::UpToTwoDecimals,
        Self::DownToWhole,
        Self::PenceCutOff,
    ];

    /// The word of the wire.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::NearestPenny => "nearest_penny_half_up",
            Self::NearestHundredth => "nearest_hundredth_half_up",
            Self::UpToPenny => "up_to_penny",
            Self::DownToPenny => "down_to_penny",
            Self::TowardsNoughtToPenny => "towards_nought_to_penny",
            Self::TowardsNoughtToTenthOfPenny => "towards_nought_to_tenth_of_penny",
            Self::NearestTenthOfPenny => "nearest_tenth_of_penny_half_up",
            Self::NearestHalfPenny => "nearest_half_penny_half_up",
            Self::NearestHalfPennyNotNil => "nearest_half_penny_half_up_not_nil",
            Self::NearestPennyNotNil => "nearest_penny_half_up_not_nil",
            Self::UpToWholePercent => "up_to_whole_percent",
            Self::UpToTwoDecimals => "up_to_two_decimals",
            Self::DownToWhole => "down_to_whole",
            Self::PenceCutOff => "pence_cut_off",
        }
    }
}
