//! Sky, floor, the metre grid on it, and the band of it that is sharp.

use glam::{DVec2, DVec3};
use units::Length;

use crate::draw::palette::Palette;
use crate::draw::perspective::{Perspective, Rectangle};
use crate::draw::sketch::Sketch;
use crate::scene::Scene;

/// Grid lines closer to each other than this, in pixels, are left out: they would shimmer.
const CLOSEST_PX: f64 = 3.0;
/// No grid beyond this distance: a metre means nothing there.
const FARTHEST_M: f64 = 80.0;
/// The grid fades in rings: up to that share of its reach, at that strength.
const RINGS: [(f64, f64); 3] = [(0.40, 0.85), (0.72, 0.50), (1.0, 0.22)];
/// Chalk strokes of the sharp band: their distance and slant in pixels.
const HATCH_PX: f64 = 13.0;
const HATCH_SLANT: f64 = 1.1;

/// Sky above the horizon and floor below it.
pub(super) fn draw_sky_and_floor(sketch: &Sketch<'_>, palette: &Palette, perspective: &Perspective) {
    let Rectangle { left, top, width, .. } = perspective.rectangle;
    let bottom = perspective.rectangle.bottom();
    let horizon = perspective.horizon().clamp(top, bottom);
    let context = sketch.context;
    context.set_fill_style_str(&palette.sky);
    context.fill_rect(left, top, width, horizon - top);
    context.set_fill_style_str(&palette.floor);
    context.fill_rect(left, horizon, width, bottom - horizon);
}

/// The metre grid, every fifth line drawn over again, fading with distance.
pub(super) fn draw_grid(sketch: &Sketch<'_>, palette: &Palette, perspective: &Perspective, small: bool) {
    let eye = perspective.camera.position();
    let look = perspective.camera.forward().truncate().normalize_or(DVec2::Y);
    let closest = if small { 2.0 * CLOSEST_PX } else { CLOSEST_PX };
    let spacings: &[f64] = if small { &[1.0] } else { &[1.0, 5.0] };
    let mut inner = 0.0;
    for (outer, strength) in RINGS {
        sketch.begin();
        for &spacing in spacings {
            for along in [DVec2::X, DVec2::Y] {
                let reach = grid_reach(perspective, spacing, closest, along.dot(look).abs());
                grid_lines(eye.truncate(), along, spacing, (reach * inner, reach * outer), |from, to| {
                    if let Some((from, to)) = perspective.segment(from, to) {
                        sketch.line(from, to);
                    }
                });
            }
        }
        sketch.context.set_global_alpha(strength);
        sketch.stroke(&palette.floor_line, if palette.heavier { 1.2 } else { 1.0 });
        inner = outer;
    }
    sketch.context.set_global_alpha(1.0);
}

/// How far lines of the grid are told apart; `ahead` is 1 for lines that run away from the phone, 0 for lines across.
///
/// ```text
/// F g h / z² = closest
/// ```
/// `F` pixels of a unit of tangent; `g` spacing; `h` the lens's height; `z` distance: rows of the floor h / z apart in
/// tangent move by g h / z². Lines that run away keep apart farther than that.
fn grid_reach(perspective: &Perspective, spacing: f64, closest_px: f64, ahead: f64) -> f64 {
    let height = perspective.camera.position().z.max(0.05);
    let across = (perspective.px_per_m(1.0) * spacing * height / closest_px).sqrt();
    (across * (1.0 + 1.2 * ahead)).min(FARTHEST_M)
}

/// The floor's lines in direction `along`, those parts that are between two distances from `eye`.
fn grid_lines(
    eye: DVec2,
    along: DVec2,
    spacing: f64,
    (inner, outer): (f64, f64),
    mut line: impl FnMut(DVec3, DVec3),
) {
    let aside = along.perp();
    let middle = (eye.dot(aside) / spacing).round();
    let foot = eye.dot(along);
    let mut step = 0.0;
    while step * spacing <= outer + spacing {
        let both: &[f64] = if step > 0.0 { &[1.0, -1.0] } else { &[1.0] };
        for side in both {
            let offset = (middle + side * step) * spacing;
            let from_eye = offset - eye.dot(aside);
            let half = |radius: f64| (radius * radius - from_eye * from_eye).max(0.0).sqrt();
            let (near, far) = (half(inner), half(outer));
            let at = |distance: f64| (aside * offset + along * (foot + distance)).extend(0.0);
            if near > 0.0 {
                line(at(-far), at(-near));
                line(at(near), at(far));
            } else if far > 0.0 {
                line(at(-far), at(far));
            }
        }
        step += 1.0;
    }
}

/// The floor's rows between which it is sharp, upper first, within the picture; none if none of it is seen.
pub(super) fn sharp_rows(perspective: &Perspective, sharp: (Length, Option<Length>)) -> Option<(f64, f64)> {
    let (near, far) = sharp;
    let horizon = perspective.horizon();
    let lower = perspective.row_of_floor(near.to_m())?;
    let upper = far.map_or(Some(horizon), |far| perspective.row_of_floor(far.to_m()))?;
    let (top, bottom) = (perspective.rectangle.top, perspective.rectangle.bottom());
    (upper < bottom && lower > top && lower > upper).then_some((upper, lower))
}

/// The sharp band in chalk: an edge where it begins, one where it ends, and strokes between.
pub(super) fn draw_sharp_band(
    sketch: &Sketch<'_>,
    palette: &Palette,
    perspective: &Perspective,
    scene: &Scene,
) {
    let Some((upper, lower)) = scene.sharp.and_then(|sharp| sharp_rows(perspective, sharp)) else { return };
    let Rectangle { left, top, .. } = perspective.rectangle;
    let (right, bottom) = (perspective.rectangle.right(), perspective.rectangle.bottom());
    let context = sketch.context;
    let (from, to) = (upper.max(top), lower.min(bottom));
    let slant = (to - from) * HATCH_SLANT;
    sketch.begin();
    let mut foot = left - slant;
    while foot < right {
        sketch.line(DVec2::new(foot, to), DVec2::new(foot + slant, from));
        foot += HATCH_PX;
    }
    context.set_global_alpha(if palette.heavier { 0.30 } else { 0.55 });
    sketch.stroke(&palette.chalk, 1.0);
    context.set_global_alpha(0.9);
    sketch.begin();
    for edge in [upper, lower] {
        let ends_at_horizon = edge <= perspective.horizon() + 0.5;
        if edge > top && edge < bottom && !ends_at_horizon {
            sketch.line(DVec2::new(left, edge), DVec2::new(right, edge));
        }
    }
    sketch.stroke(&palette.chalk, if palette.heavier { 2.5 } else { 1.6 });
    context.set_global_alpha(1.0);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::perspective::tests::looking_north;

    #[test]
    fn grid_lines_stay_between_their_rings() {
        let eye = DVec2::new(0.3, -2.2);
        let mut count = 0;
        grid_lines(eye, DVec2::Y, 1.0, (2.0, 6.0), |from, to| {
            count += 1;
            for end in [from, to] {
                let distance = end.truncate().distance(eye);
                assert!(distance < 6.0 + 1e-9, "{end} {distance}");
                assert!((end.x - end.x.round()).abs() < 1e-12 && end.z == 0.0, "{end}");
            }
        });
        // Lines at x = -5 to 6; those at -1 to 2 are cut in two by the inner ring.
        assert_eq!(count, 12 + 4);
    }

    #[test]
    fn lines_across_the_view_are_told_apart_at_their_reach() {
        let perspective = looking_north(0.0);
        let reach = grid_reach(&perspective, 1.0, 3.0, 0.0);
        let row = |depth: f64| perspective.row_of_floor(depth).expect("level");
        let apart = row(reach - 0.5) - row(reach + 0.5);
        assert!((apart - 3.0).abs() < 0.05, "{apart}");
    }

    #[test]
    fn an_endless_sharp_zone_ends_at_the_horizon() {
        let perspective = looking_north(0.0);
        let near = Length::from_m(6.0);
        let (upper, lower) = sharp_rows(&perspective, (near, None)).expect("seen");
        assert!((upper - perspective.horizon()).abs() < 1e-9 && lower > upper, "{upper} {lower}");
        assert_eq!(sharp_rows(&looking_north(40.0), (near, None)), None);
    }
}
