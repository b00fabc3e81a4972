//! One of the phone's lenses.

use language::key;
use units::{Length, QuantityError, checked};

use crate::known::Known;
use crate::sensor::SensorSize;

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

impl FocalLength {
    /// A focal length of `millimetres`.
    ///
    /// # Errors
    /// Refuses what is not 0.1 mm to 2000 mm.
    pub fn from_mm(millimetres: f64) -> Result<Self, QuantityError> {
        checked(millimetres, 0.1, 2000.0, "mm").map(|millimetres| Self(Length::from_mm(millimetres)))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_focal_length_of_nothing_is_refused_with_the_range() {
        let error = FocalLength::from_mm(0.0).expect_err("refused");
        assert_eq!(error.to_string(), "0 mm is not allowed: 0.1 to 2000 mm");
        assert!(FocalLength::from_mm(f64::NAN).is_err(), "NaN is no focal length");
    }
}
