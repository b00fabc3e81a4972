//! A photo of a place from where the phone may stand: how it was taken, so that people stand in it where they would.
//!
//! Places are in metres on the place's own floor, x east and y north by the earth, around the origin of its scenes' floors.
//! The pixels are not of the film: they stay on the device that took them in.

use glam::DVec2;
use jiff::civil::DateTime;
use optics::{SensorSize, ViewTangents, full_frame_diagonal};
use staging::{Backdrop, Camera, Stage, direction};
use units::{Angle, Length};

use crate::film::{Film, Place};
use crate::id::PhotoId;
use crate::rehearsal::Rehearsal;
use crate::scene::Scene;
use crate::scene_blocking::SceneBlocking;
use crate::unknown::Unknown;

/// A photo of a place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacePhoto {
    /// Known by this, and its pixels too.
    pub id: PhotoId,
    /// What it is called.
    pub name: String,
    /// Where the phone was on the place's floor.
    pub at: DVec2,
    /// How high the phone was, and how it was held.
    pub pose: PhotoPose,
    /// The direction in which it looked, clockwise from the earth's north.
    pub azimuth: Angle,
    /// What the whole photo holds from side to side.
    pub horizontal_fov: Angle,
    /// Its width and height, pixels: what matters of them is their ratio.
    pub size_px: (u32, u32),
    /// How far from the phone what stands behind is.
    pub far: Length,
    /// When it was taken, by the place's clock.
    pub taken: Option<DateTime>,
    /// What a newer program wrote beside these.
    pub unknown: Unknown,
}

/// How a phone was held, as far as its photo tells, with what that is uncertain by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhotoPose {
    /// The lens above the floor.
    pub height: Length,
    /// Its standard uncertainty, if anything was measured.
    pub height_sd: Option<Length>,
    /// Up positive.
    pub tilt: Angle,
    /// Its standard uncertainty, if anything was measured.
    pub tilt_sd: Option<Angle>,
    /// Turned about the look, clockwise for whoever holds it.
    pub roll: Angle,
}

impl PhotoPose {
    /// Held level at the eyes of somebody who stands: chosen.
    pub const USUAL: Self = Self {
        height: Length::from_m(1.5),
        height_sd: None,
        tilt: Angle::ZERO,
        tilt_sd: None,
        roll: Angle::ZERO,
    };
}

impl PlacePhoto {
    /// What the whole photo sees.
    ///
    /// # Source
    /// `OpenCv2025`, `calibrationMatrixValues`, with square pixels and the axis in the middle.
    pub fn view(&self) -> ViewTangents {
        let half = (self.horizontal_fov / 2.0).tan();
        let tall = half * f64::from(self.size_px.1) / f64::from(self.size_px.0.max(1));
        ViewTangents { left: half, right: half, up: tall, down: tall }
    }

    /// The phone on the floor of a scene there, where the earth's north is at `north`.
    pub fn camera(&self, north: Angle) -> Camera {
        let PhotoPose { height, tilt, roll, .. } = self.pose;
        Camera::rolled(turned(self.at, north).extend(height.to_m()), self.azimuth + north, tilt, roll)
    }

    /// What stands behind a picture on a floor whose origin is at `origin` of a scene's.
    pub fn behind(&self, north: Angle, origin: DVec2) -> Backdrop {
        let camera = self.camera(north);
        let position = camera.position() - origin.extend(0.0);
        Backdrop {
            photo: self.id.number(),
            camera: Camera::from_directions(position, camera.right(), camera.up(), camera.forward()),
            view: self.view(),
            far: self.far,
        }
    }

    /// Where something as far away as the sun is in the photo, as shares of its width from the left and of its height from
    /// the top; none if it is not ahead of it. What is outside 0 to 1 is beside it.
    pub fn sees_far(&self, azimuth: Angle, elevation: Angle) -> Option<(f64, f64)> {
        let camera = self.camera(Angle::ZERO);
        let seen = camera.see(camera.position() + direction(azimuth, elevation))?;
        Some(seen.to_px(&self.view(), (1.0, 1.0)))
    }
}

impl Place {
    /// The photo of it that serves a frame best, with the share of the frame that it covers: the one that covers the most,
    /// and of those that cover as much, within a hundredth, the one taken nearest to the phone. None if none covers anything.
    ///
    /// `camera` and `view` are of the frame, on the floor of a scene where the earth's north is at `north`.
    pub fn photo_behind(
        &self,
        camera: &Camera,
        view: &ViewTangents,
        north: Angle,
    ) -> Option<(&PlacePhoto, f64)> {
        let rated = self.photos.iter().map(|photo| {
            let behind = photo.behind(north, DVec2::ZERO);
            let off_m = behind.camera.position().distance(camera.position());
            (photo, behind.covers(camera, view), off_m)
        });
        let serves_better = |one: &(&PlacePhoto, f64, f64), other: &(&PlacePhoto, f64, f64)| {
            let hundredths = |share: f64| libm::floor(share * 100.0);
            hundredths(one.1).total_cmp(&hundredths(other.1)).then(other.2.total_cmp(&one.2))
        };
        rated
            .filter(|(_, share, _)| *share > 0.0)
            .max_by(serves_better)
            .map(|(photo, share, _)| (photo, share))
    }
}

/// A photo of its place that stands behind a shot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhotoBehind<'film> {
    /// The photo.
    pub photo: &'film PlacePhoto,
    /// The share of the shot's frame that it covers.
    pub covers: f64,
    /// How far from the phone it was taken, along the floor: what is behind is seen as from there.
    pub off: Length,
    /// As it stands behind the shot's stages.
    pub backdrop: Backdrop,
}

impl Rehearsal {
    /// The photo that stands behind the shot, if its place has one that covers anything of it.
    pub fn photo_behind<'film>(&self, film: &'film Film, scene: &Scene) -> Option<PhotoBehind<'film>> {
        let place = film.place_of(scene).filter(|place| !place.photos.is_empty())?;
        let (camera, setup) = (self.camera()?, self.result().outcome.as_ref().ok()?);
        let north = scene.blocking.north;
        let (photo, covers) = place.photo_behind(&camera, &setup.view, north)?;
        let taken = photo.camera(north).position().truncate();
        let off = Length::from_m(taken.distance(camera.position().truncate()));
        Some(PhotoBehind { photo, covers, off, backdrop: photo.behind(north, self.origin) })
    }

    /// One frame of it to be drawn, so many seconds into it: its stage before the photo that serves it best.
    pub fn pictured(&self, film: &Film, scene: &Scene, at_s: f64) -> Option<Stage> {
        let backdrop = self.photo_behind(film, scene).map(|behind| behind.backdrop);
        Some(Stage { backdrop, ..self.stage(scene, &film.cast, at_s)? })
    }
}

impl SceneBlocking {
    /// Where a place of this floor is on the place's own.
    pub fn on_place(&self, at: DVec2) -> DVec2 {
        turned(at, -self.north)
    }

    /// Where a place of the place's own floor is on this one.
    pub fn from_place(&self, at: DVec2) -> DVec2 {
        turned(at, self.north)
    }
}

/// How much a photo of that equivalent focal length sees from side to side.
///
/// ```text
/// tan(φ / 2) = w / 2 f35
/// ```
/// `f35` the 35 mm-equivalent, with any digital zoom in it (mm, positive); `w` the width of the photo's shape on the diagonal of
/// the 36 x 24 mm frame (mm); `φ` full angle.
///
/// # Source
/// `Cipa2019`, tag `FocalLengthIn35mmFilm`: equivalents are of the diagonal.
pub fn fov_of_equivalent(equivalent_mm: f64, size_px: (u32, u32)) -> Angle {
    Angle::from_tan(half_width_mm(size_px) / equivalent_mm) * 2.0
}

/// The equivalent focal length of a photo that sees so much from side to side, mm: what [`fov_of_equivalent`] takes.
pub fn equivalent_of_fov(horizontal_fov: Angle, size_px: (u32, u32)) -> f64 {
    half_width_mm(size_px) / (horizontal_fov / 2.0).tan()
}

/// Half the width of a picture's shape on the diagonal that equivalents are of, mm.
fn half_width_mm((width, height): (u32, u32)) -> f64 {
    let aspect = f64::from(width.max(1)) / f64::from(height.max(1));
    SensorSize::from_diagonal(full_frame_diagonal(), aspect).width.to_mm() / 2.0
}

/// A place by the earth's directions on a floor whose north is at `north`, clockwise.
fn turned(at: DVec2, north: Angle) -> DVec2 {
    let (sin, cos) = (north.sin(), north.cos());
    DVec2::new(at.x * cos + at.y * sin, at.y * cos - at.x * sin)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::PlaceId;

    fn deg(degrees: f64) -> Angle {
        Angle::from_deg(degrees)
    }

    fn photo(number: u64, at: DVec2, azimuth: Angle, view: Angle) -> PlacePhoto {
        PlacePhoto {
            id: PhotoId::new(number).expect("an id"),
            name: String::new(),
            at,
            pose: PhotoPose::USUAL,
            azimuth,
            horizontal_fov: view,
            size_px: (4000, 3000),
            far: Length::from_m(12.0),
            taken: None,
            unknown: Unknown::default(),
        }
    }

    fn place(photos: &[PlacePhoto]) -> Place {
        Place { photos: photos.into(), ..Place::new(PlaceId::new(1).expect("an id"), "yard") }
    }

    const HALF: ViewTangents = ViewTangents { left: 0.4, right: 0.4, up: 0.2, down: 0.2 };

    #[test]
    fn the_suns_place_in_a_photo_is_the_direction_in_which_it_is() {
        let looks_west = photo(1, DVec2::ZERO, deg(270.0), deg(90.0));
        let (across, down) = looks_west.sees_far(deg(270.0), Angle::ZERO).expect("ahead");
        assert!((across - 0.5).abs() < 1e-12 && (down - 0.5).abs() < 1e-12, "{across} {down}");
        // Half the view to the right is the photo's edge, and farther north is right of west.
        let (across, _) = looks_west.sees_far(deg(315.0), Angle::ZERO).expect("ahead");
        assert!((across - 1.0).abs() < 1e-12, "{across}");
        assert_eq!(looks_west.sees_far(deg(90.0), deg(10.0)), None);
    }

    #[test]
    fn an_equivalent_is_of_the_diagonal_whichever_way_the_phone_is_held() {
        let wide = fov_of_equivalent(24.0, (4032, 3024));
        assert!((wide.to_deg() - 71.59).abs() < 0.01, "{}", wide.to_deg());
        assert!(fov_of_equivalent(24.0, (3024, 4032)) < wide);
        assert!((equivalent_of_fov(wide, (4032, 3024)) - 24.0).abs() < 1e-9);
    }

    #[test]
    fn a_photo_turns_with_the_floor_of_its_scene() {
        // Taken 3 m north of the origin, looking north; on this floor the earth's north is to the east.
        let camera = photo(1, DVec2::new(0.0, 3.0), Angle::ZERO, deg(90.0)).camera(deg(90.0));
        assert!(camera.position().truncate().distance(DVec2::new(3.0, 0.0)) < 1e-12, "{camera:?}");
        assert!(camera.forward().distance(glam::DVec3::X) < 1e-12, "{camera:?}");
    }

    #[test]
    fn a_place_of_a_scenes_floor_is_found_on_the_places_own() {
        let blocking = SceneBlocking { north: deg(90.0), ..SceneBlocking::default() };
        let taken = photo(1, DVec2::new(0.0, 3.0), Angle::ZERO, deg(90.0));
        let on_floor = taken.camera(blocking.north).position().truncate();
        assert!(blocking.on_place(on_floor).distance(taken.at) < 1e-12);
        assert!(blocking.from_place(taken.at).distance(on_floor) < 1e-12);
    }

    #[test]
    fn of_photos_that_cover_the_frame_the_nearest_serves() {
        let near = DVec2::new(0.5, 0.0);
        let all = [
            photo(1, DVec2::new(4.0, 0.0), Angle::ZERO, deg(110.0)),
            photo(2, near, Angle::ZERO, deg(100.0)),
            photo(3, DVec2::ZERO, deg(180.0), deg(110.0)),
        ];
        let phone = Camera::new(DVec2::ZERO.extend(1.5), Angle::ZERO, Angle::ZERO);
        let place_of_all = place(&all);
        let (best, share) = place_of_all.photo_behind(&phone, &HALF, Angle::ZERO).expect("one that covers");
        assert_eq!(best.id.number(), 2);
        assert!(share > 0.999, "{share}");
        assert_eq!(place(&all[2..]).photo_behind(&phone, &HALF, Angle::ZERO), None, "it looks away");
    }

    #[test]
    fn behind_a_picture_it_is_where_it_was_taken_seen_from_the_pictures_own_origin() {
        let taken = photo(7, DVec2::new(1.0, -2.0), deg(30.0), deg(80.0));
        let behind = taken.behind(deg(10.0), DVec2::new(0.5, 0.25));
        let on_floor = taken.camera(deg(10.0));
        assert_eq!(behind.photo, 7);
        assert!(
            (on_floor.position() - behind.camera.position()).distance(glam::DVec3::new(0.5, 0.25, 0.0))
                < 1e-12
        );
        assert_eq!(behind.camera.forward(), on_floor.forward());
    }
}
