//! The sensor area that a lens uses for a whole still photo.

use units::{FieldError, Length, checked_field};

use crate::lens::FocalLength;

/// An area on the sensor, landscape or upright.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SensorSize {
    /// Along the image's rows; positive.
    pub width: Length,
    /// Along the image's columns; positive.
    pub height: Length,
}

/// The diagonal of a 36 mm x 24 mm frame: 43.267 mm.
///
/// # Source
/// `Cipa2019`, tag `FocalLengthIn35mmFilm`: the equivalent refers to the diagonal of the 36 x 24 mm frame.
pub fn full_frame_diagonal() -> Length {
    SensorSize { width: Length::from_mm(36.0), height: Length::from_mm(24.0) }.diagonal()
}

impl SensorSize {
    /// A sensor area, each side 0.2 mm to 100 mm.
    ///
    /// # Errors
    /// Names the side that is out of range.
    pub fn from_mm(width: f64, height: f64) -> Result<Self, FieldError> {
        let side = |field, value| checked_field(field, value, 0.2, 100.0, "mm").map(Length::from_mm);
        Ok(Self { width: side("sensor_width_mm", width)?, height: side("sensor_height_mm", height)? })
    }

    /// The sensor area on which `focal_length` sees what `equivalent` sees on a 36 x 24 mm frame.
    ///
    /// ```text
    /// diagonal = 43.267 mm · f / f35
    /// ```
    /// `f` focal length; `f35` the 35 mm-equivalent with digital zoom divided out. The convention is on the diagonal of
    /// the still photo, so its `aspect` gives the sides.
    ///
    /// # Source
    /// `Cipa2019`, tag `FocalLengthIn35mmFilm`.
    pub fn from_equivalent(focal_length: FocalLength, equivalent: FocalLength, aspect: f64) -> Self {
        let diagonal = full_frame_diagonal() * (focal_length.to_length() / equivalent.to_length());
        Self::from_diagonal(diagonal, aspect)
    }

    /// The area's diagonal.
    pub fn diagonal(self) -> Length {
        Length::from_m(libm::hypot(self.width.to_m(), self.height.to_m()))
    }

    /// How many times the diagonal of a 36 x 24 mm frame is this one's: 43.267 mm over the diagonal.
    pub fn crop_factor(self) -> f64 {
        full_frame_diagonal() / self.diagonal()
    }

    /// The area of that `diagonal` whose width is `aspect` times its height.
    pub fn from_diagonal(diagonal: Length, aspect: f64) -> Self {
        let height = diagonal / libm::hypot(aspect, 1.0);
        Self { width: height * aspect, height }
    }

    /// The same area with the phone turned by a quarter.
    #[must_use]
    pub const fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_full_frame_has_crop_factor_one() {
        let full = SensorSize { width: Length::from_mm(36.0), height: Length::from_mm(24.0) };
        assert!((full.crop_factor() - 1.0).abs() < 1e-15, "{}", full.crop_factor());
        assert!((full_frame_diagonal().to_mm() - 43.266_615).abs() < 1e-6, "{:?}", full_frame_diagonal());
    }

    #[test]
    fn a_diagonal_and_an_aspect_give_the_sides_back() {
        let side = SensorSize::from_diagonal(Length::from_mm(5.0), 4.0 / 3.0);
        assert!(
            (side.width.to_mm() - 4.0).abs() < 1e-12 && (side.height.to_mm() - 3.0).abs() < 1e-12,
            "{side:?}"
        );
    }

    #[test]
    fn the_side_that_is_wrong_is_named() {
        let error = SensorSize::from_mm(9.8, -1.0).expect_err("refused");
        assert_eq!(error.to_string(), "sensor_height_mm: -1 mm is not allowed: 0.2 to 100 mm");
    }

    #[test]
    fn an_equivalent_gives_a_sensor_that_has_that_equivalent() {
        let f = FocalLength::from_mm(6.86).expect("in range");
        let f35 = FocalLength::from_mm(24.0).expect("in range");
        let sensor = SensorSize::from_equivalent(f, f35, 4.0 / 3.0);
        let back = f.to_length().to_mm() * sensor.crop_factor();
        assert!((back - 24.0).abs() < 1e-12, "{back}");
    }

    #[test]
    fn what_is_allowed_stands_behind_the_side_that_is_wrong() {
        let error = SensorSize::from_mm(101.0, 7.3).expect_err("refused");
        let allowed = std::error::Error::source(&error).map(ToString::to_string);
        assert_eq!(allowed.as_deref(), Some("101 mm is not allowed: 0.2 to 100 mm"));
    }
}
