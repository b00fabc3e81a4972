//! Where points of the place land on the canvas, and what of lines and planes is in front of the lens.
//!
//! Points here are in the phone's own directions: x to the image's right, y to its top, z along the axis, metres.

use glam::{DVec2, DVec3};
use optics::ViewTangents;
use staging::{Camera, Seen};
use units::Length;

/// What is nearer than this along the axis is not drawn: chosen because no phone focuses there.
pub(super) const NEAREST_M: f64 = 0.05;

/// A rectangle of the canvas, in CSS pixels.
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

    /// What of a line between two points of the place is in view: clipped at the near plane and the frame's sides.
    pub(super) fn segment(&self, from: DVec3, to: DVec3) -> Option<(DVec2, DVec2)> {
        let (mut from, mut to) = (self.camera.to_own(from), self.camera.to_own(to));
        for (normal, offset) in self.sides() {
            let (inside_from, inside_to) = (normal.dot(from) - offset, normal.dot(to) - offset);
            if inside_from < 0.0 && inside_to < 0.0 {
                return None;
            }
            let crossing = from.lerp(to, inside_from / (inside_from - inside_to));
            if inside_from < 0.0 {
                from = crossing;
            } else if inside_to < 0.0 {
                to = crossing;
            }
        }
        Some((self.project(from), self.project(to)))
    }

    /// Planes with what is in view on their positive side: near, left, right, below, above.
    fn sides(&self) -> [(DVec3, f64); 5] {
        let view = &self.view;
        [
            (DVec3::Z, NEAREST_M),
            (DVec3::new(1.0, 0.0, view.left), 0.0),
            (DVec3::new(-1.0, 0.0, view.right), 0.0),
            (DVec3::new(0.0, 1.0, view.down), 0.0),
            (DVec3::new(0.0, -1.0, view.up), 0.0),
        ]
    }

    /// The outline of a flat polygon of the place, clipped at the near plane: appended to `outline`, which stays as it
    /// is if nothing is left.
    pub(super) fn polygon(&self, corners: &[DVec3], outline: &mut Vec<DVec2>) {
        let Some(last) = corners.last() else { return };
        let mut before = self.camera.to_own(*last);
        for corner in corners {
            let own = self.camera.to_own(*corner);
            if (own.z > NEAREST_M) != (before.z > NEAREST_M) {
                let share = (NEAREST_M - before.z) / (own.z - before.z);
                outline.push(self.project(before.lerp(own, share)));
            }
            if own.z > NEAREST_M {
                outline.push(self.project(own));
            }
            before = own;
        }
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

    #[test]
    fn a_line_from_behind_the_lens_is_cut_at_the_frame() {
        let perspective = looking_north(0.0);
        let cut = perspective.segment(DVec3::new(0.0, -5.0, 0.0), DVec3::new(0.0, 50.0, 0.0));
        let (near, far) = cut.expect("passes below the lens");
        assert!((near.y - 500.0).abs() < 1e-6 && (near.x - 500.0).abs() < 1e-6, "{near}");
        assert!(far.y < 300.0, "{far}");
        assert_eq!(perspective.segment(DVec3::new(0.0, -5.0, 0.0), DVec3::new(0.0, -1.0, 0.0)), None);
    }

    #[test]
    fn a_polygon_around_the_lens_keeps_what_is_ahead() {
        let perspective = looking_north(0.0);
        let mut outline = Vec::new();
        let square = [(-1.0, -1.0), (1.0, -1.0), (1.0, 9.0), (-1.0, 9.0)].map(|(x, y)| DVec3::new(x, y, 0.0));
        perspective.polygon(&square, &mut outline);
        assert_eq!(outline.len(), 4, "{outline:?}");
        assert!(outline.iter().all(|point| point.is_finite() && point.y > 250.0), "{outline:?}");
        outline.clear();
        perspective.polygon(&square.map(|corner| corner - DVec3::Y * 20.0), &mut outline);
        assert!(outline.is_empty(), "{outline:?}");
    }
}
