//! Light in stops.

use std::fmt;
use std::ops::{Add, Neg, Sub};

use language::key;

use crate::error::{QuantityError, checked};

/// A ratio of light in stops: one stop doubles. Stops add where light multiplies.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Stops(f64);

impl Stops {
    /// No change of light.
    pub const ZERO: Self = Self(0.0);

    /// A number of stops, which must be finite.
    pub const fn new(stops: f64) -> Self {
        debug_assert!(stops.is_finite(), "stops must be finite");
        Self(stops)
    }

    /// Stops from outside: within twenty either way, more than lies between starlight and snow in the sun.
    ///
    /// # Errors
    /// Refuses what is not finite or beyond.
    pub fn checked(stops: f64) -> Result<Self, QuantityError> {
        checked(stops, -20.0, 20.0, key!("stops")).map(Self)
    }

    /// As a bare number.
    pub const fn to_f64(self) -> f64 {
        self.0
    }

    /// How many times as much light.
    pub fn to_light_ratio(self) -> f64 {
        libm::exp2(self.0)
    }

    /// The stops of `ratio` times as much light (`ratio` > 0).
    pub fn from_light_ratio(ratio: f64) -> Self {
        Self::new(libm::log2(ratio))
    }

    /// Optical density of a filter that takes this many stops: log10 of the light ratio.
    ///
    /// Three tenths a stop, as the trade counts, is this to three digits: log10(2) = 0.30103.
    pub fn to_density(self) -> f64 {
        self.0 * std::f64::consts::LOG10_2
    }

    /// The stops of a filter of that optical density, which must be finite.
    pub fn from_density(density: f64) -> Self {
        Self::new(density / std::f64::consts::LOG10_2)
    }
}

impl Add for Stops {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Stops {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Stops {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl fmt::Display for Stops {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(digits) = f.precision() {
            write!(f, "{:.digits$} stops", self.0)
        } else {
            write!(f, "{} stops", self.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn assert_near(left: f64, right: f64) {
        assert!((left - right).abs() < 1e-12, "{left} is not {right}");
    }

    #[test]
    fn stops_add_where_light_multiplies() {
        let both = Stops::new(2.0) + Stops::new(3.0);
        assert_near(both.to_light_ratio(), 32.0);
        assert_near(Stops::from_light_ratio(4.0).to_f64(), 2.0);
    }

    #[test]
    fn a_stop_is_three_tenths_of_density_as_filters_are_marked() {
        let published = 0.3;
        assert!((Stops::new(1.0).to_density() - published).abs() < 0.0015, "density of one stop");
        assert!((Stops::new(10.0).to_density() - 3.0).abs() < 0.015, "density of ten stops");
        assert_near(Stops::from_density(Stops::new(6.4).to_density()).to_f64(), 6.4);
    }
}
