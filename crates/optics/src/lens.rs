//! One of the phone's lenses.

use std::fmt;

use language::key;
use units::{Length, QuantityError, checked};

use crate::known::Known;
use crate::sensor::{SensorSize, full_frame_diagonal};

/// A focal length: 0.1 mm to 2 m.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct FocalLength(Length);

/// An f-number: 0.5 to 64.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct FNumber(f64);

/// Whether a lens's millimetres are its own or those of a 36 x 24 mm camera that sees the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Focal length and sensor size are the lens's own.
    True,
    /// Only the field of view is known: the focal length is the 35 mm-equivalent on an area with that diagonal.
    /// Focus and blur cannot be told, and the lens's extension for focus is left out.
    Equivalent,
}

/// One of the phone's lenses with the sensor area that it uses for a whole still photo, phone held sideways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lens {
    /// Focal length.
    pub focal_length: Known<FocalLength>,
    /// f-number, where known; on nearly every phone it cannot be changed.
    pub f_number: Option<Known<FNumber>>,
    /// The whole still photo's area; its relative uncertainty is that of both sides together.
    pub sensor: Known<SensorSize>,
    /// The least axial distance at which the lens can focus, where known.
    pub closest_focus: Option<Length>,
    /// What the millimetres mean.
    pub scale: Scale,
}

/// Why a lens is not usable.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq)]
pub enum LensError {
    /// A value out of range.
    Range {
        /// The field, in the words of files and requests.
        field: &'static str,
        /// What is allowed.
        source: QuantityError,
    },
}

impl fmt::Display for LensError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range { field, source } => write!(f, "{field}: {source}"),
        }
    }
}

impl std::error::Error for LensError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Range { source, .. } => Some(source),
        }
    }
}

/// Passes a value within bounds on as millimetres.
fn checked_mm(value: f64, min: f64, max: f64) -> Result<Length, QuantityError> {
    checked(value, min, max, "mm").map(Length::from_mm)
}

impl FocalLength {
    /// A focal length of `millimetres`.
    ///
    /// # Errors
    /// Refuses what is not 0.1 mm to 2000 mm.
    pub fn from_mm(millimetres: f64) -> Result<Self, QuantityError> {
        checked_mm(millimetres, 0.1, 2000.0).map(Self)
    }

    /// As a length.
    pub const fn to_length(self) -> Length {
        self.0
    }
}

impl FNumber {
    /// An f-number.
    ///
    /// # Errors
    /// Refuses what is not 0.5 to 64.
    pub fn new(f_number: f64) -> Result<Self, QuantityError> {
        checked(f_number, 0.5, 64.0, key!("(f-number)")).map(Self)
    }

    /// As a bare number.
    pub const fn to_f64(self) -> f64 {
        self.0
    }
}

impl SensorSize {
    /// A sensor area, each side 0.2 mm to 100 mm.
    ///
    /// # Errors
    /// Names the side that is out of range.
    pub fn from_mm(width: f64, height: f64) -> Result<Self, LensError> {
        let side =
            |field, value| checked_mm(value, 0.2, 100.0).map_err(|source| LensError::Range { field, source });
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
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_focal_length_of_nothing_is_refused_with_the_range() {
        let error = FocalLength::from_mm(0.0).expect_err("refused");
        assert_eq!(error.to_string(), "0 mm is not allowed: 0.1 to 2000 mm");
        assert!(FocalLength::from_mm(f64::NAN).is_err(), "NaN is no focal length");
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
