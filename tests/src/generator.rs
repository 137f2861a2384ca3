//! Made-up figures that are the same in every run.

/// A generator with a fixed start (SplitMix64), so that a failure can be seen again.
pub struct Generator {
    state: u64,
}

impl Generator {
    /// A generator that starts from `seed`.
    pub fn new(seed: u64) -> Generator {
        Generator { state: seed }
    }

    /// The next 64 bits.
    pub fn next_bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.state;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        bits ^ (bits >> 31)
    }

    /// A whole number from `low` to `high`, both included.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        let width = high.abs_diff(low) + 1;
        low.wrapping_add_unsigned(self.next_bits() % width)
    }

    /// One of `choices`.
    pub fn one_of<'list, T>(&mut self, choices: &'list [T]) -> &'list T {
        let last = i64::try_from(choices.len()).unwrap_or(i64::MAX) - 1;
        let index = usize::try_from(self.between(0, last)).unwrap_or(0);
        &choices[index]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_gives_the_same_figures_and_another_seed_gives_others() {
        let figures = |seed| {
            let mut generator = Generator::new(seed);
            (0..20).map(|_| generator.between(-5, 5)).collect::<Vec<_>>()
        };
        assert_eq!(figures(1), figures(1));
        assert_ne!(figures(1), figures(2));
        assert!(figures(3).iter().all(|figure| (-5..=5).contains(figure)));
    }
}
