//! What the sun does on one day: dawn, rise, noon, set, dusk.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::coordinates::{Air, Coordinates};
use super::crossing::{Course, Crossing};
use super::error::SunError;
use super::heavens::Heavens;
use super::{AT_CIVIL_TWILIGHT_DEG, AT_THE_HORIZON_DEG};

/// What the sun does on one calendar day; none for what does not happen on it, as in a polar night.
///
/// Every time is on the day that was asked for. Where summer nights are so short that the sun sets after midnight, a day's
/// set may come before its rise; of two sets on one day it is the later, after noon.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DaySun {
    /// The sun's centre rises over 6° below the horizon: from here on there is light to see by.
    pub civil_dawn: Option<Timestamp>,
    /// Its upper edge comes over a level horizon.
    pub sunrise: Option<Timestamp>,
    /// It is at its highest, due south or due north.
    pub noon: Option<Timestamp>,
    /// Its upper edge goes under a level horizon.
    pub sunset: Option<Timestamp>,
    /// Its centre sinks to 6° below the horizon: the afterglow is over.
    pub civil_dusk: Option<Timestamp>,
}

impl DaySun {
    /// The sun's day from midnight to midnight of that zone, whatever its clocks do in between.
    ///
    /// # Errors
    /// Refuses a year that is not 1900 to 2100.
    ///
    /// # Source
    /// `Reda2008` for the positions; times are where those cross, to a millisecond.
    pub fn of(place: &Coordinates, date: Date, zone: &TimeZone) -> Result<Self, SunError> {
        let hours = DayHours::of(date, zone)?;
        let heavens = Heavens::over(place, Air::standard_at(place), hours.start, hours.end)?;
        let noon = hours.noon(&heavens)?;
        let course = Course::of(&heavens, hours.just_before, hours.end);
        Self::on(&hours, noon, &course)
    }

    /// The same of a course of the sun that holds the day.
    pub(super) fn on(
        hours: &DayHours,
        noon: Option<Timestamp>,
        course: &Course<'_>,
    ) -> Result<Self, SunError> {
        let crossing = |crossing, degrees| {
            let times = course.crossings(crossing, degrees, hours.just_before, hours.end)?;
            Ok::<_, SunError>(of_the_day(crossing, &hours.on_the_day(times), noon))
        };
        Ok(Self {
            civil_dawn: crossing(Crossing::Rise, AT_CIVIL_TWILIGHT_DEG)?,
            sunrise: crossing(Crossing::Rise, AT_THE_HORIZON_DEG)?,
            noon,
            sunset: crossing(Crossing::Set, AT_THE_HORIZON_DEG)?,
            civil_dusk: crossing(Crossing::Set, AT_CIVIL_TWILIGHT_DEG)?,
        })
    }
}

/// From midnight to midnight.
#[derive(Debug)]
pub(super) struct DayHours {
    pub(super) start: Timestamp,
    pub(super) end: Timestamp,
    /// A crossing at the very midnight belongs to the day that it begins; a search leaves out where it starts.
    pub(super) just_before: Timestamp,
}

impl DayHours {
    /// Those of a day of that zone's calendar.
    pub(super) fn of(date: Date, zone: &TimeZone) -> Result<Self, SunError> {
        SunError::check_year(date.year())?;
        let midnight = |date: Date| {
            date.to_zoned_datetime(zone.clone())
                .map(|zoned| zoned.timestamp())
                .map_err(|_beyond| SunError::Calendar)
        };
        let start = midnight(date)?;
        let end = midnight(date.tomorrow().map_err(|_beyond| SunError::Calendar)?)?;
        let just_before = start.saturating_sub(jiff::SignedDuration::from_millis(1)).unwrap_or(start);
        Ok(Self { start, end, just_before })
    }

    /// When the sun is at its highest on it.
    pub(super) fn noon(&self, heavens: &Heavens) -> Result<Option<Timestamp>, SunError> {
        Ok(self.on_the_day(heavens.noons(self.just_before, self.end)?).first().copied())
    }

    fn on_the_day(&self, times: Vec<Timestamp>) -> Vec<Timestamp> {
        times.into_iter().filter(|time| (self.start..self.end).contains(time)).collect()
    }
}

/// Of several on one day the one that belongs to its noon: the last rise before it, the first set after it.
fn of_the_day(crossing: Crossing, times: &[Timestamp], noon: Option<Timestamp>) -> Option<Timestamp> {
    let before = |time: &&Timestamp| noon.is_none_or(|noon| **time <= noon);
    let after = |time: &&Timestamp| noon.is_none_or(|noon| **time >= noon);
    match crossing {
        Crossing::Rise => times.iter().rev().find(before).or_else(|| times.first()),
        Crossing::Set => times.iter().find(after).or_else(|| times.last()),
    }
    .copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::tz::Offset;
    use proptest::prelude::*;

    fn hours_east(hours: i8) -> TimeZone {
        TimeZone::fixed(Offset::constant(hours))
    }

    fn day(latitude: f64, longitude: f64, date: &str, zone: &TimeZone) -> DaySun {
        let place = Coordinates::new(latitude, longitude, 0.0).expect("a place");
        DaySun::of(&place, date.parse().expect("a date"), zone).expect("a day")
    }

    #[test]
    fn a_polar_night_has_a_noon_and_no_sunrise() {
        let day = day(78.22, 15.64, "2026-12-21", &hours_east(1));
        let DaySun { civil_dawn, sunrise, noon, sunset, civil_dusk } = day;
        assert!(noon.is_some());
        assert_eq!([civil_dawn, sunrise, sunset, civil_dusk], [None; 4]);
    }

    #[test]
    fn a_sun_that_sets_after_midnight_sets_on_the_day_that_it_does() {
        // Reykjavik at midsummer: the sun sets a few minutes after midnight and rises three hours later.
        let zone = hours_east(0);
        let day = day(64.15, -21.94, "2026-06-21", &zone);
        let (sunset, sunrise) = (day.sunset.expect("a set"), day.sunrise.expect("a rise"));
        assert!(sunset < sunrise, "{sunset} {sunrise}");
        assert_eq!(zone.to_datetime(sunset).date(), "2026-06-21".parse().expect("a date"));
        assert_eq!(day.civil_dusk, None, "it is never dark enough");
    }

    #[test]
    fn the_first_and_the_last_day_are_those_of_the_zones_own_calendar() {
        for (date, hours) in [("1900-01-01", 12), ("2100-12-31", -11)] {
            assert!(day(52.1, 4.3, date, &hours_east(hours)).noon.is_some(), "{date}");
        }
        let (place, zone) = (Coordinates::new(0.0, 0.0, 0.0).expect("a place"), hours_east(2));
        let error = DaySun::of(&place, "2101-01-01".parse().expect("a date"), &zone).expect_err("beyond");
        assert_eq!(error, SunError::Year { year: 2101 });
    }

    #[test]
    fn of_two_sets_the_later_is_the_days() {
        let times = ["2026-08-01T00:02:00Z", "2026-08-01T12:00:00Z", "2026-08-01T23:58:00Z"];
        let [early, noon, late] = times.map(|text| text.parse().expect("a time"));
        assert_eq!(of_the_day(Crossing::Set, &[early, late], Some(noon)), Some(late));
        assert_eq!(of_the_day(Crossing::Rise, &[early, late], Some(noon)), Some(early));
        assert_eq!(of_the_day(Crossing::Set, &[early], Some(noon)), Some(early));
        assert_eq!(of_the_day(Crossing::Set, &[], Some(noon)), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// What is said of a time holds at that time.
        #[test]
        fn at_each_time_the_sun_is_where_it_was_said_to_be(
            latitude in -90.0_f64..=90.0, longitude in -180.0_f64..=180.0, day in 0_i64..=73_000,
        ) {
            let epoch: Date = "1900-01-02".parse().expect("a date");
            let date = epoch.checked_add(jiff::SignedDuration::from_hours(24 * day)).expect("in the calendar");
            let place = Coordinates::new(latitude, longitude, 0.0).expect("a place");
            #[expect(clippy::cast_possible_truncation, reason = "-12 to 12")]
            let zone = hours_east((longitude / 15.0).round() as i8);
            let sun = DaySun::of(&place, date, &zone).expect("a day");
            let at = |time| super::super::SunAt::of(&place, Air::standard_at(&place), time).expect("a position");
            let pairs = [
                (sun.civil_dawn, -6.0), (sun.civil_dusk, -6.0), (sun.sunrise, -0.8333), (sun.sunset, -0.8333),
            ];
            for (time, degrees) in pairs {
                if let Some(time) = time {
                    let there = at(time).true_elevation.to_deg();
                    prop_assert!((there - degrees).abs() < 1e-3, "{there} is not {degrees}");
                    prop_assert_eq!(zone.to_datetime(time).date(), date);
                }
            }
            let noon = at(sun.noon.expect("a noon")).azimuth.to_deg();
            let from_south_or_north = (noon % 180.0).min(180.0 - noon % 180.0);
            prop_assert!(from_south_or_north < 2.0 || latitude.abs() > 89.0, "{noon}");
        }
    }
}
