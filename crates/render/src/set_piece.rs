//! The generic pieces of a set, each within the box that its size gives.
//!
//! Own directions: x across the front, y towards the front, z up. Measures that a size does not give are common
//! practice for such things, and matt tones are those of an architect's model.

mod bench;
mod car;
mod doorway;
mod greenery;
mod lamps;
mod object;
mod plant;
mod posts;
mod table;
mod wall;
mod window;

use std::f64::consts::TAU;

use glam::DVec3;
use staging::{PieceKind, PieceSize, SetPiece};

use crate::picture::{Shape, Surface};
use crate::workshop::{Workshop, matt};

pub(crate) use object::object;
pub(crate) use posts::posts;

/// A piece of a set.
pub(crate) fn set_piece(piece: &SetPiece) -> Vec<Shape> {
    let mut workshop = Workshop::at(piece.place, piece.facing);
    let size = extent(&piece.size);
    match piece.kind {
        PieceKind::Wall => wall::make(&mut workshop, size),
        PieceKind::Window => window::make(&mut workshop, size, &piece.size.window()),
        PieceKind::Doorway => doorway::make(&mut workshop, size),
        PieceKind::Table => table::make(&mut workshop, size),
        PieceKind::Bench => bench::make(&mut workshop, size),
        PieceKind::Tree => greenery::make_tree(&mut workshop, size),
        PieceKind::Hedge => greenery::make_hedge(&mut workshop, size),
        PieceKind::Car => car::make(&mut workshop, size),
        PieceKind::LampPost => lamps::make_lamp_post(&mut workshop, size),
        PieceKind::Lights => lamps::make_lights(&mut workshop, size),
        PieceKind::Plant => plant::make(&mut workshop, size),
    }
    workshop.into_shapes()
}

/// Full width, depth and height in metres.
fn extent(size: &PieceSize) -> DVec3 {
    DVec3::new(size.width.to_m(), size.depth.to_m(), size.height.to_m())
}

/// The angle that spreads leaves evenly about a stem: a turn over the golden ratio squared.
const GOLDEN_RAD: f64 = TAU * 0.381_966;

const PLASTER: Surface = matt(0.56, 0.52, 0.455);
const TRIM: Surface = matt(0.66, 0.64, 0.60);
const PLINTH: Surface = matt(0.34, 0.315, 0.28);
const WOOD: Surface = matt(0.36, 0.235, 0.14);
const DARK_WOOD: Surface = matt(0.20, 0.125, 0.075);
const IRON: Surface = matt(0.055, 0.055, 0.058);

impl Workshop {
    /// A box between two corners.
    fn slab(&mut self, from: DVec3, to: DVec3, surface: Surface) {
        self.block((from + to) / 2.0, (to - from) / 2.0, surface);
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec2;
    use proptest::prelude::*;
    use units::{Angle, Length};

    use super::*;

    const KINDS: [(PieceKind, [f64; 3]); 11] = [
        (PieceKind::Wall, [4.0, 0.2, 2.6]),
        (PieceKind::Window, [3.0, 0.2, 2.6]),
        (PieceKind::Doorway, [2.0, 0.2, 2.6]),
        (PieceKind::Table, [1.4, 0.8, 0.75]),
        (PieceKind::Bench, [1.6, 0.55, 0.85]),
        (PieceKind::Tree, [3.5, 3.5, 5.5]),
        (PieceKind::Hedge, [3.0, 0.7, 1.2]),
        (PieceKind::Car, [1.8, 4.4, 1.5]),
        (PieceKind::LampPost, [0.5, 0.5, 4.0]),
        (PieceKind::Lights, [6.0, 0.2, 3.0]),
        (PieceKind::Plant, [0.5, 0.5, 1.2]),
    ];

    fn piece(kind: PieceKind, [width, depth, height]: [f64; 3]) -> SetPiece {
        let size = PieceSize {
            width: Length::from_m(width),
            depth: Length::from_m(depth),
            height: Length::from_m(height),
        };
        SetPiece { kind, place: DVec2::ZERO, facing: Angle::ZERO, size }
    }

    /// The box around all of them.
    fn extent_of(shapes: &[Shape]) -> (DVec3, DVec3) {
        shapes
            .iter()
            .map(|shape| shape.solid.extent())
            .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), (lower, higher)| {
                (low.min(lower), high.max(higher))
            })
    }

    proptest! {
        #[test]
        fn a_piece_fills_its_box_and_stands_on_the_floor(
            number in 0..KINDS.len(), wide in 0.6..1.6_f64, deep in 0.6..1.6_f64, tall in 0.6..1.6_f64,
        ) {
            let (kind, [width, depth, height]) = KINDS[number];
            let size = [width * wide, depth * deep, height * tall];
            let (low, high) = extent_of(&set_piece(&piece(kind, size)));
            let [width, depth, height] = size;
            let slack = 0.002;
            prop_assert!(low.z > -slack && low.z < 0.02, "{kind:?} {low} {high} {size:?}");
            prop_assert!(high.z < height + slack && high.z > 0.97 * height, "{kind:?} {low} {high} {size:?}");
            prop_assert!(high.x.max(-low.x) < width / 2.0 + slack, "{kind:?} {low} {high} {size:?}");
            prop_assert!(high.x - low.x > 0.75 * width, "{kind:?} {low} {high} {size:?}");
            // A doorway's open leaf stands out behind.
            let behind = if kind == PieceKind::Doorway { 1.0 } else { 0.0 };
            prop_assert!(high.y < depth / 2.0 + slack, "{kind:?} {low} {high} {size:?}");
            prop_assert!(low.y > -depth / 2.0 - behind - slack, "{kind:?} {low} {high} {size:?}");
        }
    }

    #[test]
    fn pieces_are_made_of_few_shapes() {
        for (kind, size) in KINDS {
            let count = set_piece(&piece(kind, size)).len();
            assert!((1..=64).contains(&count), "{kind:?} {count}");
        }
    }

    #[test]
    fn a_bench_has_its_back_behind() {
        let bench = set_piece(&piece(PieceKind::Bench, [1.6, 0.55, 0.85]));
        let high: Vec<_> = bench.iter().filter(|shape| shape.solid.extent().1.z > 0.7).collect();
        assert!(!high.is_empty(), "{bench:?}");
        for shape in high {
            let (low, top) = shape.solid.extent();
            assert!(low.y + top.y < 0.0, "{shape:?}");
        }
    }

    #[test]
    fn a_turned_piece_turns_clockwise() {
        // The back of a bench that faces east is in the west.
        let east = SetPiece { facing: Angle::from_deg(90.0), ..piece(PieceKind::Bench, [1.6, 0.55, 0.85]) };
        let shapes = set_piece(&east);
        let extents = shapes.iter().map(|shape| shape.solid.extent());
        let highest = extents.max_by(|(_, one), (_, other)| one.z.total_cmp(&other.z));
        let (low, high) = highest.expect("has shapes");
        assert!(low.x + high.x < -0.1, "{low} {high}");
    }

    #[test]
    fn a_window_and_a_doorway_let_one_look_through() {
        for (kind, up) in [(PieceKind::Window, 1.7), (PieceKind::Doorway, 1.0)] {
            let shapes = set_piece(&piece(kind, [3.0, 0.2, 2.6]));
            // Beside the middle, where a window has a bar.
            let [x, z] = [0.2, up];
            let blocked = shapes.iter().any(|shape| {
                let (low, high) = shape.solid.extent();
                (low.x..high.x).contains(&x) && (low.z..high.z).contains(&z)
            });
            assert!(!blocked, "{kind:?}");
        }
    }
}
