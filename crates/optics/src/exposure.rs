//! How long a frame is exposed.

use std::fmt;

use language::key;
use units::{FrameRate, QuantityError, Stops, checked};

/// The part of a turn in which a rotating shutter is open: 1° to 360°.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct ShutterAngle(f64);

/// How long light falls on one frame, in seconds: 1/100000 s to a minute.
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
        checked(degrees, 1.0, 360.0, key!("deg")).map(Self)
    }

    /// In degrees.
    pub const fn to_deg(self) -> f64 {
        self.0
    }
}

impl ExposureTime {
    /// The shortest, in seconds: 1/100000 s, shorter than any phone exposes.
    pub const SHORTEST_S: f64 = 1e-5;

    /// An exposure of `seconds`.
    ///
    /// # Errors
    /// Refuses what is not 1/100000 s to 60 s: shorter than any phone exposes, longer than any frame of a film.
    pub fn from_s(seconds: f64) -> Result<Self, QuantityError> {
        checked(seconds, Self::SHORTEST_S, 60.0, "s").map(Self)
    }

    /// In seconds.
    pub const fn to_s(self) -> f64 {
        self.0
    }

    /// The exposure that gets so many stops more light; less if negative. None beyond what is an exposure.
    #[must_use]
    pub fn with_light(self, more: Stops) -> Option<Self> {
        Self::from_s(self.0 * more.to_light_ratio()).ok()
    }

    /// The angle of a turning shutter that exposes as long at that frame rate: θ = 360° r t, as [`exposure_time`] has it.
    ///
    /// None if the frame is over before the exposure is, or the angle is less than a shutter's.
    pub fn shutter_angle(self, rate: FrameRate) -> Option<ShutterAngle> {
        let degrees = 360.0 * rate.to_fps() * self.0;
        // A time that was made from 360° may come back a rounding above it.
        let degrees = if (360.0..360.0 + 1e-9).contains(&degrees) { 360.0 } else { degrees };
        ShutterAngle::from_deg(degrees).ok()
    }

    /// The nearest of the times that a camera app offers, counted in stops; the shorter of two equally near ones, because
    /// it keeps highlights. None if it offers none.
    ///
    /// ```
    /// use optics::ExposureTime;
    /// let times = [1.0 / 24.0, 1.0 / 50.0, 1.0 / 60.0].map(ExposureTime::from_s);
    /// let offered: Vec<_> = times.into_iter().collect::<Result<_, _>>()?;
    /// assert_eq!(ExposureTime::from_s(1.0 / 48.0)?.nearest_offered(&offered), Some(offered[1]));
    /// # Ok::<(), units::QuantityError>(())
    /// ```
    pub fn nearest_offered(self, offered: &[Self]) -> Option<Self> {
        let off = |time: &Self| Stops::from_light_ratio(time.0 / self.0).to_f64().abs();
        let nearer =
            |one: &Self, other: &Self| off(one).total_cmp(&off(other)).then(one.0.total_cmp(&other.0));
        offered.iter().copied().min_by(nearer)
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
    /// As cameras show it: `1/48 s`, or with a decimal from a third of a second on, where a fraction is too coarse.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 < 0.3 { write!(f, "1/{:.0} s", 1.0 / self.0) } else { write!(f, "{:.1} s", self.0) }
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

    #[test]
    fn a_long_exposure_is_told_in_seconds() {
        assert_eq!(ExposureTime::from_s(1.5).expect("in range").to_string(), "1.5 s");
    }

    #[test]
    fn an_exposure_gives_its_angle_back_unless_the_frame_is_shorter() {
        let rate = FrameRate::FILM;
        for degrees in [1.0, 33.3, 172.8, 180.0, 360.0] {
            let angle =
                exposure_time(ShutterAngle::from_deg(degrees).expect("in range"), rate).shutter_angle(rate);
            let back = angle.expect("it fits").to_deg();
            assert!((back - degrees).abs() < 1e-9, "{back} is not {degrees}");
        }
        let long = ExposureTime::from_s(0.05).expect("in range");
        assert_eq!(long.shutter_angle(rate), None, "1/20 s is longer than a frame of 1/24 s");
    }

    #[test]
    fn the_nearest_offered_time_is_counted_in_stops() {
        let time = |seconds: f64| ExposureTime::from_s(seconds).expect("in range");
        // Both are one stop off.
        let offered = [time(1.0 / 17.0), time(1.0 / 68.0)];
        assert_eq!(time(1.0 / 34.0).nearest_offered(&offered), Some(offered[1]), "the shorter one");
        assert_eq!(time(1.0 / 34.0).nearest_offered(&[]), None);
    }

    #[test]
    fn a_stop_more_light_is_twice_the_time() {
        let time = ExposureTime::from_s(0.01).expect("in range");
        let twice = time.with_light(Stops::new(1.0)).expect("in range").to_s();
        assert!((twice - 0.02).abs() < 1e-15, "{twice}");
        assert_eq!(time.with_light(Stops::new(20.0)), None, "10486 s is no exposure of a film");
    }
}
