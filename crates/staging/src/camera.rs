//! Where the phone stands and looks, and where a point of the place lands in the frame.

use glam::DVec3;
use optics::ViewTangents;
use units::{Angle, Length};

/// The phone: where its lens is and which way it looks. Roll is 0 unless [`Camera::rolled`] made it.
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

/// An image whose top leans so far from up, as the sine of what is left, has no horizon to speak of: chosen far below what
/// anybody holds a phone to, and far above rounding.
const LEAST_UPRIGHT: f64 = 1.0e-9;

impl Camera {
    /// A phone at `position` (metres; x east, y north, z up) that looks along `azimuth` (clockwise from north) and
    /// `tilt` (up positive). Roll is 0.
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

    /// A phone as [`Camera::new`] has it, turned about its optical axis by `roll`: positive as a clock's hand turns for
    /// whoever looks along with it, so that its right side sinks and the horizon in its picture rises to the right.
    ///
    /// ```text
    /// r' = r cos ρ − u sin ρ          u' = r sin ρ + u cos ρ
    /// ```
    /// `r`, `u` directions to the image's right and top without roll; `ρ` roll.
    ///
    /// # Source
    /// Geometry: a turn about one axis.
    pub fn rolled(position: DVec3, azimuth: Angle, tilt: Angle, roll: Angle) -> Self {
        let level = Self::new(position, azimuth, tilt);
        let (sin_roll, cos_roll) = (roll.sin(), roll.cos());
        Self {
            right: level.right * cos_roll - level.up * sin_roll,
            up: level.right * sin_roll + level.up * cos_roll,
            ..level
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

    /// How far above the optical axis the horizon of a flat floor is seen in a column, both as tangents; none if the phone
    /// looks straight up or down, or is turned on its side.
    ///
    /// ```text
    /// (f + x r + y u) · z = 0          y = −(f_z + x r_z) / u_z
    /// ```
    /// `f`, `r`, `u` the directions ahead, to the image's right and to its top, `z` up; `x`, `y` tangents right and up.
    ///
    /// # Source
    /// Geometry: the floor's far end is seen in every level direction.
    pub fn horizon_in_column(&self, right: f64) -> Option<f64> {
        (self.up.z.abs() > LEAST_UPRIGHT).then(|| -(self.forward.z + right * self.right.z) / self.up.z)
    }

    /// How far outside a frame something very far away is, by its direction of length 1; 0 within it.
    ///
    /// ```text
    /// α = atan2(|n × d|, n · d)
    /// ```
    /// `d` the direction in the phone's own; `n` the nearest direction of the frame to it or, if it is not ahead, to what lies
    /// at the edge of what is. Exact for small angles too.
    ///
    /// # Source
    /// Geometry: the angle between two vectors.
    pub fn off_frame(&self, view: &ViewTangents, direction: DVec3) -> Angle {
        let own = DVec3::new(direction.dot(self.right), direction.dot(self.up), direction.dot(self.forward));
        let ahead = own.z.max(f64::MIN_POSITIVE);
        let (right, up) = (own.x / ahead, own.y / ahead);
        let is_within = (-view.left..=view.right).contains(&right) && (-view.down..=view.up).contains(&up);
        if is_within && own.z > 0.0 {
            return Angle::ZERO;
        }
        let nearest = DVec3::new(right.clamp(-view.left, view.right), up.clamp(-view.down, view.up), 1.0);
        let nearest = nearest.normalize();
        Angle::from_components(nearest.cross(own).length(), nearest.dot(own))
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
    use crate::blocking::direction;

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
    fn rolling_clockwise_raises_the_horizon_on_the_right() {
        let roll = Angle::from_deg(10.0);
        let camera = Camera::rolled(DVec3::ZERO, Angle::ZERO, Angle::ZERO, roll);
        let (left, right) = (DVec3::new(-1.0e6, 1.0e6, 0.0), DVec3::new(1.0e6, 1.0e6, 0.0));
        let (left, right) = (see(camera, left), see(camera, right));
        let slope = (right.up - left.up) / (right.right - left.right);
        assert!((slope - roll.tan()).abs() < 1e-12, "{slope}");
    }

    #[test]
    fn a_rolled_phone_keeps_its_axis_and_its_right_angles() {
        let (azimuth, tilt) = (Angle::from_deg(70.0), Angle::from_deg(-15.0));
        let level = Camera::new(DVec3::ONE, azimuth, tilt);
        let camera = Camera::rolled(DVec3::ONE, azimuth, tilt, Angle::from_deg(33.0));
        assert_eq!((camera.forward, camera.position), (level.forward, level.position));
        assert!((camera.right.cross(camera.up) + camera.forward).length() < 1e-15, "{camera:?}");
        assert!(camera.right.z < 0.0, "the right side sinks: {camera:?}");
    }

    #[test]
    fn the_horizon_is_where_level_directions_are_seen() {
        let camera =
            Camera::rolled(DVec3::Z, Angle::from_deg(40.0), Angle::from_deg(-7.0), Angle::from_deg(3.0));
        for off_deg in [-30.0, 0.0, 25.0] {
            let far = direction(Angle::from_deg(40.0 + off_deg), Angle::ZERO);
            let seen = see(camera, DVec3::Z + far);
            let up = camera.horizon_in_column(seen.right).expect("a horizon");
            assert!((up - seen.up).abs() < 1e-12, "{off_deg}: {up} {seen:?}");
        }
        for (tilt_deg, roll_deg) in [(0.0, 90.0), (90.0, 0.0), (-90.0, 0.0)] {
            let camera =
                Camera::rolled(DVec3::Z, Angle::ZERO, Angle::from_deg(tilt_deg), Angle::from_deg(roll_deg));
            assert_eq!(camera.horizon_in_column(0.3), None, "{camera:?}");
        }
    }

    #[test]
    fn what_is_far_away_is_as_far_off_a_frame_as_the_phone_has_to_turn() {
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        let half = Angle::from_deg(20.0).tan();
        let view = ViewTangents { left: half, right: half, up: half, down: half };
        for (azimuth, elevation, expected) in
            [(0.0, 0.0, 0.0), (-19.0, 5.0, 0.0), (30.0, 0.0, 10.0), (0.0, 52.0, 32.0), (180.0, 0.0, 160.0)]
        {
            let way = direction(Angle::from_deg(azimuth), Angle::from_deg(elevation));
            let off = camera.off_frame(&view, way).to_deg();
            assert!((off - expected).abs() < 1e-9, "{azimuth} {elevation}: {off}");
        }
        assert_eq!(camera.off_frame(&view, DVec3::Y), Angle::ZERO);
    }

    #[test]
    fn what_is_behind_is_not_seen() {
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        assert_eq!(camera.see(DVec3::new(0.0, -1.0, 0.0)), None);
    }

    #[test]
    fn what_is_beside_the_lens_is_not_seen() {
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        assert_eq!(camera.see(DVec3::X), None);
    }

    #[test]
    fn what_is_a_degree_above_a_frame_is_a_degree_off_it_and_what_is_within_not_at_all() {
        let camera = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        let half = Angle::from_deg(20.0).tan();
        let view = ViewTangents { left: half, right: half, up: half, down: half };
        let off =
            |elevation: f64| camera.off_frame(&view, direction(Angle::ZERO, Angle::from_deg(elevation)));
        assert!((off(21.0).to_deg() - 1.0).abs() < 1e-9 && (off(-21.0).to_deg() - 1.0).abs() < 1e-9);
        for azimuth in [-19.0, -7.0, 3.0, 19.0] {
            let way = direction(Angle::from_deg(azimuth), Angle::from_deg(5.0));
            assert_eq!(camera.off_frame(&view, way), Angle::ZERO, "{azimuth}");
        }
    }

    #[test]
    fn a_point_lands_as_many_pixels_in_as_its_share_of_the_frame() {
        // Half a tangent right of the left edge at −1, in a frame 2.5 wide: a fifth of 2000 px. A third of 900 px down.
        let view = ViewTangents { left: 1.0, right: 1.5, up: 0.5, down: 0.25 };
        let seen = Seen { right: -0.5, up: 0.25, depth: Length::from_m(3.0) };
        let (x, y) = seen.to_px(&view, (2000.0, 900.0));
        assert!((x - 400.0).abs() < 1e-9 && (y - 300.0).abs() < 1e-9, "{x} {y}");
    }
}
