//! A tree and a hedge: lumps of leaves.

use std::f64::consts::TAU;

use glam::DVec3;

use crate::picture::Surface;
use crate::set_piece::GOLDEN_RAD;
use crate::workshop::{Workshop, matt};

const BARK: Surface = matt(0.135, 0.10, 0.072);
/// Leaves in three tones, so that lumps part from each other.
const LEAVES: [Surface; 3] =
    [matt(0.105, 0.150, 0.058), matt(0.135, 0.180, 0.068), matt(0.080, 0.122, 0.050)];

fn leaves(number: u8) -> Surface {
    let [one, two, three] = LEAVES;
    match number % 3 {
        0 => one,
        1 => two,
        _ => three,
    }
}

/// Makes a tree with a round crown.
pub(super) fn make_tree(workshop: &mut Workshop, size: DVec3) {
    let clear = 0.34 * size.z;
    let crown = DVec3::new(size.x / 2.0, size.y / 2.0, (size.z - clear) / 2.0);
    let middle = DVec3::Z * (size.z - crown.z);
    let trunk = 0.028 * size.z.min(2.0 * size.x.min(size.y));
    let fork = DVec3::new(0.02 * size.x, 0.0, 1.10 * clear);
    workshop.round_cone((DVec3::Z * (1.2 * trunk), 1.2 * trunk), (fork, 0.75 * trunk), BARK);
    workshop.round_cone((fork, 0.75 * trunk), (middle + DVec3::Z * (0.3 * crown.z), 0.3 * trunk), BARK);
    for number in 0_u8..4 {
        let angle = 0.6 + f64::from(number) * TAU / 4.0;
        let tip = middle + DVec3::new(libm::cos(angle) * 0.55, libm::sin(angle) * 0.55, -0.1) * crown;
        let start = fork.lerp(DVec3::Z * clear, 0.2 * f64::from(number));
        workshop.round_cone((start, 0.45 * trunk), (tip, 0.2 * trunk), BARK);
    }
    // A spiral over the crown from its top to its foot: large lumps within, small ones around them.
    let spiral = |number: f64, count: f64, out: f64| {
        let up = 1.0 - 2.0 * (number + 0.5) / count;
        let ring = libm::sqrt(1.0 - up * up);
        let angle = number * GOLDEN_RAD;
        DVec3::new(ring * libm::cos(angle), ring * libm::sin(angle), up) * out
    };
    workshop.ellipsoid(middle, crown * 0.62, leaves(2));
    for number in 0_u8..12 {
        let at = spiral(f64::from(number), 12.0, 0.56);
        let radius = 0.40 + 0.04 * f64::from(number % 2);
        workshop.ellipsoid(middle + at * crown, crown * radius, leaves(number));
    }
    for number in 0_u8..26 {
        let out = 0.76 + 0.02 * f64::from(number % 4);
        let at = spiral(f64::from(number), 26.0, out);
        let radius = 0.17 + 0.02 * f64::from(number % 3);
        workshop.ellipsoid(middle + at * crown, crown * radius.min(1.0 - out), leaves(number + 1));
    }
}

/// Makes a hedge: a clipped body with lumps of leaves out of its top and sides.
pub(super) fn make_hedge(workshop: &mut Workshop, size: DVec3) {
    let half = size / 2.0;
    let body = DVec3::new(half.x - 0.06 * size.y, 0.38 * size.y, 0.43 * size.z);
    workshop.block(DVec3::Z * body.z, body, leaves(2));
    // Lumps about as long as the hedge is deep, at least four and at most twelve in a row.
    let mut count = 4_u8;
    while count < 12 && f64::from(count) * 0.55 * size.y < size.x {
        count += 1;
    }
    let pitch = size.x / f64::from(count);
    for number in 0..count {
        let x = -half.x + (f64::from(number) + 0.5) * pitch;
        let uneven = 0.02 * f64::from(number * 5 % 3);
        let long = if number == 0 || number + 1 == count { 0.5 * pitch } else { 0.74 * pitch };
        let high = 0.22 * size.z;
        workshop.ellipsoid(
            DVec3::new(x, 0.0, size.z * (1.0 - uneven) - high),
            DVec3::new(long, 0.47 * size.y, high),
            leaves(number),
        );
        for (row, side) in (0_u8..).zip([-1.0, 1.0]) {
            let up = if (number + row).is_multiple_of(2) { 0.38 } else { 0.56 };
            let bulge = 0.24 * size.y;
            workshop.ellipsoid(
                DVec3::new(x, side * (half.y - bulge), up * size.z),
                DVec3::new(long, bulge, 0.375 * size.z),
                leaves(number + row + 1),
            );
        }
    }
}
