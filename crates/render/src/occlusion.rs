//! How much of the sky's light neighbours keep away, smoothly and without further rays: what makes feet stand on a floor.
//!
//! What stands close together is taken for a ball, and a ball of radius `r` at distance `d` keeps away
//!
//! ```text
//! cos θ · (r / d)²
//! ```
//! of an even sky's light, `θ` between the surface's direction and the ball's (0 from a right angle on): the ball's form
//! factor, exact while the ball is wholly above the surface. Several balls multiply what they leave. So that a grid of
//! the floor finds the few that count, what a ball keeps away is let down to nothing at three radii.
//!
//! # Source
//! `Howell2010`.

use std::collections::BTreeMap;

use glam::{DVec2, DVec3};

use crate::beam::Middle;
use crate::cells::{Cells, Fineness, LITTLE_M, Rectangle, whole};
use crate::lanes::{Lanes, Vector, Vectors, all, each_place, least, most, narrow};
use crate::picture::{Shape, Solid, Surface};

/// The balls, and which of them count over each part of the floor.
#[derive(Debug, Clone)]
pub(crate) struct Occlusion {
    balls: Vec<Ball>,
    cells: Cells,
    /// Up, and how high the tracer's origin is above the floor, metres.
    up: Vector,
    lens_height: f32,
}

/// A ball that keeps light away, in the tracer's own directions.
#[derive(Debug, Clone, Copy)]
struct Ball {
    centre: Vector,
    radius_squared: f32,
}

/// Shapes whose middles lie in the same cube of this side, metres, are one ball: chosen because a head is one, a trunk two.
const TOGETHER_M: f64 = 0.3;
/// Larger shapes than this, metres to each side, are made up of several balls, and flatter ones of none.
const LARGE_M: f64 = 0.35;
/// Beyond this many radii a ball keeps nothing away.
const REACH: f32 = 3.0;
/// The share that a ball would keep away at its reach.
const LAST: f32 = 1.0 / (REACH * REACH);
/// What stands higher than this has no ball, metres: chosen because nobody looks for shade in a tree's crown.
const HIGHEST_M: f64 = 2.4;
/// Balls along each side of a large shape at most.
const MOST_BALLS: f64 = 24.0;
/// A limb's ball reaches about as far as a cell.
const FINENESS: Fineness = Fineness { cell_m: 0.25, most_cells: 256.0 };
/// Cells lie in layers of this height, metres, above each other, of which the last has no top: chosen because balls far above
/// or below a place are then left out, and lower layers take longer to fill than they save.
const LAYER_M: f64 = 0.6;
const LAST_LAYER: u8 = 3;

impl Occlusion {
    pub(crate) fn new(shapes: &[Shape], middle: &Middle) -> Self {
        let balls = balls(shapes);
        let lens = middle.world(DVec3::ZERO);
        let touched: Vec<_> = balls
            .iter()
            .map(|(centre, radius)| {
                let (place, reach) = ((*centre - lens).truncate(), radius * f64::from(REACH));
                let layers = (layer_of(centre.z - reach - LITTLE_M), layer_of(centre.z + reach + LITTLE_M));
                Rectangle { low: place - DVec2::splat(reach), high: place + DVec2::splat(reach), layers }
            })
            .collect();
        let directions = (Vector::new(middle.vector(DVec3::X)), Vector::new(middle.vector(DVec3::Y)));
        let balls = balls
            .iter()
            .map(|(centre, radius)| Ball {
                centre: Vector::new(middle.place(*centre)),
                radius_squared: narrow(radius * radius),
            })
            .collect();
        Self {
            balls,
            cells: Cells::new(directions, &touched, FINENESS),
            up: Vector::new(middle.vector(DVec3::Z)),
            lens_height: narrow(lens.z),
        }
    }

    /// The share of the sky's light that is left at surfaces that face `normal`; 1 for those that do not ask.
    pub(crate) fn left(&self, at: Vectors, normal: Vectors, asked: Lanes) -> Lanes {
        let mut left = Lanes::ONE;
        let height = at.dot(self.up.lanes()) + all(self.lens_height);
        let layer = least(height * all(narrow(1.0 / LAYER_M)), all(f32::from(LAST_LAYER)));
        let layer = whole(most(layer, Lanes::ZERO));
        each_place(self.cells.places(at, layer), asked, |cell, here| {
            for ball in self.cells.list(cell).iter().filter_map(|number| self.balls.get(*number as usize)) {
                if let Some(share) = ball.keeps_away(at, normal) {
                    left *= Lanes::ONE - (share & here);
                }
            }
        });
        left
    }
}

/// The layer at a height above the floor.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the layers")]
const fn layer_of(height: f64) -> u8 {
    (height / LAYER_M).max(0.0).min(LAST_LAYER as f64) as u8
}

impl Ball {
    /// The share of an even sky's light that it keeps away; none if that is nothing for all four places.
    fn keeps_away(&self, at: Vectors, normal: Vectors) -> Option<Lanes> {
        let towards = self.centre.lanes() - at;
        let square = towards.length_squared();
        if !square.simd_lt(all(self.radius_squared * (REACH * REACH))).any() {
            return None;
        }
        // Within the ball it is as on its surface.
        let per = Lanes::ONE / most(square, all(self.radius_squared));
        let share = most(all(self.radius_squared) * per - all(LAST), Lanes::ZERO) * all(1.0 / (1.0 - LAST));
        Some(most(normal.dot(towards), Lanes::ZERO) * per.sqrt() * share)
    }
}

/// The balls that stand in for shapes, in the world: in a fixed order.
fn balls(shapes: &[Shape]) -> Vec<(DVec3, f64)> {
    let mut small: BTreeMap<[u64; 3], (DVec3, DVec3)> = BTreeMap::new();
    let mut balls = Vec::new();
    for shape in shapes.iter().filter(|shape| matches!(shape.surface, Surface::Matt(_))) {
        let half = shape.moved / 2.0;
        let solid = shape.solid.mapped(|point| point + half, |vector| vector);
        let (low, high) = solid.extent();
        if low.z > HIGHEST_M {
            continue;
        }
        if (high - low).max_element() <= 2.0 * LARGE_M {
            let cube = ((low + high) / 2.0 / TOGETHER_M).floor();
            // Zero and minus zero are the same cube.
            let key = (cube + DVec3::splat(0.5)).to_array().map(f64::to_bits);
            let known = small.entry(key).or_insert((low, high));
            *known = (known.0.min(low), known.1.max(high));
        } else {
            fill(&solid, &mut balls);
        }
    }
    balls.extend(small.into_values().map(|(low, high)| {
        let half = (high - low) / 2.0;
        // The ball with the box's mean half side: neither a limb's length nor its breadth.
        ((low + high) / 2.0, libm::cbrt(half.x * half.y * half.z))
    }));
    balls
}

/// Fills a large solid with balls that touch; a flat one, as a wall, has none.
fn fill(solid: &Solid, balls: &mut Vec<(DVec3, f64)>) {
    match *solid {
        Solid::Ellipsoid { centre, axes }
        | Solid::Block { centre, axes }
        | Solid::Cylinder { centre, axes } => {
            let halves = axes.map(DVec3::length);
            let radius = halves.iter().copied().fold(f64::INFINITY, f64::min);
            if radius > LARGE_M / 2.0 {
                let steps = halves.map(|half| evenly(half, radius));
                for x in steps[0].clone() {
                    for y in steps[1].clone() {
                        let place = centre + axes[0] * x + axes[1] * y;
                        balls.extend(steps[2].clone().map(|z| (place + axes[2] * z, radius)));
                    }
                }
            }
        }
        Solid::RoundCone { from, from_radius, to, to_radius } => {
            let radius = f64::midpoint(from_radius, to_radius);
            let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
            let reach = half.length().max(radius);
            balls.extend(
                evenly(reach, radius.max(reach / MOST_BALLS)).map(|share| (middle + half * share, radius)),
            );
        }
    }
}

/// Places from -1 to 1 at which balls of `radius` side by side fill a length of twice `half`.
fn evenly(half: f64, radius: f64) -> impl Iterator<Item = f64> + Clone {
    let count = (half / radius).round().clamp(1.0, MOST_BALLS);
    let step = 2.0 / count;
    std::iter::successors(Some(step / 2.0 - 1.0), move |at| Some(at + step)).take_while(|at| *at < 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keeps(ball: Ball, y: f32, up: f32) -> f32 {
        let (at, normal) = (Vector { x: 0.0, y, z: 0.0 }, Vector { x: 0.0, y: up, z: 0.0 });
        ball.keeps_away(at.lanes(), normal.lanes()).map_or(0.0, |share| share.to_array()[0])
    }

    const BALL: Ball = Ball { centre: Vector { x: 0.0, y: 2.0, z: 0.0 }, radius_squared: 1.0 };

    #[test]
    fn a_ball_that_touches_keeps_all_away_and_a_far_one_nothing() {
        assert!((keeps(BALL, 1.0, 1.0) - 1.0).abs() < 1e-6);
        assert!((keeps(BALL, 0.0, 1.0) - (1.0 / 4.0 - 1.0 / 9.0) * 9.0 / 8.0).abs() < 1e-6);
        assert!(keeps(BALL, -2.0, 1.0).abs() < 1e-9);
    }

    #[test]
    fn what_a_surface_looks_away_from_keeps_nothing() {
        assert!(keeps(BALL, 0.0, -1.0).abs() < 1e-9);
    }

    #[test]
    fn a_long_box_is_a_row_of_balls() {
        let axes = [DVec3::X * 2.0, DVec3::Y * 0.5, DVec3::Z * 0.5];
        let mut balls = Vec::new();
        fill(&Solid::Block { centre: DVec3::ZERO, axes }, &mut balls);
        let expected = [-1.5, -0.5, 0.5, 1.5].map(|x| (DVec3::X * x, 0.5));
        assert_eq!(balls, expected);
    }

    #[test]
    fn a_wall_keeps_no_light_away_however_it_is_turned() {
        let axes = [DVec3::new(1.0, 1.0, 0.0), DVec3::new(0.1, -0.1, 0.0), DVec3::Z];
        let mut balls = Vec::new();
        fill(&Solid::Block { centre: DVec3::ZERO, axes }, &mut balls);
        assert_eq!(balls, []);
    }
}
