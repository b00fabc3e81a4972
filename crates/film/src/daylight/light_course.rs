//! The light on somebody at one moment, and how it changes over a stretch of a day.

use optics::{ExposureValue, Illuminance};
use units::Stops;

/// The light on somebody at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LightAt {
    /// On a face that is turned to the sun; none if the sun casts no shadows, for it is down, behind a hill or behind cloud.
    pub in_sun: Option<Illuminance>,
    /// In open shade.
    pub in_shade: Illuminance,
}

/// How the light changes over a stretch of a day, each moment in the best light there is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LightCourse {
    /// Just after it starts.
    pub start: LightAt,
    /// Half way.
    pub middle: LightAt,
    /// Just before it ends.
    pub end: LightAt,
}

impl LightAt {
    /// The light in the sun if it shines, else in the shade.
    pub fn brightest(&self) -> Illuminance {
        self.in_sun.unwrap_or(self.in_shade)
    }

    /// The same as an exposure value at ISO 100.
    pub fn exposure_value(&self) -> ExposureValue {
        self.brightest().exposure_value()
    }
}

impl LightCourse {
    /// By how much the light falls from start to end; negative if it grows.
    pub fn fall(&self) -> Stops {
        Stops::new(self.start.exposure_value().to_f64() - self.end.exposure_value().to_f64())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn light_that_halves_falls_by_a_stop() {
        let light = |lux| LightAt { in_sun: None, in_shade: Illuminance::from_lx(lux).expect("in range") };
        let course = LightCourse { start: light(800.0), middle: light(600.0), end: light(400.0) };
        assert!((course.fall().to_f64() - 1.0).abs() < 1e-12, "{:?}", course.fall());
    }
}
