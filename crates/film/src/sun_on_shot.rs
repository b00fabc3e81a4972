//! The sun on a shot: from which side it lights whom the shot is of, and whether it is in the frame.

use language::say;
use optics::ViewTangents;
use staging::{Camera, direction};
use units::Angle;

use crate::rehearsal::Rehearsal;
use crate::scene::Scene;
use crate::shot::{Shot, SunWish};

/// The sun on a shot, while it stands in one place of the sky.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunOnShot {
    /// From which side it lights them.
    pub side: SunSide,
    /// How far the sun is round from straight behind the phone, clockwise seen from above: −180° to 180°.
    pub round: Angle,
    /// Whether it is in the frame.
    pub in_frame: SunInFrame,
    /// Its direction on the scene's floor, clockwise from the floor's own north.
    pub azimuth_on_floor: Angle,
    /// How many times as long as what casts it a shadow is; none while the sun is not above a level floor.
    pub shadow_times: Option<f64>,
}

/// The sun that lights a setup at a minute of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunOnSetup {
    /// The sun on its shot.
    pub on: SunOnShot,
    /// How high it is seen.
    pub elevation: Angle,
}

/// From which side the sun lights whom a shot is of, seen by the phone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SunSide {
    /// From behind the phone.
    Front,
    /// From the left.
    Left,
    /// From the right.
    Right,
    /// From behind them.
    Back,
}

/// Whether the sun is in the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SunInFrame {
    /// It is not near it.
    Away,
    /// It is so near an edge that it shines into the lens.
    Near,
    /// It is in it.
    Within,
}

/// Front light reaches so far round from straight behind the phone, back light as far from straight behind them, and side
/// light is what is between: chosen as thirds of a half turn, because nothing in the picture changes at a sharper angle.
const THIRD_DEG: f64 = 60.0;
/// The sun shines into the lens from this near outside the frame: chosen, as a lens without a hood flares from about there.
const NEAR_DEG: f64 = 10.0;

/// How many times as long as what casts it a shadow is on level ground.
///
/// ```text
/// k = 1 / tan e
/// ```
/// `e` the sun's elevation as it is seen, more than 0°.
///
/// # Source
/// Plane geometry.
pub(crate) fn shadow_times(elevation: Angle) -> f64 {
    1.0 / elevation.tan()
}

impl SunSide {
    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Front => say!("front light"),
            Self::Left => say!("side light from the left"),
            Self::Right => say!("side light from the right"),
            Self::Back => say!("back light"),
        }
    }

    /// Whether it is where it is wanted.
    pub const fn grants(self, wish: SunWish) -> bool {
        match wish {
            SunWish::Anywhere => true,
            SunWish::Front => matches!(self, Self::Front),
            SunWish::Side => matches!(self, Self::Left | Self::Right),
            SunWish::Back => matches!(self, Self::Back),
        }
    }
}

impl SunOnShot {
    /// The sun at `azimuth` (clockwise from the earth's north) and `elevation` (as it is seen) on a phone that looks at a
    /// scene, on whose floor the earth's north is at `north`.
    ///
    /// ```text
    /// A' = A + n        r = A' − (a + 180°)        k = 1 / tan e
    /// ```
    /// `A` the sun's azimuth; `n` the earth's north on the floor; `A'` the sun's direction on the floor; `a` the direction in
    /// which the phone looks; `r` how far the sun is round from behind the phone, brought to −180° to 180°; `e` its
    /// elevation (°); `k` how many times as long a shadow is as what casts it.
    ///
    /// # Source
    /// Plane geometry.
    ///
    /// # Examples
    /// A phone that looks north at noon has the sun in its back.
    pub fn of(camera: &Camera, view: &ViewTangents, north: Angle, azimuth: Angle, elevation: Angle) -> Self {
        let on_floor = turned(azimuth + north);
        let forward = camera.forward();
        let looks = staging::azimuth(forward.truncate());
        let round = turned(on_floor - looks - Angle::from_deg(180.0));
        let side = match round.to_deg() {
            degrees if degrees.abs() <= THIRD_DEG => SunSide::Front,
            degrees if degrees.abs() >= 180.0 - THIRD_DEG => SunSide::Back,
            // Clockwise from behind the phone is to its left.
            degrees if degrees > 0.0 => SunSide::Left,
            _ => SunSide::Right,
        };
        Self {
            side,
            round,
            in_frame: in_frame(camera, view, on_floor, elevation),
            azimuth_on_floor: on_floor,
            shadow_times: (elevation.to_deg() > 0.0).then(|| shadow_times(elevation)),
        }
    }

    /// The sun on a shot that starts; the nearest that the sun comes to its frame counts from its start to its end.
    ///
    /// None if the shot cannot be framed.
    pub fn on(
        scene: &Scene,
        rehearsal: &Rehearsal,
        shot: &Shot,
        azimuth: Angle,
        elevation: Angle,
    ) -> Option<Self> {
        let setup = rehearsal.result().outcome.as_ref().ok()?;
        let north = scene.blocking.north;
        let of = |camera: &Camera| Self::of(camera, &setup.view, north, azimuth, elevation);
        let start = of(&rehearsal.camera()?);
        let end = rehearsal
            .stage(scene, &[], shot.planned_s)
            .map(|stage| of(&rehearsal.camera_on_floor(&stage.closes)));
        let in_frame = end.map_or(start.in_frame, |end| end.in_frame.max(start.in_frame));
        Some(Self { in_frame, ..start })
    }

    /// From which side it comes, and whether it is in the frame or near it.
    pub fn words(&self) -> String {
        let frame = match self.in_frame {
            SunInFrame::Away => "",
            SunInFrame::Near => say!(", the sun near the frame"),
            SunInFrame::Within => say!(", the sun in the frame"),
        };
        format!("{}{frame}", self.side.name())
    }

    /// The caution that belongs to it; none if the sun is away from the frame.
    pub fn caution(&self) -> Option<&'static str> {
        match self.in_frame {
            SunInFrame::Away => None,
            SunInFrame::Near => Some(say!(
                "The sun shines into the lens: shade it with a hand or a card, and never look at the sun yourself."
            )),
            SunInFrame::Within => Some(say!(
                "The sun is in the frame. Do not look at it, not through the lens or past the phone either; keep takes short, \
                 because a long look at a high sun can harm a sensor. What the maker says of the phone goes first."
            )),
        }
    }
}

/// Whether the sun is in a frame, within so many degrees of it, or away from it.
fn in_frame(camera: &Camera, view: &ViewTangents, azimuth_on_floor: Angle, elevation: Angle) -> SunInFrame {
    match camera.off_frame(view, direction(azimuth_on_floor, elevation)).to_deg() {
        degrees if degrees < 1e-6 => SunInFrame::Within,
        degrees if degrees <= NEAR_DEG => SunInFrame::Near,
        _ => SunInFrame::Away,
    }
}

/// The same direction from −180° to 180°.
fn turned(direction: Angle) -> Angle {
    let degrees = direction.to_deg().rem_euclid(360.0);
    Angle::from_deg(if degrees > 180.0 { degrees - 360.0 } else { degrees })
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec3;
    use proptest::prelude::*;

    const VIEW: ViewTangents = ViewTangents { left: 0.6, right: 0.6, up: 0.25, down: 0.25 };

    fn deg(degrees: f64) -> Angle {
        Angle::from_deg(degrees)
    }

    fn sun(looks: f64, tilt: f64, north: f64, azimuth: f64, elevation: f64) -> SunOnShot {
        let camera = Camera::new(DVec3::ZERO, deg(looks), deg(tilt));
        SunOnShot::of(&camera, &VIEW, deg(north), deg(azimuth), deg(elevation))
    }

    #[test]
    fn a_phone_that_looks_north_at_noon_has_the_sun_in_its_back() {
        let noon = sun(0.0, 0.0, 0.0, 180.0, 45.0);
        assert_eq!((noon.side, noon.in_frame), (SunSide::Front, SunInFrame::Away));
        assert!((noon.shadow_times.expect("a shadow") - 1.0).abs() < 1e-12);
        assert_eq!(sun(180.0, 0.0, 0.0, 180.0, 45.0).side, SunSide::Back);
    }

    #[test]
    fn an_evening_sun_lights_from_the_left_when_the_phone_looks_north() {
        assert_eq!(sun(0.0, 0.0, 0.0, 270.0, 10.0).side, SunSide::Left);
        assert_eq!(sun(180.0, 0.0, 0.0, 270.0, 10.0).side, SunSide::Right);
    }

    #[test]
    fn a_floor_that_is_turned_turns_the_sun() {
        // The earth's north is to the floor's east: the sun of noon is to its west.
        let noon = sun(0.0, 0.0, 90.0, 180.0, 45.0);
        assert!((noon.azimuth_on_floor.to_deg().abs() - 90.0).abs() < 1e-9, "{noon:?}");
        assert_eq!(noon.side, SunSide::Left);
    }

    #[test]
    fn the_sun_is_in_the_frame_near_it_or_away() {
        let low = |azimuth| sun(250.0, 0.0, 0.0, azimuth, 5.0).in_frame;
        assert_eq!(low(250.0), SunInFrame::Within);
        // The frame reaches 31 degrees to either side.
        assert_eq!(low(280.0), SunInFrame::Within);
        assert_eq!(low(285.0), SunInFrame::Near);
        assert_eq!(low(295.0), SunInFrame::Away);
        assert_eq!(low(70.0), SunInFrame::Away);
        // And 14 degrees up.
        assert_eq!(sun(250.0, 0.0, 0.0, 250.0, 20.0).in_frame, SunInFrame::Near);
        assert_eq!(sun(250.0, 20.0, 0.0, 250.0, 20.0).in_frame, SunInFrame::Within);
    }

    proptest! {
        #[test]
        fn turning_floor_phone_and_sun_together_changes_nothing(
            looks in 0.0..360.0_f64, azimuth in 0.0..360.0_f64, elevation in -5.0..90.0_f64, turn in -180.0..180.0_f64,
        ) {
            let (one, other) = (sun(looks, 3.0, 0.0, azimuth, elevation), sun(looks + turn, 3.0, turn, azimuth, elevation));
            let apart = (one.round.to_deg() - other.round.to_deg()).rem_euclid(360.0);
            prop_assert!(apart.min(360.0 - apart) < 1e-6, "{:?} {:?}", one, other);
            prop_assert_eq!(one.in_frame == SunInFrame::Within, other.in_frame == SunInFrame::Within);
        }

        #[test]
        fn a_sun_in_the_frame_is_never_front_light(
            looks in 0.0..360.0_f64, azimuth in 0.0..360.0_f64, elevation in 0.0..60.0_f64,
        ) {
            let on = sun(looks, 0.0, 0.0, azimuth, elevation);
            prop_assert!(on.in_frame != SunInFrame::Within || on.side != SunSide::Front, "{:?}", on);
        }
    }
}
