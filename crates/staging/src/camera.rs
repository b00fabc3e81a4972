//! Where the phone stands and looks, and where a point of the place lands in the frame.

use glam::DVec3;
use optics::ViewTangents;
use units::{Angle, Length};

/// The phone: where its lens is and which way it looks. Roll is 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Camera {
    position: DVec3,
    right: DVec3,
    up: DVec3,
    forward: DVec3,
}

/// A point as the phone sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Tangent to the right of the optical axis.
    pub right: f64,
    /// Tangent above the optical axis.
    pub up: f64,
    /// Distance along the optical axis.
    pub depth: Length,
}

impl Camera {
    /// A phone at `position` (metres; x east, y north, z up) that looks along `azimuth` (clockwise from north) and
    /// `tilt` (up positive).
    pub fn new(position: DVec3, azimuth: Angle, tilt: Angle) -> Self {
        let (sin_azimuth, cos_azimuth) = (azimuth.sin(), azimuth.cos());
        let (sin_tilt, cos_tilt) = (tilt.sin(), tilt.cos());
        Self {
            position,
            right: DVec3::new(cos_azimuth, -sin_azimuth, 0.0),
            up: DVec3::new(-sin_azimuth * sin_tilt, -cos_azimuth * sin_tilt, cos_tilt),
            forward: DVec3::new(sin_azimuth * cos_tilt, cos_azimuth * cos_tilt, sin_tilt),
        }
    }

    /// A phone with the directions of another: `right`, `up` and `forward` are of length 1 and at right angles, the
    /// first level.
    pub const fn from_directions(position: DVec3, right: DVec3, up: DVec3, forward: DVec3) -> Self {
        Self { position, right, up, forward }
    }

    /// Where the lens is, in metres.
    pub const fn position(&self) -> DVec3 {
        self.position
    }

    /// The direction along the optical axis, of length 1.
    pub const fn forward(&self) -> DVec3 {
        self.forward
    }

    /// The direction to the image's right, of length 1.
    pub const fn right(&self) -> DVec3 {
        self.right
    }

    /// The direction to the image's top, of length 1.
    pub const fn up(&self) -> DVec3 {
        self.up
    }

    /// A point of the place in the phone's own directions: right, up, forward, in metres.
    pub fn to_own(&self, point: DVec3) -> DVec3 {
        let offset = point - self.position;
        DVec3::new(offset.dot(self.right), offset.dot(self.up), offset.dot(self.forward))
    }

    /// A point of the place as the phone sees it; none if it is not in front of the lens.
    ///
    /// # Source
    /// `OpenCv2025`, `projectPoints`.
    pub fn see(&self, point: DVec3) -> Option<Seen> {
        let own = self.to_own(point);
        (own.z > 0.0).then(|| Seen { right: own.x / own.z, up: own.y / own.z, depth: Length::from_m(own.z) })
    }
}

impl Seen {
    /// Where the point lands in an image of `size_px` that shows `view`: x right, y down, from the top left corner.
    pub fn to_px(&self, view: &ViewTangents, size_px: (f64, f64)) -> (f64, f64) {
        let x = (self.right + view.left) / view.width() * size_px.0;
        let y = (view.up - self.up) / view.height() * size_px.1;
        (x, y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn see(camera: Camera, point: DVec3) -> Seen {
        camera.see(point).expect("in front")
    }

    #[test]
    fn north_is_ahead_and_east_is_right() {
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        let seen = see(camera, DVec3::new(1.0, 2.0, 0.5));
        assert!((seen.right - 0.5).abs() < 1e-15 && (seen.up - 0.25).abs() < 1e-15, "{seen:?}");
    }

    #[test]
    fn looking_east_south_is_right() {
        let camera = Camera::new(DVec3::ZERO, Angle::from_deg(90.0), Angle::ZERO);
        assert!(see(camera, DVec3::new(2.0, -1.0, 0.0)).right > 0.0);
    }

    #[test]
    fn tilting_up_lowers_the_horizon() {
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::from_deg(10.0));
        let horizon = see(camera, DVec3::new(0.0, 1.0e6, 0.0));
        assert!((horizon.up + Angle::from_deg(10.0).tan()).abs() < 1e-9, "{horizon:?}");
    }

    #[test]
    fn what_is_behind_is_not_seen() {
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        assert_eq!(camera.see(DVec3::new(0.0, -1.0, 0.0)), None);
    }
}
