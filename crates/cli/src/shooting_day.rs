//! The day of shooting that a command is about, with the sun at its places.

use std::fmt;
use std::num::NonZero;

use film::{CutFinding, DayId, DayPlan, DaySpan, Daylight, Daylights, Film, Hours, Place, ShootingDay};
use film::{ShotId, Spot, Unmade, WhyUnmade, clock};
use jiff::civil::Date;
use jiff::tz::{TimeZone, TimeZoneDatabase};
use optics::Weather;
use requests::{BadRequest, FindingAnswer};
use serde::Serialize;
use units::LengthUnit;

use crate::failure::Failure;
use crate::shot_number::ShotNumber;
use crate::{film_input, output};

/// Which day of which film.
// Options within options: as groups of arguments they would have one name.
#[derive(Debug, clap::Args)]
#[group(skip)]
pub(crate) struct Options {
    #[command(flatten)]
    pub(crate) film: film_input::Options,
    /// Which of the film's days, counted from 1; the first if absent
    #[arg(long, value_name = "N")]
    day: Option<NonZero<usize>>,
    /// The weather, if it is not the day's: sun, overcast, fog or rain
    #[arg(long, value_parser = weather)]
    weather: Option<Weather>,
}

/// A day of a film.
#[derive(Debug)]
pub(crate) struct ChosenDay {
    pub(crate) film: Film,
    /// Which of the film's days it is, counted from 1; none where the film plans none.
    pub(crate) number: Option<usize>,
    /// The day, in the weather that was asked for.
    pub(crate) day: ShootingDay,
    /// The same as it is planned.
    pub(crate) planned: ShootingDay,
    /// Its light where it is known.
    pub(crate) daylights: Daylights,
}

/// A day as it is told to programs.
#[derive(Debug, Serialize)]
pub(crate) struct DayAnswer {
    day: Option<usize>,
    title: String,
    date: Option<String>,
    call: String,
    call_min: u16,
    wrap: String,
    wrap_min: u16,
    breaks: Vec<Span>,
    weather: &'static str,
    planned_weather: &'static str,
}

/// A stretch of a day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Span {
    from: String,
    from_min: f64,
    to: String,
    to_min: f64,
}

/// A shot that cannot be made.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct UnmadeAnswer {
    scene: usize,
    shot: usize,
    /// Both in one text, for people.
    #[serde(skip)]
    number: String,
    findings: Vec<FindingAnswer>,
}

/// A weather by its name.
fn weather(text: &str) -> Result<Weather, String> {
    let named = Weather::ALL.into_iter().find(|weather| weather.name() == text);
    named.ok_or_else(|| "sun, overcast, fog or rain".to_owned())
}

impl Options {
    /// Opens the film and works out the sun of its day; where that is not to be had, it is told and gone without.
    pub(crate) fn open(&self) -> Result<ChosenDay, Failure> {
        ChosenDay::of(self.film.open()?, self.day, self.weather)
    }
}

/// The day of that number; a usual one where the film plans none and none is asked for.
fn day_of(film: &Film, number: Option<NonZero<usize>>) -> Result<(Option<usize>, ShootingDay), Failure> {
    let at = number.map_or(0, |number| number.get() - 1);
    if let Some(day) = film.days.get(at) {
        return Ok((Some(at + 1), day.clone()));
    }
    let usual = DayId::new(1).map(ShootingDay::usual);
    if let (None, Some(usual)) = (number, usual) {
        return Ok((None, usual));
    }
    let there = match film.days.len() {
        0 => "plans no days; leave it out to plan a usual one".to_owned(),
        1 => "has one day".to_owned(),
        count => format!("has days 1 to {count}"),
    };
    let message = format!("{} is not there: the film {there}", at + 1);
    Err(BadRequest::at("--day", message).into())
}

/// The light of a day at each place of its shots that says where it is.
fn daylights(film: &Film, day: &ShootingDay) -> Daylights {
    let Some(date) = day.date else { return Daylights::new() };
    let shots = day.shots_of(film);
    let is_used = |place: &&Place| shots.iter().any(|(scene, _)| scene.facts.place == Some(place.id));
    let places = film.places.iter().filter(is_used);
    let known = places.filter_map(|place| {
        let daylight = daylight(place.spot.as_ref()?, date, day.hours);
        let told = |why: String| {
            output::tell(&format!("{}: {why}; it goes on without the sun there", place.called()));
        };
        daylight.map_err(told).ok().map(|daylight| (place.id, daylight))
    });
    known.collect()
}

/// The zone whose clock a place goes by; says so if it is not known.
fn zone(spot: &Spot) -> Result<TimeZone, String> {
    let zone = TimeZoneDatabase::bundled().get(&spot.time_zone);
    zone.map_err(|_unknown| format!("time zone {:?} is not known", spot.time_zone))
}

/// The light of a date at a place, and of the next where the work goes on into it.
fn daylight(spot: &Spot, date: Date, hours: Hours) -> Result<Daylight, String> {
    let of = if hours.ends_next_day() { Daylight::with_next_day } else { Daylight::of };
    of(&spot.coordinates, &spot.horizon, date, &zone(spot)?).map_err(|error| error.to_string())
}

impl ChosenDay {
    /// A film's day of that number, its first if none is asked for, in that weather.
    pub(crate) fn of(
        film: Film,
        number: Option<NonZero<usize>>,
        weather: Option<Weather>,
    ) -> Result<Self, Failure> {
        let (number, planned) = day_of(&film, number)?;
        let day = ShootingDay { weather: weather.unwrap_or(planned.weather), ..planned.clone() };
        let daylights = daylights(&film, &day);
        Ok(Self { film, number, day, planned, daylights })
    }

    /// The day as it is told to programs.
    pub(crate) fn answer(&self) -> DayAnswer {
        let Self { number, day, planned, .. } = self;
        DayAnswer {
            day: *number,
            title: day.title.clone(),
            date: day.date.map(|date| date.to_string()),
            call: clock(f64::from(day.hours.from_min())),
            call_min: day.hours.from_min(),
            wrap: clock(f64::from(day.hours.to_min())),
            wrap_min: day.hours.to_min(),
            breaks: day.breaks.iter().map(|hours| Span::from(*hours)).collect(),
            weather: day.weather.name(),
            planned_weather: planned.weather.name(),
        }
    }

    /// The day in a line or two: of which film, when, and in which weather.
    pub(crate) fn head(&self) -> String {
        let Self { film, number, day, planned, .. } = self;
        let title = film.facts.called();
        let of_days = match number {
            Some(number) if film.days.len() == 1 => format!("day {number}"),
            Some(number) => format!("day {number} of {}", film.days.len()),
            None => "no day planned, so a usual one".to_owned(),
        };
        let called = if day.title.is_empty() { String::new() } else { format!(", {}", day.title) };
        let date = day.date.map(|date| date.strftime("%A %-d %B %Y").to_string());
        let usual = match &date {
            None => "\nno date: light is as is usual for the hour",
            Some(_) if self.daylights.is_empty() => "\nno sun is known: light is as is usual for the hour",
            Some(_) => "",
        };
        let date = date.map_or_else(String::new, |date| date + ", ");
        let weather = if day.weather == planned.weather {
            format!("counting on {}", day.weather.name())
        } else {
            format!("{} in place of {}", day.weather.name(), planned.weather.name())
        };
        let hours = DaySpan::from(day.hours);
        format!("{title}: {of_days}{called}\n{date}{hours}, {weather}{usual}\n")
    }

    /// The shot of that number, if it is shot on this day. `option` is what it was given as.
    pub(crate) fn shot_of(&self, number: ShotNumber, option: &str) -> Result<ShotId, Failure> {
        let Self { film, day, .. } = self;
        let (_, shot) = number.find(film).ok_or_else(|| number.not_there(film, option))?;
        if day.shots_of(film).iter().any(|(_, other)| other.id == shot.id) {
            return Ok(shot.id);
        }
        Err(BadRequest::at(option, format!("{number} is not shot on this day")).into())
    }

    /// A shot's number as a shot list has it.
    pub(crate) fn number_of(&self, shot: ShotId) -> (usize, usize) {
        self.film.number_of(shot).unwrap_or_default()
    }

    /// The same in one text: `2.3`.
    pub(crate) fn numbered(&self, shot: ShotId) -> String {
        self.film.numbered(shot).unwrap_or_default()
    }

    /// What of the day cannot be made, and what was found on it.
    pub(crate) fn unmade(&self, plan: &DayPlan) -> Vec<UnmadeAnswer> {
        let told = |unmade: &Unmade| {
            let (scene, shot) = self.number_of(unmade.shot);
            let findings = match &unmade.why {
                WhyUnmade::Lacks(why) => {
                    vec![CutFinding::NotRehearsed(*why).to_finding(&self.film, LengthUnit::Metres).into()]
                }
                WhyUnmade::CannotBeHad(findings) => {
                    findings.iter().map(|finding| finding.to_finding(LengthUnit::Metres).into()).collect()
                }
            };
            UnmadeAnswer { scene, shot, number: self.numbered(unmade.shot), findings }
        };
        plan.unmade.iter().map(told).collect()
    }
}

impl UnmadeAnswer {
    /// On which scene.
    pub(crate) const fn scene(&self) -> usize {
        self.scene
    }

    /// Its scene's number and its own.
    pub(crate) const fn number(&self) -> (usize, usize) {
        (self.scene, self.shot)
    }

    /// Which it is and why, on a line each.
    pub(crate) fn lines(&self) -> Vec<String> {
        let Self { number, findings, .. } = self;
        let told =
            |found: &FindingAnswer| format!("{number} cannot be made: {}; {}", found.message, found.hint);
        findings.iter().map(told).collect()
    }
}

impl From<DaySpan> for Span {
    fn from(span: DaySpan) -> Self {
        let DaySpan { from_min, to_min } = span;
        Self { from: clock(from_min), from_min, to: clock(to_min), to_min }
    }
}

impl From<Hours> for Span {
    fn from(hours: Hours) -> Self {
        Self::from(DaySpan::from(hours))
    }
}

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} to {}", self.from, self.to)
    }
}
