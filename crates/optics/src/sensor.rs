//! The sensor area that a lens uses for a whole still photo.

use units::Length;

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
}
