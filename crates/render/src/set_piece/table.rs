//! A table: a top, its rails and four legs.

use glam::DVec3;

use crate::set_piece::{DARK_WOOD, WOOD};
use crate::workshop::Workshop;

/// How thick a table's top is.
const TOP_M: f64 = 0.035;

/// Makes a table.
pub(super) fn make(workshop: &mut Workshop, size: DVec3) {
    let half = DVec3::new(size.x / 2.0, size.y / 2.0, 0.0);
    let under = size.z - TOP_M.min(0.1 * size.z);
    workshop.slab(-half + DVec3::Z * under, half + DVec3::Z * size.z, WOOD);
    let leg = (0.028_f64).min(0.06 * size.x.min(size.y));
    let inset = 0.03 + leg;
    let (x, y) = ((half.x - inset).max(leg), (half.y - inset).max(leg));
    for (right, forward) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
        workshop.block(
            DVec3::new(right * x, forward * y, under / 2.0),
            DVec3::new(leg, leg, under / 2.0),
            DARK_WOOD,
        );
    }
    let rail = (0.08_f64).min(0.12 * size.z) / 2.0;
    for side in [-1.0, 1.0] {
        workshop.block(DVec3::new(0.0, side * y, under - rail), DVec3::new(x, 0.010, rail), DARK_WOOD);
        workshop.block(DVec3::new(side * x, 0.0, under - rail), DVec3::new(0.010, y, rail), DARK_WOOD);
    }
}
