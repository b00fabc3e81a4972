//! Where on the floor a phone can be, and whether it sees past what stands there.

use glam::DVec2;
use staging::{PieceKind, SetPiece, along};
use units::{Angle, Length};

use super::ground::{Ground, normal_of};
use crate::id::PersonId;
use crate::scene_blocking::{Line, LineSide, half_footprint, seen_from};

/// Room round a phone and whoever holds it, metres: chosen because shoulders and elbows need it.
const ROUND_THE_PHONE_M: f64 = 0.35;
/// As near as this to the line of sight somebody is in the way, metres: half a shoulder's breadth and some air.
const IN_THE_WAY_M: f64 = 0.30;
/// How far apart the points are at which a line of sight is tried, metres: chosen because no wall is much thinner.
const SIGHT_STEP_M: f64 = 0.10;
/// The most points tried along one line of sight: chosen because beyond 40 m nothing of a set stands.
const MOST_SIGHT_STEPS: u32 = 400;
/// A piece of this height is seen over, metres: chosen because phones stand at a chest's height and more.
const SEEN_OVER_M: f64 = 1.0;

/// Whether a piece fills that point of the floor, with `margin_m` round it.
fn fills(piece: &SetPiece, point: DVec2, margin_m: f64) -> bool {
    let off = seen_from(piece, point).abs();
    half_footprint(piece).is_some_and(|half| off.x <= half.x + margin_m && off.y <= half.y + margin_m)
}

/// Whether it hides what is behind it.
fn hides(piece: &SetPiece) -> bool {
    match piece.kind {
        PieceKind::Wall | PieceKind::Window | PieceKind::Hedge | PieceKind::Car => {
            piece.size.height.to_m() > SEEN_OVER_M
        }
        PieceKind::Doorway
        | PieceKind::Table
        | PieceKind::Bench
        | PieceKind::Tree
        | PieceKind::LampPost
        | PieceKind::Lights
        | PieceKind::Plant => false,
    }
}

/// Whether a phone has room there. Over a table or a bench it has, at arm's length from whoever holds it, but not on one.
pub(super) fn has_room(pieces: &[SetPiece], place: DVec2) -> bool {
    let margin_m = |piece: &SetPiece| {
        if piece.size.height.to_m() <= SEEN_OVER_M { 0.0 } else { ROUND_THE_PHONE_M }
    };
    !pieces.iter().any(|piece| fills(piece, place, margin_m(piece)))
}

/// Whether nothing of the set hides one point of the floor from another.
pub(super) fn sees(pieces: &[SetPiece], from: DVec2, to: DVec2) -> bool {
    let hiding: Vec<&SetPiece> = pieces.iter().filter(|piece| hides(piece)).collect();
    let length_m = from.distance(to);
    if hiding.is_empty() || length_m <= 0.0 {
        return true;
    }
    let step = (to - from) * (SIGHT_STEP_M / length_m);
    let mut at = from;
    for _ in 0..MOST_SIGHT_STEPS {
        if hiding.iter().any(|piece| fills(piece, at, 0.0)) {
            return false;
        }
        if at.distance(from) >= length_m {
            return true;
        }
        at += step;
    }
    true
}

/// How many of the others who are not part of a shot stand in its way, or where its phone would be.
pub(super) fn in_the_way(ground: &Ground<'_>, own: &[PersonId], phone: DVec2, subject: DVec2) -> u32 {
    let others = ground.people.iter().filter(|one| !own.contains(&one.who));
    let is_in_the_way = |place: DVec2| {
        let sight = subject - phone;
        let share = (place - phone).dot(sight) / sight.length_squared().max(1e-9);
        let nearest = phone + sight * share.clamp(0.0, 1.0);
        place.distance(nearest) < IN_THE_WAY_M
    };
    others.fold(0, |count, one| count + u32::from(is_in_the_way(one.person.place)))
}

/// The side of a line on which a phone has more places: within the scene's room, free of pieces, in sight of the middle.
/// Somebody else who is there counts too, because only from that side can their face be seen without crossing.
///
/// Where both are alike it is the one farther from walls, else the left.
pub(super) fn freer_side(ground: &Ground<'_>, axis: &Line) -> LineSide {
    let pieces = &ground.scene.blocking.pieces;
    let middle = ground.middle();
    let room_m = ground.scene.facts.room.map_or(4.0, Length::to_m);
    let score = |side: LineSide| -> u32 {
        let normal = normal_of(axis, side);
        let directions = [-50.0, -25.0, 0.0, 25.0, 50.0].map(|off| normal + Angle::from_deg(off));
        let places = directions.iter().flat_map(|direction| {
            [0.25, 0.5, 0.75, 1.0].map(|share| middle + along(*direction) * (room_m * share))
        });
        let free = places.fold(0, |count, place| {
            count + u32::from(has_room(pieces, place) && sees(pieces, place, middle))
        });
        let there = ground.people.iter().fold(0, |count, one| {
            count + u32::from(axis.side_of(one.person.place) == side && !ends_it(axis, one.person.place))
        });
        free + 4 * there
    };
    let off_walls_m = |side: LineSide| {
        let place = middle + along(normal_of(axis, side));
        let walls = pieces.iter().filter(|piece| hides(piece)).map(|wall| wall.place.distance(place));
        walls.fold(f64::INFINITY, f64::min)
    };
    let (left, right) = (score(LineSide::Left), score(LineSide::Right));
    let is_right = match right.cmp(&left) {
        std::cmp::Ordering::Greater => true,
        std::cmp::Ordering::Less => false,
        std::cmp::Ordering::Equal => off_walls_m(LineSide::Right) > off_walls_m(LineSide::Left) + 0.01,
    };
    if is_right { LineSide::Right } else { LineSide::Left }
}

/// Whether a place is one of the two that a line runs through.
fn ends_it(axis: &Line, place: DVec2) -> bool {
    place.distance(axis.from()) < 0.01 || place.distance(axis.to()) < 0.01
}
