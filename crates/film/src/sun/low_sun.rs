//! The direct light of a low sun, until the place's own horizon takes it away, and the glow before and after.

use jiff::{SignedDuration, Timestamp};
use units::Angle;

use super::coordinates::{Air, Coordinates};
use super::day::{AT_CIVIL_TWILIGHT_DEG, AT_THE_HORIZON_DEG};
use super::error::SunError;
use super::horizon::HorizonProfile;
use super::position::{Crossing, Heavens, year_of};

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
    /// From civil dawn until the sun comes over the place's horizon.
    pub dawn_glow: Option<Stretch>,
    /// From there until it is no longer low.
    pub morning: Option<Stretch>,
    /// From where it is low again until it drops behind the place's horizon.
    pub evening: Option<Stretch>,
    /// From there until civil dusk, which may be after midnight.
    pub afterglow: Option<Stretch>,
}

/// How many times as long as what casts them the shadows of a low sun are, where nothing else is asked for.
///
/// Chosen because a face lit from there shows all of its relief, and a standing person's shadow crosses a wide frame.
pub const LONG_SHADOWS: f64 = 4.0;

/// Half the width of the sun's disc as it is seen. It varies by 1.7 % over the year.
///
/// # Source
/// `Reda2008`, section A.2: 0.26667°.
const HALF_DISC_DEG: f64 = 0.26667;

/// How far apart the horizon is looked at. Chosen because the sun moves a quarter of a degree in it, half its own width.
const STEP_S: i64 = 60;

impl LowSun {
    /// The low sun about a noon, such as [`DaySun`](super::DaySun)'s: of the morning before it and the evening after it.
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
        let shadows = SunError::check("shadows", shadows, 0.1, 100.0, "(times)")?;
        SunError::check_year(year_of(noon))?;
        let low = Angle::from_tan(1.0 / shadows);
        let sky = Sky { heavens: Heavens::over(place, Air::standard_at(place), noon)?, horizon };
        let half_day = SignedDuration::from_hours(12);
        let shifted = |shifted: Result<Timestamp, jiff::Error>| shifted.map_err(|_beyond| SunError::Calendar);
        let (midnight, next) = (shifted(noon.checked_sub(half_day))?, shifted(noon.checked_add(half_day))?);
        let first = |crossing, elevation, from, to| {
            Ok::<_, SunError>(sky.heavens.crossings(crossing, elevation, from, to)?.first().copied())
        };

        let no_longer_low = first(Crossing::Rise, low, midnight, noon)?;
        let appears = sky.edge(midnight, no_longer_low.unwrap_or(noon))?;
        let low_again = first(Crossing::Set, low, noon, next)?;
        let disappears = sky.edge(next, low_again.unwrap_or(noon))?;

        let level = Angle::from_deg(AT_THE_HORIZON_DEG);
        let twilight = Angle::from_deg(AT_CIVIL_TWILIGHT_DEG);
        let lights_up = match appears {
            Some(time) => Some(time),
            None => first(Crossing::Rise, level, midnight, noon)?,
        };
        let goes_out = match disappears {
            Some(time) => Some(time),
            None => first(Crossing::Set, level, noon, next)?,
        };
        Ok(Self {
            dawn_glow: stretch(first(Crossing::Rise, twilight, midnight, noon)?, lights_up),
            morning: stretch(appears, Some(no_longer_low.unwrap_or(noon))),
            evening: stretch(Some(low_again.unwrap_or(noon)), disappears),
            afterglow: stretch(goes_out, first(Crossing::Set, twilight, noon, next)?),
        })
    }
}

fn stretch(from: Option<Timestamp>, to: Option<Timestamp>) -> Option<Stretch> {
    from.zip(to).filter(|(from, to)| from < to).map(|(from, to)| Stretch { from, to })
}

/// The sky over a place with its own horizon.
struct Sky<'a> {
    heavens: Heavens,
    horizon: &'a HorizonProfile,
}

impl Sky<'_> {
    fn shines(&self, moment: Timestamp) -> Result<bool, SunError> {
        let sun = self.heavens.sun(moment)?;
        let edge = sun.apparent_elevation.to_deg() + HALF_DISC_DEG;
        Ok(edge >= self.horizon.elevation_at(sun.azimuth).to_deg())
    }

    /// Going from the night at `dark` towards `light`: the first moment at which the sun shines, to a second.
    fn edge(&self, dark: Timestamp, light: Timestamp) -> Result<Option<Timestamp>, SunError> {
        let (dark, light) = (dark.as_second(), light.as_second());
        let step = if dark < light { STEP_S } else { -STEP_S };
        let shines =
            |second: i64| self.shines(Timestamp::from_second(second).map_err(|_beyond| SunError::Calendar)?);
        let mut before = dark;
        let mut at = dark;
        while !shines(at)? {
            if at == light {
                return Ok(None);
            }
            before = at;
            at = if step > 0 { (at + step).min(light) } else { (at + step).max(light) };
        }
        while (at - before).abs() > 1 {
            let middle = before + (at - before) / 2;
            if shines(middle)? { at = middle } else { before = middle }
        }
        Timestamp::from_second(at).map(Some).map_err(|_beyond| SunError::Calendar)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sun::DaySun;
    use jiff::tz::{Offset, TimeZone};

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
    fn shadows_of_no_length_are_refused() {
        let noon = day().noon.expect("a noon");
        let error = LowSun::about(&place(), noon, &HorizonProfile::LEVEL, 0.0).expect_err("no shadows");
        assert_eq!(error.to_string(), "shadows: 0 (times) is not allowed: 0.1 to 100 (times)");
    }
}
