//! How what is counted came out: the closed sets of the labels `outcome`.

use super::Metrics;

/// How a calculation that was asked for came out.
pub trait Outcome: Copy {
    /// The law or the figures admit no answer: status 422.
    const REFUSED: Self;
    /// The request could not be read: any other status from 400 to 499.
    const NOT_VALID: Self;

    /// Counts it.
    fn count(self, metrics: &Metrics);
}

macro_rules! outcome {
    ($(#[doc = $doc:literal])+ $name:ident, counted in $series:ident { $($(#[doc = $says:literal])+ $variant:ident => $word:literal,)* }) => {
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name {
            $($(#[doc = $says])+ $variant,)*
            /// The law or the figures admit no answer: status 422.
            Refused,
            /// The request could not be read: any other status from 400 to 499.
            NotValid,
        }

        impl $name {
            /// Every outcome.
            pub const ALL: &[Self] = &[$(Self::$variant,)* Self::Refused, Self::NotValid];

            /// The label's value.
            pub const fn as_str(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)*
                    Self::Refused => "refused",
                    Self::NotValid => "not_valid",
                }
            }
        }

        impl Outcome for $name {
            const REFUSED: Self = Self::Refused;
            const NOT_VALID: Self = Self::NotValid;

            fn count(self, metrics: &Metrics) {
                metrics.$series.with_label_values(&[self.as_str()]).inc();
            }
        }
    };
}

outcome! {
    /// How a comparison came out.
    ComparisonOutcome, counted in comparisons {
        /// Standard accounting costs less.
        Standard => "standard",
        /// The Flat Rate Scheme costs less.
        FlatRate => "flat_rate",
        /// Both cost the same.
        Equal => "equal",
    }
}

outcome! {
    /// How a goods test came out.
    GoodsTestOutcome, counted in goods_tests {
        /// The business is a limited cost business in the period.
        LimitedCost => "limited_cost",
        /// It is not.
        NotLimitedCost => "not_limited_cost",
    }
}

outcome! {
    /// How an invoice came out.
    InvoiceOutcome, counted in invoices {
        /// Its VAT was worked out.
        WorkedOut => "worked_out",
    }
}

outcome! {
    /// How a check of the limits came out: by what asks most.
    ThresholdCheckOutcome, counted in threshold_checks {
        /// A limit is passed.
        Crossed => "crossed",
        /// A limit is expected to be passed.
        Expected => "expected",
        /// A limit is close.
        Close => "close",
        /// None of these.
        Clear => "clear",
    }
}

outcome! {
    /// How a request for dates came out.
    DatesOutcome, counted in dates {
        /// The dates were listed.
        Listed => "listed",
    }
}

outcome! {
    /// How a partial exemption year came out.
    PartialExemptionYearOutcome, counted in partial_exemption_years {
        /// There is VAT to claim.
        ToClaim => "to_claim",
        /// There is VAT to repay.
        ToRepay => "to_repay",
        /// What was claimed is what the year allows.
        NoAdjustment => "no_adjustment",
    }
}

/// How reading something anew came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReloadOutcome {
    /// It is used from now on.
    Taken,
    /// It cannot be used: the old one stays.
    Refused,
}

impl ReloadOutcome {
    /// Every outcome.
    pub const ALL: &[Self] = &[Self::Taken, Self::Refused];

    /// The label's value.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Taken => "taken",
            Self::Refused => "refused",
        }
    }
}
