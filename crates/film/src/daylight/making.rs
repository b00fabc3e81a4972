//! A day's light, worked out from the sun's positions and the zone's clock.

use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

use super::{ClockChange, DAY_MIN, DaySpan, DayTimes, Daylight, DaylightParts, SUN_EVERY_MIN, shown};
use crate::sun::{
    Air, Coordinates, DaySun, Heavens, HorizonProfile, LONG_SHADOWS, LowSun, PlaceSky, Stretch, SunError,
    seconds, timestamp,
};

/// How far before and after its own hours a day may reach: half a day from a noon, which no clock has at midnight.
const BEYOND: SignedDuration = SignedDuration::from_hours(13);

impl Daylight {
    /// The light of a day of that zone's calendar.
    ///
    /// # Errors
    /// Refuses a year that is not 1900 to 2100.
    ///
    /// # Source
    /// `Reda2008` for the positions; times and stretches as [`DaySun`] and [`LowSun`] have them.
    pub fn of(
        place: &Coordinates,
        horizon: &HorizonProfile,
        date: Date,
        zone: &TimeZone,
    ) -> Result<Self, SunError> {
        Self::of_days(place, horizon, date, zone, 1)
    }

    /// The same with the day after it, for work that goes past midnight.
    ///
    /// # Errors
    /// As [`Daylight::of`].
    ///
    /// # Source
    /// As that.
    pub fn with_next_day(
        place: &Coordinates,
        horizon: &HorizonProfile,
        date: Date,
        zone: &TimeZone,
    ) -> Result<Self, SunError> {
        Self::of_days(place, horizon, date, zone, 2)
    }

    /// The light of so many days, the first of which is its own.
    fn of_days(
        place: &Coordinates,
        horizon: &HorizonProfile,
        date: Date,
        zone: &TimeZone,
        days: u8,
    ) -> Result<Self, SunError> {
        let (day, low) = LowSun::with_day(place, horizon, date, zone, LONG_SHADOWS)?;
        let clock = Clock::of(date, zone, days)?;
        let times = clock.times(&day, low.as_ref());

        let spans = [times.dawn_glow, times.morning, times.evening, times.afterglow];
        let ends = || spans.iter().flatten();
        let first = ends().map(|span| span.from_min).fold(0.0, f64::min);
        let last = ends().map(|span| span.to_min).fold(f64::from(days) * DAY_MIN, f64::max);
        // A step more on either side, so that the day's ends lie between positions; and a change of the clock either way.
        let steps = |minutes: f64| libm::ceil((minutes + clock.change_min().abs()) / SUN_EVERY_MIN) + 1.0;
        let (back, on) = (steps(-first), steps(last));
        let at_s = |step: f64| clock.midnight_s + step * SUN_EVERY_MIN * 60.0;
        let (from, to) = (timestamp(at_s(-back))?, timestamp(at_s(on))?);
        let air = Air::standard_at(place);
        let heavens = Heavens::over(place, air, from, to)?;
        #[expect(clippy::cast_possible_truncation, reason = "some hundred steps")]
        let steps = (-back) as i32..=on as i32;
        let direction = |step: i32| {
            let sun = heavens.sun(at_s(f64::from(step)));
            (sun.azimuth.to_deg().rem_euclid(360.0), sun.true_elevation.to_deg())
        };
        let bright = PlaceSky::new(&heavens, horizon).bright(from, to);
        #[expect(clippy::cast_precision_loss, reason = "seconds of the years 1900 to 2100 fit")]
        let minute = |second: i64| (second as f64 - clock.midnight_s) / 60.0;
        Self::new(DaylightParts {
            times,
            utc_offset_min: clock.utc_offset_min,
            clock_change: clock.change,
            first_min: -back * SUN_EVERY_MIN,
            directions_deg: steps.map(direction).collect(),
            air: air.lift(),
            bright: bright
                .into_iter()
                .map(|(from, to)| DaySpan { from_min: minute(from), to_min: minute(to) })
                .collect(),
        })
        .ok_or(SunError::Calendar)
    }
}

/// A place's clock on one day.
struct Clock {
    /// When it would show midnight if nobody changed it, in seconds of the Unix epoch.
    midnight_s: f64,
    /// How far it is ahead of UTC before it is changed.
    utc_offset_min: f64,
    change: Option<ClockChange>,
}

impl Clock {
    fn of(date: Date, zone: &TimeZone, days: u8) -> Result<Self, SunError> {
        let start = date.to_zoned_datetime(zone.clone()).map_err(|_beyond| SunError::Calendar)?.timestamp();
        let further = SignedDuration::from_hours(24 * (i64::from(days) - 1));
        let (before, after) = (start.saturating_sub(BEYOND), start.saturating_add(BEYOND + BEYOND + further));
        let (before, after) = (before.unwrap_or(start), after.unwrap_or(start));
        let offset = zone.to_offset(before);
        let midnight = offset.to_timestamp(date.at(0, 0, 0, 0)).map_err(|_beyond| SunError::Calendar)?;
        let midnight_s = seconds(midnight);
        let changed = zone
            .following(before)
            .take_while(|change| change.timestamp() < after)
            .find(|change| change.offset() != offset);
        let change = changed.map(|change| {
            let before_min = (seconds(change.timestamp()) - midnight_s) / 60.0;
            let by_min = f64::from(change.offset().seconds() - offset.seconds()) / 60.0;
            ClockChange { before_min, after_min: before_min + by_min }
        });
        Ok(Self { midnight_s, utc_offset_min: f64::from(offset.seconds()) / 60.0, change })
    }

    /// By how much it is put forward.
    fn change_min(&self) -> f64 {
        self.change.map_or(0.0, ClockChange::by_min)
    }

    /// What it shows at a moment.
    fn shows(&self, moment: Timestamp) -> f64 {
        shown(self.change, (seconds(moment) - self.midnight_s) / 60.0)
    }

    fn times(&self, day: &DaySun, low: Option<&LowSun>) -> DayTimes {
        let shows = |moment: Option<Timestamp>| moment.map(|moment| self.shows(moment));
        let span = |of: fn(&LowSun) -> Option<Stretch>| {
            let Stretch { from, to } = low.and_then(of)?;
            let span = DaySpan { from_min: self.shows(from), to_min: self.shows(to) };
            // A clock that is put back in between may leave nothing of it.
            (span.from_min < span.to_min).then_some(span)
        };
        DayTimes {
            civil_dawn_min: shows(day.civil_dawn),
            sunrise_min: shows(day.sunrise),
            noon_min: shows(day.noon),
            sunset_min: shows(day.sunset),
            civil_dusk_min: shows(day.civil_dusk),
            dawn_glow: span(|low| low.dawn_glow),
            morning: span(|low| low.morning),
            evening: span(|low| low.evening),
            afterglow: span(|low| low.afterglow),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sun::SunAt;
    use jiff::tz::Offset;
    use optics::Weather;
    use units::Angle;

    /// Central European time with its rule, as a zone that needs no database.
    fn central_europe() -> TimeZone {
        TimeZone::posix("CET-1CEST,M3.5.0,M10.5.0/3").expect("a rule")
    }

    fn fixed(hours: i8) -> TimeZone {
        TimeZone::fixed(Offset::constant(hours))
    }

    fn hills() -> HorizonProfile {
        HorizonProfile::from_deg([(0.0, 2.0), (90.0, 12.0), (180.0, 3.0), (240.0, 9.0), (300.0, 5.0)])
            .expect("in range")
    }

    fn day(latitude: f64, longitude: f64, horizon: &HorizonProfile, date: &str, zone: &TimeZone) -> Daylight {
        let place = Coordinates::new(latitude, longitude, 250.0).expect("a place");
        Daylight::of(&place, horizon, date.parse().expect("a date"), zone).expect("a day")
    }

    #[test]
    fn in_between_the_sun_is_where_the_full_algorithm_has_it() {
        let cases = [
            (52.1, 4.3, "2026-06-21", central_europe()),
            (52.1, 4.3, "2026-03-29", central_europe()),
            (52.1, 4.3, "2026-10-25", central_europe()),
            (-33.9, 151.2, "2026-12-21", fixed(10)),
            (89.5, 10.0, "2026-03-20", fixed(1)),
            (78.2, 15.6, "2026-05-01", fixed(2)),
            (23.4, 0.0, "2026-06-21", fixed(0)),
            (-0.2, -78.5, "2026-03-20", fixed(-5)),
        ];
        for (latitude, longitude, date, zone) in cases {
            let light = day(latitude, longitude, &HorizonProfile::LEVEL, date, &zone);
            let place = Coordinates::new(latitude, longitude, 250.0).expect("a place");
            let civil: Date = date.parse().expect("a date");
            for minute in (7..1440).step_by(13) {
                let ours = light.sun_at(f64::from(minute));
                let (hour, within) = (minute / 60, minute % 60);
                let at =
                    civil.at(i8::try_from(hour).expect("small"), i8::try_from(within).expect("small"), 0, 0);
                let ambiguous = zone.to_ambiguous_timestamp(at);
                if matches!(ambiguous.offset(), jiff::tz::AmbiguousOffset::Gap { .. }) {
                    continue;
                }
                let moment = ambiguous.earlier().expect("a moment");
                let full = SunAt::of(&place, Air::standard_at(&place), moment).expect("a position");
                let up = (ours.true_elevation - full.true_elevation).to_deg().abs();
                let turned = ((ours.azimuth - full.azimuth).to_deg() + 180.0).rem_euclid(360.0) - 180.0;
                let what = format!("{latitude} {date} {minute}: {ours:?} is not {full:?}");
                assert!(up < 0.001 && turned.abs() * full.true_elevation.cos() < 0.001, "{what}");
                assert!(full.true_elevation.to_deg() > 88.0 || turned.abs() < 0.02, "{what}");
                assert!((ours.apparent_elevation - full.apparent_elevation).to_deg().abs() < 0.02, "{what}");
            }
        }
    }

    #[test]
    fn the_sun_shines_from_the_mornings_start_to_the_evenings_end() {
        for (latitude, zone) in [(52.1, central_europe()), (-45.0, fixed(0))] {
            let light = day(latitude, 4.3, &hills(), "2026-09-10", &zone);
            let (morning, evening) =
                (light.times().morning.expect("one"), light.times().evening.expect("one"));
            let spans: Vec<_> = light.bright_spans().collect();
            let (first, last) = (spans.first().expect("a span"), spans.last().expect("a span"));
            assert!((first.from_min - morning.from_min).abs() < 0.05, "{first:?} {morning:?}");
            assert!((last.to_min - evening.to_min).abs() < 0.05, "{last:?} {evening:?}");
            for (minute, shines) in [
                (morning.from_min - 1.0, false),
                (morning.from_min + 1.0, true),
                (evening.to_min - 1.0, true),
                (evening.to_min + 1.0, false),
            ] {
                assert_eq!(light.sun_at(minute).shines, shines, "{minute}");
            }
        }
    }

    #[test]
    fn on_a_day_with_a_clock_change_minutes_are_what_the_clock_shows() {
        let (spring, autumn) = ["2026-03-29", "2026-10-25"]
            .map(|date| day(52.1, 4.3, &HorizonProfile::LEVEL, date, &central_europe()))
            .into();
        for light in [&spring, &autumn] {
            let noon = light.times().noon_min.expect("a noon");
            let azimuth = light.sun_at(noon).azimuth.to_deg();
            assert!((azimuth - 180.0).abs() < 0.01, "{azimuth} at {noon}");
        }
        assert_eq!(spring.parts().clock_change, Some(ClockChange { before_min: 120.0, after_min: 180.0 }));
        assert_eq!(spring.sun_at(130.0).azimuth, spring.sun_at(180.0).azimuth, "the minutes left out");
        assert_eq!(autumn.parts().clock_change, Some(ClockChange { before_min: 180.0, after_min: 120.0 }));
        let jump = (autumn.sun_at(180.0).azimuth - autumn.sun_at(179.99).azimuth).to_deg();
        assert!(jump > 10.0, "an hour's turn, not {jump}");
        for light in [&spring, &autumn] {
            let DaySpan { from_min, to_min } = light.known();
            assert!(from_min <= 0.0 && to_min >= 1440.0, "{from_min} {to_min}");
        }
    }

    #[test]
    fn with_the_day_after_the_sun_goes_on_past_midnight() {
        // A plain night, and those in which the clock is put back and forward.
        for date in ["2026-09-10", "2026-10-24", "2026-03-28"] {
            let place = Coordinates::new(52.1, 4.3, 250.0).expect("a place");
            let date: Date = date.parse().expect("a date");
            let zone = central_europe();
            let of = |date| Daylight::of(&place, &hills(), date, &zone).expect("a day");
            let (today, tomorrow) = (of(date), of(date.tomorrow().expect("a date")));
            let both = Daylight::with_next_day(&place, &hills(), date, &zone).expect("two days");
            for minute in (1_i32..1440).step_by(7).map(f64::from) {
                for (day, midnight_min) in [(&today, 0.0), (&tomorrow, DAY_MIN)] {
                    let (ours, theirs) = (both.sun_at(midnight_min + minute), day.sun_at(minute));
                    let apart = (ours.true_elevation - theirs.true_elevation).to_deg().abs();
                    assert!(apart < 0.002, "{date} {minute}: {ours:?} is not {theirs:?}");
                }
            }
            let spans = |day: &Daylight, midnight_min: f64| -> Vec<[f64; 2]> {
                let shifted = |span: DaySpan| [midnight_min + span.from_min, midnight_min + span.to_min];
                day.bright_spans().map(shifted).collect()
            };
            let ours = spans(&both, 0.0);
            let theirs = [spans(&today, 0.0), spans(&tomorrow, DAY_MIN)].concat();
            let ends = ours.iter().flatten().zip(theirs.iter().flatten());
            let apart = ends.map(|(one, other)| (one - other).abs()).fold(0.0, f64::max);
            assert!(ours.len() == theirs.len() && apart < 0.05, "{date}: {ours:?} is not {theirs:?}");
        }
    }

    #[test]
    fn a_minute_of_the_clock_is_the_minute_of_utc_that_its_zone_makes_it() {
        let rule = |rule: &str| TimeZone::posix(rule).expect("a rule");
        let cases = [
            (central_europe(), ["2026-03-29", "2026-10-25", "2026-03-28", "2026-06-21"]),
            (
                rule("<+1030>-10:30<+11>-11,M10.1.0,M4.1.0"),
                ["2026-10-04", "2026-04-05", "2026-04-04", "2026-12-21"],
            ),
            (rule("EST5EDT,M3.2.0,M11.1.0"), ["2026-03-08", "2026-11-01", "2026-10-31", "2026-12-21"]),
            (
                TimeZone::fixed(Offset::from_seconds(-1050).expect("an offset")),
                ["1901-03-29", "1910-10-25", "1920-10-24", "1930-06-21"],
            ),
        ];
        for (zone, date) in cases.iter().flat_map(|(zone, dates)| dates.iter().map(move |date| (zone, date)))
        {
            let light = day(52.1, 4.3, &HorizonProfile::LEVEL, date, zone);
            let midnight = date.parse::<Date>().expect("a date").at(0, 0, 0, 0);
            for minute in (-30_i32..1500).step_by(5) {
                let shown = midnight.checked_add(SignedDuration::from_mins(minute.into())).expect("a time");
                let ambiguous = zone.to_ambiguous_timestamp(shown);
                let is_left_out = matches!(ambiguous.offset(), jiff::tz::AmbiguousOffset::Gap { .. });
                let moment = ambiguous.compatible().expect("a moment");
                // What is left out is the moment of the change itself, which is found as the last one not after it.
                let until = moment + SignedDuration::from_secs(1);
                let change = zone.preceding(until).next().filter(|_| is_left_out);
                let moment = change.map_or(moment, |change| change.timestamp());
                let start = Offset::UTC.to_timestamp(midnight).expect("a moment");
                let wanted = (seconds(moment) - seconds(start)) / 60.0;
                let found = light.utc_min(f64::from(minute));
                assert!((found - wanted).abs() < 1e-9, "{date} {minute} {zone:?}: {found} is not {wanted}");
            }
        }
    }

    #[test]
    fn the_evening_loses_stops_and_the_afterglow_more() {
        let light = day(52.1, 4.3, &HorizonProfile::LEVEL, "2026-09-10", &central_europe());
        let evening = light.course(light.times().evening.expect("one"), Weather::Clear);
        let glow = light.course(light.times().afterglow.expect("one"), Weather::Clear);
        assert!((5.0..8.0).contains(&evening.fall().to_f64()), "{evening:?}");
        assert!((6.0..8.0).contains(&glow.fall().to_f64()), "{glow:?}");
        let [start, middle, end] = [evening.start, evening.middle, evening.end].map(|at| at.exposure_value());
        assert!(start > middle && middle > end, "{start} {middle} {end}");
        assert_eq!(light.light_at(720.0, Weather::Overcast).in_sun, None);
        let noon = light.light_at(820.0, Weather::Clear);
        assert!(noon.in_sun.expect("sun") > noon.in_shade, "{noon:?}");
    }

    #[test]
    fn what_a_polar_day_and_night_lack_is_said() {
        let said = |latitude: f64, date, horizon: &HorizonProfile| {
            day(latitude, 15.6, horizon, date, &fixed(1)).what_never_happens().join(" ")
        };
        assert_eq!(
            said(78.2, "2026-06-21", &HorizonProfile::LEVEL),
            "The sun does not set: it is day all night."
        );
        assert!(
            said(78.2, "2026-12-21", &HorizonProfile::LEVEL)
                .starts_with("The sun does not rise, and no dawn")
        );
        assert!(
            said(68.5, "2026-12-21", &HorizonProfile::LEVEL)
                .starts_with("The sun does not rise: there is only")
        );
        assert!(said(62.0, "2026-06-21", &HorizonProfile::LEVEL).starts_with("It does not get dark"));
        assert_eq!(said(50.0, "2026-03-21", &HorizonProfile::LEVEL), "");
        let wall = HorizonProfile::new([(Angle::ZERO, Angle::from_deg(80.0))]).expect("in range");
        assert_eq!(said(50.0, "2026-03-21", &wall), "The sun stays behind what stands around the place.");
        let night = day(78.2, 15.6, &HorizonProfile::LEVEL, "2026-12-21", &fixed(1));
        let DayTimes { sunrise_min, evening, .. } = *night.times();
        assert_eq!((sunrise_min, evening, night.bright_spans().count()), (None, None, 0));
    }
}
