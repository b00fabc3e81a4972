//! The direct light of a low sun, until the place's own horizon takes it away, and the glow before and after.

use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use language::key;
use units::{Angle, checked_field};

use super::coordinates::{Air, Coordinates};
use super::crossing::{Course, Crossing};
use super::day::{DayHours, DaySun};
use super::error::SunError;
use super::heavens::Heavens;
use super::horizon::HorizonProfile;
use super::place_sky::PlaceSky;
use super::position::year_of;
use super::{AT_CIVIL_TWILIGHT_DEG, AT_THE_HORIZON_DEG};

/// From one moment to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// When it starts.
    pub from: Timestamp,
    /// When it ends.
    pub to: Timestamp,
}

/// When the low sun shines on a place about one noon, and when only the sky glows.
///
/// Light in these stretches changes by stops, so exposures are for their start, middle and end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LowSun {
    /// From civil dawn until the sun comes over the place's horizon. Where it does not get dark, from half a day before noon on,
    /// when the sun is at its lowest; where it does not get day, until noon.
    pub dawn_glow: Option<Stretch>,
    /// From there until it is no longer low.
    pub morning: Option<Stretch>,
    /// From where it is low again until it drops behind the place's horizon.
    pub evening: Option<Stretch>,
    /// From there until civil dusk, which may be after midnight. Where it does not get dark, until half a day after noon; where
    /// it does not get day, from noon on.
    pub afterglow: Option<Stretch>,
}

/// How many times as long as what casts them the shadows of a low sun are, where nothing else is asked for.
///
/// Chosen because a face lit from there shows all of its relief, and a standing person's shadow crosses a wide frame.
pub const LONG_SHADOWS: f64 = 4.0;

impl LowSun {
    /// The low sun about a noon, such as [`DaySun`]'s: of the morning before it and the evening after it.
    ///
    /// ```text
    /// low: tan e ≤ 1 / k        shining: e' + 0.26667° ≥ p(A)
    /// ```
    /// `e` true and `e'` apparent elevation of the sun's centre (°); `k` how long `shadows` are over what casts them (> 0);
    /// `p` the horizon at the sun's azimuth `A` (°). The last moment of shining counts in the evening, the first in the
    /// morning, though a peak may hide the sun in between. With a level horizon they are sunset and sunrise.
    ///
    /// # Errors
    /// Refuses a year that is not 1900 to 2100, and shadows that are not 0.1 to 100 times as long, by the name `shadows`.
    ///
    /// # Source
    /// The definition of a shadow's length, and `Reda2008` for positions and the disc.
    pub fn about(
        place: &Coordinates,
        noon: Timestamp,
        horizon: &HorizonProfile,
        shadows: f64,
    ) -> Result<Self, SunError> {
        let shadows = checked_field("shadows", shadows, 0.1, 100.0, key!("(times)"))?;
        SunError::check_year(year_of(noon))?;
        let (midnight, next) = half_a_day_around(noon)?;
        let heavens = Heavens::over(place, Air::standard_at(place), midnight, next)?;
        let course = Course::of(&heavens, midnight, next);
        Self::on(noon, &PlaceSky::new(&heavens, horizon), &course, shadows)
    }

    /// What the sun does on a day and the low sun about its noon, in half the time of one after the other; no low sun if the
    /// day has no noon.
    ///
    /// # Errors
    /// As [`DaySun::of`] and [`LowSun::about`].
    ///
    /// # Source
    /// As those.
    pub fn with_day(
        place: &Coordinates,
        horizon: &HorizonProfile,
        date: Date,
        zone: &TimeZone,
        shadows: f64,
    ) -> Result<(DaySun, Option<Self>), SunError> {
        let shadows = checked_field("shadows", shadows, 0.1, 100.0, key!("(times)"))?;
        let hours = DayHours::of(date, zone)?;
        let heavens = Heavens::over(place, Air::standard_at(place), hours.start, hours.end)?;
        let Some(noon) = hours.noon(&heavens)? else {
            let course = Course::of(&heavens, hours.just_before, hours.end);
            return Ok((DaySun::on(&hours, None, &course)?, None));
        };
        let (midnight, next) = half_a_day_around(noon)?;
        let course = Course::of(&heavens, midnight.min(hours.just_before), next.max(hours.end));
        let day = DaySun::on(&hours, Some(noon), &course)?;
        let low = Self::on(noon, &PlaceSky::new(&heavens, horizon), &course, shadows)?;
        Ok((day, Some(low)))
    }

    /// The low sun about a noon, of a course of the sun that holds half a day before and after it.
    fn on(noon: Timestamp, sky: &PlaceSky<'_>, course: &Course<'_>, shadows: f64) -> Result<Self, SunError> {
        let low = Angle::from_tan(1.0 / shadows).to_deg();
        let (midnight, next) = half_a_day_around(noon)?;
        let first = |crossing, elevation_deg, from, to| {
            Ok::<_, SunError>(course.crossings(crossing, elevation_deg, from, to)?.first().copied())
        };

        let no_longer_low = first(Crossing::Rise, low, midnight, noon)?;
        let appears = sky.edge(midnight, no_longer_low.unwrap_or(noon))?;
        let low_again = first(Crossing::Set, low, noon, next)?;
        let disappears = sky.edge(next, low_again.unwrap_or(noon))?;

        let (level, twilight) = (AT_THE_HORIZON_DEG, AT_CIVIL_TWILIGHT_DEG);
        // A glow that neither night nor day ends goes on through the sun's lowest or highest, where its two halves meet.
        let if_glowing = |time| (twilight..level).contains(&course.elevation_deg(time)).then_some(time);
        let lights_up = match appears {
            Some(time) => Some(time),
            None => first(Crossing::Rise, level, midnight, noon)?.or(if_glowing(noon)),
        };
        let goes_out = match disappears {
            Some(time) => Some(time),
            None => first(Crossing::Set, level, noon, next)?.or(if_glowing(noon)),
        };
        let dawn = first(Crossing::Rise, twilight, midnight, noon)?.or(if_glowing(midnight));
        let dusk = first(Crossing::Set, twilight, noon, next)?.or(if_glowing(next));
        Ok(Self {
            dawn_glow: stretch(dawn, lights_up),
            morning: stretch(appears, Some(no_longer_low.unwrap_or(noon))),
            evening: stretch(Some(low_again.unwrap_or(noon)), disappears),
            afterglow: stretch(goes_out, dusk),
        })
    }
}

fn half_a_day_around(noon: Timestamp) -> Result<(Timestamp, Timestamp), SunError> {
    let half_day = SignedDuration::from_hours(12);
    let shifted = |shifted: Result<Timestamp, jiff::Error>| shifted.map_err(|_beyond| SunError::Calendar);
    Ok((shifted(noon.checked_sub(half_day))?, shifted(noon.checked_add(half_day))?))
}

fn stretch(from: Option<Timestamp>, to: Option<Timestamp>) -> Option<Stretch> {
    from.zip(to).filter(|(from, to)| from < to).map(|(from, to)| Stretch { from, to })
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::tz::Offset;

    fn place() -> Coordinates {
        Coordinates::new(52.1, 4.3, 0.0).expect("a place")
    }

    fn day() -> DaySun {
        let zone = TimeZone::fixed(Offset::constant(2));
        DaySun::of(&place(), "2026-09-10".parse().expect("a date"), &zone).expect("a day")
    }

    fn low_sun(horizon: &HorizonProfile) -> LowSun {
        LowSun::about(&place(), day().noon.expect("a noon"), horizon, LONG_SHADOWS).expect("in range")
    }

    fn assert_same(ours: Option<Timestamp>, other: Option<Timestamp>) {
        let (ours, other) = (ours.expect("ours"), other.expect("the other"));
        assert!(ours.duration_since(other).abs() <= SignedDuration::from_secs(3), "{ours} is not {other}");
    }

    #[test]
    fn at_sea_the_low_sun_ends_at_sunset_and_the_glow_at_dusk() {
        let (low, day) = (low_sun(&HorizonProfile::LEVEL), day());
        assert_same(low.dawn_glow.map(|glow| glow.from), day.civil_dawn);
        assert_same(low.morning.map(|morning| morning.from), day.sunrise);
        assert_same(low.evening.map(|evening| evening.to), day.sunset);
        assert_same(low.afterglow.map(|glow| glow.from), day.sunset);
        assert_same(low.afterglow.map(|glow| glow.to), day.civil_dusk);
    }

    #[test]
    fn a_hill_in_the_west_shortens_the_evening_alone() {
        let level = low_sun(&HorizonProfile::LEVEL);
        let west = [(180.0, 0.0), (240.0, 6.0), (300.0, 6.0), (330.0, 0.0)];
        let points = west.map(|(azimuth, elevation)| (Angle::from_deg(azimuth), Angle::from_deg(elevation)));
        let hill = low_sun(&HorizonProfile::new(points).expect("in range"));
        assert_eq!(hill.morning, level.morning);
        let (evening, open) = (hill.evening.expect("an evening"), level.evening.expect("an evening"));
        assert_eq!(evening.from, open.from);
        let earlier = open.to.duration_since(evening.to).as_secs();
        assert!((38 * 60..50 * 60).contains(&earlier), "{earlier} s for six degrees");
        assert_eq!(hill.afterglow.expect("a glow").from, evening.to);
    }

    #[test]
    fn behind_a_wall_there_is_no_low_sun_and_the_glow_is_the_skys() {
        let wall = HorizonProfile::new([(Angle::ZERO, Angle::from_deg(40.0))]).expect("in range");
        let low = low_sun(&wall);
        assert_eq!((low.morning, low.evening), (None, None));
        assert_same(low.afterglow.map(|glow| glow.from), day().sunset);
    }

    #[test]
    fn a_glow_that_no_night_or_no_day_ends_has_its_halves_at_the_suns_lowest_or_highest() {
        let about = |latitude: f64, date: &str| {
            let place = Coordinates::new(latitude, 10.4, 0.0).expect("a place");
            let zone = TimeZone::fixed(Offset::constant(2));
            let day = DaySun::of(&place, date.parse().expect("a date"), &zone).expect("a day");
            let noon = day.noon.expect("a noon");
            (LowSun::about(&place, noon, &HorizonProfile::LEVEL, LONG_SHADOWS).expect("in range"), day, noon)
        };
        let half_a_day = SignedDuration::from_hours(12);
        let (white, day, noon) = about(63.4, "2026-06-21");
        let (dawn, dusk) = (white.dawn_glow.expect("a dawn"), white.afterglow.expect("a dusk"));
        assert_eq!((dawn.from, dusk.to), (noon - half_a_day, noon + half_a_day));
        assert_same(Some(dawn.to), day.sunrise);
        assert_same(Some(dusk.from), day.sunset);
        let (dark, day, noon) = about(69.6, "2026-12-21");
        let (dawn, dusk) = (dark.dawn_glow.expect("a dawn"), dark.afterglow.expect("a dusk"));
        assert_eq!((dawn.to, dusk.from), (noon, noon));
        assert_same(Some(dawn.from), day.civil_dawn);
        assert_same(Some(dusk.to), day.civil_dusk);
        for (latitude, date) in [(78.2, "2026-06-21"), (78.2, "2026-12-21")] {
            let (low, ..) = about(latitude, date);
            assert_eq!((low.dawn_glow, low.afterglow), (None, None), "{latitude} {date}");
        }
    }

    #[test]
    fn with_its_day_the_low_sun_is_the_same() {
        let zone = TimeZone::fixed(Offset::constant(2));
        for (latitude, date) in
            [(52.1, "2026-09-10"), (66.0, "2026-06-21"), (-80.0, "2026-03-01"), (0.0, "2026-12-31")]
        {
            let place = Coordinates::new(latitude, 4.3, 0.0).expect("a place");
            let date = date.parse().expect("a date");
            let wall = HorizonProfile::from_deg([(60.0, 1.0), (200.0, 7.0)]).expect("in range");
            let (day, low) = LowSun::with_day(&place, &wall, date, &zone, LONG_SHADOWS).expect("in range");
            let alone = DaySun::of(&place, date, &zone).expect("a day");
            let about =
                LowSun::about(&place, alone.noon.expect("a noon"), &wall, LONG_SHADOWS).expect("in range");
            let low = low.expect("a noon");
            let same = |one: Option<Timestamp>, other: Option<Timestamp>| match (one, other) {
                (Some(one), Some(other)) => one.duration_since(other).abs() <= SignedDuration::from_secs(1),
                (one, other) => one == other,
            };
            assert!(
                same(day.sunrise, alone.sunrise) && same(day.civil_dusk, alone.civil_dusk),
                "{day:?} {alone:?}"
            );
            for stretch in
                [|low: &LowSun| low.morning, |low: &LowSun| low.evening, |low: &LowSun| low.afterglow]
            {
                let (one, other) = (stretch(&low), stretch(&about));
                assert!(same(one.map(|one| one.from), other.map(|other| other.from)), "{low:?} {about:?}");
                assert!(same(one.map(|one| one.to), other.map(|other| other.to)), "{low:?} {about:?}");
            }
        }
    }

    #[test]
    fn shadows_of_no_length_are_refused() {
        let noon = day().noon.expect("a noon");
        let error = LowSun::about(&place(), noon, &HorizonProfile::LEVEL, 0.0).expect_err("no shadows");
        assert_eq!(error.to_string(), "shadows: 0 (times) is not allowed: 0.1 to 100 (times)");
    }
}
