//! A wall with an open doorway, whose leaf stands open behind it.

use glam::DVec3;

use crate::set_piece::wall::{half_thickness, stretch};
use crate::set_piece::{DARK_WOOD, IRON, PLASTER, TRIM};
use crate::workshop::{Turn, Workshop};

/// How far a leaf is swung open, 100 degrees in radians: past square, so that its inner face is seen through the
/// opening.
const OPEN_RAD: f64 = 1.745;

/// Makes a wall with an open doorway; its leaf alone stands out of the wall's own box, behind it.
pub(super) fn make(workshop: &mut Workshop, size: DVec3) {
    // 0.9 by 2.05, where the wall has room for that.
    let half = (0.45_f64).min(0.36 * size.x);
    let lintel = (2.05_f64).min(0.88 * size.z);
    let thick = half_thickness(size.y);
    stretch(workshop, size, [-size.x / 2.0, -half], size.z);
    stretch(workshop, size, [half, size.x / 2.0], size.z);
    workshop.slab(DVec3::new(-half, -thick, lintel), DVec3::new(half, thick, size.z), PLASTER);

    let casing = (0.07_f64).min(0.2 * half);
    let proud = size.y / 2.0;
    let mut board = |from: [f64; 2], to: [f64; 2]| {
        workshop.slab(DVec3::new(from[0], -proud, from[1]), DVec3::new(to[0], proud, to[1]), TRIM);
    };
    board([-half - casing, 0.0], [-half, lintel + casing]);
    board([half, 0.0], [half + casing, lintel + casing]);
    board([-half, lintel], [half, lintel + casing]);

    // From its hinge on the left, into the room behind.
    let hinge = DVec3::new(-half + 0.02, -thick, 0.0);
    let turn = Turn::LEVEL.swung(-OPEN_RAD);
    let [broad, deep, foot] = [half - 0.02, 0.02, 0.008];
    let tall = (lintel - foot) / 2.0 - 0.004;
    let leaf = |x: f64, y: f64, z: f64| hinge + turn.of(DVec3::new(x, y, z));
    workshop.turned_block(leaf(broad, deep, foot + tall), turn, DVec3::new(broad, deep, tall), DARK_WOOD);
    let knob = leaf(2.0 * broad - 0.07, 2.0 * deep + 0.03, 0.5 * lintel);
    workshop.ball(knob, 0.028, IRON);
}
