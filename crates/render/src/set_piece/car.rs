//! A box as large as a car: a rounded body, a cabin and four wheels, and no make's look.

use glam::DVec3;

use crate::picture::Surface;
use crate::set_piece::IRON;
use crate::workshop::{Turn, Workshop, matt};

const PAINT: Surface = matt(0.30, 0.345, 0.36);
const GLASS: Surface = matt(0.045, 0.055, 0.062);
const HUB: Surface = matt(0.42, 0.42, 0.42);
const HEADLIGHT: Surface = matt(0.80, 0.79, 0.74);
const TAIL_LIGHT: Surface = matt(0.40, 0.035, 0.025);

/// A cylinder's length lies across the car, its section from front to back and up.
const ACROSS: Turn = Turn { x: DVec3::Y, y: DVec3::Z, z: DVec3::X };

/// Makes a car-like volume; its length is its depth.
pub(super) fn make(workshop: &mut Workshop, size: DVec3) {
    let half = size / 2.0;
    let wheel = (0.225 * size.z).min(0.09 * size.y);
    let low = 0.62 * wheel;
    let waist = 0.60 * size.z;
    let round = (waist - low) / 2.0;
    let nose = (1.15 * round).min(0.2 * size.y);
    // Wheels stand out of the body a little.
    let side_of_body = 0.965 * half.x;
    body(workshop, [side_of_body, half.y - nose, nose], [low, waist], PAINT);
    let rise = size.z - waist;
    cabin(workshop, size, waist, [1.0, 0.955 * rise, 0.86 * side_of_body], GLASS);
    cabin(workshop, size, waist + 0.42 * rise, [0.80, 0.58 * rise, 0.855 * side_of_body], PAINT);
    for side in [-1.0, 1.0] {
        // The post between the doors.
        let post = DVec3::new(side * 0.86 * side_of_body, -0.05 * size.y, waist + 0.45 * rise);
        workshop.block(post, DVec3::new(0.006, 0.018 * size.y, 0.45 * rise), PAINT);
        for end in [-0.61, 0.61] {
            let thick = 0.06 * size.x;
            let hub = DVec3::new(side * (half.x - thick - 0.003), end * half.y, wheel);
            workshop.turned_column(hub, ACROSS, DVec3::new(wheel, wheel, thick), IRON);
            let cap = DVec3::new(0.58 * wheel, 0.58 * wheel, 0.003);
            workshop.turned_column(hub + DVec3::X * (side * thick), ACROSS, cap, HUB);
        }
        let lamp =
            |end: f64| DVec3::new(side * 0.72 * half.x, end * (half.y - 0.36 * nose), low + 1.30 * round);
        let radii = DVec3::new(0.10 * size.x, 0.34 * nose, 0.22 * round);
        workshop.ellipsoid(lamp(1.0), radii, HEADLIGHT);
        workshop.ellipsoid(lamp(-1.0), radii, TAIL_LIGHT);
    }
}

/// A box with round ends: half its breadth, half its length without the ends, and their length.
fn body(workshop: &mut Workshop, [wide, long, end]: [f64; 3], [low, high]: [f64; 2], surface: Surface) {
    workshop.slab(DVec3::new(-wide, -long, low), DVec3::new(wide, long, high), surface);
    let round = DVec3::new(end, (high - low) / 2.0, wide);
    for side in [-1.0, 1.0] {
        let middle = DVec3::new(0.0, side * long, f64::midpoint(low, high));
        workshop.turned_column(middle, ACROSS, round, surface);
    }
}

/// The upper half of a box with round ends, on the body at `foot`: its share of the cabin's length, its height,
/// half its breadth.
fn cabin(workshop: &mut Workshop, size: DVec3, foot: f64, [long, high, wide]: [f64; 3], surface: Surface) {
    let (front, back) = (0.06 * size.y, -0.19 * size.y);
    workshop.slab(DVec3::new(-wide, back, foot), DVec3::new(wide, front, foot + high), surface);
    for (y, end) in [(front, 0.20), (back, 0.15)] {
        let round = DVec3::new(long * end * size.y, high, wide);
        workshop.turned_column(DVec3::new(0.0, y, foot), ACROSS, round, surface);
    }
}
