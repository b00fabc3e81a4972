//! A place on the earth, and the air over it.

#[cfg(feature = "sun")]
use solar_positioning::{Location, RefractionCorrection};
use units::{Angle, Length, checked_field};

use super::error::SunError;

/// A place on the earth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coordinates {
    /// Degrees and metres, so that a file is written with the very numbers that it was read with.
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
}

/// The air that bends the sun's light.
#[cfg(feature = "sun")]
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    pressure_hpa: f64,
    temperature_c: f64,
}

impl Coordinates {
    /// A place by latitude (north positive), longitude (east positive) and height above the sea.
    ///
    /// # Errors
    /// Refuses what is not -90° to 90°, -180° to 180° and -500 m to 9000 m, by the names `latitude_deg`, `longitude_deg`
    /// and `elevation_m`.
    pub fn new(latitude_deg: f64, longitude_deg: f64, elevation_m: f64) -> Result<Self, SunError> {
        Ok(Self {
            latitude_deg: checked_field("latitude_deg", latitude_deg, -90.0, 90.0, "deg")?,
            longitude_deg: checked_field("longitude_deg", longitude_deg, -180.0, 180.0, "deg")?,
            elevation_m: checked_field("elevation_m", elevation_m, -500.0, 9000.0, "m")?,
        })
    }

    /// How far north.
    pub const fn latitude(&self) -> Angle {
        Angle::from_deg(self.latitude_deg)
    }

    /// How far east.
    pub const fn longitude(&self) -> Angle {
        Angle::from_deg(self.longitude_deg)
    }

    /// How high above the sea.
    pub const fn elevation(&self) -> Length {
        Length::from_m(self.elevation_m)
    }

    /// How far north, in degrees, as it was given.
    pub const fn latitude_deg(&self) -> f64 {
        self.latitude_deg
    }

    /// How far east, in degrees, as it was given.
    pub const fn longitude_deg(&self) -> f64 {
        self.longitude_deg
    }

    /// How high above the sea, in metres, as it was given.
    pub const fn elevation_m(&self) -> f64 {
        self.elevation_m
    }

    /// As the position's crate wants it.
    #[cfg(feature = "sun")]
    pub(super) fn location(&self) -> Location {
        Location { latitude: self.latitude_deg, longitude: self.longitude_deg }
    }
}

#[cfg(feature = "sun")]
impl Air {
    /// Air of that pressure and temperature.
    ///
    /// # Errors
    /// Refuses what is not 200 hPa to 1100 hPa and -90 °C to 60 °C, by the names `pressure_hpa` and `temperature_c`.
    pub fn new(pressure_hpa: f64, temperature_c: f64) -> Result<Self, SunError> {
        Ok(Self {
            pressure_hpa: checked_field("pressure_hpa", pressure_hpa, 200.0, 1100.0, "hPa")?,
            temperature_c: checked_field("temperature_c", temperature_c, -90.0, 60.0, "°C")?,
        })
    }

    /// The standard atmosphere at that place's height.
    ///
    /// ```text
    /// T = 15 − 0.0065 h        p = 1013.25 (1 − 0.0065 h / 288.15)^5.25588
    /// ```
    /// `h` height above the sea (m, -500 to 9000); `T` in °C; `p` in hPa. Weather moves the pressure by 3 % and the
    /// temperature by 10 %, which moves a sun on the horizon by 0.06° and one at 10° by 0.01°.
    ///
    /// # Source
    /// `Iso2533`, table of the layer up to 11 km: 288.15 K, 1013.25 hPa and −6.5 K a kilometre.
    pub fn standard_at(place: &Coordinates) -> Self {
        let fall = 0.0065 * place.elevation_m;
        Self { pressure_hpa: 1013.25 * libm::pow(1.0 - fall / 288.15, 5.25588), temperature_c: 15.0 - fall }
    }

    /// How much it bends light, over air of 1010 hPa and 10 °C.
    ///
    /// # Source
    /// `Reda2008`, equation 42.
    pub(crate) fn lift(self) -> f64 {
        self.pressure_hpa / 1010.0 * 283.0 / (273.0 + self.temperature_c)
    }

    pub(super) fn refraction(self) -> Result<RefractionCorrection, SunError> {
        Ok(RefractionCorrection::new(self.pressure_hpa, self.temperature_c)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_place_is_refused_by_its_field() {
        let told = |latitude, longitude, elevation| {
            Coordinates::new(latitude, longitude, elevation).expect_err("no place").to_string()
        };
        assert_eq!(told(91.0, 0.0, 0.0), "latitude_deg: 91 deg is not allowed: -90 to 90 deg");
        assert_eq!(told(0.0, 181.0, 0.0), "longitude_deg: 181 deg is not allowed: -180 to 180 deg");
        assert_eq!(told(0.0, 0.0, 9001.0), "elevation_m: 9001 m is not allowed: -500 to 9000 m");
        assert!(Coordinates::new(f64::NAN, 0.0, 0.0).is_err());
    }

    #[test]
    fn a_place_is_the_very_numbers_that_it_was_given() {
        let place = Coordinates::new(52.1, -4.3, 17.9).expect("a place");
        let told = [place.latitude_deg(), place.longitude_deg(), place.elevation_m()];
        assert_eq!(told.map(f64::to_bits), [52.1_f64, -4.3, 17.9].map(f64::to_bits));
    }

    #[cfg(feature = "sun")]
    #[test]
    fn standard_air_thins_with_height() {
        // Published rows of the standard atmosphere: 898.76 hPa and 8.5 °C at 1000 m, 540.20 hPa and -17.5 °C at 5000 m.
        for (metres, pressure_hpa, temperature_c) in [(1000.0, 898.76, 8.5), (5000.0, 540.20, -17.5)] {
            let air = Air::standard_at(&Coordinates::new(0.0, 0.0, metres).expect("a place"));
            assert!((air.pressure_hpa - pressure_hpa).abs() < 0.05, "{air:?}");
            assert!((air.temperature_c - temperature_c).abs() < 1e-9, "{air:?}");
        }
    }
}
