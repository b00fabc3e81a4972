//! Exposure values: how much light a camera lets in, and how much a scene gives, on one scale of stops.

use std::fmt;

use language::key;
use units::{QuantityError, Stops, checked};

use crate::exposure::ExposureTime;
use crate::lens::FNumber;

/// A step on the scale of exposure values; each step is a stop. Finite.
///
/// Of a camera it says how little light it lets in; of a scene, at ISO 100, how much there is. Two of them differ by stops.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct ExposureValue(f64);

/// How strongly a camera turns light into picture: 1 to 1000000.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Iso(f64);

/// The darkest scene that exposure values are told for: a clouded night without lamps.
const DARKEST: f64 = -10.0;
/// The brightest: the sun's own disc seen through haze.
const BRIGHTEST: f64 = 25.0;

impl Iso {
    /// The sensitivity that exposure values of scenes are told for.
    pub const HUNDRED: Self = Self(100.0);

    /// A sensitivity.
    ///
    /// # Errors
    /// Refuses what is not 1 to 1000000.
    pub fn new(iso: f64) -> Result<Self, QuantityError> {
        checked(iso, 1.0, 1e6, "(ISO)").map(Self)
    }

    /// As a bare number.
    pub const fn to_f64(self) -> f64 {
        self.0
    }

    /// The sensitivity that is so many stops higher; lower if negative. None beyond what is a sensitivity.
    #[must_use]
    pub fn raised(self, by: Stops) -> Option<Self> {
        Self::new(self.0 * by.to_light_ratio()).ok()
    }
}

impl ExposureValue {
    /// The exposure value of a scene, at ISO 100.
    ///
    /// # Errors
    /// Refuses what is not -10 to 25: from a clouded night without lamps to the sun's own disc seen through haze.
    pub fn of_scene(ev100: f64) -> Result<Self, QuantityError> {
        checked(ev100, DARKEST, BRIGHTEST, key!("(EV at ISO 100)")).map(Self)
    }

    /// This value (finite, or minus infinity for no light at all), but no less than that of the darkest scene.
    pub(crate) const fn no_darker(ev100: f64) -> Self {
        Self(ev100.max(DARKEST))
    }

    /// The exposure value of an f-number and a time.
    ///
    /// ```text
    /// EV = log2(N² / t)
    /// ```
    /// `N` f-number (0.5 to 64); `t` exposure (s, 1e-5 to 60); `EV` in stops, 0 at f/1 and 1 s, finite over those ranges.
    /// It leaves the lens's losses out: the f-number is taken for the T-number.
    ///
    /// # Source
    /// `Cipa2019`, annex C, "APEX units": Ev = Av + Tv, Av = 2 log2 N, Tv = -log2 t.
    ///
    /// # Examples
    /// f/16 and 1/100 s, the rule for bright sun at ISO 100:
    /// ```
    /// use optics::{ExposureTime, ExposureValue, FNumber};
    /// let value = ExposureValue::of_camera(FNumber::new(16.0)?, ExposureTime::from_s(0.01)?);
    /// assert!((value.to_f64() - 14.643_856_19).abs() < 1e-8);
    /// # Ok::<(), units::QuantityError>(())
    /// ```
    pub fn of_camera(f_number: FNumber, time: ExposureTime) -> Self {
        let (n, t) = (f_number.to_f64(), time.to_s());
        Self(libm::log2(n * n / t))
    }

    /// What scene a camera with this exposure value renders as it is, told at ISO 100.
    ///
    /// ```text
    /// EV100 = EV − log2(S / 100)
    /// ```
    /// `EV` exposure value of f-number and time; `S` ISO (1 to 1000000); finite over that range.
    ///
    /// # Source
    /// `Cipa2019`, annex C, "APEX units": Ev = Bv + Sv with Sv = log2(S / 3.125), so Bv + 5 = Ev − log2(S / 100).
    #[must_use]
    pub fn at_iso_100(self, iso: Iso) -> Self {
        Self(self.0 - libm::log2(iso.to_f64() / Iso::HUNDRED.to_f64()))
    }

    /// As a bare number.
    pub const fn to_f64(self) -> f64 {
        self.0
    }

    /// The luminance of a surface that a meter reads as this value at ISO 100, in cd/m².
    ///
    /// ```text
    /// L = K 2^EV100 / 100
    /// ```
    /// `K` 12.5 cd s/m², the meter's constant; `EV100` this value, at ISO 100; `L` in cd/m².
    ///
    /// # Source
    /// `Iso2720`: K may be 10.6 to 13.4, which spans 0.34 stops.
    pub fn luminance_cd_m2(self) -> f64 {
        12.5 * libm::exp2(self.0) / 100.0
    }

    /// The value that is so many stops higher.
    #[must_use]
    pub fn raised(self, by: Stops) -> Self {
        Self(self.0 + by.to_f64())
    }
}

/// How many stops too much light a scene gives a camera; too little if negative.
///
/// ```text
/// over = EV_scene − EV100 − loss − bias
/// ```
/// `EV_scene` the scene, at ISO 100; `EV100` the camera, at ISO 100; `loss` what an adapter in front takes (stops, ≥ 0);
/// `bias` how much brighter than the meter's grey the picture is wanted (stops): negative protects highlights. Finite.
///
/// # Source
/// The definition: exposure values of scene and camera differ by stops, and stops add.
///
/// # Examples
/// Bright sun before f/1.78, 1/48 s, ISO 50: 6.75 stops.
/// ```
/// use optics::{ExposureTime, ExposureValue, FNumber, Iso, stops_over};
/// use units::Stops;
/// let camera = ExposureValue::of_camera(FNumber::new(1.78)?, ExposureTime::from_s(1.0 / 48.0)?);
/// let over = stops_over(
///     ExposureValue::of_scene(15.0)?,
///     camera.at_iso_100(Iso::new(50.0)?),
///     Stops::ZERO,
///     Stops::ZERO,
/// );
/// assert!((over.to_f64() - 6.751_283).abs() < 1e-6);
/// # Ok::<(), units::QuantityError>(())
/// ```
pub fn stops_over(scene: ExposureValue, camera_ev100: ExposureValue, loss: Stops, bias: Stops) -> Stops {
    Stops::new(scene.0 - camera_ev100.0) - loss - bias
}

impl fmt::Display for ExposureValue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(digits) = f.precision() {
            write!(f, "EV {:.digits$}", self.0)
        } else {
            write!(f, "EV {}", self.0)
        }
    }
}

impl fmt::Display for Iso {
    /// To three digits, which is finer than any camera sets it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let step = libm::pow(10.0, (libm::floor(libm::log10(self.0)) - 2.0).max(0.0));
        write!(f, "ISO {:.0}", libm::round(self.0 / step) * step)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn camera(f_number: f64, seconds: f64, iso: f64) -> ExposureValue {
        let time = ExposureTime::from_s(seconds).expect("in range");
        let value = ExposureValue::of_camera(FNumber::new(f_number).expect("in range"), time);
        value.at_iso_100(Iso::new(iso).expect("in range"))
    }

    #[test]
    fn one_second_at_f_1_and_iso_100_is_nothing() {
        assert_eq!(camera(1.0, 1.0, 100.0).to_f64().to_bits(), 0.0_f64.to_bits());
    }

    #[test]
    fn an_iso_is_told_to_three_digits() {
        assert_eq!(Iso::new(49.6).expect("in range").to_string(), "ISO 50");
        assert_eq!(Iso::new(1234.5).expect("in range").to_string(), "ISO 1230");
    }

    #[test]
    fn what_is_no_iso_is_refused_with_the_range() {
        let told = |iso| Iso::new(iso).expect_err("no sensitivity").to_string();
        assert_eq!(told(0.0), "0 (ISO) is not allowed: 1 to 1000000 (ISO)");
        assert!(Iso::new(f64::NAN).is_err());
    }

    proptest! {
        #[test]
        fn half_the_time_or_half_the_iso_is_a_stop(
            f_number in 0.5_f64..=64.0, seconds in 1e-4_f64..=30.0, iso in 2.0_f64..=1e6,
        ) {
            let value = camera(f_number, seconds, iso).to_f64();
            prop_assert!((camera(f_number, seconds / 2.0, iso).to_f64() - value - 1.0).abs() < 1e-9);
            prop_assert!((camera(f_number, seconds, iso / 2.0).to_f64() - value - 1.0).abs() < 1e-9);
        }

        #[test]
        fn an_adapters_loss_is_light_less_and_a_bias_up_is_light_more(
            scene in -10.0_f64..=25.0, loss in 0.0_f64..=5.0, bias in -5.0_f64..=5.0,
        ) {
            let (scene, camera) = (ExposureValue::of_scene(scene).expect("in range"), camera(1.78, 0.02, 50.0));
            let over = stops_over(scene, camera, Stops::ZERO, Stops::ZERO).to_f64();
            let with = stops_over(scene, camera, Stops::new(loss), Stops::new(bias)).to_f64();
            prop_assert!((over - with - loss - bias).abs() < 1e-9, "{over} {with}");
        }
    }
}
