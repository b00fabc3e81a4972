//! What the place of a scene is made of, its light, and its north.

use film::SceneBlocking;
use glam::DVec2;
use language::say;
use staging::{Light, PieceKind, PieceSize, SetPiece};
use units::{Angle, Length};

use super::{full_turn, taped};

/// A side of the box that a piece fills.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::story::floor) enum Side {
    Width,
    Depth,
    Height,
}

/// The smallest and the largest side of a piece that files hold, metres.
const SIDES_M: (f64, f64) = (0.02, 200.0);

impl Side {
    /// All of them, as they are asked for.
    pub(in crate::story::floor) const ALL: [Self; 3] = [Self::Width, Self::Depth, Self::Height];

    /// In plain words.
    pub(in crate::story::floor) fn name(self) -> &'static str {
        match self {
            Self::Width => say!("Width"),
            Self::Depth => say!("Depth"),
            Self::Height => say!("Height"),
        }
    }
}

/// How long a side of a piece is.
pub(in crate::story::floor) const fn side_of(size: &PieceSize, side: Side) -> Length {
    match side {
        Side::Width => size.width,
        Side::Depth => size.depth,
        Side::Height => size.height,
    }
}

/// A piece comes elsewhere.
pub(in crate::story::floor) fn moves_piece(blocking: &SceneBlocking, at: usize, to: DVec2) -> SceneBlocking {
    with_piece(blocking, at, |piece| piece.place = taped(to))
}

/// A piece's front looks another way.
pub(in crate::story::floor) fn piece_faces(blocking: &SceneBlocking, at: usize, way: Angle) -> SceneBlocking {
    with_piece(blocking, at, |piece| piece.facing = full_turn(way))
}

/// A side of a piece gets another length, in metres.
pub(in crate::story::floor) fn sizes_piece(
    blocking: &SceneBlocking,
    at: usize,
    side: Side,
    metres: f64,
) -> SceneBlocking {
    with_piece(blocking, at, |piece| {
        let length = Length::from_m(metres.clamp(SIDES_M.0, SIDES_M.1));
        match side {
            Side::Width => piece.size.width = length,
            Side::Depth => piece.size.depth = length,
            Side::Height => piece.size.height = length,
        }
    })
}

/// Another piece of its usual size stands in a piece's place.
pub(in crate::story::floor) fn becomes(
    blocking: &SceneBlocking,
    at: usize,
    kind: PieceKind,
) -> SceneBlocking {
    with_piece(blocking, at, |piece| {
        if piece.kind != kind {
            (piece.kind, piece.size) = (kind, kind.usual_size());
        }
    })
}

/// A piece goes.
pub(in crate::story::floor) fn removes_piece(blocking: &SceneBlocking, at: usize) -> SceneBlocking {
    let mut changed = blocking.clone();
    if at < changed.pieces.len() {
        changed.pieces.remove(at);
    }
    changed
}

/// The light of the scene is another.
pub(in crate::story::floor) fn set_light(blocking: &SceneBlocking, light: Light) -> SceneBlocking {
    let light = match light {
        Light::Sun { azimuth, elevation } => Light::Sun { azimuth: full_turn(azimuth), elevation },
        Light::Overcast | Light::Dusk => light,
    };
    SceneBlocking { light, ..blocking.clone() }
}

/// The earth's north is elsewhere on the floor.
pub(in crate::story::floor) fn set_north(blocking: &SceneBlocking, north: Angle) -> SceneBlocking {
    SceneBlocking { north: full_turn(north), ..blocking.clone() }
}

fn with_piece(blocking: &SceneBlocking, at: usize, change: impl FnOnce(&mut SetPiece)) -> SceneBlocking {
    let mut changed = blocking.clone();
    if let Some(piece) = changed.pieces.get_mut(at) {
        change(piece);
    }
    changed
}

#[cfg(test)]
mod tests {
    use super::*;

    fn furnished() -> SceneBlocking {
        let kind = PieceKind::Table;
        let table = SetPiece { kind, place: DVec2::ZERO, facing: Angle::ZERO, size: kind.usual_size() };
        SceneBlocking { pieces: vec![table], ..SceneBlocking::default() }
    }

    #[test]
    fn a_side_stays_within_what_files_hold() {
        for (asked, kept) in [(-1.0, 0.02), (2.0, 2.0), (900.0, 200.0)] {
            for side in Side::ALL {
                let sized = sizes_piece(&furnished(), 0, side, asked);
                let length = side_of(&sized.pieces[0].size, side).to_m();
                assert!((length - kept).abs() < 1e-12, "{side:?} {asked}: {length}");
            }
        }
    }

    #[test]
    fn another_kind_has_its_own_size() {
        let tree = becomes(&furnished(), 0, PieceKind::Tree);
        assert_eq!(tree.pieces[0].size, PieceKind::Tree.usual_size());
        let sized = sizes_piece(&furnished(), 0, Side::Width, 2.0);
        assert_eq!(becomes(&sized, 0, PieceKind::Table), sized);
    }

    #[test]
    fn what_is_not_there_is_not_changed() {
        let before = furnished();
        assert_eq!(moves_piece(&before, 3, DVec2::ONE), before);
        assert_eq!(removes_piece(&before, 3), before);
        assert_eq!(removes_piece(&before, 0).pieces, []);
    }

    #[test]
    fn a_turn_stays_within_one() {
        assert_eq!(
            piece_faces(&furnished(), 0, Angle::from_deg(-90.0)).pieces[0].facing,
            Angle::from_deg(270.0)
        );
    }
}
