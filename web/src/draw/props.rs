//! Things of known size that are not people: the object of an insert on its table, and a plant near the lens.

use std::f64::consts::PI;

use glam::{DVec2, DVec3};

use crate::draw::palette::Palette;
use crate::draw::perspective::Perspective;
use crate::draw::sketch::Sketch;
use crate::draw::solid::Ellipsoid;
use crate::draw::tone::mix;

/// A table's top, as in `staging`'s subjects.
const TABLE_M: f64 = 0.75;
const TOP_THICK_M: f64 = 0.035;
const DARK: &str = "#1d1712";

/// Upright things that turn their front to the phone: across and away along the floor.
struct Facing {
    origin: DVec3,
    right: DVec3,
    away: DVec3,
}

impl Facing {
    fn new(perspective: &Perspective, origin: DVec3) -> Self {
        let right = perspective.camera.right();
        Self { origin, right, away: DVec3::new(-right.y, right.x, 0.0) }
    }

    fn point(&self, right: f64, away: f64, up: f64) -> DVec3 {
        self.origin + self.right * right + self.away * away + DVec3::Z * up
    }

    /// A flat round disc in the phone's own directions, as a link of a chain.
    fn disc(&self, perspective: &Perspective, place: (f64, f64), radius: f64, thick: f64) -> Ellipsoid {
        let camera = &perspective.camera;
        let origin = camera.to_own(DVec3::ZERO);
        let axis = |of: DVec3| camera.to_own(of) - origin;
        Ellipsoid {
            centre: camera.to_own(self.point(place.0, 0.0, place.1)),
            axes: [axis(self.right * radius), axis(self.away * radius), axis(DVec3::Z * thick)],
        }
    }
}

/// A table with a cup of `size` on it, at the floor's origin.
pub(super) fn draw_object(sketch: &mut Sketch<'_>, palette: &Palette, perspective: &Perspective, size: f64) {
    let facing = Facing::new(perspective, DVec3::ZERO);
    table(sketch, palette, perspective, &facing, size);
    cup(sketch, palette, perspective, &facing, size);
}

fn table(sketch: &mut Sketch<'_>, palette: &Palette, perspective: &Perspective, facing: &Facing, size: f64) {
    let half = (0.6_f64.max(1.1 * size), 0.38_f64.max(0.8 * size));
    let wood = mix(&palette.far, "#8a6a48", 0.35);
    let quad = |corners: [(f64, f64, f64); 4]| corners.map(|(right, away, up)| facing.point(right, away, up));
    sketch.begin();
    for (right, away) in [(-1.0, 1.0), (1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)] {
        let (x, y) = (right * (half.0 - 0.06), away * (half.1 - 0.06));
        let foot = quad([
            (x - 0.025, y, 0.0),
            (x + 0.025, y, 0.0),
            (x + 0.025, y, TABLE_M),
            (x - 0.025, y, TABLE_M),
        ]);
        sketch.polygon(perspective, &foot);
    }
    sketch.fill(&mix(&wood, DARK, 0.42));
    let under = TABLE_M - TOP_THICK_M;
    let seen_from_above = perspective.camera.position().z > TABLE_M;
    sketch.begin();
    sketch.polygon(
        perspective,
        &quad([
            (-half.0, -half.1, under),
            (half.0, -half.1, under),
            (half.0, -half.1, TABLE_M),
            (-half.0, -half.1, TABLE_M),
        ]),
    );
    if !seen_from_above {
        sketch.polygon(
            perspective,
            &quad([
                (-half.0, -half.1, under),
                (half.0, -half.1, under),
                (half.0, half.1, under),
                (-half.0, half.1, under),
            ]),
        );
    }
    sketch.fill(&mix(&wood, DARK, 0.25));
    if seen_from_above {
        sketch.begin();
        sketch.polygon(
            perspective,
            &quad([
                (-half.0, -half.1, TABLE_M),
                (half.0, -half.1, TABLE_M),
                (half.0, half.1, TABLE_M),
                (-half.0, half.1, TABLE_M),
            ]),
        );
        sketch.fill(&wood);
    }
}

/// As wide as high with its handle, standing on the table.
fn cup(sketch: &mut Sketch<'_>, palette: &Palette, perspective: &Perspective, facing: &Facing, size: f64) {
    // The handle takes the right eighth, so the body's axis is a sixteenth left of the middle.
    let axis = -0.09 * size;
    let disc = |up: f64, radius: f64| {
        facing.disc(perspective, (axis, TABLE_M + up * size), radius * size, 0.006 * size)
    };
    let tape = palette.tape.first().unwrap_or(&palette.ink);
    let line = if palette.heavier { palette.ink.clone() } else { mix(tape, DARK, 0.45) };
    let line_px = (perspective.px_per_m(disc(0.5, 0.4).centre.z) * size * 0.006).clamp(0.6, 2.0);
    // Where the cup stands.
    sketch.begin();
    sketch.chain(perspective, [disc(0.004, 0.36)]);
    sketch.fill(&mix(&palette.far, DARK, 0.45));
    handle(sketch, perspective, facing, size, tape, (&line, line_px));
    let body =
        || [disc(0.008, 0.29), disc(0.022, 0.317), disc(0.050, 0.336), disc(0.10, 0.348), disc(0.985, 0.41)];
    sketch.begin();
    sketch.chain(perspective, body());
    sketch.stroke(&line, line_px * 2.0);
    sketch.fill(tape);
    // The darker side, and a plain band that gives the shape its turn.
    sketch.begin();
    let shaded = body().map(|link| link.inscribed(0.45, DVec3::X));
    sketch.chain(perspective, shaded);
    sketch.fill(&mix(tape, DARK, 0.16));
    sketch.begin();
    sketch.chain(perspective, [disc(0.985, 0.41)]);
    sketch.stroke(&line, line_px);
    sketch.fill(&mix(tape, "#fffaf0", 0.18));
    sketch.begin();
    sketch.chain(perspective, [disc(0.985, 0.365)]);
    sketch.fill(&mix(tape, DARK, 0.55));
}

fn handle(
    sketch: &mut Sketch<'_>,
    perspective: &Perspective,
    facing: &Facing,
    size: f64,
    tape: &str,
    (line, line_px): (&str, f64),
) {
    let camera = &perspective.camera;
    let ball = |right: f64, up: f64| Ellipsoid {
        centre: camera.to_own(facing.point(right * size, 0.0, TABLE_M + up * size)),
        axes: [DVec3::X, DVec3::Y, DVec3::Z].map(|axis| axis * (0.045 * size)),
    };
    // Half an oval, from straight up to straight down, its ends inside the cup.
    let mut angle = PI / 2.0 + PI / 12.0;
    let links: [Ellipsoid; 13] = std::array::from_fn(|_| {
        angle -= PI / 12.0;
        ball(0.25 + 0.205 * libm::cos(angle), 0.575 + 0.25 * libm::sin(angle))
    });
    sketch.begin();
    sketch.chain(perspective, links);
    sketch.stroke(line, line_px * 2.0);
    sketch.fill(tape);
}

/// A leaf: where its stem leaves, how far out and up its tip is, how broad it is; metres.
struct Leaf {
    from: DVec2,
    tip: DVec2,
    broad: f64,
}

const fn leaf(from: (f64, f64), tip: (f64, f64), broad: f64) -> Leaf {
    Leaf { from: DVec2::new(from.0, from.1), tip: DVec2::new(tip.0, tip.1), broad }
}

/// A plant 0.4 m wide and 1.3 m high: leaves behind, then before.
const LEAVES: [Leaf; 13] = [
    leaf((0.0, 0.45), (-0.15, 1.16), 0.026),
    leaf((0.0, 0.45), (0.13, 1.24), 0.026),
    leaf((0.0, 0.45), (-0.19, 0.92), 0.030),
    leaf((0.0, 0.45), (0.20, 0.98), 0.030),
    leaf((0.0, 0.45), (0.02, 1.30), 0.028),
    leaf((0.0, 0.45), (-0.06, 1.22), 0.024),
    leaf((0.0, 0.45), (0.09, 1.12), 0.026),
    leaf((0.0, 0.44), (-0.20, 0.70), 0.032),
    leaf((0.0, 0.44), (0.20, 0.74), 0.032),
    leaf((0.0, 0.45), (-0.11, 1.02), 0.030),
    leaf((0.0, 0.45), (0.15, 0.90), 0.030),
    leaf((0.0, 0.44), (-0.14, 0.80), 0.032),
    leaf((0.0, 0.44), (0.04, 0.86), 0.032),
];
/// From here on leaves are nearer and lighter.
const FIRST_NEAR_LEAF: usize = 5;

/// A potted plant that stands on the floor at `place`.
pub(super) fn draw_plant(
    sketch: &mut Sketch<'_>,
    palette: &Palette,
    perspective: &Perspective,
    place: DVec3,
) {
    let facing = Facing::new(perspective, place);
    let green = mix(&palette.far, "#4d6043", 0.70);
    let (behind, before) = LEAVES.split_at(FIRST_NEAR_LEAF);
    for (leaves, colour) in [(behind, mix(&green, DARK, 0.30)), (before, green.clone())] {
        sketch.begin();
        for leaf in leaves {
            sketch.polygon(perspective, &leaf.outline().map(|at| facing.point(at.x, 0.0, at.y)));
        }
        if palette.heavier {
            sketch.stroke(&palette.ink, 1.5);
        }
        sketch.fill(&colour);
    }
    let clay = mix(&palette.far, "#9a6248", 0.55);
    let disc = |up: f64, radius: f64| facing.disc(perspective, (0.0, up), radius, 0.004);
    sketch.begin();
    sketch.chain(perspective, [disc(0.006, 0.105), disc(0.40, 0.145)]);
    sketch.fill(&clay);
    sketch.begin();
    sketch.chain(perspective, [disc(0.40, 0.158), disc(0.45, 0.160)]);
    sketch.fill(&mix(&clay, DARK, 0.18));
}

impl Leaf {
    /// Up one edge and down the other, bending outward.
    fn outline(&self) -> [DVec2; 10] {
        // The stem rises first and leans out later.
        let bend = DVec2::new(
            self.from.x + 0.30 * (self.tip.x - self.from.x),
            self.tip.y * 0.75 + self.from.y * 0.25,
        );
        let at = |share: f64| self.from.lerp(bend, share).lerp(bend.lerp(self.tip, share), share);
        let edge = |share: f64, side: f64| {
            let along = (bend.lerp(self.tip, share) - self.from.lerp(bend, share)).normalize_or(DVec2::Y);
            // Broadest past the middle, nothing at stem and tip.
            let broad = self.broad * libm::sin(PI * share * share.sqrt());
            at(share) + along.perp() * (side * (broad + 0.004 * (1.0 - share)))
        };
        [
            edge(0.0, 1.0),
            edge(0.35, 1.0),
            edge(0.6, 1.0),
            edge(0.8, 1.0),
            edge(0.92, 1.0),
            self.tip,
            edge(0.92, -1.0),
            edge(0.8, -1.0),
            edge(0.6, -1.0),
            edge(0.35, -1.0),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_plant_is_as_large_as_it_says() {
        let points = || LEAVES.iter().flat_map(Leaf::outline);
        let highest = points().map(|at| at.y).fold(0.0, f64::max);
        let widest = points().map(|at| at.x.abs()).fold(0.0, f64::max);
        assert!((highest - 1.3).abs() < 0.01 && (widest - 0.2).abs() < 0.03, "{highest} {widest}");
    }
}
