//! Changes of where everybody and everything of a scene is: each makes another blocking of one, within what a film's file
//! holds.

mod arrival;
mod beats;
mod pieces;
mod ways;

pub(super) use arrival::{adds_piece, enters, somebody_new};
pub(super) use beats::{
    LineEnd, adds_beat, by_hand, moves_line_end, names_beat, removes_beat, reorders_beat, starts_beat,
    wishes_line,
};
pub(super) use pieces::{
    Side, becomes, moves_piece, piece_faces, removes_piece, set_light, set_north, side_of, sizes_piece,
};
pub(super) use ways::{moves_corner, paces, removes_corner, sets_off, stays, walks_on, walks_to};

use std::fmt;

use film::{Faces, Film, Mark, PersonId, Scene, SceneBlocking};
use glam::DVec2;
use language::say;
use requests::{FARTHEST_PLACE_M, MOST_PEOPLE, MOST_PIECES};
use staging::Posture;
use units::Angle;

use crate::story::words::listed;

/// The latest second of a scene that files hold: ten hours in.
const LATEST_S: f64 = 36_000.0;

/// Why a change is not made, in words for whoever asked for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Refusal {
    /// As many people as a scene holds are in it.
    ManyPeople,
    /// As many pieces as a scene holds are in it.
    ManyPieces,
    /// The way has as many corners as one is drawn with.
    ManyCorners,
    /// As many beats as a scene holds are in it.
    ManyBeats,
    /// Shots of the scene, by their numbers, are of somebody who would leave.
    InShots {
        /// What they are called.
        name: String,
        /// The shots' numbers in the scene.
        shots: Vec<usize>,
    },
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ManyPeople => f.write_str(&say!("A scene holds {MOST_PEOPLE} people at the most.")),
            Self::ManyPieces => f.write_str(&say!("A scene holds {MOST_PIECES} pieces at the most.")),
            Self::ManyCorners => f.write_str(&say!("A way has {} corners at the most.", ways::MOST_CORNERS)),
            Self::ManyBeats => f.write_str(&say!("A scene holds {} beats at the most.", beats::MOST_BEATS)),
            Self::InShots { name, shots } => {
                let numbers = listed(&shots.iter().map(usize::to_string).collect::<Vec<_>>());
                f.write_str(&if shots.len() == 1 {
                    say!("{name} stays: shot {numbers} is of them. Make shot {numbers} of somebody else first.")
                } else {
                    say!(
                        "{name} stays: shots {numbers} are of them. Make shots {numbers} of somebody else first."
                    )
                })
            }
        }
    }
}

/// What of somebody a hand takes hold of where they are seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Hold {
    /// Their mark: they have not left it yet.
    Mark,
    /// The corner where they have arrived.
    Corner(usize),
    /// Mark and way together: they are between two corners.
    Way,
}

/// What of somebody is held at that second of the scene.
pub(super) fn hold_of(mark: &Mark, seconds: f64) -> Hold {
    match &mark.way {
        Some(way) if seconds >= way.starts_s + way.lasts_s(mark.place) => {
            way.corners.len().checked_sub(1).map_or(Hold::Mark, Hold::Corner)
        }
        Some(way) if seconds > way.starts_s => Hold::Way,
        Some(_) | None => Hold::Mark,
    }
}

/// Somebody is moved to where a hand has put them at that second of the scene: what is held of them goes there.
pub(super) fn moves_person(
    blocking: &SceneBlocking,
    who: PersonId,
    seconds: f64,
    to: DVec2,
) -> SceneBlocking {
    let Some(mark) = blocking.mark(who) else { return blocking.clone() };
    match hold_of(mark, seconds) {
        Hold::Mark => moves_mark(blocking, who, to),
        Hold::Corner(at) => moves_corner(blocking, who, at, to),
        Hold::Way => {
            let by = taped(to) - blocking.place_at(who, seconds).unwrap_or(mark.place);
            with_mark(blocking, who, |mark| {
                mark.place = taped(mark.place + by);
                for corner in mark.way.iter_mut().flat_map(|way| &mut way.corners) {
                    *corner = taped(*corner + by);
                }
            })
        }
    }
}

/// Somebody starts from another place.
pub(super) fn moves_mark(blocking: &SceneBlocking, who: PersonId, to: DVec2) -> SceneBlocking {
    with_mark(blocking, who, |mark| mark.place = taped(to))
}

/// Somebody looks elsewhere.
pub(super) fn looks(blocking: &SceneBlocking, who: PersonId, faces: Faces) -> SceneBlocking {
    let faces = match faces {
        Faces::Towards(way) => Faces::Towards(full_turn(way)),
        Faces::At(other) => Faces::At(other),
    };
    with_mark(blocking, who, |mark| mark.faces = faces)
}

/// Somebody holds themselves otherwise.
pub(super) fn takes_posture(blocking: &SceneBlocking, who: PersonId, posture: Posture) -> SceneBlocking {
    with_mark(blocking, who, |mark| mark.posture = posture)
}

/// Somebody leaves the scene.
///
/// # Errors
/// Names the shots that are of them.
pub(super) fn leaves(film: &Film, scene: &Scene, who: PersonId) -> Result<SceneBlocking, Refusal> {
    let of_them = |(at, shot): (usize, &std::sync::Arc<film::Shot>)| {
        shot.of.standing().any(|person| person == who).then_some(at + 1)
    };
    let shots: Vec<usize> = scene.shots.iter().enumerate().filter_map(of_them).collect();
    if !shots.is_empty() {
        return Err(Refusal::InShots { name: film.name_of(who).to_owned(), shots });
    }
    Ok(scene.blocking.without(&film.cast, who, 0.0))
}

/// The blocking with somebody's mark changed.
fn with_mark(blocking: &SceneBlocking, who: PersonId, change: impl FnOnce(&mut Mark)) -> SceneBlocking {
    let mut changed = blocking.clone();
    if let Some(mark) = changed.marks.iter_mut().find(|mark| mark.who == who) {
        change(mark);
    }
    changed
}

/// A place as it can be taped down: on the floor that files hold, and to the centimetre, because nobody tapes finer.
pub(super) fn taped(place: DVec2) -> DVec2 {
    if !place.is_finite() {
        return DVec2::ZERO;
    }
    let farthest = DVec2::splat(FARTHEST_PLACE_M);
    let cm = (place.clamp(-farthest, farthest) * 100.0).to_array().map(libm::round);
    DVec2::from_array(cm) / 100.0
}

/// The same direction within one turn from north.
pub(super) fn full_turn(way: Angle) -> Angle {
    Angle::from_deg(way.to_deg().rem_euclid(360.0))
}

/// The direction of a way along the floor, clockwise from north.
pub(super) fn azimuth(way: DVec2) -> Angle {
    full_turn(staging::azimuth(way))
}

#[cfg(test)]
pub(super) mod tests {
    use std::sync::Arc;

    use film::{Beat, BeatId, CastMember, Kit, LineWish, SceneId, Shot, ShotId, ShotOf, Unknown, Way};
    use staging::{Age, Colour, ShotSize};
    use units::Length;

    use super::*;

    pub(in crate::story::floor) fn id(number: u64) -> PersonId {
        PersonId::new(number).expect("small")
    }

    pub(in crate::story::floor) fn beat_id(number: u64) -> BeatId {
        BeatId::new(number).expect("small")
    }

    pub(in crate::story::floor) fn member(number: u64, name: &str) -> CastMember {
        CastMember {
            id: id(number),
            name: name.to_owned(),
            stature: Length::from_m(1.7),
            age: Age::Adult,
            clothes: Colour([0.5; 3]),
            hours: None,
            consent: false,
            unknown: Unknown::default(),
        }
    }

    fn mark(number: u64, place: DVec2, faces: Faces) -> Mark {
        Mark { who: id(number), place, faces, posture: Posture::Standing, way: None }
    }

    /// Mira at the origin and Jo two metres east of her, who look at each other; Jo walks north from second 4.
    pub(in crate::story::floor) fn two() -> (Film, Scene) {
        let kit: Kit = film::kits()[0].to_kit().expect("a preset");
        let mut film = Film::empty(Arc::new(kit), film::frame_shapes()[4].1);
        film.cast = Arc::from([member(1, "Mira"), member(2, "Jo"), member(3, "Ada")]);
        let way = Way { corners: vec![DVec2::new(2.0, 4.0)], pace: Length::from_m(2.0), starts_s: 4.0 };
        let jo = Mark { way: Some(way), ..mark(2, DVec2::new(2.0, 0.0), Faces::At(id(1))) };
        let beat = |number: u64, starts_s: f64| Beat {
            id: beat_id(number),
            what: format!("beat {number}"),
            starts_s,
            line: LineWish::Auto,
        };
        let blocking = SceneBlocking {
            marks: vec![mark(1, DVec2::ZERO, Faces::At(id(2))), jo],
            beats: vec![beat(1, 0.0), beat(2, 5.0)],
            ..SceneBlocking::default()
        };
        let mut scene = Scene::empty(SceneId::new(1).expect("small"), blocking);
        let shot = |number: u64, of: ShotOf| {
            let id = ShotId::new(number).expect("small");
            Arc::new(Shot::of(id, of, ShotSize::Medium, Angle::from_deg(160.0)))
        };
        scene.shots = vec![shot(1, ShotOf::One(id(1))), shot(2, ShotOf::One(id(1)))];
        film.scenes = vec![Arc::new(scene.clone())];
        (film, scene)
    }

    #[test]
    fn who_waits_is_held_by_the_mark_and_who_walks_with_the_way() {
        let (_, scene) = two();
        let jo = scene.blocking.mark(id(2)).expect("in the scene");
        assert_eq!(hold_of(jo, 0.0), Hold::Mark);
        assert_eq!(hold_of(jo, 5.0), Hold::Way);
        assert_eq!(hold_of(jo, 6.0), Hold::Corner(0));
        let moved = moves_person(&scene.blocking, id(2), 5.0, DVec2::new(3.0, 2.0));
        let jo = moved.mark(id(2)).expect("in the scene");
        assert_eq!(jo.place, DVec2::new(3.0, 0.0));
        assert_eq!(jo.way.as_ref().expect("walks").corners, [DVec2::new(3.0, 4.0)]);
    }

    #[test]
    fn whoever_a_shot_is_of_stays_and_is_told_why() {
        let (film, scene) = two();
        let refusal = leaves(&film, &scene, id(1)).expect_err("two shots are of her");
        assert_eq!(
            refusal.to_string(),
            "Mira stays: shots 1 and 2 are of them. Make shots 1 and 2 of somebody else first."
        );
    }

    #[test]
    fn whoever_no_shot_is_of_leaves_the_scene() {
        let (film, scene) = two();
        let left = leaves(&film, &scene, id(2)).expect("no shot is of Jo");
        assert!(left.people().all(|who| who == id(1)), "{left:?}");
    }

    #[test]
    fn tape_lies_on_the_floor_and_to_the_centimetre() {
        assert_eq!(taped(DVec2::new(0.123_4, -5000.0)), DVec2::new(0.12, -1000.0));
        assert_eq!(taped(DVec2::new(f64::NAN, 1.0)), DVec2::ZERO);
    }

    #[test]
    fn a_look_is_kept_within_one_turn() {
        let (_, scene) = two();
        let looked = looks(&scene.blocking, id(1), Faces::Towards(Angle::from_deg(-45.0)));
        assert_eq!(looked.marks[0].faces, Faces::Towards(Angle::from_deg(315.0)));
    }
}
