//! Where points of the place land on the canvas.
//!
//! Points here are in the phone's own directions: x to the image's right, y to its top, z along the axis, metres.

use glam::{DVec2, DVec3};
use optics::ViewTangents;
use staging::{Camera, Seen};
use units::Length;

/// What is nearer than this along the axis is not drawn: chosen because no phone focuses there.
pub(super) const NEAREST_M: f64 = 0.05;

/// A rectangle of the canvas, in units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rectangle {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) width: f64,
    pub(super) height: f64,
}

impl Rectangle {
    /// The largest rectangle of `aspect` in the middle of this one.
    pub(super) fn largest_within(&self, aspect: f64) -> Self {
        let width = self.width.min(self.height * aspect);
        let height = width / aspect;
        Self {
            left: self.left + (self.width - width) / 2.0,
            top: self.top + (self.height - height) / 2.0,
            width,
            height,
        }
    }

    pub(super) fn right(&self) -> f64 {
        self.left + self.width
    }

    pub(super) fn bottom(&self) -> f64 {
        self.top + self.height
    }
}

/// A phone's view, laid onto a rectangle of the canvas.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Perspective {
    pub(super) camera: Camera,
    pub(super) view: ViewTangents,
    /// Where `view` is drawn.
    pub(super) rectangle: Rectangle,
}

impl Perspective {
    /// Where a point in front of the lens lands; the caller has kept it farther than [`NEAREST_M`].
    pub(super) fn project(&self, own: DVec3) -> DVec2 {
        let depth = own.z.max(NEAREST_M);
        let seen = Seen { right: own.x / depth, up: own.y / depth, depth: Length::from_m(depth) };
        let (x, y) = seen.to_px(&self.view, (self.rectangle.width, self.rectangle.height));
        DVec2::new(self.rectangle.left + x, self.rectangle.top + y)
    }

    /// Where a point of the place lands; none if it is behind or too near the lens.
    pub(super) fn see(&self, place: DVec3) -> Option<DVec2> {
        let own = self.camera.to_own(place);
        (own.z > NEAREST_M).then(|| self.project(own))
    }

    /// How many pixels a metre across the axis takes at that depth.
    pub(super) fn px_per_m(&self, depth_m: f64) -> f64 {
        self.rectangle.height / self.view.height() / depth_m.max(NEAREST_M)
    }

    /// The row of a tangent above the axis.
    pub(super) fn row(&self, up: f64) -> f64 {
        self.rectangle.top + (self.view.up - up) / self.view.height() * self.rectangle.height
    }

    /// The horizon's row. Roll is 0, so it is level.
    pub(super) fn horizon(&self) -> f64 {
        let (level, rise) = self.lean();
        self.row(-rise / level)
    }

    /// The row in which the floor is at that axial depth; none if the phone looks straight down.
    ///
    /// ```text
    /// up = −(h + z sin τ) / (z cos τ)
    /// ```
    /// `h` the lens's height; `z` the depth; `τ` the tilt: the point h below the lens on the plane of depth z.
    pub(super) fn row_of_floor(&self, depth_m: f64) -> Option<f64> {
        let (level, rise) = self.lean();
        (level > 1.0e-3).then(|| self.row(-(self.camera.position().z + depth_m * rise) / (depth_m * level)))
    }

    /// Cosine and sine of the tilt, the cosine kept off zero.
    fn lean(&self) -> (f64, f64) {
        let rise = self.camera.forward().z;
        ((1.0 - rise * rise).max(1.0e-12).sqrt(), rise)
    }
}

#[cfg(test)]
pub(super) mod tests {
    use units::Angle;

    use super::*;

    /// A phone at 1.2 m that looks north, its frame 1 wide and 0.5 high at distance 1, on a canvas of 1000 by 500.
    pub(in crate::draw) fn looking_north(tilt_deg: f64) -> Perspective {
        Perspective {
            camera: Camera::new(DVec3::new(0.0, 0.0, 1.2), Angle::ZERO, Angle::from_deg(tilt_deg)),
            view: ViewTangents { left: 0.5, right: 0.5, up: 0.25, down: 0.25 },
            rectangle: Rectangle { left: 0.0, top: 0.0, width: 1000.0, height: 500.0 },
        }
    }

    #[test]
    fn the_largest_rectangle_touches_two_sides() {
        let box_of = Rectangle { left: 10.0, top: 0.0, width: 200.0, height: 400.0 };
        let within = box_of.largest_within(2.0);
        assert_eq!(within, Rectangle { left: 10.0, top: 150.0, width: 200.0, height: 100.0 });
    }

    #[test]
    fn the_floor_far_away_is_at_the_horizon() {
        for tilt in [-20.0, 0.0, 7.0] {
            let perspective = looking_north(tilt);
            let far = perspective.row_of_floor(1.0e9).expect("not straight down");
            assert!((far - perspective.horizon()).abs() < 1e-5, "{far} {}", perspective.horizon());
        }
    }

    #[test]
    fn a_floor_point_lands_in_the_row_of_its_depth() {
        let perspective = looking_north(-11.0);
        let point = DVec3::new(0.4, 5.0, 0.0);
        let depth = perspective.camera.to_own(point).z;
        let (seen, row) =
            (perspective.see(point).expect("ahead"), perspective.row_of_floor(depth).expect("level"));
        assert!((seen.y - row).abs() < 1e-9, "{seen} {row}");
    }
}
