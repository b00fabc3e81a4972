//! Another way to expose: a time, a set of filters with more ISO.

use language::{Number, say};
use optics::{ExposureTime, Iso, MainsFrequency, ShutterAngle, half_periods, is_steady};
use units::Stops;

use crate::exposure::Exposure;
use crate::light::{CHOPPY_SHARE, NOISY_ISO};

/// Filters that take more than is too much, and the ISO that makes up for it: nothing is then too much or too little.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stronger {
    /// What they take together.
    pub takes: Stops,
    /// The ISO.
    pub iso: Iso,
}

/// Another exposure time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherTime {
    /// The time.
    pub time: ExposureTime,
    /// The shutter's angle at the frame rate; none where that is not known.
    pub angle: Option<ShutterAngle>,
    /// How far it smears movement, as a share of what the present time does.
    pub smear_share: f64,
    /// The mains under whose lamps it would flicker.
    pub flickers_at: Option<MainsFrequency>,
}

impl Stronger {
    /// Filters that take so much; none if the ISO that makes up for it brings noise.
    ///
    /// ```text
    /// S' = S 2^(takes − over)
    /// ```
    /// `S` the ISO of the exposure; `over` what is too much at it without filters.
    ///
    /// # Source
    /// The definition of a stop: a picture's brightness goes with the ISO.
    pub(crate) fn of(takes: Stops, exposure: &Exposure) -> Option<Self> {
        let iso = exposure.exposing.iso.raised(takes - exposure.over)?;
        (iso.to_f64() <= NOISY_ISO).then_some(Self { takes, iso })
    }
}

impl OtherTime {
    /// None if a frame has no room for it, or no shutter turns so short.
    pub(super) fn of(time: ExposureTime, exposure: &Exposure) -> Option<Self> {
        let angle = match exposure.exposing.rate {
            Some(rate) => Some(time.shutter_angle(rate)?),
            None => None,
        };
        Some(Self {
            time,
            angle,
            smear_share: time.to_s() / exposure.exposing.time.to_s(),
            flickers_at: exposure.exposing.mains.filter(|mains| !is_steady(time, *mains)),
        })
    }

    /// `1/258 s (33.6°)`.
    pub(super) fn told(&self) -> String {
        format!("{}{}", Number(self.time), angle_told(self.angle))
    }

    /// `, so that movement looks choppy`, where it does.
    pub(super) fn choppy_told(&self) -> &'static str {
        if self.smear_share < CHOPPY_SHARE { say!(", so that movement looks choppy") } else { "" }
    }

    /// ` and flickers under lamps on 50 Hz`, where it does.
    pub(super) fn flicker_told(&self) -> String {
        self.flickers_at
            .map_or_else(String::new, |mains| say!(" and flickers under lamps on {}", Number(mains)))
    }
}

/// ` (33.6°)`, of an exposure that is an angle; nothing of one that is not.
pub(crate) fn angle_told(angle: Option<ShutterAngle>) -> String {
    angle.map_or_else(String::new, |angle| say!(" ({:.1}°)", angle.to_deg()))
}

/// A steady exposure as the fraction that it is, with its angle: `1/50 s (172.8°)`, `3/100 s`.
pub(crate) fn steady_time_told(
    time: ExposureTime,
    mains: MainsFrequency,
    angle: Option<ShutterAngle>,
) -> String {
    steady_told(whole(libm::round(half_periods(time, mains))), mains, angle)
}

/// The same of so many half periods.
pub(super) fn steady_told(count: u32, mains: MainsFrequency, angle: Option<ShutterAngle>) -> String {
    let swells = mains.swells();
    let time = if (swells - libm::round(swells)).abs() < 1e-9 {
        let swells = whole(swells);
        let common = greatest_common(count, swells).max(1);
        format!("{}/{} s", count / common, swells / common)
    } else {
        format!("{count}/{} s", Number(swells))
    };
    time + &angle_told(angle)
}

const fn greatest_common(mut one: u32, mut other: u32) -> u32 {
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one
}

/// A count that is whole and small, as a whole number: the longest exposure is 60000 half periods of the fastest mains.
pub(super) fn whole(count: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 0 to 60000"
    )]
    let whole = count.clamp(0.0, 1e6) as u32;
    whole
}
