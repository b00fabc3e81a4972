//! What can be read off a photo once it is known where it was taken from: places on the floor, and heights.

use glam::{DMat2, DVec2};
use nalgebra::{SMatrix, SVector};
use units::Length;

use super::pose::{Pose, slopes};
use super::{Sighting, Stated};

/// A place on the floor relative to the floor below the phone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FloorPlace {
    /// To the right and ahead along the optical axis, in metres.
    pub at: DVec2,
    /// The covariance of the two, in square metres.
    pub covariance: DMat2,
}

/// The step of a difference in a mark.
const STEP_PX: f64 = 1.0e-3;

impl Sighting {
    /// The place on the floor that is seen at a point of the photo; none from the horizon up.
    ///
    /// The pose and the mark are taken as independent, which the very marks that gave the pose are not; first order.
    ///
    /// # Source
    /// `Hartley2004`, 8.1; `Jcgm2008`, 5.2.2 (the law of propagation).
    pub fn place_on_floor(&self, at: DVec2) -> Option<FloorPlace> {
        let floor = |pose: &Pose, at: DVec2| pose.floor(at).map(glam::DVec3::truncate);
        let by_pose = slopes(&self.unknowns, &self.lens, |pose| floor(pose, at))?;
        let by_mark = [DVec2::X, DVec2::Y].map(|way| {
            Some(
                (floor(&self.pose, at + way * STEP_PX)? - floor(&self.pose, at - way * STEP_PX)?)
                    * (0.5 / STEP_PX),
            )
        });
        let by_mark = [by_mark[0]?, by_mark[1]?];
        let columns = by_pose.map(|slope| SVector::<f64, 2>::from([slope.x, slope.y]));
        let by_pose = SMatrix::<f64, 2, 4>::from_columns(&columns);
        let of_pose = by_pose * self.covariance * by_pose.transpose();
        let click = self.click_sd_px * self.click_sd_px;
        let of_mark = by_mark.map(|slope| DMat2::from_cols(slope * slope.x, slope * slope.y));
        Some(FloorPlace {
            at: floor(&self.pose, at)?,
            covariance: DMat2::from_cols_slice(of_pose.as_slice()) + (of_mark[0] + of_mark[1]) * click,
        })
    }

    /// How tall something is that stands on the floor where `foot` is marked and reaches to `head`; none if it does
    /// not.
    ///
    /// The pose and the marks are taken as independent; first order.
    ///
    /// # Source
    /// `Criminisi2000`; `Jcgm2008`, 5.2.2 (the law of propagation).
    pub fn height_of(&self, foot: DVec2, head: DVec2) -> Option<Stated<Length>> {
        let tall = |pose: &Pose, foot: DVec2, head: DVec2| pose.height_over(pose.floor(foot)?, head);
        let height_m = tall(&self.pose, foot, head).filter(|height_m| *height_m > 0.0)?;
        let by_pose = SVector::from(slopes(&self.unknowns, &self.lens, |pose| tall(pose, foot, head))?);
        let mut variance = (by_pose.transpose() * self.covariance * by_pose)[(0, 0)];
        for way in [DVec2::X, DVec2::Y].map(|way| way * STEP_PX) {
            let by_foot = tall(&self.pose, foot + way, head)? - tall(&self.pose, foot - way, head)?;
            let by_head = tall(&self.pose, foot, head + way)? - tall(&self.pose, foot, head - way)?;
            let scale = self.click_sd_px * (0.5 / STEP_PX);
            variance += (by_foot * by_foot + by_head * by_head) * (scale * scale);
        }
        let sd = Length::checked_from_m(libm::sqrt(variance)).ok()?;
        Some(Stated { value: Length::checked_from_m(height_m).ok()?, sd })
    }
}

impl FloorPlace {
    /// How far it is from the floor below the phone, with its standard uncertainty.
    ///
    /// # Source
    /// `Jcgm2008`, 5.2.2.
    pub fn distance(&self) -> Stated<Length> {
        let distance_m = self.at.length();
        let way = self.at.normalize_or_zero();
        let variance = way.dot(self.covariance * way);
        Stated { value: Length::from_m(distance_m), sd: Length::from_m(libm::sqrt(variance.max(0.0))) }
    }
}
