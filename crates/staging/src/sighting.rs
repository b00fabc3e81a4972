//! Where and how a photo of a place was taken from: the phone's height, tilt and roll, from what is marked in the
//! photo.
//!
//! # Conventions
//! - Points of the photo are pixels from its upper left corner, x right, y down.
//! - The lens has square pixels, its principal point in the middle of the photo, and no distortion.
//! - Floor places are relative to the floor below the phone: to the right and ahead along the optical axis, metres.
//! - Tilt is up positive, roll clockwise positive: the horizon of a rolled photo rises to the right.
//! - `sd` is one standard uncertainty, and everything given is independent of everything else.

mod given;
mod marked;
mod no_sighting;
mod pose;
mod quality;
mod reading;
mod solve;
mod start;

use glam::{DVec2, DVec3};
use nalgebra::{Matrix4, Vector4};
use units::{Angle, Length};

pub use no_sighting::{NoSighting, Undetermined};
pub use quality::{PhotoFit, SightsPart};
pub use reading::FloorPlace;

use crate::camera::Camera;
use pose::Pose;

/// A value as somebody states it, with its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated<T> {
    /// The value.
    pub value: T,
    /// One standard deviation, not negative.
    pub sd: T,
}

/// The lens of a photo, as far as its picture is concerned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhotoLens {
    /// The photo's width and height.
    pub size_px: DVec2,
    /// Its focal length (its image distance, if focused near), 10 to 10⁶ px.
    pub focal_px: f64,
    /// The standard uncertainty of that as a share of it, up to 0.3.
    pub focal_relative_sd: f64,
}

/// A person, a pole or a door's edge that stands on the floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Upright {
    /// Where it stands, in the photo.
    pub foot: DVec2,
    /// Its top, in the photo.
    pub head: DVec2,
    /// How tall it is, 0.01 to 100 m.
    pub height: Stated<Length>,
}

/// A door or a board: a rectangle that stands upright on the floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Board {
    /// Its lower corners in the photo, left and right.
    pub bottom: [DVec2; 2],
    /// Its upper corners in the photo, left and right.
    pub top: [DVec2; 2],
    /// How wide it is, 0.01 to 100 m.
    pub width: Stated<Length>,
    /// How tall it is, 0.01 to 100 m.
    pub height: Stated<Length>,
}

/// What is known of a photo, from which follows where it was taken from.
#[derive(Debug, Clone, PartialEq)]
pub struct Sights {
    /// Its lens.
    pub lens: PhotoLens,
    /// The standard uncertainty of every marked point, in each direction.
    pub click_sd_px: f64,
    /// Two points of the horizon: where a floor without end would end.
    pub horizon: Option<[DVec2; 2]>,
    /// The height of the lens above the floor.
    pub height: Option<Stated<Length>>,
    /// How far the phone looked up.
    pub tilt: Option<Stated<Angle>>,
    /// How far the phone was turned about its axis; within 2° of level if held so by hand.
    pub roll: Option<Stated<Angle>>,
    /// People, poles and edges, up to 16.
    pub uprights: Vec<Upright>,
    /// Doors and boards, up to 16.
    pub boards: Vec<Board>,
}

/// How level a phone is held by hand: chosen because a picture that leans by four degrees is seen to lean and taken
/// again.
const HELD_LEVEL_SD: Angle = Angle::from_deg(2.0);

/// A mark's standard uncertainty as a share of the photo's longer side: chosen because a finger with a magnifier is
/// good to two pixels of a screen a thousand wide.
const CLICK_SD_SHARE: f64 = 0.002;

/// Where and how a photo was taken from.
#[derive(Debug, Clone, PartialEq)]
pub struct Sighting {
    /// The solution, in the terms of `pose`.
    unknowns: Vector4<f64>,
    /// Its covariance in the same terms.
    covariance: Matrix4<f64>,
    pose: Pose,
    lens: PhotoLens,
    click_sd_px: f64,
    fit: PhotoFit,
}

impl Sights {
    /// A photo of which nothing is known but its lens, held level by hand.
    pub fn new(lens: PhotoLens) -> Self {
        Self {
            lens,
            click_sd_px: CLICK_SD_SHARE * lens.size_px.max_element(),
            horizon: None,
            height: None,
            tilt: None,
            roll: Some(Stated { value: Angle::ZERO, sd: HELD_LEVEL_SD }),
            uprights: Vec::new(),
            boards: Vec::new(),
        }
    }

    /// Tilt and roll from two points of the horizon alone, whatever else is given.
    ///
    /// ```text
    /// ρ = atan((y₂ − y₁) / (x₂ − x₁))          tan τ = x₁ sin ρ − y₁ cos ρ
    /// x = (u − c) / f          y = −(v − d) / f
    /// ```
    /// `(u, v)` a point of the horizon (px); `(c, d)` the photo's middle; `f` focal length (px); `x`, `y` tangents
    /// right and up; `ρ` roll (under a quarter turn), `τ` tilt. The horizon is the image `K⁻ᵀ n` of the floor's
    /// directions, whose normal `n` is the vertical in the phone's own directions; with this `K` that is `x sin ρ − y
    /// cos ρ = tan τ`. The sea's horizon is lower than a floor's by 0.03° at the height of a person and 0.3° from 90 m
    /// up (from memory).
    ///
    /// None if no horizon is given, or if its points are one.
    ///
    /// # Source
    /// `Hartley2004`, 8.6 (the vanishing line of a plane and its normal); `Criminisi2000`.
    pub fn horizon_look(&self) -> Option<(Angle, Angle)> {
        let tangents = self.horizon?.map(|point| (point - self.lens.size_px / 2.0) / self.lens.focal_px);
        let [first, second] =
            if tangents[0].x <= tangents[1].x { tangents } else { [tangents[1], tangents[0]] };
        let along = second - first;
        if !along.is_finite() || along == DVec2::ZERO {
            return None;
        }
        let roll = Angle::from_components(-along.y, along.x);
        let tilt = Angle::from_tan(first.x * roll.sin() + first.y * roll.cos());
        Some((tilt, roll))
    }

    /// The photo's pose that fits everything given best, each by how well it is known.
    ///
    /// ```text
    /// Σ ((uᵢ − ûᵢ) / s)² + Σ ((qⱼ − q̂ⱼ) / sⱼ)²  → least
    /// ```
    /// over the phone's height, tilt, roll, the focal length (its logarithm), each marked thing's place on the floor
    /// and its size; `u` marked points (px) of standard uncertainty `s`; `q` what is stated (height, tilt, roll, focal
    /// length, sizes) of `sⱼ`. Minimised with Levenberg's and Marquardt's damping from the best of a grid of looks, the
    /// covariance from the normal matrix there.
    ///
    /// # Errors
    /// Names what is out of range, or what is not determined and what would determine it.
    ///
    /// # Source
    /// `Hartley2004`, appendix 6 (sparse Levenberg–Marquardt) and 5.2 (covariance by back propagation); `Jcgm2008`,
    /// 5.1.2; `Criminisi2000` for what is measured in one view.
    pub fn solve(&self) -> Result<Sighting, NoSighting> {
        self.check()?;
        solve::solve(self)
    }
}

impl Sighting {
    /// The height of the lens above the floor.
    pub fn height(&self) -> Stated<Length> {
        let [height, ..] = self.sds();
        Stated { value: Length::from_m(self.pose.height_m()), sd: Length::from_m(height) }
    }

    /// How far the phone looked up.
    pub fn tilt(&self) -> Stated<Angle> {
        let [_, tilt, ..] = self.sds();
        Stated { value: Angle::from_rad(self.unknowns[1]), sd: Angle::from_rad(tilt) }
    }

    /// How far the phone was turned about its axis, clockwise positive.
    pub fn roll(&self) -> Stated<Angle> {
        let [_, _, roll] = self.sds();
        Stated { value: Angle::from_rad(self.unknowns[2]), sd: Angle::from_rad(roll) }
    }

    /// The focal length that fits best, in pixels of the photo.
    pub fn focal_px(&self) -> Stated<f64> {
        let value = self.pose.focal_px();
        Stated { value, sd: value * libm::sqrt(self.covariance[(3, 3)]) }
    }

    /// The covariance of height (m), tilt and roll (rad).
    pub fn covariance(&self) -> [[f64; 3]; 3] {
        [0, 1, 2].map(|i| [0, 1, 2].map(|j| self.covariance[(i, j)]))
    }

    fn sds(&self) -> [f64; 3] {
        [0, 1, 2].map(|i| libm::sqrt(self.covariance[(i, i)]))
    }

    /// How well everything given fits together.
    pub const fn fit(&self) -> &PhotoFit {
        &self.fit
    }

    /// The phone in the place's own terms: above `place` (x east, y north, metres), looking along `azimuth`.
    pub fn camera(&self, place: DVec2, azimuth: Angle) -> Camera {
        let position = place.extend(self.pose.height_m());
        Camera::rolled(position, azimuth, self.tilt().value, self.roll().value)
    }

    /// Where in the photo a point is seen that is given relative to the floor below the phone: right, ahead, up, in
    /// metres. None if it is not in front of the lens.
    pub fn see(&self, point: DVec3) -> Option<DVec2> {
        self.pose.see(point)
    }
}
