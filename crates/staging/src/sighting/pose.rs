//! One way a photo may have been taken, and what its picture then says of the floor.

use glam::{DVec2, DVec3};
use nalgebra::Vector4;
use units::Angle;

use super::PhotoLens;
use crate::camera::Camera;

/// The step of a difference in each unknown of a pose: about the cube root of the last digit, at which a central
/// difference is most exact.
pub(super) const STEP: f64 = 1.0e-6;

/// Nothing on a floor is marked farther away than this: chosen because even a hill is nearer.
const FARTHEST_M: f64 = 1.0e5;

/// A photo's pose over a place of its own: above the origin, looking along the second axis.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pose {
    camera: Camera,
    focal_px: f64,
    middle: DVec2,
}

impl Pose {
    /// The pose of four unknowns: the height in metres, tilt and roll in radians, and the logarithm of the focal length
    /// over the lens's. None beyond 1 mm to 10 km, a quarter turn, or a hundred times the lens's.
    ///
    /// The height and not its logarithm, because a thing at a distance that its size tells lets tilt and height be
    /// exchanged at nearly a constant rate.
    pub(super) fn new(unknowns: &Vector4<f64>, lens: &PhotoLens) -> Option<Self> {
        let [height, tilt, roll, focal] = [unknowns[0], unknowns[1], unknowns[2], unknowns[3]];
        let is_sane = (1.0e-3..1.0e4).contains(&height)
            && tilt.abs() < std::f64::consts::FRAC_PI_2
            && roll.abs() < std::f64::consts::FRAC_PI_2
            && focal.abs() < 4.6;
        is_sane.then(|| Self {
            camera: Camera::rolled(
                DVec3::new(0.0, 0.0, height),
                Angle::ZERO,
                Angle::from_rad(tilt),
                Angle::from_rad(roll),
            ),
            focal_px: lens.focal_px * libm::exp(focal),
            middle: lens.size_px / 2.0,
        })
    }

    pub(super) const fn height_m(&self) -> f64 {
        self.camera.position().z
    }

    pub(super) const fn focal_px(&self) -> f64 {
        self.focal_px
    }

    /// Where in the photo a point of the place is seen, if it is in front of the lens and not too far aside to say.
    pub(super) fn see(&self, point: DVec3) -> Option<DVec2> {
        if !point.is_finite() || point.abs().max_element() > FARTHEST_M * 10.0 {
            return None;
        }
        let seen = self.camera.see(point)?;
        let at = self.middle + DVec2::new(seen.right, -seen.up) * self.focal_px;
        at.is_finite().then_some(at)
    }

    /// The way that a point of the photo is seen along, in the place's directions; not of length 1.
    pub(super) fn ray(&self, at: DVec2) -> DVec3 {
        let tangents = (at - self.middle) / self.focal_px;
        self.camera.forward() + self.camera.right() * tangents.x - self.camera.up() * tangents.y
    }

    /// The point of the floor that is seen at a point of the photo; none from the horizon up.
    ///
    /// ```text
    /// P = C + λ r,   λ = h / −r_z
    /// ```
    /// `C` the lens at height `h`; `r` the ray.
    ///
    /// # Source
    /// `Hartley2004`, 8.1 (the map between a plane and its picture).
    pub(super) fn floor(&self, at: DVec2) -> Option<DVec3> {
        let ray = self.ray(at);
        // Written so that a ray that is no number meets no floor.
        let is_down = ray.z < 0.0;
        let place = ray.truncate() * (self.height_m() / -ray.z);
        (is_down && place.is_finite() && place.length() < FARTHEST_M).then(|| place.extend(0.0))
    }

    /// How high above a place on the floor that point is which a ray through `head` passes over or under it.
    ///
    /// ```text
    /// z = h + s r_z,   s = (P · r) / (r · r), both along the floor
    /// ```
    /// `P` the place, `r` the ray through the head. None if the ray leads away from it.
    ///
    /// # Source
    /// `Criminisi2000` (heights over a reference plane), here with a known lens.
    pub(super) fn height_over(&self, place: DVec3, head: DVec2) -> Option<f64> {
        let ray = self.ray(head);
        let along = ray.truncate();
        let s = place.truncate().dot(along) / along.length_squared();
        let z = self.height_m() + s * ray.z;
        (s > 0.0 && z.is_finite()).then_some(z)
    }
}

/// What `f` changes by with each of the four unknowns of a pose, one after the other.
pub(super) fn slopes<T>(
    unknowns: &Vector4<f64>,
    lens: &PhotoLens,
    f: impl Fn(&Pose) -> Option<T>,
) -> Option<[T; 4]>
where
    T: std::ops::Sub<Output = T> + std::ops::Mul<f64, Output = T>,
{
    let slope = |index: usize| {
        let at = |step: f64| {
            let mut moved = *unknowns;
            moved[index] += step;
            f(&Pose::new(&moved, lens)?)
        };
        Some((at(STEP)? - at(-STEP)?) * (0.5 / STEP))
    };
    Some([slope(0)?, slope(1)?, slope(2)?, slope(3)?])
}

#[cfg(test)]
mod tests {
    use super::*;

    const LENS: PhotoLens =
        PhotoLens { size_px: DVec2::new(4000.0, 3000.0), focal_px: 2800.0, focal_relative_sd: 0.01 };

    fn pose(tilt_deg: f64, roll_deg: f64) -> Pose {
        let unknowns = Vector4::new(1.5, f64::to_radians(tilt_deg), f64::to_radians(roll_deg), 0.0);
        Pose::new(&unknowns, &LENS).expect("a pose")
    }

    #[test]
    fn a_place_on_the_floor_is_found_again_where_it_is_seen() {
        for (tilt_deg, roll_deg) in [(0.0, 0.0), (-20.0, 7.0), (10.0, -30.0), (-70.0, 0.0)] {
            let pose = pose(tilt_deg, roll_deg);
            let place = DVec3::new(0.4, 3.0, 0.0);
            let at = pose.see(place).expect("ahead");
            let again = pose.floor(at).expect("on the floor");
            assert!((again - place).length() < 1e-12, "{again} is not {place}");
        }
    }

    #[test]
    fn a_head_is_as_high_as_it_was_put() {
        let pose = pose(-8.0, 3.0);
        let place = DVec3::new(-0.7, 4.0, 0.0);
        let head = pose.see(place + DVec3::Z * 1.8).expect("ahead");
        let height = pose.height_over(place, head).expect("a height");
        assert!((height - 1.8).abs() < 1e-12, "{height}");
    }

    #[test]
    fn above_the_horizon_there_is_no_floor() {
        assert_eq!(pose(0.0, 0.0).floor(DVec2::new(2000.0, 1499.0)), None);
        assert_eq!(pose(0.0, 0.0).floor(DVec2::new(f64::NAN, 1499.0)), None);
    }

    #[test]
    fn what_is_right_in_the_photo_is_right_on_the_floor() {
        let place = pose(-10.0, 0.0).floor(DVec2::new(3000.0, 2500.0)).expect("on the floor");
        assert!(place.x > 0.0 && place.y > 0.0, "{place}");
    }
}
