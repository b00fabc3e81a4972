//! Small lights far out of focus: rays are sent from where on the lens they are seen, instead of waiting for one to come by.
//!
//! A light of a centimetre that fills a disc of a thousand pixels is met by one ray in hundreds. But for a pixel at
//! tangent `x`, the point of the lens that sees a place `(X, z)` is
//!
//! ```text
//! l = (X / z − x) / (1 / z − 1 / s)
//! ```
//! on each axis (`s` its focus distance), from which follows the part of the lens that sees the whole light: rays go
//! through that part and count for its share of the lens.

use glam::DVec3;

use crate::beam::{Beam, Sheaf};
use crate::lanes::{Lanes, Vector, all, narrow};
use crate::picture::{Picture, Shape, Solid, Surface};
use crate::solid::Rays;

/// A small light out of focus.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lamp {
    /// Its place among the picture's shapes.
    pub(crate) shape: u32,
    /// Its middle, in the middle of the exposure.
    centre: Vector,
    /// Half axes of the part of the lens that sees it from one place of the image.
    half_width: f32,
    half_height: f32,
    /// That part's share of the lens.
    share: f32,
}

/// Rays through the part of the lens that sees a lamp, and what they count.
pub(crate) struct LampRays {
    pub(crate) rays: Rays,
    /// The share of the lens that they stand for, 0 for those outside the lens.
    pub(crate) share: Lanes,
}

/// Up to this part of the lens's half axes a light counts as small: chosen because a larger one is found by chance.
const SMALL: f64 = 0.4;
/// The part of the lens is taken larger by this, for what a ball seen aslant and a moving lens add.
const MARGIN: f64 = 1.1;

impl Lamp {
    /// A shape as a lamp, if it is a small light out of focus; `own` is its solid in the tracer's own directions.
    pub(crate) fn of(picture: &Picture, index: u32, shape: &Shape, own: &Solid) -> Option<Self> {
        let (Surface::Glowing(_), Solid::Ellipsoid { centre, axes }) = (shape.surface, *own) else {
            return None;
        };
        let pupil = picture.pupil?;
        let radius = axes.iter().map(|axis| axis.length()).fold(0.0, f64::max);
        if centre.z <= radius * 2.0 || shape.moved != DVec3::ZERO {
            return None;
        }
        // A ball seen aslant looks longer by the secant of the angle.
        let aslant = centre.length() / centre.z;
        let tangent = radius / (centre.z - radius) * aslant * MARGIN;
        let half = |focus: f64| tangent / (1.0 / centre.z - 1.0 / focus).abs().max(1.0e-12);
        let half_width = half(pupil.focus_across.to_m());
        let half_height = half(pupil.focus_up.to_m());
        let (lens_width, lens_height) = (pupil.width.to_m() / 2.0, pupil.height.to_m() / 2.0);
        let is_small = half_width < SMALL * lens_width && half_height < SMALL * lens_height;
        is_small.then(|| Self {
            shape: index,
            centre: Vector::new(centre),
            half_width: narrow(half_width),
            half_height: narrow(half_height),
            share: narrow(half_width * half_height / (lens_width * lens_height)),
        })
    }

    /// The rays of a pixel that look for it; none if all of them miss the lens.
    pub(crate) fn rays(&self, beam: &Beam, corner: (f32, f32), sheaf: &Sheaf) -> Option<LampRays> {
        let (right, up) = sheaf.lens;
        let beside = (right * all(self.half_width), up * all(self.half_height));
        let aimed = beam.aimed(self.centre, beside, corner, sheaf)?;
        Some(LampRays { rays: aimed.rays, share: aimed.within & all(self.share) })
    }
}
