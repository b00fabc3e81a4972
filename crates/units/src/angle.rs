//! Angles.

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

use language::key;

use crate::error::{QuantityError, checked};

/// An angle in radians. Full angles unless a name says "half".
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Angle(f64);

impl Angle {
    /// No angle: level, straight ahead.
    pub const ZERO: Self = Self(0.0);

    /// An angle of `radians`, which must be finite.
    pub const fn from_rad(radians: f64) -> Self {
        debug_assert!(radians.is_finite(), "an angle must be finite");
        Self(radians)
    }

    /// An angle of `degrees`, which must be finite.
    pub const fn from_deg(degrees: f64) -> Self {
        Self::from_rad(degrees.to_radians())
    }

    /// An angle from outside, within `min_deg..=max_deg`.
    ///
    /// # Errors
    /// Refuses what is not finite or not within the bounds.
    pub fn checked_from_deg(degrees: f64, min_deg: f64, max_deg: f64) -> Result<Self, QuantityError> {
        checked(degrees, min_deg, max_deg, key!("deg")).map(Self::from_deg)
    }

    /// The angle whose tangent is `tangent`, within a quarter turn either way.
    pub fn from_tan(tangent: f64) -> Self {
        Self(libm::atan(tangent))
    }

    /// The direction of the point `(x, y)`, counted from the positive x axis towards the positive y axis.
    pub fn from_components(y: f64, x: f64) -> Self {
        Self(libm::atan2(y, x))
    }

    /// In radians.
    pub const fn to_rad(self) -> f64 {
        self.0
    }

    /// In degrees.
    pub const fn to_deg(self) -> f64 {
        self.0.to_degrees()
    }

    /// The sine.
    pub fn sin(self) -> f64 {
        libm::sin(self.0)
    }

    /// The cosine.
    pub fn cos(self) -> f64 {
        libm::cos(self.0)
    }

    /// The tangent.
    pub fn tan(self) -> f64 {
        libm::tan(self.0)
    }

    /// The same angle without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Angle {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Angle {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for Angle {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

impl fmt::Display for Angle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(digits) = f.precision() {
            write!(f, "{:.digits$}°", self.to_deg())
        } else {
            write!(f, "{}°", self.to_deg())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_level_look_has_no_tangent() {
        assert_eq!(Angle::ZERO.tan().to_bits(), 0.0_f64.to_bits());
    }

    #[test]
    fn the_tangent_gives_its_angle_back() {
        for degrees in [-80.0, -1.0, 0.0, 0.5, 45.0, 89.0] {
            let back = Angle::from_tan(Angle::from_deg(degrees).tan()).to_deg();
            assert!((back - degrees).abs() < 1e-12, "{back} is not {degrees}");
        }
    }

    #[test]
    fn an_angle_beyond_its_bounds_is_refused_with_the_bounds() {
        let error = Angle::checked_from_deg(120.0, -89.0, 89.0).expect_err("beyond");
        assert_eq!(error.to_string(), "120 deg is not allowed: -89 to 89 deg");
    }
}
