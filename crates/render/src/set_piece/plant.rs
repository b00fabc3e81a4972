//! A potted plant: a pot and long leaves that arch out of it.

use glam::DVec3;

use crate::picture::Surface;
use crate::set_piece::GOLDEN_RAD;
use crate::workshop::{Turn, Workshop, matt};

const CLAY: Surface = matt(0.40, 0.185, 0.105);
const SOIL: Surface = matt(0.05, 0.038, 0.030);
const LEAF: Surface = matt(0.095, 0.155, 0.060);
const PALE_LEAF: Surface = matt(0.145, 0.205, 0.085);
const STALK: Surface = matt(0.11, 0.14, 0.06);

/// Leaves: how far out the tip gets, as a share of the box, and how high it is between pot and top.
const LEAVES: [[f64; 2]; 13] = [
    [0.10, 1.00],
    [0.42, 0.93],
    [0.50, 0.86],
    [0.40, 0.90],
    [0.66, 0.74],
    [0.74, 0.66],
    [0.62, 0.78],
    [0.84, 0.48],
    [0.88, 0.40],
    [0.80, 0.52],
    [0.86, 0.28],
    [0.90, 0.20],
    [0.88, 0.32],
];

/// Makes a potted plant.
pub(super) fn make(workshop: &mut Workshop, size: DVec3) {
    let reach = size.x.min(size.y) / 2.0;
    let rim = 0.62 * reach;
    let pot = (0.28 * size.z).min(2.2 * rim);
    workshop.column(DVec3::Z * (0.5 * pot), DVec3::new(0.9 * rim, 0.9 * rim, 0.5 * pot), CLAY);
    let lip = 0.07 * pot;
    workshop.column(DVec3::Z * (pot - lip), DVec3::new(rim, rim, lip), CLAY);
    workshop.column(DVec3::Z * pot, DVec3::new(0.88 * rim, 0.88 * rim, 0.004), SOIL);
    for (number, [out, up]) in (0_u8..).zip(LEAVES) {
        let angle = f64::from(number) * GOLDEN_RAD;
        let (cos, sin) = (libm::cos(angle), libm::sin(angle));
        let root = DVec3::new(0.10 * rim * cos, 0.10 * rim * sin, pot);
        let tip = DVec3::new(out * cos * size.x / 2.0, out * sin * size.y / 2.0, pot + up * (size.z - pot));
        // A stalk that rises, and a blade that leans out from its end.
        let bend = root.lerp(tip, 0.38) + DVec3::Z * (0.10 * (1.0 - up) * (size.z - pot));
        workshop.round_cone((root, 0.012 * reach.max(0.2)), (bend, 0.009 * reach.max(0.2)), STALK);
        let blade = tip - bend;
        let turn = Turn::along(blade, DVec3::new(-sin, cos, 0.0));
        let half = 0.5 * blade.length();
        let radii = DVec3::new((0.24 * half).max(0.13 * reach), half, 0.012 * half);
        let surface = if number % 3 == 1 { PALE_LEAF } else { LEAF };
        workshop.turned_ellipsoid((bend + tip) / 2.0, turn, radii, surface);
    }
}
