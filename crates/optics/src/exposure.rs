//! How long a frame is exposed.

use std::fmt;

use units::{FrameRate, QuantityError};

/// The part of a turn in which a rotating shutter is open: 1° to 360°.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct ShutterAngle(f64);

/// How long light falls on one frame, in seconds; positive.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct ExposureTime(f64);

impl ShutterAngle {
    /// Open for half of each frame's time: what films are used to look like.
    pub const HALF: Self = Self(180.0);

    /// A shutter that is open for `degrees` of its turn.
    ///
    /// # Errors
    /// Refuses what is not 1° to 360°.
    pub fn from_deg(degrees: f64) -> Result<Self, QuantityError> {
        let (min, max) = (1.0, 360.0);
        if (min..=max).contains(&degrees) {
            Ok(Self(degrees))
        } else {
            Err(QuantityError::OutOfRange { value: degrees, min, max, unit: "deg" })
        }
    }

    /// In degrees.
    pub const fn to_deg(self) -> f64 {
        self.0
    }
}

impl ExposureTime {
    /// In seconds.
    pub const fn to_s(self) -> f64 {
        self.0
    }
}

/// How long each frame is exposed.
///
/// ```text
/// t = θ / (360° r)
/// ```
/// `θ` shutter angle (°, 1 to 360); `r` frame rate at capture (frames a second, > 0); `t` in seconds.
/// A phone's shutter does not turn; the angle is the trade's way to say which share of a frame's time it exposes.
///
/// # Source
/// The definition: one turn of the shutter is one frame.
///
/// # Examples
/// 24 frames a second and 180° are 1/48 s:
/// ```
/// use optics::{ShutterAngle, exposure_time};
/// use units::FrameRate;
/// let time = exposure_time(ShutterAngle::from_deg(180.0)?, FrameRate::checked_from_fps(24.0)?);
/// assert_eq!(time.to_s(), 1.0 / 48.0);
/// # Ok::<(), units::QuantityError>(())
/// ```
pub fn exposure_time(shutter: ShutterAngle, rate: FrameRate) -> ExposureTime {
    ExposureTime(shutter.to_deg() / (360.0 * rate.to_fps()))
}

impl fmt::Display for ExposureTime {
    /// As the fraction that cameras show: `1/48 s`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "1/{:.0} s", 1.0 / self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seconds(degrees: f64, fps: f64) -> f64 {
        let shutter = ShutterAngle::from_deg(degrees).expect("in range");
        exposure_time(shutter, FrameRate::checked_from_fps(fps).expect("in range")).to_s()
    }

    #[test]
    fn an_open_shutter_exposes_for_the_whole_frame() {
        assert!((seconds(360.0, 25.0) - 0.04).abs() < 1e-15, "{}", seconds(360.0, 25.0));
        assert!((seconds(172.8, 24.0) - 0.02).abs() < 1e-15, "172.8° at 24 fps is 1/50 s");
    }

    #[test]
    fn a_shutter_that_never_opens_is_refused_with_the_range() {
        let error = ShutterAngle::from_deg(0.0).expect_err("never open");
        assert_eq!(error.to_string(), "0 deg is not allowed: 1 to 360 deg");
        assert!(ShutterAngle::from_deg(f64::NAN).is_err(), "NaN is no angle");
    }

    #[test]
    fn an_exposure_is_told_as_a_fraction() {
        let rate = FrameRate::checked_from_fps(24.0).expect("in range");
        assert_eq!(exposure_time(ShutterAngle::HALF, rate).to_string(), "1/48 s");
    }
}
