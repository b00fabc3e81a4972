//! A plain wall with a plinth.

use glam::DVec3;

use crate::set_piece::{PLASTER, PLINTH};
use crate::workshop::Workshop;

/// How far a plinth or a sill stands out of a wall, or less on a thin one.
const PROUD_M: f64 = 0.015;
/// How high a plinth is, or less on a low wall.
const PLINTH_M: f64 = 0.12;

/// Half the thickness of a wall that has trim on both sides within `depth_m`.
pub(super) fn half_thickness(depth_m: f64) -> f64 {
    depth_m / 2.0 - PROUD_M.min(0.1 * depth_m)
}

/// Makes a plain wall.
pub(super) fn make(workshop: &mut Workshop, size: DVec3) {
    stretch(workshop, size, [-size.x / 2.0, size.x / 2.0], size.z);
}

/// A stretch of a wall of that size with its plinth, from the floor up to `top`.
pub(super) fn stretch(workshop: &mut Workshop, size: DVec3, [from, to]: [f64; 2], top: f64) {
    let half = half_thickness(size.y);
    let foot = PLINTH_M.min(0.1 * size.z);
    workshop.slab(DVec3::new(from, -half, foot), DVec3::new(to, half, top), PLASTER);
    workshop.slab(DVec3::new(from, -size.y / 2.0, 0.0), DVec3::new(to, size.y / 2.0, foot), PLINTH);
}
