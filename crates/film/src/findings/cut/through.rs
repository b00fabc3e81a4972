//! Ways on the floor that lead through what stands there: somebody's walk, and the phone's.

use staging::{Movement, PieceKind, SetPiece};
use units::Length;

use super::CutFinding;
use crate::cut_view::SeenAt;
use crate::film::Film;
use crate::rehearsal::Rehearsal;
use crate::scene::Scene;
use crate::scene_blocking::{through, walked_through_s};
use crate::shot::Shot;

/// A phone is carried over a piece that is no higher: chosen, as arms reach out over a table and not over a hedge.
const CARRIED_OVER: Length = Length::from_m(1.0);

/// Walks of a scene that lead through its pieces, each where it first comes into one that it leaves again.
pub(super) fn walks_through(scene: &Scene) -> impl Iterator<Item = CutFinding> {
    let blocking = &scene.blocking;
    let walks = blocking.marks.iter().filter_map(|mark| Some((mark, mark.way.as_ref()?)));
    walks.flat_map(move |(mark, way)| {
        blocking.pieces.iter().filter_map(move |piece| {
            let at_s = walked_through_s(piece, way.walk(mark.place))?;
            Some(CutFinding::WalksThrough { who: mark.who, what: met(piece), at_s })
        })
    })
}

/// A phone that moves through a piece while the shot is taken: pushes and phones that go along are straight. One that
/// starts in a piece is not of this rule.
pub(super) fn phone_through(
    film: &Film,
    scene: &Scene,
    shot: &Shot,
    rehearsal: &Rehearsal,
) -> Option<CutFinding> {
    let Some(Movement::Push { .. } | Movement::Follow { .. }) = shot.movement else { return None };
    let phone = |at_s| Some(SeenAt::of(film, scene, shot, rehearsal, None, at_s)?.camera.position());
    let (from, to) = (phone(0.0)?, phone(shot.planned_s)?);
    let lowest = Length::from_m(from.z.min(to.z));
    let is_in_the_way = |piece: &&SetPiece| piece.size.height > CARRIED_OVER.min(lowest);
    let ahead = scene.blocking.pieces.iter().filter(is_in_the_way).filter_map(|piece| {
        let (comes, _) = through(piece, from.truncate(), to.truncate())?;
        Some((comes, met(piece))).filter(|_| comes > 0.0)
    });
    let (comes, what) = ahead.min_by(|(one, _), (other, _)| one.total_cmp(other))?;
    Some(CutFinding::PhoneGoesThrough { what, at_s: comes * shot.planned_s })
}

/// What somebody meets who goes through a piece: of a doorway the wall beside it.
pub(super) fn met(piece: &SetPiece) -> PieceKind {
    if piece.kind == PieceKind::Doorway { PieceKind::Wall } else { piece.kind }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::PlacedFinding;
    use crate::findings::cut::example::{film, found, level, person, shot_id, two, walker};
    use crate::scene::KeptAt;
    use crate::scene_blocking::SceneBlocking;
    use glam::DVec2;
    use units::{Angle, LengthUnit};

    fn piece(kind: PieceKind, (x, y): (f64, f64)) -> SetPiece {
        SetPiece { kind, place: DVec2::new(x, y), facing: Angle::ZERO, size: kind.usual_size() }
    }

    fn among(blocking: SceneBlocking, pieces: &[SetPiece]) -> SceneBlocking {
        SceneBlocking { pieces: pieces.to_vec(), ..blocking }
    }

    /// What is found of going through something.
    fn gone_through(film: &Film) -> Vec<PlacedFinding> {
        let is_of_it = |placed: &PlacedFinding| {
            matches!(placed.finding, CutFinding::WalksThrough { .. } | CutFinding::PhoneGoesThrough { .. })
        };
        found(film).into_iter().filter(is_of_it).collect()
    }

    #[test]
    fn a_walk_through_a_hedge_is_found_with_who_where_and_when() {
        let walk = walker(&[(0.0, 20.0)]);
        let hedges = [piece(PieceKind::Hedge, (0.0, 5.0)), piece(PieceKind::Hedge, (9.0, 8.0))];
        let film = film(among(walk, &hedges), vec![level(1, 90.0, 2.0)]);
        let [PlacedFinding { at: KeptAt::Scene, finding }] = gone_through(&film)[..] else {
            panic!("{:?}", gone_through(&film))
        };
        let CutFinding::WalksThrough { who, what: PieceKind::Hedge, at_s } = finding else {
            panic!("{finding:?}")
        };
        // A hedge of 0.8 m in depth five metres off, at 1 m/s.
        assert!(who == person(1) && (at_s - 4.6).abs() < 0.01, "{who:?} {at_s}");
        let said = finding.to_finding(&film, LengthUnit::Metres).message;
        assert_eq!(said, "Ada walks through the hedge 4.6 s into the scene");
    }

    /// Ada, who stands at the floor's origin, and a phone that comes from 3 m in the south to 1.4 m, with a piece so far south.
    fn pushed(kind: PieceKind, south_m: f64) -> Film {
        let movement = Some(Movement::Push { per_second: Length::from_m(0.4) });
        let shot = Shot { movement, planned_s: 4.0, ..level(1, 180.0, 3.0) };
        film(among(two(), &[piece(kind, (0.0, -south_m))]), vec![shot])
    }

    #[test]
    fn a_phone_is_not_pushed_through_a_wall() {
        let found = gone_through(&pushed(PieceKind::Wall, 2.0));
        let [PlacedFinding { at, finding }] = found[..] else { panic!("{found:?}") };
        assert_eq!(at, KeptAt::Shot(shot_id(1)));
        let CutFinding::PhoneGoesThrough { what: PieceKind::Wall, at_s } = finding else {
            panic!("{finding:?}")
        };
        // A wall is 0.2 m thick: 0.9 m at 0.4 m/s.
        assert!((at_s - 2.25).abs() < 0.02, "{at_s}");
        assert_eq!(gone_through(&pushed(PieceKind::Wall, 1.2)), [], "it stops before that");
    }

    #[test]
    fn a_phone_is_carried_over_a_table_and_not_over_a_hedge() {
        assert_eq!(gone_through(&pushed(PieceKind::Table, 2.0)), []);
        assert_eq!(gone_through(&pushed(PieceKind::Hedge, 2.0)).len(), 1);
    }
}
