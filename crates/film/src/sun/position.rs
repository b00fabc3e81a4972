//! Where the sun is at one moment.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use solar_positioning::{SolarPositions, delta_t, time::JulianDate};
use units::Angle;

use super::coordinates::{Air, Coordinates};
use super::error::SunError;
use super::heavens::{julian, seconds};

/// Where the sun's centre is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunAt {
    /// Its direction, clockwise from north, 0° to 360°.
    pub azimuth: Angle,
    /// How high it is, without the air.
    pub true_elevation: Angle,
    /// How high it is seen. Once its upper edge is below the horizon, where nobody sees it, the same as without the air.
    pub apparent_elevation: Angle,
}

impl SunAt {
    /// The sun from a place at a moment.
    ///
    /// ```text
    /// Δe = p/1010 · 283/(273 + T) · 1.02° / (60 tan(e + 10.3/(e + 5.11)))      for e > −0.8333°, else 0
    /// ```
    /// `e` true elevation (°), from the full algorithm; `p` pressure (hPa); `T` temperature (°C); `Δe` what the air lifts
    /// the sun by (°). Good to 0.0003° but for the air, whose layers can move a sun on the horizon by tenths of a degree.
    /// UTC is taken for UT1, which is off by less than 0.9 s or 0.004°.
    ///
    /// # Errors
    /// Refuses a year that is not 1900 to 2100.
    ///
    /// # Source
    /// `Reda2008`; the air by its equation 42.
    pub fn of(place: &Coordinates, air: Air, moment: Timestamp) -> Result<Self, SunError> {
        SunError::check_year(year_of(moment))?;
        let now = SolarPositions::new()
            .for_time_from_julian(JulianDate::new(julian(seconds(moment)), delta_t_s(moment)?)?)?;
        let (location, height) = (place.location(), place.elevation_m());
        let bare = now.at(location, height, None)?;
        let seen = now.at(location, height, Some(air.refraction()?))?;
        Ok(Self {
            azimuth: Angle::from_deg(bare.azimuth()),
            true_elevation: Angle::from_deg(bare.elevation_angle()),
            apparent_elevation: Angle::from_deg(seen.elevation_angle()),
        })
    }
}

/// How far the earth's turning is behind even time in the month of a moment, in seconds.
pub(super) fn delta_t_s(moment: Timestamp) -> Result<f64, SunError> {
    let date = TimeZone::UTC.to_datetime(moment).date();
    Ok(delta_t::estimate(f64::from(date.year()) + (f64::from(date.month()) - 0.5) / 12.0)?)
}

/// The year of a moment at Greenwich.
pub(super) fn year_of(moment: Timestamp) -> i16 {
    TimeZone::UTC.to_datetime(moment).year()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_year_beyond_is_refused_in_words() {
        let place = Coordinates::new(52.1, 4.3, 0.0).expect("a place");
        let moment: Timestamp = "2101-06-21T12:00:00Z".parse().expect("a time");
        let error = SunAt::of(&place, Air::standard_at(&place), moment).expect_err("beyond");
        assert_eq!(error.to_string(), "the year 2101 is not allowed: 1900 to 2100");
    }

    #[test]
    fn the_ends_of_the_earth_have_a_sun() {
        let moment: Timestamp = "2026-06-21T12:00:00Z".parse().expect("a time");
        for (latitude, longitude) in [(90.0, 180.0), (-90.0, -180.0), (90.0, 0.0), (0.0, 180.0)] {
            let place = Coordinates::new(latitude, longitude, 0.0).expect("a place");
            let sun = SunAt::of(&place, Air::standard_at(&place), moment).expect("a position");
            let midsummer = if latitude.abs() < 45.0 { None } else { Some(23.436 * latitude / 90.0) };
            let degrees = sun.true_elevation.to_deg();
            assert!(midsummer.is_none_or(|there| (degrees - there).abs() < 0.01), "{latitude}: {degrees}");
        }
    }
}
