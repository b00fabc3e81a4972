//! The shadow of whoever holds the phone, where the sun behind them lays it into the frame.

use glam::{DVec2, DVec3};
use language::say;
use optics::ViewTangents;
use staging::{Camera, Landmark, Stage, along};

use crate::film::Film;
use crate::findings::Severity;
use crate::rehearsal::Rehearsal;
use crate::scene::Scene;
use crate::shot::Shot;
use crate::sun_on_shot::SunOnShot;

/// What the shadow of whoever holds the phone falls on in the frame: of more than one, the worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CrewShadow {
    /// The floor.
    Floor,
    /// The thing that the shot is of.
    Thing,
    /// Somebody.
    Person,
}

/// How tall whoever holds the phone is, standing: chosen as people are of whom nothing is said.
const TALL_M: f64 = 1.7;
/// How broad they are: about an adult's shoulders; chosen.
const BROAD_M: f64 = 0.5;
/// How far behind the phone they stand: arms half stretched, so that its screen can be looked at; common practice.
const BEHIND_M: f64 = 0.5;

/// A shadow on level ground: a stripe away from the sun, above which all is shaded that is low enough.
struct Shadow {
    /// Where whoever casts it stands.
    holder: DVec2,
    /// The sun's direction along the floor, of length 1.
    to_sun: DVec2,
    /// How many times as long as what casts it a shadow is.
    times: f64,
}

impl CrewShadow {
    /// What it falls on as the shot starts or ends; none if it is not in the frame.
    pub(crate) fn of(
        film: &Film,
        scene: &Scene,
        shot: &Shot,
        rehearsal: &Rehearsal,
        sun: &SunOnShot,
    ) -> Option<Self> {
        let on = |at_s: f64| {
            let stage = rehearsal.stage(scene, &film.cast, at_s)?;
            Shadow::of_holder(&stage.opens, sun)?.worst_on(&stage)
        };
        on(0.0).max(on(shot.planned_s))
    }

    pub(super) const fn severity(self) -> Severity {
        match self {
            Self::Floor => Severity::Notes,
            Self::Thing | Self::Person => Severity::Warns,
        }
    }

    /// What is the matter, and what can be done.
    pub(super) fn words(self) -> (String, String) {
        let message = match self {
            Self::Floor => {
                say!(
                    "whoever stands behind the phone has the sun behind them: their shadow is on the floor in the frame"
                )
            }
            Self::Thing => {
                say!(
                    "whoever stands behind the phone has the sun behind them: their shadow falls on what this is of"
                )
            }
            Self::Person => {
                say!(
                    "whoever stands behind the phone has the sun behind them: their shadow falls on somebody in the frame"
                )
            }
        };
        let hint = say!(
            "squat behind the phone, take a longer lens from farther back, turn the shot so that the sun comes from the side, or \
             shoot while the sun is higher"
        );
        (message.to_owned(), hint.to_owned())
    }
}

impl Shadow {
    fn of_holder(camera: &Camera, sun: &SunOnShot) -> Option<Self> {
        // The way ahead is not taken from where the phone looks, which may be straight down.
        let ahead = camera.right().truncate().perp();
        Some(Self {
            holder: camera.position().truncate() - ahead * BEHIND_M,
            to_sun: along(sun.azimuth_on_floor),
            times: sun.shadow_times?,
        })
    }

    /// How high it reaches at something so broad, metres; none if it passes beside it.
    ///
    /// ```text
    /// z = H − s / k        s = (h − p) · u        | (h − p) × u | ≤ (B + b) / 2
    /// ```
    /// `H`, `B` how tall and broad the holder is, who stands at `h` (m); `p` the place (m); `b` how broad what stands there is
    /// (m); `u` the sun's direction along the floor; `s` how far the holder is towards the sun from there, more than 0 (m); `k` a
    /// shadow's length over what casts it.
    ///
    /// # Source
    /// Plane geometry.
    fn height_at(&self, place: DVec2, broad_m: f64) -> Option<f64> {
        let way = self.holder - place;
        let towards_sun = way.dot(self.to_sun);
        let meets = towards_sun > 0.0 && way.perp_dot(self.to_sun).abs() <= f64::midpoint(BROAD_M, broad_m);
        meets.then(|| TALL_M - towards_sun / self.times)
    }

    /// The worst that it falls on in the frame.
    fn worst_on(&self, stage: &Stage) -> Option<CrewShadow> {
        let is_seen = |from: DVec3, to: DVec3| is_seen(&stage.opens, &stage.view, from, to);
        // Whether some of what stands upright between two heights is both shaded and seen.
        let is_shaded = |from: DVec3, to_m: f64, broad_m: f64| {
            let shaded_m = self.height_at(from.truncate(), broad_m).map(|height| height.min(to_m));
            shaded_m.is_some_and(|top_m| from.z < top_m && is_seen(from, from.with_z(top_m)))
        };
        let person = stage.people.iter().any(|person| {
            let broad_m = person.body.shoulder_breadth().to_m();
            is_shaded(person.at(Landmark::Foot), person.at(Landmark::Crown).z, broad_m)
        });
        let thing = stage.object.is_some_and(|thing| {
            let (foot, size) = (thing.support.top().to_m(), thing.size.to_m());
            is_shaded(DVec3::Z * foot, foot + size, size)
        });
        let end = self.holder - self.to_sun * TALL_M * self.times;
        let floor = is_seen(self.holder.extend(0.0), end.extend(0.0));
        [(person, CrewShadow::Person), (thing, CrewShadow::Thing), (floor, CrewShadow::Floor)]
            .into_iter()
            .find_map(|(is_met, what)| is_met.then_some(what))
    }
}

/// Whether any of a straight stretch of the place is in a frame: it is within the planes through the lens and the frame's sides.
fn is_seen(camera: &Camera, view: &ViewTangents, from: DVec3, to: DVec3) -> bool {
    let within = |point: DVec3| {
        let own = camera.to_own(point);
        [
            view.left * own.z + own.x,
            view.right * own.z - own.x,
            view.down * own.z + own.y,
            view.up * own.z - own.y,
        ]
    };
    let sides = within(from).into_iter().zip(within(to));
    // The share of the way at which the stretch comes within, and at which it is out again.
    let (enters, leaves) = sides.fold((0.0, 1.0), |(enters, leaves): (f64, f64), (first, last)| {
        let crosses = first / (first - last);
        match (first >= 0.0, last >= 0.0) {
            (true, true) => (enters, leaves),
            (false, true) => (enters.max(crosses), leaves),
            (true, false) => (enters, leaves.min(crosses)),
            (false, false) => (1.0, 0.0),
        }
    });
    enters < leaves
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rehearsal::Rehearsals;
    use units::Angle;

    /// A view of 17° up and down and 31° to either side.
    const VIEW: ViewTangents = ViewTangents { left: 0.6, right: 0.6, up: 0.3, down: 0.3 };

    fn deg(degrees: f64) -> Angle {
        Angle::from_deg(degrees)
    }

    /// The sun in a direction on the floor and so high.
    fn sun(azimuth: f64, elevation: f64) -> SunOnShot {
        SunOnShot::of(&level(1.5), &VIEW, Angle::ZERO, deg(azimuth), deg(elevation))
    }

    /// A level phone at the floor's origin that looks north.
    fn level(height_m: f64) -> Camera {
        Camera::new(DVec3::new(0.0, 0.0, height_m), Angle::ZERO, Angle::ZERO)
    }

    /// How high the holder's shadow reaches at somebody who stands there and is broad by 0.4 m.
    fn height_at(place: DVec2, azimuth: f64, elevation: f64) -> Option<f64> {
        Shadow::of_holder(&level(1.5), &sun(azimuth, elevation))?.height_at(place, 0.4)
    }

    #[test]
    fn it_reaches_as_high_as_plane_geometry_has_it() {
        // 1.7 m less 4.0 m · tan 6.1°: 3.5 m to the phone and half a metre to its holder.
        let height = height_at(DVec2::new(0.0, 3.5), 180.0, 6.1).expect("straight ahead");
        assert!((height - 1.2725).abs() < 1e-3, "{height}");
        // At 45° it ends 1.7 m from them, on the floor.
        let height = height_at(DVec2::new(0.0, 1.2), 180.0, 45.0).expect("straight ahead");
        assert!(height.abs() < 1e-9, "{height}");
    }

    #[test]
    fn it_passes_beside_whoever_stands_off_its_stripe() {
        // 4.0 m from the holder, 0.45 m to the side are as far as the two are broad.
        let side = |metres: f64| height_at(DVec2::new(metres, 3.5), 180.0, 6.0).is_some();
        assert_eq!([side(0.44), side(-0.44), side(0.46), side(-0.46)], [true, true, false, false]);
        // The same by a sun that is round: 4.0 m · sin 6.4° are 0.446 m.
        let round = |degrees: f64| height_at(DVec2::new(0.0, 3.5), 180.0 + degrees, 6.0).is_some();
        assert_eq!([round(6.4), round(-6.4), round(6.6), round(-6.6)], [true, true, false, false]);
        assert!(!round(180.0), "the sun before them throws it away from the frame");
    }

    #[test]
    fn a_stretch_is_seen_from_where_it_comes_within_the_frame() {
        let floor = |from: f64, to: f64| {
            is_seen(&level(1.5), &VIEW, DVec3::new(0.0, from, 0.0), DVec3::new(0.0, to, 0.0))
        };
        // The frame's lower edge meets the floor 1.5 m / 0.3 ahead.
        assert_eq!([floor(-0.5, 4.99), floor(-0.5, 5.01), floor(6.0, 7.0)], [false, true, true]);
        let across = |from: (f64, f64), to: (f64, f64)| {
            is_seen(&level(1.5), &VIEW, DVec3::new(from.0, from.1, 1.5), DVec3::new(to.0, to.1, 1.5))
        };
        assert!(across((-9.0, 5.0), (9.0, 5.0)), "though both ends are outside");
        assert!(!across((-9.0, -5.0), (9.0, -5.0)), "behind the phone");
        assert!(!across((3.1, 5.0), (9.0, 5.0)));
    }

    /// What the shadow falls on in a shot of the demo's garden, with the sun so far round from the line from its subject through
    /// the phone.
    #[expect(clippy::unwrap_in_result, reason = "a test whose film is broken fails")]
    fn in_garden(at: usize, round: f64, elevation: f64) -> Option<CrewShadow> {
        let film = crate::demo_film();
        let (scene, shot) = (&film.scenes[1], &film.scenes[1].shots[at]);
        let rehearsal = Rehearsals::default().of(&film, scene, shot);
        let made = rehearsal.as_ref().as_ref().expect("the demo film has all that it needs");
        let camera = made.camera().expect("it can be framed");
        let azimuth = made.blocking.phone_bearing + deg(round);
        let sun = SunOnShot::of(&camera, &VIEW, Angle::ZERO, azimuth, deg(elevation));
        CrewShadow::of(&film, scene, shot, made, &sun)
    }

    #[test]
    fn a_low_sun_behind_the_phone_throws_it_on_whom_it_films_and_a_high_or_side_one_does_not() {
        assert_eq!(in_garden(0, 0.0, 6.0), Some(CrewShadow::Person));
        assert_eq!(in_garden(0, 0.0, 60.0), None, "it ends half a metre before the phone");
        assert_eq!(in_garden(0, 90.0, 6.0), None);
        assert_eq!(in_garden(0, 180.0, 6.0), None);
        assert_eq!(in_garden(0, 0.0, -1.0), None, "no sun, no shadow");
    }

    #[test]
    fn floor_alone_is_worth_a_note_and_the_thing_of_an_insert_a_warning() {
        assert_eq!(in_garden(0, 20.0, 6.0), Some(CrewShadow::Floor), "it passes beside him");
        assert_eq!(CrewShadow::Floor.severity(), Severity::Notes);
        assert_eq!(in_garden(2, 0.0, 30.0), Some(CrewShadow::Thing));
        assert_eq!(CrewShadow::Thing.severity(), Severity::Warns);
    }
}
