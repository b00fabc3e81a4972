//! Errors for trials of what uncertainties say.

/// Errors as they fall, the same in every run.
#[derive(Debug)]
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    /// Evenly between 0 and 1, neither included.
    pub(crate) fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        let high = u32::try_from((bits ^ (bits >> 31)) >> 32).expect("32 bits");
        (f64::from(high) + 0.5) / 4_294_967_296.0
    }

    /// Of the normal distribution about 0 with that standard deviation.
    pub(crate) fn normal(&mut self, sd: f64) -> f64 {
        let radius = libm::sqrt(-2.0 * libm::log(self.even()));
        sd * radius * libm::cos(core::f64::consts::TAU * self.even())
    }
}
