//! Puts shapes together in the own directions of what they make: x to its right, y forward, z up, metres from the
//! middle of its foot.

use glam::{DVec2, DVec3};
use staging::Colour;
use units::Angle;

use crate::picture::{Shape, Solid, Surface};

/// Where something stands and faces, and the shapes that it has so far.
#[derive(Debug)]
pub(crate) struct Workshop {
    foot: DVec3,
    right: DVec3,
    forward: DVec3,
    moved: DVec3,
    melts_m: f64,
    shapes: Vec<Shape>,
}

/// Directions at right angles to each other, of length 1, in which a part of something is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Turn {
    /// Across the part.
    pub(crate) x: DVec3,
    /// Along it.
    pub(crate) y: DVec3,
    /// Up from it.
    pub(crate) z: DVec3,
}

impl Turn {
    /// Not turned.
    pub(crate) const LEVEL: Self = Self { x: DVec3::X, y: DVec3::Y, z: DVec3::Z };

    /// Its `y` along `along`, and its `x` as near to `across` as that lets it.
    pub(crate) fn along(along: DVec3, across: DVec3) -> Self {
        let y = along.normalize_or(DVec3::Y);
        let x = (across - y * across.dot(y)).normalize_or(y.any_orthonormal_vector());
        Self { x, y, z: x.cross(y) }
    }

    /// Nose up by an angle in radians, about its own `x`.
    pub(crate) fn pitched(self, angle_rad: f64) -> Self {
        let (sin, cos) = (libm::sin(angle_rad), libm::cos(angle_rad));
        Self { x: self.x, y: self.y * cos + self.z * sin, z: self.z * cos - self.y * sin }
    }

    /// To its left by an angle in radians, about its own `z`.
    pub(crate) fn swung(self, angle_rad: f64) -> Self {
        let (sin, cos) = (libm::sin(angle_rad), libm::cos(angle_rad));
        Self { x: self.x * cos + self.y * sin, y: self.y * cos - self.x * sin, z: self.z }
    }

    /// An offset in these directions.
    pub(crate) fn of(&self, offset: DVec3) -> DVec3 {
        self.x * offset.x + self.y * offset.y + self.z * offset.z
    }

    fn axes(&self, half: DVec3) -> [DVec3; 3] {
        [self.x * half.x, self.y * half.y, self.z * half.z]
    }
}

impl Workshop {
    /// Something that stands at `place` and faces `facing`, clockwise from north.
    pub(crate) fn at(place: DVec2, facing: Angle) -> Self {
        let forward = DVec3::new(facing.sin(), facing.cos(), 0.0);
        let right = DVec3::new(forward.y, -forward.x, 0.0);
        Self {
            foot: place.extend(0.0),
            right,
            forward,
            moved: DVec3::ZERO,
            melts_m: 0.0,
            shapes: Vec::with_capacity(96),
        }
    }

    /// The same, moving by `moved` while the shutter is open, and halfway there at `place`.
    pub(crate) fn moving(place: DVec2, facing: Angle, moved: DVec2) -> Self {
        Self { moved: moved.extend(0.0), ..Self::at(place - moved / 2.0, facing) }
    }

    /// From now on shapes of the same surface melt into each other over that distance, metres; 0 leaves edges.
    pub(crate) const fn melt(&mut self, over_m: f64) {
        self.melts_m = over_m;
    }

    /// What has been made.
    pub(crate) fn into_shapes(self) -> Vec<Shape> {
        self.shapes
    }

    fn point(&self, own: DVec3) -> DVec3 {
        self.foot + self.direction(own)
    }

    fn direction(&self, own: DVec3) -> DVec3 {
        self.right * own.x + self.forward * own.y + DVec3::Z * own.z
    }

    fn push(&mut self, solid: Solid, surface: Surface) {
        self.shapes.push(Shape { solid, surface, moved: self.moved, melts_m: self.melts_m });
    }

    /// An ellipsoid with its half axes along the own directions.
    pub(crate) fn ellipsoid(&mut self, at: DVec3, radii: DVec3, surface: Surface) {
        self.turned_ellipsoid(at, Turn::LEVEL, radii, surface);
    }

    /// An ellipsoid with its half axes along the directions of `turn`.
    pub(crate) fn turned_ellipsoid(&mut self, at: DVec3, turn: Turn, radii: DVec3, surface: Surface) {
        let axes = turn.axes(radii).map(|axis| self.direction(axis));
        self.push(Solid::Ellipsoid { centre: self.point(at), axes }, surface);
    }

    /// A ball.
    pub(crate) fn ball(&mut self, at: DVec3, radius: f64, surface: Surface) {
        self.ellipsoid(at, DVec3::splat(radius), surface);
    }

    /// The hull of two balls, each with its radius.
    pub(crate) fn round_cone(&mut self, from: (DVec3, f64), to: (DVec3, f64), surface: Surface) {
        let solid = Solid::RoundCone {
            from: self.point(from.0),
            from_radius: from.1,
            to: self.point(to.0),
            to_radius: to.1,
        };
        self.push(solid, surface);
    }

    /// A box with its half edges along the own directions.
    pub(crate) fn block(&mut self, at: DVec3, half: DVec3, surface: Surface) {
        self.turned_block(at, Turn::LEVEL, half, surface);
    }

    /// A box with its half edges along the directions of `turn`.
    pub(crate) fn turned_block(&mut self, at: DVec3, turn: Turn, half: DVec3, surface: Surface) {
        let axes = turn.axes(half).map(|axis| self.direction(axis));
        self.push(Solid::Block { centre: self.point(at), axes }, surface);
    }

    /// An upright cylinder: half its breadth, half its depth, half its height.
    pub(crate) fn column(&mut self, at: DVec3, half: DVec3, surface: Surface) {
        self.turned_column(at, Turn::LEVEL, half, surface);
    }

    /// A cylinder whose length lies along the `z` of `turn`.
    pub(crate) fn turned_column(&mut self, at: DVec3, turn: Turn, half: DVec3, surface: Surface) {
        let axes = turn.axes(half).map(|axis| self.direction(axis));
        self.push(Solid::Cylinder { centre: self.point(at), axes }, surface);
    }
}

/// A matt surface that gives back those shares of red, green and blue.
pub(crate) const fn matt(red: f64, green: f64, blue: f64) -> Surface {
    Surface::Matt(Colour([red, green, blue]))
}
