//! The lens, and the sensor area behind it, that a photo's facts imply.

use std::fmt;

use language::{Number, key, say, text};
use optics::{SensorSize, full_frame_diagonal};
use units::Length;

use super::{MissingFact, PhotoFacts};

/// A lens as a photo or a clip tells of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LensFromPhoto {
    /// Focal length.
    pub focal_length_mm: f64,
    /// f-number, where the file has one.
    pub f_number: Option<f64>,
    /// The 35 mm-equivalent of the whole sensor: digital zoom divided out.
    pub equivalent_35mm_mm: f64,
    /// The standard uncertainty of the equivalent.
    pub equivalent_35mm_sd_mm: f64,
    /// The digital zoom that was divided out; 1 for none.
    pub digital_zoom: f64,
    /// The area of the sensor behind the whole still photo; nothing for a clip, which does not say how it was cropped.
    pub sensor: Option<SensorFromPhoto>,
}

/// The area of the sensor behind a whole still photo, phone held sideways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SensorFromPhoto {
    /// Along the longer side.
    pub width_mm: f64,
    /// Along the shorter side.
    pub height_mm: f64,
    /// The standard uncertainty of both sides, as a share of each: they are off together.
    pub relative_sd: f64,
}

/// Why no lens can be worked out.
#[non_exhaustive]
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LensFromPhotoError {
    /// The file lacks what a lens needs.
    Missing {
        /// The first fact that it lacks.
        fact: MissingFact,
    },
    /// The file says what no camera does.
    OutOfRange {
        /// The name of the fact.
        field: &'static str,
        /// Its value, in `unit`.
        value: f64,
        /// Smallest value believed.
        min: f64,
        /// Largest value believed.
        max: f64,
        /// The unit of all three; empty for a plain number.
        unit: &'static str,
    },
}

impl fmt::Display for LensFromPhotoError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing { fact } => f.write_str(&say!("the file does not say its {fact}")),
            Self::OutOfRange { field, value, min, max, unit } => {
                let (field, space) = (text(field), if unit.is_empty() { "" } else { " " });
                let [value, min, max] = [value, min, max].map(Number);
                f.write_str(&say!(
                    "{field} {value}{space}{unit} is not believed: {min} to {max}{space}{unit}"
                ))
            }
        }
    }
}

impl std::error::Error for LensFromPhotoError {}

/// The largest error of an equivalent that was rounded to whole millimetres.
const ROUNDING_MM: f64 = 0.5;

/// Works out the lens and the sensor area behind the whole photo.
///
/// ```text
/// E = e / z          d = D f / E = D f z / e          u(d) / d = (1/2) / √3 / e
/// ```
/// `f` focal length (mm, 0.1 to 2000); `e` 35 mm-equivalent as tagged (mm, 1 to 10000), which has digital zoom inside;
/// `z` digital zoom (0.1 to 100; 1 if the file does not say); `E` the equivalent of the whole sensor (mm); `D` the
/// diagonal of 36 mm x 24 mm, 43.267 mm; `d` the diagonal of the area behind the photo (mm), split into sides by the
/// photo's own pixels. `u` is a standard uncertainty: the tag is rounded to whole millimetres, so its error is uniform
/// within half of one. The rounding of `f`, to two digits after the point or more, is some ten times less and left out.
///
/// # Differences
/// The tag's convention is the diagonal of *this* photo. A camera that cuts squares or wide strips from its sensor and
/// keeps the tag of the whole gives an area of the right diagonal and the wrong sides, and the file cannot show it: so
/// prefer a photo in the sensor's own shape, on nearly every phone 4:3.
/// What a clip's equivalent refers to is not laid down anywhere, so a clip gives no sensor.
///
/// # Errors
/// If focal length, equivalent or (for a photo) pixel size are missing, or not to be believed.
///
/// # Source
/// `Cipa2019`, tags `FocalLengthIn35mmFilm` and `DigitalZoomRatio`; `Jcgm2008`, 4.3.7.
///
/// # Examples
/// 4.03 mm, tagged 48 mm at a zoom of 1.5432, 2592 x 1944 pixels: 4.485 mm x 3.364 mm, give or take 0.6 %.
/// ```
/// use film::{FileKind, PhotoFacts, lens_from_photo};
///
/// let facts = PhotoFacts {
///     focal_length_mm: Some(4.03),
///     equivalent_35mm_mm: Some(48.0),
///     digital_zoom: Some(1.5432),
///     width_px: Some(2592),
///     height_px: Some(1944),
///     ..PhotoFacts::unknown(FileKind::Heic)
/// };
/// let sensor = lens_from_photo(&facts)?.sensor.expect("a photo has one");
/// assert!((sensor.width_mm - 4.485).abs() < 1e-3 && (sensor.height_mm - 3.364).abs() < 1e-3);
/// assert!((sensor.relative_sd - 0.006).abs() < 1e-4);
/// # Ok::<(), film::LensFromPhotoError>(())
/// ```
pub fn lens_from_photo(facts: &PhotoFacts) -> Result<LensFromPhoto, LensFromPhotoError> {
    let focal_length_mm = known(facts.focal_length_mm, MissingFact::FocalLength)?;
    let tagged_mm = known(facts.equivalent_35mm_mm, MissingFact::Equivalent35mm)?;
    let digital_zoom = facts.digital_zoom.unwrap_or(1.0);
    believed(key!("focal length"), focal_length_mm, (0.1, 2000.0), "mm")?;
    believed(key!("35 mm-equivalent"), tagged_mm, (1.0, 10_000.0), "mm")?;
    believed(key!("digital zoom"), digital_zoom, (0.1, 100.0), "")?;
    if let Some(f_number) = facts.f_number {
        believed(key!("f-number"), f_number, (0.5, 64.0), "")?;
    }

    let relative_sd = ROUNDING_MM / libm::sqrt(3.0) / tagged_mm;
    let equivalent_35mm_mm = tagged_mm / digital_zoom;
    let sensor = if facts.kind.is_clip() {
        None
    } else {
        let pixels = known(facts.width_px.zip(facts.height_px), MissingFact::PixelSize)?;
        let diagonal = full_frame_diagonal() * (focal_length_mm / equivalent_35mm_mm);
        let (width, height) = sides_held_sideways(diagonal, pixels)?;
        Some(SensorFromPhoto { width_mm: width.to_mm(), height_mm: height.to_mm(), relative_sd })
    };
    Ok(LensFromPhoto {
        focal_length_mm,
        f_number: facts.f_number,
        equivalent_35mm_mm,
        equivalent_35mm_sd_mm: equivalent_35mm_mm * relative_sd,
        digital_zoom,
        sensor,
    })
}

/// The longer and the shorter side of a photo with that diagonal.
fn sides_held_sideways(
    diagonal: Length,
    (width_px, height_px): (u32, u32),
) -> Result<(Length, Length), LensFromPhotoError> {
    let (long, short) = (width_px.max(height_px), width_px.min(height_px));
    let aspect = f64::from(long) / f64::from(short);
    // A panorama is stitched from many photos, and its tags speak of one of them.
    believed(key!("longer side over shorter"), aspect, (1.0, 4.0), "")?;
    let area = SensorSize::from_diagonal(diagonal, aspect);
    for side in [area.width, area.height] {
        believed(key!("side of the sensor"), side.to_mm(), (0.2, 100.0), "mm")?;
    }
    Ok((area.width, area.height))
}

fn known<T>(fact: Option<T>, name: MissingFact) -> Result<T, LensFromPhotoError> {
    fact.ok_or(LensFromPhotoError::Missing { fact: name })
}

fn believed(
    field: &'static str,
    value: f64,
    (min, max): (f64, f64),
    unit: &'static str,
) -> Result<(), LensFromPhotoError> {
    // A NaN is inside no range, so this refuses it as well.
    if (min..=max).contains(&value) {
        Ok(())
    } else {
        Err(LensFromPhotoError::OutOfRange { field, value, min, max, unit })
    }
}

#[cfg(test)]
mod tests {
    use super::super::FileKind;
    use super::*;

    fn photo(focal_length_mm: f64, equivalent_mm: f64, pixels: (u32, u32)) -> PhotoFacts {
        PhotoFacts {
            focal_length_mm: Some(focal_length_mm),
            f_number: Some(2.0),
            equivalent_35mm_mm: Some(equivalent_mm),
            width_px: Some(pixels.0),
            height_px: Some(pixels.1),
            ..PhotoFacts::unknown(FileKind::Jpeg)
        }
    }

    fn sensor(facts: &PhotoFacts) -> SensorFromPhoto {
        lens_from_photo(facts).expect("a lens").sensor.expect("a sensor")
    }

    #[track_caller]
    fn close(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
    }

    #[test]
    fn a_full_frame_photo_gives_the_full_frame() {
        let found = sensor(&photo(35.0, 35.0, (6000, 4000)));
        close(found.width_mm, 36.0);
        close(found.height_mm, 24.0);
    }

    #[test]
    fn an_upright_photo_gives_the_same_sensor() {
        assert_eq!(sensor(&photo(4.28, 35.0, (2448, 3264))), sensor(&photo(4.28, 35.0, (3264, 2448))));
    }

    #[test]
    fn digital_zoom_leaves_the_sensor_as_it_is() {
        let zoomed = PhotoFacts { digital_zoom: Some(2.0), ..photo(5.0, 52.0, (4000, 3000)) };
        let (zoomed_area, whole) = (sensor(&zoomed), sensor(&photo(5.0, 26.0, (4000, 3000))));
        close(zoomed_area.width_mm, whole.width_mm);
        close(lens_from_photo(&zoomed).expect("a lens").equivalent_35mm_mm, 26.0);
        // The tag was rounded after zooming in, so it is known twice as well.
        close(zoomed_area.relative_sd * 2.0, whole.relative_sd);
    }

    #[test]
    fn a_square_photo_has_the_diagonal_of_its_tag() {
        let found = sensor(&photo(4.15, 39.0, (2448, 2448)));
        close(libm::hypot(found.width_mm, found.height_mm), full_frame_diagonal().to_mm() * 4.15 / 39.0);
        close(found.width_mm, found.height_mm);
    }

    #[test]
    fn rounding_to_whole_millimetres_is_known_to_0_29_mm() {
        let lens = lens_from_photo(&photo(5.0, 26.0, (4, 3))).expect("a lens");
        assert!((lens.equivalent_35mm_sd_mm - 0.288_675).abs() < 1e-6, "{lens:?}");
    }

    #[test]
    fn a_clip_gives_its_lens_without_a_sensor() {
        let clip = PhotoFacts { kind: FileKind::Mov, ..photo(5.0, 26.0, (3840, 2160)) };
        let lens = lens_from_photo(&clip).expect("a lens");
        assert_eq!((lens.sensor, lens.focal_length_mm, lens.f_number), (None, 5.0, Some(2.0)));
    }

    #[test]
    fn what_is_missing_is_named() {
        let stripped = PhotoFacts { equivalent_35mm_mm: None, ..photo(5.0, 26.0, (4, 3)) };
        let error = lens_from_photo(&stripped).expect_err("no equivalent");
        assert_eq!(error.to_string(), "the file does not say its 35 mm-equivalent");
    }

    #[test]
    fn a_panorama_and_a_sensor_of_no_size_are_refused() {
        let panorama = lens_from_photo(&photo(5.0, 26.0, (16_000, 3000))).expect_err("stitched");
        assert!(panorama.to_string().contains("longer side over shorter 5.333"), "{panorama}");
        let tiny = lens_from_photo(&photo(0.2, 2000.0, (4, 3))).expect_err("no such sensor");
        assert!(tiny.to_string().contains("side of the sensor 0.003"), "{tiny}");
        assert!(lens_from_photo(&photo(5.0, 26.0, (0, 0))).is_err());
    }
}
