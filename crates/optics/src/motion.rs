//! How far what moves smears while the shutter is open, and how long a turn or a walk of the phone is.

use language::key;
use units::{Angle, Length};

use crate::exposure::ExposureTime;
use crate::field_of_view::ViewTangents;

/// Somebody or something that goes at an everyday speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Mover {
    /// Somebody who walks.
    Walker,
    /// Somebody who runs.
    Runner,
    /// Somebody on a bicycle.
    Cyclist,
    /// A car in a town.
    Car,
}

/// A quarter of a turn: from the front of a room to its side.
const QUARTER_TURN: Angle = Angle::from_deg(90.0);

impl Mover {
    /// All of them, from the slowest on.
    pub const ALL: [Self; 4] = [Self::Walker, Self::Runner, Self::Cyclist, Self::Car];

    /// In plain words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Walker => key!("a walker"),
            Self::Runner => key!("a runner"),
            Self::Cyclist => key!("a cyclist"),
            Self::Car => key!("a car at 50 km/h"),
        }
    }

    /// How far they get in a second.
    ///
    /// # Source
    /// Common practice: 1.4 m walking, 3.5 m running at leisure, 5 m (18 km/h) on a bicycle; a car's 50 km/h is the common
    /// limit in towns, 50 / 3.6 m.
    pub const fn per_second(self) -> Length {
        Length::from_m(match self {
            Self::Walker => 1.4,
            Self::Runner => 3.5,
            Self::Cyclist => 5.0,
            Self::Car => 50.0 / 3.6,
        })
    }
}

/// Over how many pixels something smears that goes across the frame while the shutter is open.
///
/// ```text
/// b = W / (u_left + u_right) · v t / d
/// ```
/// `W` the frame's width (px, > 0); `u` its tangents to both sides; `v` the way across in a second (m, its sign does not
/// matter); `t` exposure (s); `d` distance along the axis (m, > 0); `b` in pixels of that frame. What goes along the axis
/// smears only as its distance changes, which is v t / d times less, and is left out. No smear where nothing moves.
///
/// # Source
/// The definition: a pinhole's image of a way v t at distance d.
///
/// # Examples
/// A walker 3 m away, 1/48 s, 3840 px over a full angle of 90° (tangents 1 and 1): 1920 · 1.4 / 48 / 3 = 18.67 px:
/// ```
/// use optics::{ExposureTime, Mover, ViewTangents, moving_smear_px};
/// use units::Length;
/// let view = ViewTangents { left: 1.0, right: 1.0, up: 0.5, down: 0.5 };
/// let time = ExposureTime::from_s(1.0 / 48.0)?;
/// let smear = moving_smear_px(&view, 3840.0, Mover::Walker.per_second(), Length::from_m(3.0), time);
/// assert!((smear - 18.666_667).abs() < 1e-6, "{smear}");
/// # Ok::<(), units::QuantityError>(())
/// ```
pub fn moving_smear_px(
    view: &ViewTangents,
    frame_width_px: f64,
    across_per_second: Length,
    depth: Length,
    time: ExposureTime,
) -> f64 {
    let way_m = across_per_second.abs().to_m() * time.to_s();
    if way_m > 0.0 { frame_width_px / view.width() * way_m / depth.to_m() } else { 0.0 }
}

/// How long a turn of the phone takes, in seconds; none if it does not turn.
///
/// ```text
/// t = |φ| / |ω|
/// ```
/// `φ` the turn; `ω` the turn in a second (> 0).
///
/// # Source
/// The definition.
fn turn_s(turn: Angle, per_second: Angle) -> Option<f64> {
    let (turn, per_second) = (turn.to_rad().abs(), per_second.to_rad().abs());
    (per_second > 0.0).then(|| turn / per_second)
}

/// How long a quarter of a turn takes, in seconds: by it a pan can be counted out loud. None if the phone does not turn.
///
/// ```
/// use units::Angle;
/// assert_eq!(optics::quarter_turn_s(Angle::from_deg(-9.0)), Some(10.0));
/// ```
pub fn quarter_turn_s(per_second: Angle) -> Option<f64> {
    turn_s(QUARTER_TURN, per_second)
}

/// How long a path a phone needs that goes along with somebody.
///
/// ```text
/// l = |v| t
/// ```
/// `v` the way in a second (m); `t` how long it goes on (s, ≥ 0).
///
/// # Source
/// The definition.
///
/// # Examples
/// Six seconds with a walker are 8.4 m:
/// ```
/// use optics::{Mover, path_length};
/// assert!((path_length(Mover::Walker.per_second(), 6.0).to_m() - 8.4).abs() < 1e-12);
/// ```
pub fn path_length(per_second: Length, seconds: f64) -> Length {
    per_second.abs() * seconds.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn time(seconds: f64) -> ExposureTime {
        ExposureTime::from_s(seconds).expect("in range")
    }

    #[test]
    fn a_car_smears_over_a_tenth_of_a_narrow_frame() {
        // Tangents of 0.25 both ways, 1920 px: 3840 px per tangent; 13.8889 m/s over 1/48 s at 6 m is a tangent of 0.048225.
        let view = ViewTangents { left: 0.25, right: 0.25, up: 0.14, down: 0.14 };
        let smear =
            moving_smear_px(&view, 1920.0, Mover::Car.per_second(), Length::from_m(6.0), time(1.0 / 48.0));
        assert!((smear - 185.185_185).abs() < 1e-5, "{smear}");
    }

    #[test]
    fn what_does_not_move_does_not_smear() {
        let view = ViewTangents { left: 0.25, right: 0.25, up: 0.14, down: 0.14 };
        let smear = moving_smear_px(&view, 1920.0, Length::ZERO, Length::ZERO, time(0.02));
        assert!(smear.abs() < f64::MIN_POSITIVE, "{smear}");
        assert_eq!(turn_s(Angle::from_deg(90.0), Angle::ZERO), None);
    }

    #[test]
    fn everyday_speeds_go_from_slow_to_fast() {
        assert!(Mover::ALL.is_sorted_by(|one, other| one.per_second() < other.per_second()));
    }

    #[test]
    fn each_mover_is_called_something_else() {
        let names = Mover::ALL.map(Mover::name);
        assert!(names.iter().all(|name| name.starts_with("a ")), "{names:?}");
        assert_eq!(std::collections::BTreeSet::from(names).len(), names.len(), "{names:?}");
    }

    proptest! {
        #[test]
        fn twice_the_time_or_half_the_distance_smears_twice(
            speed in -40.0_f64..=40.0, depth in 0.1_f64..=100.0, seconds in 1e-4_f64..=0.5, half in 0.01_f64..=2.0,
        ) {
            let view = ViewTangents { left: half, right: half, up: half, down: half };
            let smear = |depth: f64, seconds: f64| {
                moving_smear_px(&view, 3840.0, Length::from_m(speed), Length::from_m(depth), time(seconds))
            };
            let once = smear(depth, seconds);
            prop_assert!(once.is_finite() && once >= 0.0);
            prop_assert!((smear(depth, seconds * 2.0) - 2.0 * once).abs() <= 1e-9 * once.max(1.0));
            prop_assert!((smear(depth / 2.0, seconds) - 2.0 * once).abs() <= 1e-9 * once.max(1.0));
        }
    }
}
