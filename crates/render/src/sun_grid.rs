//! The sun, and which shapes can stand between it and a place: a grid across the sun's direction.

use glam::{DVec2, DVec3};

use crate::beam::Middle;
use crate::cells::{Cells, Fineness, LITTLE_M, Places, Rectangle};
use crate::lanes::{Lanes, Vector, Vectors, all, narrow};
use crate::picture::{Solid, Sun};
use crate::shade::light;
use crate::solid::Rays;

/// The sun as the tracer has it.
#[derive(Debug, Clone)]
pub(crate) struct Sunlight {
    pub(crate) direction: Vector,
    pub(crate) light: Vector,
    /// The tangent of half its angle.
    spread: f32,
    /// Two directions across the sun's and square to each other.
    across: Vector,
    up: Vector,
    /// What can shade, from the sun's side on.
    shades: Vec<Shade>,
    /// For every part of the plane across the sun's direction, what can shade it.
    cells: Cells,
}

/// A shape that can stand in the sun's way.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shade {
    /// Its place among the picture's shapes.
    pub(crate) shape: u32,
    /// How far it reaches towards the sun.
    pub(crate) top: f32,
}

/// A head is about as large as a cell.
const FINENESS: Fineness = Fineness { cell_m: 0.12, most_cells: 256.0 };
/// The sun counts as at least this high, as a sine, when it is asked how far shadows reach: chosen because lower ones
/// are longer than any set.
const LOWEST: f64 = 0.02;

impl Sunlight {
    /// `shapes` are solids in the tracer's own directions in the middle of the exposure, and how far each moves.
    pub(crate) fn new(sun: &Sun, middle: &Middle, shapes: &[(Solid, DVec3)]) -> Self {
        let spread = libm::tan(sun.half_angle_rad);
        let direction = middle.vector(sun.direction);
        let across = direction.any_orthonormal_vector();
        let up = direction.cross(across);
        let vertical = middle.vector(DVec3::Z);
        let floor = -middle.world(DVec3::ZERO).z;
        let top = |(solid, moved): &(Solid, DVec3)| {
            solid.interval(direction).1 + moved.dot(direction).abs() / 2.0 + LITTLE_M
        };
        let mut shades: Vec<Shade> =
            (0_u32..).zip(shapes).map(|(shape, one)| Shade { shape, top: narrow(top(one)) }).collect();
        shades.sort_unstable_by(|one, other| other.top.total_cmp(&one.top).then(one.shape.cmp(&other.shape)));
        let touched: Vec<_> = shades
            .iter()
            .filter_map(|shade| shapes.get(shade.shape as usize))
            .map(|(solid, moved)| {
                // A shadow's edge grows as far as the light goes on, and that is to the floor at most.
                let height = (solid.interval(vertical).1 - floor).max(0.0);
                let edge = height / sun.direction.z.max(LOWEST) * spread;
                let span = |direction: DVec3| {
                    let (least, most) = solid.interval(direction);
                    let way = moved.dot(direction).abs() / 2.0 + edge;
                    (least - way, most + way)
                };
                let (wide, high) = (span(across), span(up));
                Rectangle {
                    low: DVec2::new(wide.0, high.0),
                    high: DVec2::new(wide.1, high.1),
                    layers: (0, 0),
                }
            })
            .collect();
        let (across, up) = (Vector::new(across), Vector::new(up));
        Self {
            direction: Vector::new(direction),
            light: light(sun.light),
            spread: narrow(spread),
            across,
            up,
            shades,
            cells: Cells::new((across, up), &touched, FINENESS),
        }
    }

    /// The part of the plane that each of four places lies on.
    pub(crate) fn places(&self, from: Vectors) -> Places {
        self.cells.places(from, Lanes::ZERO)
    }

    /// What can shade a part of the plane, from the sun's side on.
    pub(crate) fn shades(&self, place: usize) -> impl Iterator<Item = Shade> {
        self.cells.list(place).iter().filter_map(|shade| self.shades.get(*shade as usize).copied())
    }

    /// Directions to points of the sun's disc, given as points of the unit disc, as rays from the tracer's origin.
    pub(crate) fn towards(&self, (across, up): (Lanes, Lanes)) -> Rays {
        let spread = all(self.spread);
        let beside = self.across.lanes() * (across * spread) + self.up.lanes() * (up * spread);
        Rays::new(Vector::ZERO.lanes(), self.direction.lanes() + beside)
    }
}
