//! Where whoever or whatever is new to a scene comes: to a free place near the others.

use std::sync::Arc;

use film::{Command, Faces, Film, Mark, PersonId, Scene, SceneBlocking};
use glam::DVec2;
use requests::{MOST_PEOPLE, MOST_PIECES};
use staging::{PieceKind, Posture, SetPiece, along};
use units::Angle;

use super::{Refusal, azimuth, full_turn, taped};
use crate::story::cast::newcomer;

/// How far from the middle of the others a place is looked for, metres; the first is how far apart two stand who talk.
/// Chosen because each is as far again as the newcomer needs.
const AWAY_M: [f64; 7] = [1.2, 1.8, 2.6, 3.6, 5.0, 7.0, 10.0];
/// How near to others somebody stands, metres: chosen because arms reach no farther.
const APART_M: f64 = 0.8;
/// How near to a piece's edge somebody or something stands, metres: chosen because one squeezes past no less.
const CLEAR_M: f64 = 0.4;

/// Somebody of the cast comes into the scene, and looks at whoever is nearest.
///
/// # Errors
/// Says if the scene is full.
pub(in crate::story::floor) fn enters(
    blocking: &SceneBlocking,
    who: PersonId,
) -> Result<SceneBlocking, Refusal> {
    if blocking.mark(who).is_some() {
        return Ok(blocking.clone());
    }
    if blocking.marks.len() >= MOST_PEOPLE {
        return Err(Refusal::ManyPeople);
    }
    let place = free_place(blocking, 0.0, Angle::from_deg(90.0));
    let away = |mark: &&Mark| mark.place.distance(place);
    let nearest = blocking.marks.iter().min_by(|one, other| away(one).total_cmp(&away(other)));
    // South is where a plan is looked at from, so that the first one is seen from the front.
    let faces = nearest.map_or(Faces::Towards(Angle::from_deg(180.0)), |mark| Faces::At(mark.who));
    let mut changed = blocking.clone();
    changed.marks.push(Mark { who, place, faces, posture: Posture::Standing, way: None });
    Ok(changed)
}

/// Somebody new, in a colour that nobody has yet, who comes into the scene.
///
/// # Errors
/// Says if the scene is full.
pub(in crate::story::floor) fn somebody_new(
    film: &Film,
    scene: &Scene,
    id: PersonId,
) -> Result<Command, Refusal> {
    let blocking = Arc::new(enters(&scene.blocking, id)?);
    let cast = film.cast.iter().cloned().chain([newcomer(&film.cast, id)]).collect();
    Ok(Command::All(vec![Command::SetCast(cast), Command::SetBlocking { scene: scene.id, blocking }]))
}

/// A piece of its usual size comes beyond the others and turns its front to them; says which it is, too.
///
/// # Errors
/// Says if the scene is full.
pub(in crate::story::floor) fn adds_piece(
    blocking: &SceneBlocking,
    kind: PieceKind,
) -> Result<(SceneBlocking, usize), Refusal> {
    if blocking.pieces.len() >= MOST_PIECES {
        return Err(Refusal::ManyPieces);
    }
    let size = kind.usual_size();
    let place = free_place(blocking, size.width.to_m().max(size.depth.to_m()) / 2.0, Angle::ZERO);
    let back = middle(blocking.marks.iter().map(|mark| mark.place)) - place;
    let facing = if back == DVec2::ZERO { Angle::from_deg(180.0) } else { azimuth(back) };
    // A car is known from its side.
    let facing = if kind == PieceKind::Car { full_turn(facing + Angle::from_deg(90.0)) } else { facing };
    let mut changed = blocking.clone();
    changed.pieces.push(SetPiece { kind, place, facing, size });
    let at = changed.pieces.len() - 1;
    Ok((changed, at))
}

/// A place for something that reaches so far, in metres, looked for from the middle of everybody on, first that way.
fn free_place(blocking: &SceneBlocking, reach: f64, first: Angle) -> DVec2 {
    let middle = middle(blocking.marks.iter().map(|mark| mark.place));
    let is_free = |place: &DVec2| {
        let corners = blocking.marks.iter().flat_map(|mark| mark.way.iter().flat_map(|way| &way.corners));
        let mut people = blocking.marks.iter().map(|mark| &mark.place).chain(corners);
        people.all(|other| other.distance(*place) >= APART_M + reach)
            && blocking.pieces.iter().all(|piece| distance_from(piece, *place) >= CLEAR_M + reach)
    };
    let here = std::iter::once(middle);
    let around = AWAY_M.into_iter().flat_map(|away| {
        (0..8_u8).map(move |turn| {
            let way = along(first + Angle::from_deg(45.0 * f64::from(turn)));
            taped(middle + way * (away + reach))
        })
    });
    let fallback = taped(middle + along(first) * (AWAY_M[6] + reach));
    here.chain(around).find(is_free).unwrap_or(fallback)
}

/// How far a floor point is from a piece's edge, metres; nothing inside.
fn distance_from(piece: &SetPiece, point: DVec2) -> f64 {
    let off = point - piece.place;
    let beside = off.dot(along(piece.facing + Angle::from_deg(90.0))).abs() - piece.size.width.to_m() / 2.0;
    let before = off.dot(along(piece.facing)).abs() - piece.size.depth.to_m() / 2.0;
    libm::hypot(beside.max(0.0), before.max(0.0))
}

/// The middle of places; the floor's origin if there are none.
pub(super) fn middle(places: impl Iterator<Item = DVec2>) -> DVec2 {
    let (sum, count) = places.fold((DVec2::ZERO, 0.0), |(sum, count), place| (sum + place, count + 1.0));
    if count > 0.0 { taped(sum / count) } else { DVec2::ZERO }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dressing::tape_of;
    use crate::story::floor::blocking_edit::tests::{id, two};

    #[test]
    fn newcomers_stand_apart_and_look_at_somebody() {
        let mut blocking = SceneBlocking::default();
        for number in 0..20 {
            blocking = enters(&blocking, id(number)).expect("room");
        }
        for (at, mark) in blocking.marks.iter().enumerate() {
            for other in blocking.marks.iter().skip(at + 1) {
                assert!(mark.place.distance(other.place) >= APART_M, "{mark:?} {other:?}");
            }
            assert_eq!(matches!(mark.faces, Faces::At(_)), at > 0, "{mark:?}");
        }
        assert_eq!(enters(&blocking, id(99)), Err(Refusal::ManyPeople));
    }

    #[test]
    fn nobody_enters_into_a_table() {
        let (blocking, at) = adds_piece(&SceneBlocking::default(), PieceKind::Table).expect("room");
        let blocking = enters(&blocking, id(1)).expect("room");
        assert!(distance_from(&blocking.pieces[at], blocking.marks[0].place) >= CLEAR_M, "{blocking:?}");
    }

    #[test]
    fn a_wall_comes_beyond_the_others_and_turns_to_them() {
        let (_, scene) = two();
        let (blocking, at) = adds_piece(&scene.blocking, PieceKind::Wall).expect("room");
        let wall = &blocking.pieces[at];
        for mark in &blocking.marks {
            assert!(distance_from(wall, mark.place) >= APART_M, "{wall:?} {mark:?}");
        }
        let middle = DVec2::new(1.0, 0.0);
        assert!((middle - wall.place).normalize().dot(along(wall.facing)) > 0.999, "{wall:?}");
    }

    #[test]
    fn somebody_new_has_a_colour_and_a_name_of_their_own() {
        let (mut film, scene) = two();
        for number in 10..15 {
            let scene = Arc::clone(film.scene(scene.id).expect("there"));
            let command = somebody_new(&film, &scene, id(number)).expect("room");
            film.apply(command).expect("allowed");
        }
        let worn: Vec<_> = film.cast.iter().filter_map(|member| tape_of(member.clothes.to_srgb8())).collect();
        assert_eq!(worn, [0, 1, 2, 3, 4]);
        let mut names: Vec<_> = film.cast.iter().map(|member| &member.name).collect();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), film.cast.len());
    }
}
