//! Lamps on the mains: which exposures and frame rates see the same light in every frame.

use std::f64::consts::PI;
use std::fmt;

use units::{FrameRate, QuantityError, checked};

use crate::exposure::ExposureTime;

/// How often the mains' current swings in a second: 15 Hz to 500 Hz, from railways to aircraft; 50 Hz or 60 Hz at home.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct MainsFrequency(f64);

/// How far light may go up and down from frame to frame and still count as steady, as a share of itself.
///
/// Chosen because what is brightest and darkest then differ by a fifth of a step of 8 bits in mid-grey, which is 1.9 % of the
/// light: no picture shows it. An exposure may be 0.2 % off whole half periods, so that rates which are 0.1 % below whole ones
/// (29.97 fps), times that cameras round and mains that wander a little are all steady.
const STEADY_SWING: f64 = 2e-3;

/// How far a frame rate may be from one that the mains lock, as a share of itself.
///
/// Chosen because it sets 24 fps, which at 60 Hz stands still, apart from 23.976 fps, whose light swells every eight seconds.
const LOCKED_SHARE: f64 = 1e-4;

impl MainsFrequency {
    /// Most of the world: 50 Hz.
    pub const FIFTY: Self = Self(50.0);
    /// North America, and parts of South America and Asia: 60 Hz.
    pub const SIXTY: Self = Self(60.0);

    /// A frequency of `hertz`.
    ///
    /// # Errors
    /// Refuses what is not 15 Hz to 500 Hz.
    pub fn from_hz(hertz: f64) -> Result<Self, QuantityError> {
        checked(hertz, 15.0, 500.0, "Hz").map(Self)
    }

    /// In hertz.
    pub const fn to_hz(self) -> f64 {
        self.0
    }

    /// How often a lamp swells in a second: with every half period, whichever way the current flows.
    pub fn swells(self) -> f64 {
        2.0 * self.0
    }
}

impl fmt::Display for MainsFrequency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} Hz", self.0)
    }
}

/// How many half periods of the mains an exposure lasts.
///
/// ```text
/// k = 2 f t
/// ```
/// `f` mains frequency (Hz, 15 to 500); `t` exposure (s); `k` > 0. A lamp's light repeats with every half period, so where
/// `k` is whole each row of each frame gathers the same light, and neither flicker nor rolling bands are seen.
///
/// # Source
/// The definition: a lamp's power goes with the square of the current, whose frequency is twice the current's.
pub fn half_periods(time: ExposureTime, mains: MainsFrequency) -> f64 {
    time.to_s() * mains.swells()
}

/// Whether an exposure is so near a whole number of half periods that no lamp is seen to swell.
///
/// ```text
/// d = | sin πk | / πk ≤ 0.2 %
/// ```
/// `k` half periods that it lasts; `d` how far the light that a frame gathers goes up and down with when it is taken, as a share
/// of itself, from a lamp that goes dark with every half period. Near whole `k` that is the share by which the exposure is off
/// them. The beat that is left is as slow as mains and frame rate have it, and too weak to be seen.
///
/// # Source
/// The mean of `1 + cos` over `k` of its periods. Lamps that do not go dark swing less.
///
/// # Examples
/// ```
/// use optics::{ExposureTime, MainsFrequency, is_steady};
/// assert!(is_steady(ExposureTime::from_s(1.0 / 50.0)?, MainsFrequency::FIFTY));
/// assert!(!is_steady(ExposureTime::from_s(1.0 / 48.0)?, MainsFrequency::FIFTY));
/// # Ok::<(), units::QuantityError>(())
/// ```
pub fn is_steady(time: ExposureTime, mains: MainsFrequency) -> bool {
    let turns = PI * half_periods(time, mains);
    libm::sin(turns).abs() / turns <= STEADY_SWING
}

/// The exposure of `count` half periods. None if there is no such exposure, as for none.
pub fn steady_exposure(count: u32, mains: MainsFrequency) -> Option<ExposureTime> {
    ExposureTime::from_s(f64::from(count) / mains.swells()).ok()
}

/// Whether the mains lock a frame rate: a frame lasts a whole number of half periods, so every frame sees the same stretch
/// of the lamps' swelling, whatever its exposure. Bands that stand still may remain within the frame.
///
/// ```
/// use optics::{MainsFrequency, is_locked};
/// use units::FrameRate;
/// assert!(is_locked(FrameRate::FILM, MainsFrequency::SIXTY), "120 swells over 24 frames are five each");
/// assert!(!is_locked(FrameRate::FILM, MainsFrequency::FIFTY));
/// ```
pub fn is_locked(rate: FrameRate, mains: MainsFrequency) -> bool {
    let swells_each = mains.swells() / rate.to_fps();
    let whole = libm::round(swells_each);
    whole >= 1.0 && (swells_each - whole).abs() <= LOCKED_SHARE * whole
}

/// The whole frame rate that the mains lock and that is nearest to `rate`: 25 fps for 24 fps at 50 Hz.
///
/// None if no whole rate is locked, as with mains of 50.3 Hz.
pub fn locked_rate(rate: FrameRate, mains: MainsFrequency) -> Option<FrameRate> {
    let candidates = (1..=500_u32).filter_map(|swells_each| {
        let fps = mains.swells() / f64::from(swells_each);
        let whole = libm::round(fps);
        ((fps - whole).abs() <= LOCKED_SHARE * fps).then(|| FrameRate::checked_from_fps(whole).ok()).flatten()
    });
    let off = |candidate: &FrameRate| (candidate.to_fps() / rate.to_fps() - 1.0).abs();
    candidates.min_by(|one, other| off(one).total_cmp(&off(other)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exposure::{ShutterAngle, exposure_time};
    use proptest::prelude::*;

    fn time(seconds: f64) -> ExposureTime {
        ExposureTime::from_s(seconds).expect("in range")
    }

    fn rate(fps: f64) -> FrameRate {
        FrameRate::checked_from_fps(fps).expect("in range")
    }

    #[test]
    fn less_than_half_a_period_is_never_steady() {
        assert!(!is_steady(time(0.005), MainsFrequency::FIFTY), "half a swell");
        assert!(!is_steady(time(1e-5), MainsFrequency::FIFTY), "nothing of a swell");
        assert_eq!(steady_exposure(0, MainsFrequency::FIFTY), None);
    }

    #[test]
    fn a_fifth_of_a_percent_off_is_steady_and_more_is_not() {
        assert!(is_steady(time(0.02 * 1.0019), MainsFrequency::FIFTY));
        assert!(!is_steady(time(0.02 * 1.0021), MainsFrequency::FIFTY));
        assert!(!is_steady(time(0.02 / 1.0021), MainsFrequency::FIFTY));
    }

    #[test]
    fn rates_a_thousandth_below_whole_ones_are_as_steady_as_those() {
        let steady = |deg, fps: f64, mains| {
            is_steady(exposure_time(ShutterAngle::from_deg(deg).expect("in range"), rate(fps)), mains)
        };
        for fps in [29.97, 30_000.0 / 1001.0, 59.94] {
            assert!(steady(180.0, fps, MainsFrequency::SIXTY), "{fps} fps");
        }
        assert!(steady(172.8, 24_000.0 / 1001.0, MainsFrequency::FIFTY));
        assert!(!steady(180.0, 24_000.0 / 1001.0, MainsFrequency::FIFTY));
    }

    #[test]
    fn what_is_steady_gathers_the_same_light_whenever_it_starts() {
        // A lamp that goes dark twice a period, gathered in 2000 steps from 40 moments of a half period on.
        let swing = |seconds: f64| {
            let gathered = |start: i32| -> f64 {
                let at =
                    |step: i32| (f64::from(step) + 0.5) / 2000.0 * seconds + f64::from(start) / 40.0 / 100.0;
                (0..2000).map(|step| 1.0 - libm::cos(2.0 * PI * 100.0 * at(step))).sum::<f64>() / 2000.0
            };
            (0..40).map(|start| (gathered(start) - 1.0).abs()).fold(0.0, f64::max)
        };
        for (seconds, steady) in
            [(0.02 * 1.001, true), (0.02 * 1.0019, true), (0.02 * 1.0022, false), (1.0 / 48.0, false)]
        {
            assert_eq!(swing(seconds) <= STEADY_SWING, steady, "{}", swing(seconds));
            assert_eq!(is_steady(time(seconds), MainsFrequency::FIFTY), steady, "{seconds} s");
        }
    }

    #[test]
    fn the_nearest_rate_that_is_locked_is_a_whole_one() {
        let nearest = |fps, mains| locked_rate(rate(fps), mains).map(FrameRate::to_fps);
        assert_eq!(nearest(24.0, MainsFrequency::FIFTY), Some(25.0));
        assert_eq!(nearest(30.0, MainsFrequency::FIFTY), Some(25.0));
        assert_eq!(nearest(23.976, MainsFrequency::SIXTY), Some(24.0));
        assert_eq!(nearest(25.0, MainsFrequency::SIXTY), Some(24.0));
        assert_eq!(nearest(24.0, MainsFrequency::from_hz(50.3).expect("in range")), None);
    }

    #[test]
    fn a_rate_that_only_every_other_frame_locks_is_not_locked() {
        assert!(is_locked(rate(100.0), MainsFrequency::FIFTY), "a swell each");
        assert!(!is_locked(rate(200.0), MainsFrequency::FIFTY), "half a swell each");
    }

    proptest! {
        #[test]
        fn every_steady_exposure_that_is_solved_for_is_found_steady(count in 1_u32..=120, hertz in 15.0_f64..=500.0) {
            let mains = MainsFrequency::from_hz(hertz).expect("in range");
            let time = steady_exposure(count, mains).expect("in range");
            prop_assert!(is_steady(time, mains));
            prop_assert!((half_periods(time, mains) - f64::from(count)).abs() < 1e-9);
        }

        #[test]
        fn a_locked_rate_is_steady_with_an_open_shutter(swells in 1_u32..=60, hertz in 30.0_f64..=60.0) {
            let mains = MainsFrequency::from_hz(hertz).expect("in range");
            let rate = rate(2.0 * hertz / f64::from(swells));
            prop_assert!(is_locked(rate, mains));
            prop_assert!(is_steady(exposure_time(ShutterAngle::from_deg(360.0).expect("in range"), rate), mains));
        }
    }
}
