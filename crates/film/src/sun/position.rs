//! Where the sun is at one moment.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use solar_positioning::{
    ElevationTarget, SolarEvents, SolarPosition, SolarPositions, delta_t, time::JulianDate,
};
use units::Angle;

use super::coordinates::{Air, Coordinates};
use super::error::SunError;

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
        Heavens::over(place, air, moment)?.sun(moment)
    }
}

/// The sky over a place about some moment: what all positions and crossings of a day share.
#[derive(Debug, Clone, Copy)]
pub(super) struct Heavens {
    place: Coordinates,
    air: Air,
    /// Terrestrial time less universal time, seconds.
    delta_t_s: f64,
}

/// Which way the sun crosses an elevation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Crossing {
    /// Upwards.
    Rise,
    /// Downwards.
    Set,
}

impl Heavens {
    /// Whoever calls it has checked the year, of the moment or of the day in its own zone.
    pub(super) fn over(place: &Coordinates, air: Air, about: Timestamp) -> Result<Self, SunError> {
        let date = TimeZone::UTC.to_datetime(about).date();
        let delta_t_s = delta_t::estimate(f64::from(date.year()) + (f64::from(date.month()) - 0.5) / 12.0)?;
        Ok(Self { place: *place, air, delta_t_s })
    }

    pub(super) fn sun(&self, moment: Timestamp) -> Result<SunAt, SunError> {
        let moment = JulianDate::new(julian(moment), self.delta_t_s)?;
        let now = SolarPositions::new().for_time_from_julian(moment)?;
        let (location, height) = (self.place.location(), self.place.elevation().to_m());
        let bare: SolarPosition = now.at(location, height, None)?;
        let seen = now.at(location, height, Some(self.air.refraction()?))?;
        Ok(SunAt {
            azimuth: Angle::from_deg(bare.azimuth()),
            true_elevation: Angle::from_deg(bare.elevation_angle()),
            apparent_elevation: Angle::from_deg(seen.elevation_angle()),
        })
    }

    /// Every time after `from` and up to `to` at which the sun's centre crosses a true elevation.
    ///
    /// The search brackets crossings within the very stretch that it is given, so that none can be of another day.
    pub(super) fn crossings(
        &self,
        crossing: Crossing,
        elevation: Angle,
        from: Timestamp,
        to: Timestamp,
    ) -> Result<Vec<Timestamp>, SunError> {
        let target = ElevationTarget {
            angle: elevation.to_deg(),
            height: self.place.elevation().to_m(),
            refraction: None,
        };
        let (positions, location) = (SolarPositions::new(), self.place.location());
        all(from, to, |start, end| match crossing {
            Crossing::Rise => {
                positions.next_elevation_rise_from_julian(start, end, location, self.delta_t_s, target)
            }
            Crossing::Set => {
                positions.next_elevation_set_from_julian(start, end, location, self.delta_t_s, target)
            }
        })
    }

    /// Every time after `from` and up to `to` at which the sun crosses the meridian above.
    pub(super) fn noons(&self, from: Timestamp, to: Timestamp) -> Result<Vec<Timestamp>, SunError> {
        let longitude = self.place.location().longitude;
        all(from, to, |start, end| {
            SolarEvents::new().next_transit_from_julian(start, end, longitude, self.delta_t_s)
        })
    }
}

/// Every time after `from` and up to `to` that a search gives, each from where the one before it was.
fn all(
    from: Timestamp,
    to: Timestamp,
    next: impl Fn(f64, f64) -> solar_positioning::Result<Option<f64>>,
) -> Result<Vec<Timestamp>, SunError> {
    let (mut start, end) = (julian(from), julian(to));
    let mut found = Vec::new();
    // In a day the sun crosses an elevation twice at the most, three times beside the poles; the bound is for what
    // arithmetic may do at a tangent.
    while start < end && found.len() < 16 {
        let Some(crossing) = next(start, end)? else { break };
        found.push(timestamp(crossing)?);
        start = crossing;
    }
    Ok(found)
}

/// The year of a moment at Greenwich.
pub(super) fn year_of(moment: Timestamp) -> i16 {
    TimeZone::UTC.to_datetime(moment).year()
}

/// The Julian date of a moment: days since noon of 1 January 4713 BC, of which the Unix epoch was 2440587.5.
fn julian(moment: Timestamp) -> f64 {
    moment.as_duration().as_secs_f64() / 86_400.0 + 2_440_587.5
}

/// The moment of a Julian date, to a millisecond, which is what crossings are searched to.
fn timestamp(julian: f64) -> Result<Timestamp, SunError> {
    let milliseconds = libm::round((julian - 2_440_587.5) * 86_400_000.0);
    #[expect(clippy::cast_possible_truncation, reason = "whole milliseconds of the years 1900 to 2100 fit")]
    let milliseconds = milliseconds as i64;
    Timestamp::from_millisecond(milliseconds).map_err(|_beyond| SunError::Calendar)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_comes_back_from_its_julian_date() {
        for text in ["1900-01-01T00:00:00Z", "2026-06-21T19:30:00.125Z", "2100-12-31T23:59:59.999Z"] {
            let moment: Timestamp = text.parse().expect("a time");
            assert_eq!(timestamp(julian(moment)).expect("in the calendar"), moment, "{text}");
        }
    }

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
