//! Frame rates.

use std::fmt;

use crate::error::{QuantityError, checked};

/// Frames a second, at capture or at play.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct FrameRate(f64);

impl FrameRate {
    /// The frame rate of films: 24 a second.
    pub const FILM: Self = Self(24.0);

    /// A frame rate from outside: one to a thousand frames a second.
    ///
    /// # Errors
    /// Refuses what is not finite or beyond.
    pub fn checked_from_fps(fps: f64) -> Result<Self, QuantityError> {
        checked(fps, 1.0, 1000.0, "fps").map(Self)
    }

    /// In frames a second.
    pub const fn to_fps(self) -> f64 {
        self.0
    }
}

impl fmt::Display for FrameRate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} fps", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_still_is_not_a_frame_rate() {
        assert!(FrameRate::checked_from_fps(0.0).is_err());
        assert_eq!(FrameRate::checked_from_fps(23.976).expect("a film rate").to_string(), "23.976 fps");
    }
}
