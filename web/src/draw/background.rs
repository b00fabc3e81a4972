//! The place behind: a street of plain fronts, of known size, and points of light that show how soft it is.

use std::f64::consts::TAU;

use glam::{DVec2, DVec3};

use crate::draw::palette::Palette;
use crate::draw::perspective::Perspective;
use crate::draw::sketch::Sketch;
use crate::draw::tone::mix;
use crate::scene::Scene;

/// After this many metres the street begins anew.
const PERIOD_M: f64 = 14.0;
/// What stands in the middle of the background, in metres along a period: between window and lamp post.
const MIDDLE_M: f64 = 5.6;
/// With more periods in view than this, only their height is drawn.
const MOST_PERIODS: f64 = 40.0;
/// Smaller than this in pixels, a piece is left out.
const SMALLEST_PX: f64 = 1.2;

/// A tone of the background.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stuff {
    Wall,
    HighWall,
    Trim,
    Frame,
    Pane,
    Post,
    Leaves,
}

impl Stuff {
    fn colour(self, palette: &Palette) -> String {
        let toward = |other: &str, share: f64| mix(&palette.far, other, share);
        match self {
            Self::Wall => palette.far.clone(),
            Self::HighWall => toward(&palette.floor, 0.45),
            Self::Trim => toward(DARK, 0.16),
            Self::Frame => toward(LIGHT, 0.36),
            Self::Pane => toward(DARK, 0.34),
            Self::Post => toward(DARK, 0.48),
            Self::Leaves => toward("#5d6b52", 0.42),
        }
    }
}

const DARK: &str = "#1d1712";
const LIGHT: &str = "#fffaf0";

/// A rectangle of the street: along it from, to; above the floor from, to; metres.
struct Piece(Stuff, f64, f64, f64, f64);

/// One period of the street, tone by tone from what is behind to what is before it.
///
/// Sizes are common practice: a doorway 0.9 x 2.05, a bench 1.5 x 0.45 with its back to 0.85, a lamp post 4, bollards 1.
const STREET: [Piece; 46] = [
    Piece(Stuff::Wall, 0.0, 6.5, 0.0, 3.15),
    Piece(Stuff::Wall, 11.0, 14.0, 0.0, 1.05),
    Piece(Stuff::HighWall, 6.5, 11.0, 0.0, 5.7),
    // Plinths, eaves, sills, and the fence's coping.
    Piece(Stuff::Trim, -0.12, 6.5, 3.15, 3.38),
    Piece(Stuff::Trim, 0.0, 6.5, 0.0, 0.28),
    Piece(Stuff::Trim, 6.5, 11.0, 2.78, 2.92),
    Piece(Stuff::Trim, 6.38, 11.12, 5.7, 5.92),
    Piece(Stuff::Trim, 6.5, 11.0, 0.0, 0.40),
    Piece(Stuff::Trim, 11.0, 14.0, 1.05, 1.14),
    Piece(Stuff::Trim, 3.30, 4.90, 0.86, 0.94),
    // Door and window frames.
    Piece(Stuff::Frame, 1.11, 2.19, 0.0, 2.14),
    Piece(Stuff::Frame, 3.38, 4.82, 0.94, 2.26),
    Piece(Stuff::Frame, 7.02, 9.08, 0.72, 2.46),
    Piece(Stuff::Frame, 9.41, 10.49, 0.0, 2.14),
    Piece(Stuff::Frame, 7.12, 8.18, 3.42, 4.88),
    Piece(Stuff::Frame, 9.12, 10.18, 3.42, 4.88),
    // Doors and panes.
    Piece(Stuff::Pane, 1.20, 2.10, 0.0, 2.05),
    Piece(Stuff::Pane, 3.46, 4.07, 1.02, 1.62),
    Piece(Stuff::Pane, 4.13, 4.74, 1.02, 1.62),
    Piece(Stuff::Pane, 3.46, 4.07, 1.68, 2.18),
    Piece(Stuff::Pane, 4.13, 4.74, 1.68, 2.18),
    Piece(Stuff::Pane, 7.10, 8.02, 0.80, 2.38),
    Piece(Stuff::Pane, 8.08, 9.00, 0.80, 2.38),
    Piece(Stuff::Pane, 9.50, 10.40, 0.0, 2.05),
    Piece(Stuff::Pane, 7.20, 7.62, 3.50, 4.80),
    Piece(Stuff::Pane, 7.68, 8.10, 3.50, 4.80),
    Piece(Stuff::Pane, 9.20, 9.62, 3.50, 4.80),
    Piece(Stuff::Pane, 9.68, 10.10, 3.50, 4.80),
    // Door panels and handles.
    Piece(Stuff::Trim, 1.32, 1.98, 1.15, 1.90),
    Piece(Stuff::Trim, 1.32, 1.98, 0.20, 0.92),
    Piece(Stuff::Frame, 1.98, 2.05, 1.00, 1.08),
    Piece(Stuff::Trim, 9.62, 10.28, 1.00, 1.90),
    Piece(Stuff::Frame, 10.28, 10.35, 0.98, 1.06),
    // A bench.
    Piece(Stuff::Post, 2.55, 4.05, 0.40, 0.45),
    Piece(Stuff::Post, 2.55, 4.05, 0.60, 0.68),
    Piece(Stuff::Post, 2.55, 4.05, 0.77, 0.85),
    Piece(Stuff::Post, 2.65, 2.72, 0.0, 0.85),
    Piece(Stuff::Post, 3.88, 3.95, 0.0, 0.85),
    // A lamp post, bollards, a trunk.
    Piece(Stuff::Post, 6.85, 6.95, 0.0, 3.85),
    Piece(Stuff::Post, 6.81, 6.99, 0.0, 0.55),
    Piece(Stuff::Post, 6.66, 7.14, 3.85, 4.0),
    Piece(Stuff::Post, 5.25, 5.37, 0.0, 1.0),
    Piece(Stuff::Post, 8.75, 8.87, 0.0, 1.0),
    Piece(Stuff::Post, 10.6, 10.72, 0.0, 1.0),
    Piece(Stuff::Post, 12.44, 12.66, 0.0, 2.6),
    Piece(Stuff::Post, 0.30, 0.42, 0.0, 1.0),
];

/// A tree's crown: along, above the floor, radius.
const CROWN: [(f64, f64, f64); 4] =
    [(12.55, 3.7, 1.25), (11.85, 3.05, 0.85), (13.25, 3.15, 0.90), (12.7, 4.4, 0.75)];

/// The background's plane, and how much of it is seen.
struct Backdrop<'scene> {
    perspective: &'scene Perspective,
    middle: DVec3,
    right: DVec3,
    px_per_m: f64,
    /// The stretch of it that the frame shows, metres from its middle.
    seen: (f64, f64),
    /// The lowest and highest that the frame shows of it, metres above the floor.
    heights: (f64, f64),
}

impl<'scene> Backdrop<'scene> {
    /// None if the background is not ahead.
    fn of(perspective: &'scene Perspective, scene: &Scene) -> Option<Self> {
        let own = perspective.camera.to_own(scene.background);
        // The plane stands upright, so where the phone is tilted its top or foot is nearer along the axis.
        let depth = own.z;
        if depth <= 0.1 {
            return None;
        }
        let view = &perspective.view;
        let aside = own.x;
        let height = perspective.camera.position().z;
        let ahead = (scene.background - perspective.camera.position()).truncate().length();
        let rise = |tangent: f64| {
            let tilt = libm::asin(perspective.camera.forward().z.clamp(-1.0, 1.0));
            height + ahead * libm::tan((tilt + libm::atan(tangent)).clamp(-1.5, 1.5))
        };
        let reach = depth.max(ahead) * 1.15;
        Some(Self {
            perspective,
            middle: scene.background,
            right: scene.background_right,
            px_per_m: perspective.px_per_m(depth),
            seen: (-view.left * reach - aside, view.right * reach - aside),
            heights: (rise(-view.down).max(0.0), rise(view.up)),
        })
    }

    fn point(&self, along: f64, up: f64) -> DVec3 {
        self.middle + self.right * along + DVec3::Z * up
    }

    fn rectangle(&self, sketch: &mut Sketch<'_>, (from, to): (f64, f64), (low, high): (f64, f64)) {
        let (from, to) = (from.max(self.seen.0), to.min(self.seen.1));
        if from >= to || high < self.heights.0 || low > self.heights.1 {
            return;
        }
        let corners = [(from, low), (to, low), (to, high), (from, high)];
        sketch.polygon(self.perspective, &corners.map(|(along, up)| self.point(along, up)));
    }
}

/// The street behind.
pub(super) fn draw_street(
    sketch: &mut Sketch<'_>,
    palette: &Palette,
    perspective: &Perspective,
    scene: &Scene,
) {
    let Some(backdrop) = Backdrop::of(perspective, scene) else { return };
    let (from, to) = backdrop.seen;
    if (to - from) / PERIOD_M > MOST_PERIODS {
        sketch.begin();
        backdrop.rectangle(sketch, (from, to), (0.0, 4.0));
        sketch.fill(&palette.far);
        return;
    }
    let first = ((from + MIDDLE_M) / PERIOD_M).floor();
    for run in STREET.chunk_by(|one, other| one.0 == other.0) {
        let Some(Piece(stuff, ..)) = run.first() else { continue };
        sketch.begin();
        for Piece(_, left, right, low, high) in run {
            if (right - left).min(high - low) * backdrop.px_per_m < SMALLEST_PX {
                continue;
            }
            let mut start = first * PERIOD_M - MIDDLE_M;
            while start < to {
                backdrop.rectangle(sketch, turned(start, (*left, *right)), (*low, *high));
                start += PERIOD_M;
            }
        }
        sketch.fill(&stuff.colour(palette));
    }
    trees(sketch, palette, &backdrop, first);
}

/// A stretch of the period that begins at `start`; every other period is turned around, so that none repeats the one
/// beside it.
fn turned(start: f64, (from, to): (f64, f64)) -> (f64, f64) {
    let odd = ((start + MIDDLE_M) / PERIOD_M).round().rem_euclid(2.0) > 0.5;
    if odd { (start + PERIOD_M - to, start + PERIOD_M - from) } else { (start + from, start + to) }
}

fn trees(sketch: &mut Sketch<'_>, palette: &Palette, backdrop: &Backdrop<'_>, first: f64) {
    sketch.begin();
    let mut start = first * PERIOD_M - MIDDLE_M;
    while start < backdrop.seen.1 {
        for (along, up, radius) in CROWN {
            let (along, _) = turned(start, (along, along));
            if along + radius < backdrop.seen.0 || along - radius > backdrop.seen.1 {
                continue;
            }
            let mut angle = 0.0;
            let corners: [DVec3; 20] = std::array::from_fn(|_| {
                angle += TAU / 20.0;
                backdrop.point(along + radius * libm::cos(angle), up + radius * libm::sin(angle))
            });
            sketch.polygon(backdrop.perspective, &corners);
        }
        start += PERIOD_M;
    }
    sketch.fill(&Stuff::Leaves.colour(palette));
}

/// Lights are about this many in a row across the frame, however far the background is.
const LIGHTS_ACROSS: f64 = 9.0;
/// The smallest ellipse that a light is drawn as, pixels.
const LEAST_LIGHT_PX: f64 = 2.0;
/// Cords that lights hang on are gone in the blur from this disc on, pixels.
const CORD_GONE_PX: f64 = 6.0;

/// Strings of lights at the background, each light as large as the formulas say a point is: `disc_px` is its width and
/// height.
pub(super) fn draw_lights(
    sketch: &Sketch<'_>,
    palette: &Palette,
    perspective: &Perspective,
    scene: &Scene,
    disc_px: (f64, f64),
) {
    let Some(backdrop) = Backdrop::of(perspective, scene) else { return };
    let context = sketch.context;
    let places = backdrop.lights();
    let cord = 1.0 - disc_px.0.max(disc_px.1) / CORD_GONE_PX;
    if cord > 0.0 {
        sketch.begin();
        for pair in places.windows(2) {
            if let [(row, from), (same, to)] = pair
                && row == same
            {
                sketch.line(*from, *to);
            }
        }
        context.set_global_alpha(0.6 * cord);
        sketch.stroke(&Stuff::Post.colour(palette), 0.8);
    }
    let radii = (disc_px.0.max(LEAST_LIGHT_PX) / 2.0, disc_px.1.max(LEAST_LIGHT_PX) / 2.0);
    sketch.begin();
    for (_, at) in places {
        context.move_to(at.x + radii.0, at.y);
        // Radii are positive; a negative one is all that an ellipse can be refused for.
        if context.ellipse(at.x, at.y, radii.0, radii.1, 0.0, 0.0, TAU).is_err() {
            return;
        }
    }
    // The larger the disc, the thinner the same light is spread.
    context.set_global_alpha((1.0 - radii.0.max(radii.1) / 60.0).clamp(0.45, 1.0));
    sketch.fill(&mix(&palette.accent, "#fffdf4", 0.62));
    if palette.heavier {
        sketch.stroke(&palette.ink, 1.0);
    }
    context.set_global_alpha(1.0);
}

impl Backdrop<'_> {
    /// Where the lights are in the picture, each with the number of its string.
    fn lights(&self) -> Vec<(u32, DVec2)> {
        let (from, to) = self.seen;
        // A power of two, so that lights stay where they are while the phone moves a little.
        let spacing = near_power_of_two((to - from) / LIGHTS_ACROSS);
        let strings = (2.2 * spacing).min(APART_M);
        let mut lights = Vec::with_capacity(48);
        let mut row = (self.heights.0.max(LOWEST_LIGHT_M) / strings).ceil();
        for string in 0..MOST_STRINGS {
            let up = row * strings;
            if up > self.heights.1.min(HIGHEST_LIGHT_M) {
                break;
            }
            let mut column = (from / spacing).floor();
            while column * spacing < to {
                let (right, sag) = scatter(column, row);
                let place = self.point((column + 0.7 * right) * spacing, up - 0.2 * sag * strings);
                lights.extend(self.perspective.see(place).map(|at| (string, at)));
                column += 1.0;
            }
            row += 1.0;
        }
        lights
    }
}

/// No string of lights hangs lower or higher than these, nor farther from the next, metres.
const LOWEST_LIGHT_M: f64 = 0.9;
const HIGHEST_LIGHT_M: f64 = 5.0;
const APART_M: f64 = 2.45;
/// The lower ones are enough to show how soft the background is.
const MOST_STRINGS: u32 = 3;

/// Two numbers from 0 to 1 that look scattered and are the same for the same place.
fn scatter(column: f64, row: f64) -> (f64, f64) {
    let seed = column * 12.9898 + row * 78.233;
    let fraction = |of: f64| of - of.floor();
    (fraction(libm::sin(seed) * 43_758.545), fraction(libm::sin(seed + 1.7) * 24_634.634))
}

/// The power of two within a factor of √2 of a positive number, so that lights do not crawl while their number changes.
fn near_power_of_two(number: f64) -> f64 {
    let mut power = 1.0;
    while power * std::f64::consts::SQRT_2 < number {
        power *= 2.0;
    }
    while power > number * std::f64::consts::SQRT_2 && power > f64::MIN_POSITIVE {
        power /= 2.0;
    }
    power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_are_the_right_way_round_and_within_a_period() {
        for Piece(stuff, left, right, low, high) in &STREET {
            assert!(left < right && low < high && *low >= 0.0, "{stuff:?} {left} {right} {low} {high}");
            assert!(*left > -0.2 && *right <= PERIOD_M, "{stuff:?} {left} {right}");
        }
    }

    #[test]
    fn scattered_numbers_are_within_one_and_differ() {
        let (one, other) = (scatter(3.0, 1.0), scatter(4.0, 1.0));
        for part in [one.0, one.1, other.0, other.1] {
            assert!((0.0..1.0).contains(&part), "{part}");
        }
        assert_ne!(one, other);
    }
}
