//! A bench with a back: slats on two iron frames.

use glam::DVec3;

use crate::set_piece::{IRON, WOOD};
use crate::workshop::{Turn, Workshop};

/// How high a seat is: 0.45, common practice, or lower on a low bench.
const SEAT_M: f64 = 0.45;
/// How far the back leans, radians.
const LEAN_RAD: f64 = 0.16;

/// Makes a bench that one sits on looking to the front.
pub(super) fn make(workshop: &mut Workshop, size: DVec3) {
    let half = size / 2.0;
    let seat = SEAT_M.min(0.55 * size.z);
    let thick = (0.018_f64).min(0.05 * size.y);
    // Seat slats, from the front edge to before the back.
    let deep = 0.74 * size.y;
    let slat = deep / 4.0 - 0.012;
    for number in 0_u8..4 {
        let y = half.y - deep * (f64::from(number) + 0.5) / 4.0;
        workshop.block(DVec3::new(0.0, y, seat - thick), DVec3::new(half.x, slat / 2.0, thick), WOOD);
    }
    // The back leans from the end of the seat to the box's own back.
    let tall = size.z - seat;
    let turn = Turn::LEVEL.pitched(LEAN_RAD);
    let top = DVec3::new(0.0, -half.y + 0.045, size.z - 0.004);
    let board = (0.22 * tall).min(0.06);
    let back = |down: f64| top - turn.z * (board + down);
    for down in [0.0, 0.32 * tall, 0.64 * tall] {
        workshop.turned_block(back(down), turn, DVec3::new(half.x, 0.5 * thick, board), WOOD);
    }
    for side in [-1.0, 1.0] {
        let x = side * (half.x - 0.12_f64.min(0.15 * size.x));
        let iron = 0.018;
        let at = |y: f64, z: f64| DVec3::new(x, y, z);
        let knee = at(-half.y + 0.09_f64.min(0.2 * size.y), seat - 3.0 * thick);
        workshop.round_cone(
            (at(half.y - 0.06, iron), iron),
            (at(half.y - 0.05, seat - 3.0 * thick), iron),
            IRON,
        );
        workshop.round_cone((at(-half.y + 0.04, iron), iron), (knee, iron), IRON);
        workshop.round_cone((at(half.y - 0.05, seat - 3.0 * thick), iron), (knee, iron), IRON);
        let head = top.with_x(x) - turn.z * 0.04 - turn.y * (iron + 0.5 * thick);
        workshop.round_cone((knee, iron), (head.max(at(-half.y + iron, 0.0)), iron), IRON);
    }
}
