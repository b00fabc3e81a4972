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

/// Rays of a pixel through chosen points of the lens.
pub(crate) struct Aimed {
    pub(crate) rays: Rays,
    pub(crate) time: Lanes,
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

    /// Four rays of a pixel, and the times that they are taken at: -1/2 as the shutter opens to 1/2 as it closes.
    pub(crate) fn rays(&self, (column, row): (f32, f32), group: &Group, turn: &Turn) -> (Rays, Lanes) {
        let (tangents, time) = self.place((column, row), group, turn);
        let Some(lens) = &self.lens else {
            return (self.carried(Vector::ZERO.lanes(), straight(tangents), time), time);
        };
        let (right, up) = group.lens(turn);
        let point = (right * all(lens.half_width), up * all(lens.half_height));
        let (origin, direction) = lens.through(point, tangents);
        (self.carried(origin, direction, time), time)
    }

    /// Four rays of a pixel through where on the lens `target` is seen from there, and a little `beside`; none if no ray
    /// goes through the lens.
    pub(crate) fn aimed(
        &self,
        target: Vector,
        beside: (Lanes, Lanes),
        pixel: (f32, f32),
        group: &Group,
        turn: &Turn,
    ) -> Option<Aimed> {
        let lens = self.lens.as_ref()?;
        let (tangents, time) = self.place(pixel, group, turn);
        let seen = match &self.motion {
            None => target.lanes(),
            Some(motion) => motion.seen(target.lanes(), time),
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
        Some(Aimed { rays: self.carried(origin, direction, time), time, within })
    }

    /// Where in the pixel, as tangents, and when.
    fn place(&self, (column, row): (f32, f32), group: &Group, turn: &Turn) -> ((Lanes, Lanes), Lanes) {
        let (from_left, from_top) = group.place(turn);
        let (across, down) = (all(column) + from_left, all(row) + from_top);
        let time = group.time(turn) - all(0.5);
        let x = all(self.left) + across * all(self.pixel_width);
        let y = all(self.top) - down * all(self.pixel_height);
        ((x, y), time)
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
        let x = all(self.left + column * self.pixel_width);
        let y = all(self.top - row * self.pixel_height);
        Rays::new(Vector::ZERO.lanes(), straight((x, y)))
    }
}

/// The direction of a ray through the middle of the lens.
const fn straight((x, y): (Lanes, Lanes)) -> Vectors {
    Vectors { x, y, z: Lanes::ONE }
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
