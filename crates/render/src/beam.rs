//! The rays that make a pixel: through a point of the lens, at a moment of the exposure, to where that pixel is in focus.
//!
//! The tracer's own directions are the camera's in the middle of the exposure: x right, y up, z ahead, from the lens.
//! A ray's parameter is the axial distance, because its direction's z is 1.
//!
//! ```text
//! origin     (lx, ly, 0)
//! direction  (x − lx / sx, y − ly / sy, 1)
//! ```
//! `x`, `y` tangents of the pixel; `lx`, `ly` point of the entrance pupil (m); `sx`, `sy` axial distances at which points
//! are sharp sideways and in height (m).
//! A point at depth `d` is so seen within a disc of `width |1 / sx − 1 / d|` tangents: what `optics::blur_disc` gives.
//! Thin lens, paraxial.

use glam::DVec3;
use staging::Camera;

use crate::lanes::{Lanes, Vector, Vectors, all, narrow};
use crate::picture::Picture;
use crate::samples::{Group, Turn};
use crate::solid::Rays;
use crate::tracer::Size;

/// Makes the camera's rays.
#[derive(Debug, Clone)]
pub(crate) struct Beam {
    /// Tangents of the upper left corner, and of a pixel's sides.
    left: f32,
    top: f32,
    pixel_width: f32,
    pixel_height: f32,
    lens: Option<Lens>,
    motion: Option<Motion>,
}

/// Half axes of the pupil, and what focus makes of them.
#[derive(Debug, Clone, Copy)]
struct Lens {
    half_width: f32,
    half_height: f32,
    per_focus_across: f32,
    per_focus_up: f32,
}

/// What the camera does while the shutter is open, in its own directions in the middle of the exposure.
#[derive(Debug, Clone, Copy)]
struct Motion {
    moved: Vector,
    /// How its right, up and ahead change.
    turned: [Vector; 3],
}

/// Four rays of a pattern, before they are given a pixel.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sheaf {
    /// Where they go through the lens, metres.
    through: (Lanes, Lanes),
    /// What they add to the tangents of a pixel's corner.
    lean: (Lanes, Lanes),
    /// When they are taken: -1/2 as the shutter opens to 1/2 as it closes.
    pub(crate) time: Lanes,
    /// The tangents from a pixel's corner to where in it they are taken.
    place: (Lanes, Lanes),
    /// Where they go through the lens, as points of the unit disc.
    pub(crate) lens: (Lanes, Lanes),
}

impl Sheaf {
    /// Where in the image its rays are taken, tangents, in the pixel with that corner.
    pub(crate) fn taken_at(&self, corner: (f32, f32)) -> (Lanes, Lanes) {
        (all(corner.0) + self.place.0, all(corner.1) + self.place.1)
    }
}

/// Rays of a pixel through chosen points of the lens.
pub(crate) struct Aimed {
    pub(crate) rays: Rays,
    /// Which of them go through the lens at all.
    pub(crate) within: Lanes,
}

/// The camera in the middle of the exposure.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Middle {
    position: DVec3,
    right: DVec3,
    up: DVec3,
    forward: DVec3,
}

impl Middle {
    pub(crate) fn of(picture: &Picture) -> Self {
        let (opens, closes) = (&picture.opens, &picture.closes);
        let forward = (opens.forward() + closes.forward()).normalize();
        let right = (opens.right() + closes.right()).normalize();
        let right = (right - forward * right.dot(forward)).normalize();
        let position = (opens.position() + closes.position()) / 2.0;
        Self { position, right, up: right.cross(forward), forward }
    }

    /// A place of the world in the tracer's own directions.
    pub(crate) fn place(&self, point: DVec3) -> DVec3 {
        self.vector(point - self.position)
    }

    /// A difference between places of the world in the tracer's own directions.
    pub(crate) fn vector(&self, vector: DVec3) -> DVec3 {
        DVec3::new(vector.dot(self.right), vector.dot(self.up), vector.dot(self.forward))
    }

    /// A place in the world.
    pub(crate) fn world(&self, own: DVec3) -> DVec3 {
        self.position + self.right * own.x + self.up * own.y + self.forward * own.z
    }
}

impl Beam {
    pub(crate) fn new(picture: &Picture, size: Size, middle: &Middle) -> Self {
        let view = &picture.view;
        let (width, height) = (f64::from(size.width.max(1)), f64::from(size.height.max(1)));
        let lens = picture.pupil.map(|pupil| Lens {
            half_width: narrow(pupil.width.to_m() / 2.0),
            half_height: narrow(pupil.height.to_m() / 2.0),
            per_focus_across: narrow(1.0 / pupil.focus_across.to_m()),
            per_focus_up: narrow(1.0 / pupil.focus_up.to_m()),
        });
        Self {
            left: narrow(-view.left),
            top: narrow(view.up),
            pixel_width: narrow(view.width() / width),
            pixel_height: narrow(view.height() / height),
            lens,
            motion: Motion::of(&picture.opens, &picture.closes, middle),
        }
    }

    /// The tangents that a pixel's sides fill.
    pub(crate) const fn pixel(&self) -> (f32, f32) {
        (self.pixel_width, self.pixel_height)
    }

    /// Four rays of a pattern.
    pub(crate) fn sheaf(&self, group: &Group, turn: &Turn) -> Sheaf {
        let (from_left, from_top) = group.place(turn);
        let place = (from_left * all(self.pixel_width), -(from_top * all(self.pixel_height)));
        let (lens, time) = (group.lens(turn), group.time(turn) - all(0.5));
        let Some(Lens { half_width, half_height, per_focus_across, per_focus_up }) = self.lens else {
            return Sheaf { through: (Lanes::ZERO, Lanes::ZERO), lean: place, time, place, lens };
        };
        let through = (lens.0 * all(half_width), lens.1 * all(half_height));
        let lean = (place.0 - through.0 * all(per_focus_across), place.1 - through.1 * all(per_focus_up));
        Sheaf { through, lean, time, place, lens }
    }

    /// The tangents of a pixel's upper left corner.
    pub(crate) fn corner(&self, column: f32, row: f32) -> (f32, f32) {
        (self.left + column * self.pixel_width, self.top - row * self.pixel_height)
    }

    /// The rays of a sheaf in the pixel with that corner.
    pub(crate) fn rays(&self, corner: (f32, f32), sheaf: &Sheaf) -> Rays {
        let origin = Vectors { x: sheaf.through.0, y: sheaf.through.1, z: Lanes::ZERO };
        let direction =
            Vectors { x: all(corner.0) + sheaf.lean.0, y: all(corner.1) + sheaf.lean.1, z: Lanes::ONE };
        self.carried(origin, direction, sheaf.time)
    }

    /// Four rays of a pixel through where on the lens `target` is seen from there, and a little `beside`; none if no ray
    /// goes through the lens.
    pub(crate) fn aimed(
        &self,
        target: Vector,
        beside: (Lanes, Lanes),
        corner: (f32, f32),
        sheaf: &Sheaf,
    ) -> Option<Aimed> {
        let lens = self.lens.as_ref()?;
        let tangents = sheaf.taken_at(corner);
        let seen = match &self.motion {
            None => target.lanes(),
            Some(motion) => motion.seen(target.lanes(), sheaf.time),
        };
        let per_depth = Lanes::ONE / seen.z;
        let right = (seen.x * per_depth - tangents.0) / (per_depth - all(lens.per_focus_across)) + beside.0;
        let up = (seen.y * per_depth - tangents.1) / (per_depth - all(lens.per_focus_up)) + beside.1;
        let (across, along) = (right * all(1.0 / lens.half_width), up * all(1.0 / lens.half_height));
        let within = (across * across + along * along).simd_le(Lanes::ONE);
        if !within.any() {
            return None;
        }
        let (origin, direction) = lens.through((right, up), tangents);
        Some(Aimed { rays: self.carried(origin, direction, sheaf.time), within })
    }

    /// Rays as the camera stands at that time.
    fn carried(&self, origin: Vectors, direction: Vectors, time: Lanes) -> Rays {
        match &self.motion {
            None => Rays::new(origin, direction),
            Some(motion) => motion.carry(origin, direction, time),
        }
    }

    /// The one ray through the middle of the lens, in the middle of the exposure, four times.
    pub(crate) fn chief(&self, column: f32, row: f32) -> Rays {
        let (x, y) = self.corner(column, row);
        Rays::new(Vector::ZERO.lanes(), Vectors { x: all(x), y: all(y), z: Lanes::ONE })
    }
}

impl Lens {
    /// The ray through a point of the lens that belongs to a place in the image.
    fn through(&self, (right, up): (Lanes, Lanes), (x, y): (Lanes, Lanes)) -> (Vectors, Vectors) {
        let origin = Vectors { x: right, y: up, z: Lanes::ZERO };
        let direction = Vectors {
            x: x - right * all(self.per_focus_across),
            y: y - up * all(self.per_focus_up),
            z: Lanes::ONE,
        };
        (origin, direction)
    }
}

impl Motion {
    fn of(opens: &Camera, closes: &Camera, middle: &Middle) -> Option<Self> {
        if opens == closes {
            return None;
        }
        let change = |of: fn(&Camera) -> DVec3| Vector::new(middle.vector(of(closes) - of(opens)));
        Some(Self {
            moved: change(Camera::position),
            turned: [change(Camera::right), change(Camera::up), change(Camera::forward)],
        })
    }

    /// Rays of the camera in the middle of the exposure, as it stands at `time`.
    ///
    /// Its directions change evenly: over one exposure a turn is so small that arc and chord are the same.
    fn carry(&self, origin: Vectors, direction: Vectors, time: Lanes) -> Rays {
        let turn = |vector: Vectors| {
            let [right, up, forward] = self.turned.map(Vector::lanes);
            vector + (right * vector.x + up * vector.y + forward * vector.z) * time
        };
        Rays::new(turn(origin) + self.moved.lanes() * time, turn(direction))
    }

    /// A place as the camera sees it at `time`: the way back of [`Motion::carry`].
    fn seen(&self, place: Vectors, time: Lanes) -> Vectors {
        let from_lens = place - self.moved.lanes() * time;
        let [right, up, forward] = self.turned.map(|turned| turned.lanes().dot(from_lens) * time);
        from_lens + Vectors { x: right, y: up, z: forward }
    }
}
