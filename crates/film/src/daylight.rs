//! The light of one day at one place, by the clock of the place.
//!
//! # Conventions
//! - Minutes count from the midnight that begins the day, as its clock shows them: 90 is half past one, 1450 ten past midnight
//!   of the next day, -10 ten to midnight of the day before.
//! - Where the clock is put forward, the sun stands still in the minutes that it leaves out; where it is put back, the minutes
//!   that come twice are those before it is.
//! - A day may be known with the day after it, for work that goes past midnight: then its hours are those of both.
//! - A plain value: positions every five minutes, and geometry in between. No calendar, no zone, no full algorithm.

mod light_course;
#[cfg(feature = "sun")]
mod making;
mod never;
mod pieces;
mod sun_hours;

use std::fmt;

use language::say;
use optics::{Weather, direct_sunlight, light_in_shade, light_in_sun};
use units::Angle;

use crate::clock::{clock, clock_of_day};
use crate::sun::{azimuth, elevation, four_about, seen_through_air};

pub use light_course::{LightAt, LightCourse};
pub(crate) use pieces::{pieces, stretches};

/// How far apart a day's positions are, in minutes.
pub const SUN_EVERY_MIN: f64 = 5.0;

/// How long a day is that no clock changes, in minutes.
pub(crate) const DAY_MIN: f64 = 1440.0;

/// How far a clock may be from UTC, in minutes: chosen as a day and two hours, within which calendars have it.
const MOST_AHEAD_MIN: f64 = 1560.0;

/// From one minute of a day to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DaySpan {
    /// When it starts.
    pub from_min: f64,
    /// When it ends.
    pub to_min: f64,
}

/// When what happens on a day; none for what does not happen on it, as in a polar night.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DayTimes {
    /// The sun's centre rises over 6° below the horizon: from here on there is light to see by.
    pub civil_dawn_min: Option<f64>,
    /// Its upper edge comes over a level horizon.
    pub sunrise_min: Option<f64>,
    /// It is due south or due north, at its highest.
    pub noon_min: Option<f64>,
    /// Its upper edge goes under a level horizon.
    pub sunset_min: Option<f64>,
    /// Its centre sinks to 6° below the horizon.
    pub civil_dusk_min: Option<f64>,
    /// From civil dawn, or where there is none from the sun's lowest, until it comes over the place's own horizon; to noon if it
    /// never rises.
    pub dawn_glow: Option<DaySpan>,
    /// From there until it is no longer low.
    pub morning: Option<DaySpan>,
    /// From where it is low again until it drops behind the place's own horizon.
    pub evening: Option<DaySpan>,
    /// From there, or from a noon without a sun, until civil dusk, which may be after midnight; to the sun's lowest if there is
    /// none.
    pub afterglow: Option<DaySpan>,
}

/// What a clock shows as it is put forward or back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClockChange {
    /// What it shows before.
    pub before_min: f64,
    /// What it shows then.
    pub after_min: f64,
}

/// What a day's light is made of. Minutes here are of the clock before it is changed, as if nobody changed it, but for the
/// times, which are of the clock as it is.
#[derive(Debug, Clone, PartialEq)]
pub struct DaylightParts {
    /// When what happens.
    pub times: DayTimes,
    /// How far the clock is ahead of UTC before it is changed.
    pub utc_offset_min: f64,
    /// The change of the clock, if there is one on the day or beside it.
    pub clock_change: Option<ClockChange>,
    /// When the first position is.
    pub first_min: f64,
    /// Every five minutes the sun's azimuth and its true elevation, in degrees.
    pub directions_deg: Vec<(f64, f64)>,
    /// How much the air bends light, over air of 1010 hPa and 10 °C.
    pub air: f64,
    /// When the sun shines over the place's own horizon, in order.
    pub bright: Vec<DaySpan>,
}

/// The light of one day at one place.
#[derive(Debug, Clone, PartialEq)]
pub struct Daylight {
    /// At least four positions, and everything finite and in its range.
    parts: DaylightParts,
}

/// The sun at one minute of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunMoment {
    /// What the clock shows.
    pub at_min: f64,
    /// The sun's direction, clockwise from north, 0° to 360°.
    pub azimuth: Angle,
    /// How high its centre is, without the air.
    pub true_elevation: Angle,
    /// How high it is seen.
    pub apparent_elevation: Angle,
    /// Whether it shines on the place, over the place's own horizon. Weather is another matter.
    pub shines: bool,
}

impl DaySpan {
    /// Whether a minute lies in it, its ends included.
    pub fn contains(&self, minute: f64) -> bool {
        (self.from_min..=self.to_min).contains(&minute)
    }

    /// How long it is.
    pub fn length_min(&self) -> f64 {
        self.to_min - self.from_min
    }

    /// The minutes of it at which the sun is looked at, its ends among them.
    pub(crate) fn steps(self) -> impl Iterator<Item = f64> {
        std::iter::successors(Some(self.from_min), move |minute| {
            (*minute < self.to_min).then(|| (minute + SUN_EVERY_MIN).min(self.to_min))
        })
    }

    /// Its start, its middle and its end, as a [`LightCourse`] is told of: a tenth of a minute inside its very ends, where the
    /// sun's edge is on the horizon and a second decides.
    pub fn moments(self) -> [f64; 3] {
        let inside = (self.length_min() / 2.0).clamp(0.0, 0.1);
        [self.from_min + inside, f64::midpoint(self.from_min, self.to_min), self.to_min - inside]
    }
}

impl fmt::Display for DaySpan {
    /// As a clock shows it: `09:30 to 17:00`, or `19:00 to 03:00, next day`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&say!("{} to {}", clock(self.from_min), clock_of_day(self.to_min)))
    }
}

impl Daylight {
    /// A day of these parts; none if there are fewer than four positions, or numbers that no day has.
    pub fn new(parts: DaylightParts) -> Option<Self> {
        let minute = |minute: f64| minute.abs() <= 10_000.0;
        let span =
            |span: &DaySpan| minute(span.from_min) && minute(span.to_min) && span.from_min <= span.to_min;
        let DayTimes { civil_dawn_min, sunrise_min, noon_min, sunset_min, civil_dusk_min, .. } = parts.times;
        let times = [civil_dawn_min, sunrise_min, noon_min, sunset_min, civil_dusk_min];
        let DayTimes { dawn_glow, morning, evening, afterglow, .. } = parts.times;
        let stretches = [dawn_glow, morning, evening, afterglow];
        let is_a_day = parts.directions_deg.len() >= 4
            && parts.directions_deg.iter().all(|(azimuth, elevation)| {
                (0.0..=360.0).contains(azimuth) && (-90.0..=90.0).contains(elevation)
            })
            && minute(parts.first_min)
            && parts.utc_offset_min.abs() <= MOST_AHEAD_MIN
            && (0.0..=2.0).contains(&parts.air)
            && parts.clock_change.is_none_or(|change| minute(change.before_min) && minute(change.after_min))
            && times.into_iter().flatten().all(minute)
            && stretches.iter().flatten().chain(&parts.bright).all(span);
        is_a_day.then_some(Self { parts })
    }

    /// What it is made of.
    pub const fn parts(&self) -> &DaylightParts {
        &self.parts
    }

    /// When what happens.
    pub const fn times(&self) -> &DayTimes {
        &self.parts.times
    }

    /// When the sun shines on the place, over its own horizon: a hill may part a day in several.
    pub fn bright_spans(&self) -> impl Iterator<Item = DaySpan> + '_ {
        self.parts
            .bright
            .iter()
            .map(|span| DaySpan { from_min: self.shown(span.from_min), to_min: self.shown(span.to_min) })
    }

    /// From the first minute to the last that is known: the whole day, and beyond it what belongs to its glow.
    pub fn known(&self) -> DaySpan {
        let last = self.parts.directions_deg.len().saturating_sub(1);
        DaySpan { from_min: self.shown(self.parts.first_min), to_min: self.shown(self.minute_of(last)) }
    }

    /// Where the day ends, or the day after it if that is known as well.
    fn ends_min(&self) -> f64 {
        let both = 2.0 * DAY_MIN;
        if self.known().to_min >= both { both } else { DAY_MIN }
    }

    /// A minute of the clock in minutes of UTC, from the midnight of UTC with which the same date begins.
    ///
    /// Minutes that the clock leaves out are all the moment at which it does, so that no later one is before an earlier; of a
    /// minute that comes twice it is the first.
    pub fn utc_min(&self, minute: f64) -> f64 {
        self.run(minute) - self.parts.utc_offset_min
    }

    /// The sun every five minutes, in order.
    pub fn moments(&self) -> impl Iterator<Item = SunMoment> + '_ {
        (0..self.parts.directions_deg.len()).map(|at| self.at(self.minute_of(at)))
    }

    /// The sun at a minute; at the nearest known one if that is beyond.
    ///
    /// The cubic through four neighbouring directions: off by less than 0.001°, also across north and overhead.
    pub fn sun_at(&self, minute: f64) -> SunMoment {
        self.at(self.run(minute))
    }

    /// The light at a minute, in that weather.
    pub fn light_at(&self, minute: f64, weather: Weather) -> LightAt {
        let sun = self.sun_at(minute);
        let casts = sun.shines && direct_sunlight(sun.true_elevation, weather) > optics::Illuminance::DARK;
        LightAt {
            in_sun: casts.then(|| light_in_sun(sun.true_elevation, weather)),
            in_shade: light_in_shade(sun.true_elevation, weather),
        }
    }

    /// The light at the start, in the middle and at the end of a stretch.
    pub fn course(&self, stretch: DaySpan, weather: Weather) -> LightCourse {
        let [start, middle, end] = stretch.moments().map(|minute| self.light_at(minute, weather));
        LightCourse { start, middle, end }
    }

    /// The sun at a minute of the clock that nobody changes.
    fn at(&self, run_min: f64) -> SunMoment {
        let DaylightParts { first_min, directions_deg, air, bright, .. } = &self.parts;
        #[expect(clippy::cast_precision_loss, reason = "some hundred positions")]
        let last = directions_deg.len().saturating_sub(1) as f64;
        let place = ((run_min - first_min) / SUN_EVERY_MIN).clamp(0.0, last);
        let (start, weights) = four_about(place, directions_deg.len());
        let four = directions_deg.iter().skip(start).zip(weights);
        let way = four.fold([0.0; 3], |[east, north, up], ((azimuth, elevation), weight)| {
            let (azimuth, elevation) = (Angle::from_deg(*azimuth), Angle::from_deg(*elevation));
            let along = weight * elevation.cos();
            [east + along * azimuth.sin(), north + along * azimuth.cos(), up + weight * elevation.sin()]
        });
        let true_elevation = elevation(way);
        let run_min = first_min + place * SUN_EVERY_MIN;
        SunMoment {
            at_min: self.shown(run_min),
            azimuth: azimuth(way),
            true_elevation,
            apparent_elevation: seen_through_air(true_elevation, *air),
            shines: bright.iter().any(|span| span.contains(run_min)),
        }
    }

    #[expect(clippy::cast_precision_loss, reason = "some hundred positions")]
    fn minute_of(&self, at: usize) -> f64 {
        self.parts.first_min + at as f64 * SUN_EVERY_MIN
    }

    /// What the clock shows, for what it would show if nobody changed it.
    fn shown(&self, run_min: f64) -> f64 {
        shown(self.parts.clock_change, run_min)
    }

    /// What it would show if nobody changed it, for what it shows.
    fn run(&self, minute: f64) -> f64 {
        match self.parts.clock_change {
            Some(change) if minute >= change.before_min => (minute - change.by_min()).max(change.before_min),
            _ => minute,
        }
    }
}

impl ClockChange {
    /// By how much it is put forward; negative if it is put back.
    pub fn by_min(self) -> f64 {
        self.after_min - self.before_min
    }
}

/// What a clock with that change shows, for what it would show if nobody changed it.
fn shown(change: Option<ClockChange>, run_min: f64) -> f64 {
    match change {
        Some(change) if run_min >= change.before_min => run_min + change.by_min(),
        _ => run_min,
    }
}
