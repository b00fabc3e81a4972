//! What light comes from a place: sun, sky and floor.

use glam::DVec3;

use crate::beam::Middle;
use crate::lanes::{Lanes, Vector, Vectors, all, choose, least, most, narrow};
use crate::picture::{Floor, Lighting, Picture};
use crate::solid::Rays;

/// The sky, the light from everywhere, and the floor, in the tracer's own directions.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Surroundings {
    /// Up.
    up: Vector,
    horizon: Vector,
    /// What the zenith gives off more than the horizon.
    rise: Vector,
    bounce: Vector,
    pub(crate) floor: Option<Ground>,
}

/// The floor.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ground {
    up: Vector,
    east: Vector,
    north: Vector,
    /// Where the lens is above it: its place's remainder after whole metres, and its height.
    lens: Vector,
    colour: Vector,
    lines: Option<Vector>,
    /// Tangents that a pixel's sides fill.
    pixel: (f32, f32),
}

/// How wide a line on the floor is, metres: a strip of tape.
const LINE_M: f32 = 0.024;

impl Surroundings {
    pub(crate) fn new(picture: &Picture, middle: &Middle, pixel: (f32, f32)) -> Self {
        let Lighting { zenith, horizon, bounce, sun: _ } = picture.lighting;
        let [horizon, zenith, bounce] = [horizon, zenith, bounce].map(DVec3::from_array);
        Self {
            up: Vector::new(middle.vector(DVec3::Z)),
            horizon: Vector::new(horizon),
            rise: Vector::new(zenith - horizon),
            bounce: Vector::new(bounce),
            floor: Ground::new(picture.floor, middle, pixel),
        }
    }

    /// What the sky gives off where rays go: from horizon to zenith with the sine of the height.
    pub(crate) fn sky(&self, rays: &Rays) -> Vectors {
        let height = most(rays.direction.dot(self.up.lanes()) * rays.per_square.sqrt(), Lanes::ZERO);
        self.horizon.lanes() + self.rise.lanes() * height
    }

    /// The light of sky and floor on a surface, as what a white matt one gives back.
    ///
    /// ```text
    /// (1 + u)/2 · (horizon + (zenith − horizon) c(u)) + (1 − u)/2 · bounce
    /// ```
    /// `u` cosine between the surface's direction and up. The shares are those of an even hemisphere, exactly. A sky
    /// that grows with the sine of height gives c(1) = 2/3 and c(0) = 4/3π, by integration; c is the line through these.
    pub(crate) fn sky_light(&self, normal: Vectors) -> Vectors {
        let up = normal.dot(self.up.lanes());
        let share = all(0.424_413) + up * all(0.242_254);
        let above = (Lanes::ONE + up) * all(0.5);
        let below = Lanes::ONE - above;
        (self.horizon.lanes() + self.rise.lanes() * share) * above + self.bounce.lanes() * below
    }
}

impl Ground {
    fn new(floor: Floor, middle: &Middle, pixel: (f32, f32)) -> Option<Self> {
        let (colour, lines) = match floor {
            Floor::None => return None,
            Floor::Plain(colour) => (colour, None),
            Floor::Grid { colour, lines } => (colour, Some(lines)),
        };
        let lens = middle.world(DVec3::ZERO);
        Some(Self {
            up: Vector::new(middle.vector(DVec3::Z)),
            east: Vector::new(middle.vector(DVec3::X)),
            north: Vector::new(middle.vector(DVec3::Y)),
            lens: Vector::new(DVec3::new(lens.x - libm::floor(lens.x), lens.y - libm::floor(lens.y), lens.z)),
            colour: light(colour.0),
            lines: lines.map(|colour| light(colour.0)),
            pixel,
        })
    }

    pub(crate) const fn up(&self) -> Vector {
        self.up
    }

    /// Where rays meet the floor before `until`.
    pub(crate) fn meet(&self, rays: &Rays, until: Lanes) -> Lanes {
        let up = self.up.lanes();
        let falls = rays.direction.dot(up);
        let height = all(self.lens.z) + rays.origin.dot(up);
        let down = falls.simd_lt(all(-1.0e-6)) & height.simd_gt(Lanes::ZERO);
        let t = height / choose(down, -falls, Lanes::ONE);
        choose(down & t.simd_lt(until), t, until)
    }

    /// The floor's colour at places on it that rays see at `t`.
    pub(crate) fn colour(&self, rays: &Rays, at: Vectors, t: Lanes) -> Vectors {
        let colour = self.colour.lanes();
        let Some(lines) = self.lines else { return colour };
        // How far the place moves on the floor for a step of one pixel to the right or down: t (e − d (e·u) / (d·u)).
        let slope = Lanes::ONE / least(rays.direction.dot(self.up.lanes()), all(-1.0e-6));
        let footprint = |along: Vector| {
            let drift = rays.direction.dot(along.lanes()) * slope;
            let right = (all(along.x) - drift * all(self.up.x)) * all(self.pixel.0);
            let down = (all(along.y) - drift * all(self.up.y)) * all(self.pixel.1);
            (right.abs() + down.abs()) * t
        };
        let east = covered(at.dot(self.east.lanes()) + all(self.lens.x), footprint(self.east));
        let north = covered(at.dot(self.north.lanes()) + all(self.lens.y), footprint(self.north));
        let bare = (Lanes::ONE - east) * (Lanes::ONE - north);
        lines.lanes() + (colour - lines.lanes()) * bare
    }
}

/// The share of a stretch of `width` around `place` that lies on lines one metre apart.
///
/// The integral of the lines from 0 to x is LINE ⌊x⌋ + min(x − ⌊x⌋, LINE); its difference over the stretch is exact.
fn covered(place: Lanes, width: Lanes) -> Lanes {
    let half = most(width, all(1.0e-3)) * all(0.5);
    // Lines lie around whole metres, and the integral is counted from the edge of one.
    let (from, to) = (place - half + all(LINE_M / 2.0), place + half + all(LINE_M / 2.0));
    let base = floor(from);
    let integral = |x: Lanes| {
        let whole = floor(x);
        whole * all(LINE_M) + least(x - whole, all(LINE_M))
    };
    (integral(to - base) - integral(from - base)) / (half + half)
}

/// The whole number not above; places past a million metres are so far away that they may be off.
pub(crate) fn floor(value: Lanes) -> Lanes {
    let value = value.fast_clamp(all(-1.0e6), all(1.0e6));
    let toward_zero = Lanes::from_i32x4(value.fast_trunc_int());
    toward_zero - (Lanes::ONE & toward_zero.simd_gt(value))
}

/// Light as rays calculate with it.
pub(crate) const fn light(of: [f64; 3]) -> Vector {
    Vector { x: narrow(of[0]), y: narrow(of[1]), z: narrow(of[2]) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn floors_go_down() {
        let floors = floor(Lanes::new([1.75, -0.25, -3.0, 41.5])).to_array();
        assert_eq!(floors.map(f32::to_bits), [1.0, -1.0, -3.0, 41.0].map(f32::to_bits));
    }

    #[test]
    fn the_light_of_the_sky_is_what_integrating_it_gives() {
        use crate::picture::{Lighting, Picture};
        use staging::Camera;
        use units::Angle;
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        let picture = Picture {
            opens: camera,
            closes: camera,
            view: optics::ViewTangents { left: 1.0, right: 1.0, up: 1.0, down: 1.0 },
            pupil: None,
            shapes: Vec::new(),
            floor: Floor::None,
            backdrop: None,
            lighting: Lighting { sun: None, zenith: [1.0; 3], horizon: [0.2; 3], bounce: [0.1; 3] },
        };
        let surroundings = Surroundings::new(&picture, &Middle::of(&picture), (0.01, 0.01));
        for tilt in [0.0, 0.5, 1.0, 1.4, 2.0, 2.6] {
            let normal = DVec3::new(libm::sin(tilt), 0.0, libm::cos(tilt));
            // By the midpoint rule over the whole sphere, in steps of equal solid angle.
            let (mut light, steps) = (0.0, 400);
            for row in 0..steps {
                let height = (f64::from(row) + 0.5) / f64::from(steps) * 2.0 - 1.0;
                let level = (1.0 - height * height).sqrt();
                for column in 0..steps {
                    let round = f64::from(column) / f64::from(steps) * std::f64::consts::TAU;
                    let towards = DVec3::new(level * libm::cos(round), level * libm::sin(round), height);
                    let radiance = if height > 0.0 { 0.2 + 0.8 * height } else { 0.1 };
                    light += radiance * towards.dot(normal).max(0.0);
                }
            }
            light *= 4.0 / f64::from(steps * steps);
            let own = Middle::of(&picture).vector(normal);
            let ours = f64::from(surroundings.sky_light(Vector::new(own).lanes()).x.to_array()[0]);
            assert!((ours - light).abs() < 0.006, "{tilt}: {ours} {light}");
        }
    }

    #[test]
    fn a_wide_stretch_is_covered_as_the_whole_floor_is() {
        let share = covered(all(0.3), all(400.0)).to_array()[0];
        assert!((share - LINE_M).abs() < 1e-4, "{share}");
    }

    #[test]
    fn a_stretch_within_a_line_is_all_line() {
        assert!((covered(all(2.0), all(0.002)).to_array()[0] - 1.0).abs() < 1e-3);
        assert!(covered(all(2.5), all(0.002)).to_array()[0].abs() < 1e-6);
    }
}
