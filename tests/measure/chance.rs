//! Numbers that look like chance and are the same every time.

/// A sequence of such numbers.
pub(crate) struct Chance {
    state: u64,
}

impl Chance {
    /// The sequence that belongs to a seed.
    pub(crate) const fn from_seed(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next 53 bits. `SplitMix64`, from memory.
    fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mixed = (self.state ^ (self.state >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (mixed ^ (mixed >> 31)) >> 11
    }

    /// A number from 0 to 1, all as likely.
    #[expect(clippy::cast_precision_loss, reason = "53 bits are what a number holds")]
    pub(crate) fn even(&mut self) -> f64 {
        (self.bits() as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// A number of the normal distribution, by the transform of Box and Muller.
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = libm::sqrt(-2.0 * libm::log(self.even()));
        radius * libm::cos(core::f64::consts::TAU * self.even())
    }
}
