//! A wall with a window in it: frame, sill and glazing bars around an opening that one looks through.

use glam::DVec3;
use staging::Opening;
use units::Length;

use crate::set_piece::wall::{half_thickness, stretch};
use crate::set_piece::{PLASTER, TRIM};
use crate::workshop::Workshop;

/// The breadth of a window's frame and of the bars across it.
const FRAME_M: f64 = 0.06;
const BAR_M: f64 = 0.03;

/// Makes a wall with a window.
pub(super) fn make(workshop: &mut Workshop, size: DVec3, opening: &Opening) {
    let [half, sill, lintel] = [opening.half_width, opening.sill, opening.lintel].map(Length::to_m);
    let thick = half_thickness(size.y);
    stretch(workshop, size, [-size.x / 2.0, -half], size.z);
    stretch(workshop, size, [half, size.x / 2.0], size.z);
    stretch(workshop, size, [-half, half], sill);
    workshop.slab(DVec3::new(-half, -thick, lintel), DVec3::new(half, thick, size.z), PLASTER);

    let board = 0.04;
    workshop.slab(DVec3::new(-half, -size.y / 2.0, sill), DVec3::new(half, size.y / 2.0, sill + board), TRIM);
    let frame = FRAME_M.min(0.12 * half);
    let deep = (0.4 * thick).min(0.05);
    let foot = sill + board;
    let mut bar = |from: [f64; 2], to: [f64; 2], deep: f64| {
        let [from, to] = [DVec3::new(from[0], -deep, from[1]), DVec3::new(to[0], deep, to[1])];
        workshop.slab(from, to, TRIM);
    };
    bar([-half, foot], [-half + frame, lintel], deep);
    bar([half - frame, foot], [half, lintel], deep);
    bar([-half + frame, foot], [half - frame, foot + frame], deep);
    bar([-half + frame, lintel - frame], [half - frame, lintel], deep);
    let thin = 0.5 * BAR_M.min(frame);
    let cross = foot + 0.62 * (lintel - foot);
    bar([-thin, foot + frame], [thin, lintel - frame], 0.6 * deep);
    bar([-half + frame, cross - thin], [half - frame, cross + thin], 0.5 * deep);
}
