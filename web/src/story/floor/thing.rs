//! What on a scene's floor can be chosen, and what can be done with it wherever it is chosen: by hand, by keys, by buttons.

use film::{BeatId, Film, LineWish, PersonId, Scene, SceneBlocking};
use glam::DVec2;
use language::say;
use units::Angle;

use super::blocking_edit::{
    Hold, LineEnd, Refusal, hold_of, leaves, looks, moves_corner, moves_line_end, moves_mark, moves_person,
    moves_piece, piece_faces, removes_beat, removes_corner, removes_piece, stays, wishes_line,
};
use crate::dressing::piece_name;

/// Something on the floor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Thing {
    /// Somebody, where they are at the second that is shown.
    Person(PersonId),
    /// Where somebody starts who has left their mark.
    Start(PersonId),
    /// A corner of somebody's way.
    Corner(PersonId, usize),
    /// A piece, by its place in the blocking's list.
    Piece(usize),
    /// A beat.
    Beat(BeatId),
    /// An end of a beat's line, if that is drawn by hand.
    LineEnd(BeatId, LineEnd),
}

impl Thing {
    /// Whether it is there.
    pub(super) fn is_in(self, blocking: &SceneBlocking) -> bool {
        match self {
            Self::Person(who) => blocking.mark(who).is_some(),
            Self::Start(who) => blocking.mark(who).is_some_and(|mark| mark.way.is_some()),
            Self::Corner(who, at) => corner(blocking, who, at).is_some(),
            Self::Piece(at) => at < blocking.pieces.len(),
            Self::Beat(id) => blocking.beats.iter().any(|beat| beat.id == id),
            Self::LineEnd(id, end) => line_end(blocking, id, end).is_some(),
        }
    }

    /// The number that tells it from others of its kind.
    pub(super) fn target(self) -> u64 {
        match self {
            Self::Person(who) | Self::Start(who) | Self::Corner(who, _) => who.number(),
            Self::Beat(id) | Self::LineEnd(id, _) => id.number(),
            // A list is far shorter than that.
            Self::Piece(at) => u64::try_from(at).unwrap_or(u64::MAX),
        }
    }

    /// What it is called within a sentence.
    pub(super) fn name(self, film: &Film, blocking: &SceneBlocking) -> String {
        match self {
            Self::Person(who) => film.name_of(who).to_owned(),
            Self::Start(who) => say!("where {} starts", film.name_of(who)),
            Self::Corner(who, at) => say!("corner {} of {}'s way", at + 1, film.name_of(who)),
            Self::Piece(at) => {
                let name = piece_names(blocking).into_iter().nth(at).unwrap_or_default();
                say!("the {name}")
            }
            Self::Beat(id) => {
                let number = blocking.beats.iter().position(|beat| beat.id == id).map_or(0, |at| at + 1);
                say!("beat {number}")
            }
            Self::LineEnd(..) => say!("the line").to_owned(),
        }
    }

    /// Where it is at that second of the scene.
    pub(super) fn place(self, blocking: &SceneBlocking, seconds: f64) -> Option<DVec2> {
        match self {
            Self::Person(who) => blocking.place_at(who, seconds),
            Self::Start(who) => blocking.mark(who).map(|mark| mark.place),
            Self::Corner(who, at) => corner(blocking, who, at),
            Self::Piece(at) => blocking.pieces.get(at).map(|piece| piece.place),
            Self::Beat(_) => None,
            Self::LineEnd(id, end) => line_end(blocking, id, end),
        }
    }

    /// The scene with it put down elsewhere at that second.
    pub(super) fn put(self, blocking: &SceneBlocking, seconds: f64, to: DVec2) -> SceneBlocking {
        match self {
            Self::Person(who) => moves_person(blocking, who, seconds, to),
            Self::Start(who) => moves_mark(blocking, who, to),
            Self::Corner(who, at) => moves_corner(blocking, who, at, to),
            Self::Piece(at) => moves_piece(blocking, at, to),
            Self::Beat(_) => blocking.clone(),
            Self::LineEnd(id, end) => moves_line_end(blocking, id, end, to),
        }
    }

    /// The direction that it faces, if it can be turned at that second: whoever walks or has walked faces their way.
    pub(super) fn facing(self, film: &Film, blocking: &SceneBlocking, seconds: f64) -> Option<Angle> {
        match self {
            Self::Person(who) => {
                let mark = blocking.mark(who)?;
                let is_on_mark = hold_of(mark, seconds) == Hold::Mark;
                let person = blocking.person_of(&film.cast, who, seconds).filter(|_| is_on_mark)?;
                Some(person.facing)
            }
            Self::Piece(at) => blocking.pieces.get(at).map(|piece| piece.facing),
            Self::Start(_) | Self::Corner(..) | Self::Beat(_) | Self::LineEnd(..) => None,
        }
    }

    /// The scene with it turned to that direction.
    pub(super) fn face(self, blocking: &SceneBlocking, way: Angle) -> SceneBlocking {
        match self {
            Self::Person(who) => looks(blocking, who, film::Faces::Towards(way)),
            Self::Piece(at) => piece_faces(blocking, at, way),
            Self::Start(_) | Self::Corner(..) | Self::Beat(_) | Self::LineEnd(..) => blocking.clone(),
        }
    }

    /// The scene without it; a line by hand finds itself again, and whoever has no start does not walk.
    ///
    /// # Errors
    /// Says why it stays.
    pub(super) fn remove(self, film: &Film, scene: &Scene) -> Result<SceneBlocking, Refusal> {
        let blocking = &*scene.blocking;
        match self {
            Self::Person(who) => leaves(film, scene, who),
            Self::Start(who) => Ok(stays(blocking, who)),
            Self::Corner(who, at) => Ok(removes_corner(blocking, who, at)),
            Self::Piece(at) => Ok(removes_piece(blocking, at)),
            Self::Beat(id) => Ok(removes_beat(blocking, id)),
            Self::LineEnd(id, _) => Ok(wishes_line(blocking, id, LineWish::Auto)),
        }
    }

    /// Whom its panel is about.
    pub(super) const fn person(self) -> Option<PersonId> {
        match self {
            Self::Person(who) | Self::Start(who) | Self::Corner(who, _) => Some(who),
            Self::Piece(_) | Self::Beat(_) | Self::LineEnd(..) => None,
        }
    }
}

fn corner(blocking: &SceneBlocking, who: PersonId, at: usize) -> Option<DVec2> {
    blocking.mark(who)?.way.as_ref()?.corners.get(at).copied()
}

fn line_end(blocking: &SceneBlocking, id: BeatId, end: LineEnd) -> Option<DVec2> {
    match blocking.beats.iter().find(|beat| beat.id == id)?.line {
        LineWish::ByHand(from, to) => Some(match end {
            LineEnd::From => from,
            LineEnd::To => to,
        }),
        LineWish::Auto | LineWish::Between(..) | LineWish::Along(_) | LineWish::None => None,
    }
}

/// The pieces' names in their order; those of one name are counted.
pub(super) fn piece_names(blocking: &SceneBlocking) -> Vec<String> {
    let kinds: Vec<&str> = blocking.pieces.iter().map(|piece| piece_name(piece.kind)).collect();
    let counted = kinds.iter().enumerate().map(|(at, name)| {
        let before = kinds.iter().take(at).filter(|other| *other == name).count();
        if before == 0 { (*name).to_owned() } else { format!("{name} {}", before + 1) }
    });
    counted.collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::story::floor::blocking_edit::adds_piece;
    use crate::story::floor::blocking_edit::tests::{beat_id, id, two};
    use film::{Shot, ShotId, ShotOf};
    use staging::{PieceKind, ShotSize};

    #[test]
    fn things_are_named_as_in_a_sentence() {
        let (film, scene) = two();
        let mut blocking = SceneBlocking::clone(&scene.blocking);
        for kind in [PieceKind::Table, PieceKind::Wall, PieceKind::Table] {
            (blocking, _) = adds_piece(&blocking, kind).expect("room");
        }
        let named = |thing: Thing| thing.name(&film, &blocking);
        assert_eq!(named(Thing::Person(id(1))), "Mira");
        assert_eq!(named(Thing::Start(id(2))), "where Jo starts");
        assert_eq!(named(Thing::Corner(id(2), 0)), "corner 1 of Jo's way");
        assert_eq!(named(Thing::Piece(2)), "the table 2");
        assert_eq!(named(Thing::Beat(beat_id(2))), "beat 2");
    }

    #[test]
    fn whoever_walks_cannot_be_turned() {
        let (film, scene) = two();
        let faces = |seconds: f64| Thing::Person(id(2)).facing(&film, &scene.blocking, seconds);
        assert!(faces(0.0).is_some_and(|way| (way.to_deg().rem_euclid(360.0) - 270.0).abs() < 1e-9));
        assert_eq!(faces(5.0), None);
        assert_eq!(faces(9.0), None);
    }

    #[test]
    fn whoever_has_no_start_stays_where_they_were() {
        let (film, mut scene) = two();
        let start = Thing::Start(id(2));
        let shot =
            Shot::of(ShotId::new(3).expect("small"), ShotOf::One(id(2)), ShotSize::Medium, Angle::ZERO);
        scene.shots.push(Arc::new(shot));
        let left = start.remove(&film, &scene).expect("they stay in the scene");
        let jo = left.mark(id(2)).expect("in the scene");
        assert_eq!((jo.place, &jo.way), (DVec2::new(2.0, 0.0), &None));
        assert!(start.is_in(&scene.blocking) && !start.is_in(&left), "{left:?}");
    }

    #[test]
    fn what_is_put_down_is_where_it_was_put() {
        let (_, scene) = two();
        let to = DVec2::new(-1.5, 2.25);
        for thing in
            [Thing::Person(id(1)), Thing::Person(id(2)), Thing::Start(id(2)), Thing::Corner(id(2), 0)]
        {
            for seconds in [0.0, 5.0, 60.0] {
                let put = thing.put(&scene.blocking, seconds, to);
                let place = thing.place(&put, seconds).expect("it is there");
                assert!(place.distance(to) < 0.02, "{thing:?} at {seconds}: {place}");
            }
        }
    }
}
