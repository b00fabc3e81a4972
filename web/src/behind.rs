//! The photo of the place that stands behind Set-up's picture.

use glam::DVec3;
use optics::ViewTangents;
use serde::{Deserialize, Serialize};
use staging::{Backdrop, Camera};
use units::Length;

/// The photo of the place that stands behind a picture.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Behind {
    /// Which photo.
    photo: u64,
    /// How it was taken: position, directions to its right, top and ahead, the tangents of its left, right, upper and lower
    /// edge, and how far away what stands behind is. On the plan's floor or, if it goes along, from the floor's origin by a
    /// phone that then looked along its y axis. As bare numbers, because a reader of anything finer is code of its own.
    numbers: Vec<f64>,
    /// Whether it was taken from wherever the phone is.
    goes_along: bool,
    /// What it is.
    pub(crate) words: String,
}

impl Behind {
    /// A photo that was taken there; if it goes along, from the floor's origin.
    pub(crate) fn of(backdrop: &Backdrop, goes_along: bool, words: String) -> Self {
        let Backdrop { photo, camera, view: ViewTangents { left, right, up, down }, far } = *backdrop;
        let ways = [camera.position(), camera.right(), camera.up(), camera.forward()];
        let mut numbers: Vec<f64> = ways.iter().flat_map(DVec3::to_array).collect();
        numbers.extend([left, right, up, down, far.to_m()]);
        Self { photo, numbers, goes_along, words }
    }

    /// As it stands behind what a phone sees; none if what was kept is none that could be taken.
    pub(crate) fn seen_from(&self, phone: &Camera) -> Option<Backdrop> {
        let &[px, py, pz, rx, ry, rz, ux, uy, uz, fx, fy, fz, left, right, up, down, far] =
            self.numbers.as_slice()
        else {
            return None;
        };
        let (across, ahead) = if self.goes_along {
            (phone.right(), DVec3::Z.cross(phone.right()))
        } else {
            (DVec3::X, DVec3::Y)
        };
        // Turned about the vertical to the phone's look.
        let turned = |x: f64, y: f64, z: f64| across * x + ahead * y + DVec3::Z * z;
        let floor = if self.goes_along { phone.position().with_z(0.0) } else { DVec3::ZERO };
        let position = floor + turned(px, py, pz);
        let camera =
            Camera::from_directions(position, turned(rx, ry, rz), turned(ux, uy, uz), turned(fx, fy, fz));
        let view = ViewTangents { left, right, up, down };
        // What draws it checks every number once more.
        (far > 0.0).then(|| Backdrop { photo: self.photo, camera, view, far: Length::from_m(far) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Angle;

    fn behind(camera: &Camera, goes_along: bool) -> Behind {
        let view = ViewTangents { left: 1.0, right: 1.0, up: 0.7, down: 0.7 };
        let backdrop = Backdrop { photo: 5, camera: *camera, view, far: Length::from_m(9.0) };
        Behind::of(&backdrop, goes_along, String::new())
    }

    #[test]
    fn a_photo_that_goes_along_is_taken_from_wherever_the_phone_is() {
        let (tilt, roll) = (Angle::from_deg(-3.0), Angle::from_deg(2.0));
        let taken = Camera::rolled(DVec3::new(0.0, 0.0, 1.4), Angle::ZERO, tilt, roll);
        let phone = Camera::new(DVec3::new(2.0, -3.0, 1.7), Angle::from_deg(75.0), Angle::from_deg(-8.0));
        let seen = behind(&taken, true).seen_from(&phone).expect("a photo");
        let expected = Camera::rolled(DVec3::new(2.0, -3.0, 1.4), Angle::from_deg(75.0), tilt, roll);
        assert!(seen.camera.position().distance(expected.position()) < 1e-12, "{seen:?}");
        assert!(seen.camera.forward().distance(expected.forward()) < 1e-12, "{seen:?}");
        assert!(seen.camera.up().distance(expected.up()) < 1e-12, "{seen:?}");
    }

    #[test]
    fn a_photo_of_the_places_own_stays_where_it_was_taken() {
        let taken = Camera::new(DVec3::new(1.0, 2.0, 1.5), Angle::from_deg(10.0), Angle::ZERO);
        let phone = Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO);
        assert_eq!(behind(&taken, false).seen_from(&phone).map(|seen| seen.camera), Some(taken));
    }
}
