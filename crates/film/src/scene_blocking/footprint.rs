//! What pieces of a set fill of the floor, and which ways lead through that.

use glam::DVec2;
use staging::{PieceKind, SetPiece, along};

use super::span::{Span, limited};
use super::way::Leg;

/// A tree is as thick as this where people stand, metres: chosen, as its size is its crown's.
const TRUNK_M: f64 = 0.5;
/// Half of a doorway's opening, metres: common practice for doors of 0.9 m.
pub(crate) const HALF_OPENING_M: f64 = 0.45;
/// A way is through a piece from this share of its width and depth inwards: chosen, so that who brushes it goes past.
const INWARDS: f64 = 0.98;

/// Half the width and half the depth of what a piece fills of the floor; none where it leaves all of it free.
pub(crate) fn half_footprint(piece: &SetPiece) -> Option<DVec2> {
    match piece.kind {
        // Between its poles a string of lights leaves the floor free.
        PieceKind::Lights => None,
        PieceKind::Tree => Some(DVec2::splat(TRUNK_M / 2.0)),
        PieceKind::Wall
        | PieceKind::Window
        | PieceKind::Doorway
        | PieceKind::Table
        | PieceKind::Bench
        | PieceKind::Hedge
        | PieceKind::Car
        | PieceKind::LampPost
        | PieceKind::Plant => Some(DVec2::new(piece.size.width.to_m(), piece.size.depth.to_m()) / 2.0),
    }
}

/// A direction of the floor in a piece's own: across its front to the right of who looks along its facing, and along that.
fn turned_to(piece: &SetPiece, way: DVec2) -> DVec2 {
    let ahead = along(piece.facing);
    DVec2::new(-ahead.perp_dot(way), way.dot(ahead))
}

/// A point of the floor from the middle of a piece, in the piece's own directions.
pub(crate) fn seen_from(piece: &SetPiece, point: DVec2) -> DVec2 {
    turned_to(piece, point - piece.place)
}

/// From which share to which a straight way between two points leads through a piece; none if it leads past it, or through
/// its doorway.
pub(crate) fn through(piece: &SetPiece, from: DVec2, to: DVec2) -> Option<Span> {
    let half = half_footprint(piece)? * INWARDS;
    let (from, way) = (seen_from(piece, from), turned_to(piece, to - from));
    let mut span = (0.0, 1.0);
    for (at, goes, half) in [(from.x, way.x, half.x), (from.y, way.y, half.y)] {
        span = limited(span, half + at, goes)?;
        span = limited(span, half - at, -goes)?;
    }
    let is_in_opening = |share: f64| (from.x + way.x * share).abs() < HALF_OPENING_M;
    let is_free = piece.kind == PieceKind::Doorway && is_in_opening(span.0) && is_in_opening(span.1);
    (span.0 < span.1 && !is_free).then_some(span)
}

/// When somebody comes into a piece who leaves it again; none if they go past it.
///
/// Whose walk starts or ends in one sits on it, or hides in it.
pub(crate) fn walked_through_s(piece: &SetPiece, walk: impl Iterator<Item = Leg>) -> Option<f64> {
    let mut came_in_s = None;
    for leg in walk {
        let inside = through(piece, leg.place, leg.place_at(leg.to_s));
        if let Some((comes, _)) = inside.filter(|(comes, _)| *comes > 0.0) {
            came_in_s = Some(leg.from_s + (leg.to_s - leg.from_s) * comes);
        }
        let stays = inside.is_some_and(|(_, leaves)| leaves >= 1.0);
        if !stays && came_in_s.is_some() {
            return came_in_s;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene_blocking::Way;
    use staging::PieceSize;
    use units::{Angle, Length};

    /// A piece two metres across and one deep, at (4, 1), that faces so.
    fn piece(kind: PieceKind, facing_deg: f64) -> SetPiece {
        let size =
            PieceSize { width: Length::from_m(2.0), depth: Length::from_m(1.0), height: Length::from_m(1.5) };
        SetPiece { kind, place: DVec2::new(4.0, 1.0), facing: Angle::from_deg(facing_deg), size }
    }

    /// When somebody who walks at 1 m/s from the origin through these corners goes through it.
    fn walked(piece: &SetPiece, corners: &[(f64, f64)]) -> Option<f64> {
        let corners = corners.iter().map(|corner| DVec2::from(*corner)).collect();
        let way = Way { corners, pace: Length::from_m(1.0), starts_s: 2.0 };
        walked_through_s(piece, way.walk(DVec2::ZERO))
    }

    #[test]
    fn who_goes_in_at_one_side_and_out_at_another_goes_through() {
        let hedge = piece(PieceKind::Hedge, 180.0);
        // North to its middle, then east: it fills x 3 to 5 and y 0.5 to 1.5.
        let came_in_s = walked(&hedge, &[(0.0, 1.0), (9.0, 1.0)]).expect("through it");
        assert!((came_in_s - 6.0).abs() < 0.03, "{came_in_s}");
        assert_eq!(walked(&hedge, &[(9.0, 0.0)]), None, "past it");
        assert_eq!(walked(&hedge, &[(0.0, 0.5), (9.0, 0.5)]), None, "along its face");
        assert!(walked(&hedge, &[(4.0, 1.0), (4.0, 9.0)]).is_some(), "a corner within it");
    }

    #[test]
    fn a_piece_that_is_turned_fills_what_it_is_turned_to() {
        // Facing east it is two metres from south to north, and one from west to east.
        let turned = piece(PieceKind::Wall, 90.0);
        assert!(walked(&turned, &[(0.0, 1.8), (9.0, 1.8)]).is_some());
        assert_eq!(walked(&piece(PieceKind::Wall, 0.0), &[(0.0, 1.8), (9.0, 1.8)]), None);
    }

    #[test]
    fn who_starts_or_ends_on_a_seat_does_not_go_through_it() {
        let bench = piece(PieceKind::Bench, 180.0);
        assert_eq!(walked(&bench, &[(4.0, 1.0)]), None, "sits down");
        let stands_up = Way { corners: vec![DVec2::new(9.0, 9.0)], pace: Length::from_m(1.0), starts_s: 0.0 };
        assert_eq!(walked_through_s(&bench, stands_up.walk(DVec2::new(4.0, 1.0))), None, "gets up");
    }

    #[test]
    fn a_doorway_is_open_in_its_middle_and_a_wall_beside_it() {
        let doorway = piece(PieceKind::Doorway, 180.0);
        let across = |x: f64| walked(&doorway, &[(x, 0.0), (x, 9.0)]);
        assert_eq!((across(3.6), across(4.4)), (None, None));
        assert!(across(3.5).is_some() && across(4.6).is_some(), "its wall");
        assert!(walked(&doorway, &[(2.0, 1.0), (9.0, 1.0)]).is_some(), "along the wall");
    }

    #[test]
    fn trees_and_lights_leave_most_of_their_floor_free() {
        let across = |kind, x: f64| walked(&piece(kind, 180.0), &[(x, 0.0), (x, 9.0)]).is_some();
        assert!(across(PieceKind::Tree, 4.2) && !across(PieceKind::Tree, 4.3), "the trunk alone");
        assert!(!across(PieceKind::Lights, 4.0));
    }
}
