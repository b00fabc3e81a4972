//! A day of shooting as a calendar (iCalendar, RFC 5545): the call, the breaks, the setups, and the light.
//!
//! Written here, because the calendar crates at hand make ids by chance or read the clock.

use std::iter;

use jiff::civil::{Date, DateTime, Time};
use jiff::{SignedDuration, Timestamp};
use language::say;

use super::ics_text::CalendarText;
use super::{ExportError, numbered, told_clock_change, told_late};
use crate::day::ShootingDay;
use crate::day_plan::{DayPlan, Daylights};
use crate::daylight::{DaySpan, Daylight};
use crate::film::{Film, Place};
use crate::id::PersonId;

/// What a day's calendar is made of.
#[derive(Debug, Clone, Copy)]
pub struct DayCalendar<'day> {
    /// The film.
    pub film: &'day Film,
    /// The day.
    pub day: &'day ShootingDay,
    /// Its order of work, if its setups are to be in the calendar.
    pub plan: Option<&'day DayPlan>,
    /// The light at its places, which knows their clocks.
    pub daylights: &'day Daylights,
    /// What this film is known by among others: part of every event's id, which lasts as long as it does.
    pub film_key: &'day str,
    /// When the plan was last changed.
    pub stamp: Timestamp,
}

/// The day as a calendar.
///
/// Times are of UTC, worked out by the clock of a setup's place; the call and the breaks go by the first place of the day whose
/// light is known, and so does what has no such place itself. Where none is known at all, times are those of whatever clock
/// the reader's is. Whole minutes. An event has the same id as long as the film's key is the same, so that a calendar takes it for
/// the same one.
///
/// # Errors
/// Says so of a day without a date, and of times beyond any calendar.
pub fn ics(of: &DayCalendar<'_>) -> Result<String, ExportError> {
    let date = of.day.date.ok_or(ExportError::NoDate)?;
    let mut events = Events { of, date, usual: of.usual_clock(), text: CalendarText::default() };
    events.text.property("BEGIN", "VCALENDAR");
    events.text.property("VERSION", "2.0");
    events.text.property("PRODID", "-//Tapemark//Tapemark//EN");
    events.text.property("CALSCALE", "GREGORIAN");
    events.whole_day()?;
    events.breaks()?;
    events.setups()?;
    events.light()?;
    events.text.property("END", "VCALENDAR");
    Ok(events.text.into_text())
}

impl DayCalendar<'_> {
    /// The places of the day's shots in the order in which the story comes to them.
    fn places(&self) -> Vec<&Place> {
        let mut places: Vec<&Place> = Vec::new();
        for (scene, _) in self.day.shots_of(self.film) {
            if let Some(place) =
                self.film.place_of(scene).filter(|place| !places.iter().any(|one| one.id == place.id))
            {
                places.push(place);
            }
        }
        places
    }

    fn usual_clock(&self) -> Option<&Daylight> {
        self.places().iter().find_map(|place| self.daylights.get(&place.id))
    }

    /// Who of the cast the day's shots are of, with their hours.
    fn people(&self) -> String {
        let shots = self.day.shots_of(self.film);
        let mut who: Vec<PersonId> = shots.iter().flat_map(|(_, shot)| shot.of.people()).collect();
        who.sort_unstable();
        who.dedup();
        let told = self.film.cast.iter().filter(|person| who.contains(&person.id)).map(|person| {
            let hours = person.hours.map_or_else(String::new, |hours| format!(" ({})", DaySpan::from(hours)));
            format!("{}{hours}", person.name)
        });
        told.collect::<Vec<_>>().join(", ")
    }
}

/// An event to be written.
struct Event<'text> {
    /// What it is among the day's events.
    id: String,
    summary: String,
    description: String,
    place: Option<&'text Place>,
    /// All places, for what is not at one of them.
    location: String,
    from_min: f64,
    /// None for what is a moment.
    to_min: Option<f64>,
    /// Whether whoever has it in their calendar is busy then.
    is_busy: bool,
}

struct Events<'day> {
    of: &'day DayCalendar<'day>,
    date: Date,
    usual: Option<&'day Daylight>,
    text: CalendarText,
}

impl Events<'_> {
    /// From the call to the wrap.
    fn whole_day(&mut self) -> Result<(), ExportError> {
        let DayCalendar { film, day, .. } = self.of;
        let at = film.days.iter().position(|one| one.id == day.id);
        let which = at.map_or_else(|| say!("day").to_owned(), |at| say!("day {}", at + 1));
        let called = if day.title.is_empty() { String::new() } else { format!(", {}", day.title) };
        let title = film.facts.called();
        let people = self.of.people();
        let cast = if people.is_empty() { String::new() } else { say!("With {people}.") };
        let weather = say!("Counting on {}.", language::text(day.weather.name()));
        let clocks = self.usual.and_then(|clock| told_clock_change(day, clock)).unwrap_or_default();
        let parts = [cast, weather, clocks, day.notes.trim().to_owned()];
        let span = DaySpan::from(day.hours);
        let places: Vec<&str> = self.of.places().iter().map(|place| place.name.as_str()).collect();
        self.write(&Event {
            id: "call".to_owned(),
            summary: format!("{title}: {which}{called}"),
            description: parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("\n"),
            place: None,
            location: places.join(", "),
            from_min: span.from_min,
            to_min: Some(span.to_min),
            is_busy: true,
        })
    }

    fn breaks(&mut self) -> Result<(), ExportError> {
        for (at, hours) in self.of.day.breaks.iter().enumerate() {
            let span = DaySpan::from(*hours);
            self.write(&Event {
                id: format!("break-{}", at + 1),
                summary: say!("Break").to_owned(),
                description: String::new(),
                place: None,
                location: String::new(),
                from_min: span.from_min,
                to_min: Some(span.to_min),
                is_busy: true,
            })?;
        }
        Ok(())
    }

    /// Each setup in the order of work, from where its change is done and its light there, and why it is late if it is.
    fn setups(&mut self) -> Result<(), ExportError> {
        let DayCalendar { film, plan: Some(plan), .. } = self.of else { return Ok(()) };
        for placed in &plan.order.placed {
            let Some(setup) = plan.setup(placed.job) else { continue };
            let shot = &setup.shot;
            let number = numbered(film, shot.id);
            let what = say!("{number} {} of {}", language::text(shot.size.name()), shot.of.told(film));
            self.write(&Event {
                id: format!("shot-{}", shot.id),
                summary: iter::once(what).chain(told_late(film, placed)).collect::<Vec<_>>().join(", "),
                description: shot.action.trim().to_owned(),
                place: film.place_of(&setup.scene),
                location: String::new(),
                from_min: placed.starts_min,
                to_min: Some(placed.ends_min),
                is_busy: true,
            })?;
        }
        Ok(())
    }

    /// When the sun is low and when it gets dark, for each place, but not what is over before the call, nor a low sun after the
    /// wrap; and when a night ends.
    fn light(&mut self) -> Result<(), ExportError> {
        let hours = self.of.day.hours;
        let work = DaySpan::from(hours);
        for place in self.of.places() {
            let Some(daylight) = self.of.daylights.get(&place.id) else { continue };
            let times = daylight.times();
            let spans = [("morning", times.morning), ("evening", times.evening)];
            let low = spans.into_iter().filter_map(|(when, span)| {
                let DaySpan { from_min, to_min } =
                    span.filter(|span| span.to_min > work.from_min && span.from_min < work.to_min)?;
                Some((format!("low-sun-{when}"), say!("Low sun"), from_min, Some(to_min)))
            });
            let dusk = times.civil_dusk_min.filter(|minute| *minute > work.from_min);
            let dusk = dusk.map(|minute| {
                ("civil-dusk".to_owned(), say!("Civil dusk: the light to see by ends"), minute, None)
            });
            let dawn = daylight.next_light_min().filter(|_| hours.ends_next_day());
            let dawn = dawn.map(|minute| {
                ("civil-dawn".to_owned(), say!("Civil dawn: the light to see by comes"), minute, None)
            });
            for (id, summary, from_min, to_min) in low.chain(dusk).chain(dawn) {
                self.write(&Event {
                    id: format!("place-{}-{id}", place.id),
                    summary: summary.to_owned(),
                    description: String::new(),
                    place: Some(place),
                    location: String::new(),
                    from_min,
                    to_min,
                    is_busy: false,
                })?;
            }
        }
        Ok(())
    }

    fn write(&mut self, event: &Event<'_>) -> Result<(), ExportError> {
        let DayCalendar { day, film_key, stamp, .. } = self.of;
        let clock = event.place.and_then(|place| self.of.daylights.get(&place.id)).or(self.usual);
        let starts = time(self.date, event.from_min, clock)?;
        let ends = event.to_min.map(|minute| time(self.date, minute, clock)).transpose()?;
        self.text.property("BEGIN", "VEVENT");
        self.text.text("UID", &format!("{film_key}-day-{}-{}@tapemark", day.id, event.id));
        self.text.property("DTSTAMP", &stamp.strftime("%Y%m%dT%H%M%SZ").to_string());
        self.text.property("DTSTART", &starts);
        // An end that is not later than the start is none.
        if let Some(ends) = ends.filter(|ends| *ends != starts) {
            self.text.property("DTEND", &ends);
        }
        self.text.text("SUMMARY", &event.summary);
        self.text.text("DESCRIPTION", &event.description);
        self.text.text("LOCATION", event.place.map_or(&event.location, |place| &place.name));
        if let Some(spot) = event.place.and_then(|place| place.spot.as_ref()) {
            let (latitude, longitude) = (spot.coordinates.latitude_deg(), spot.coordinates.longitude_deg());
            self.text.property("GEO", &format!("{latitude:.6};{longitude:.6}"));
        }
        self.text.property("TRANSP", if event.is_busy { "OPAQUE" } else { "TRANSPARENT" });
        self.text.property("END", "VEVENT");
        Ok(())
    }
}

/// A minute of the day as calendars write it: of UTC if the place's clock is known.
fn time(date: Date, minute: f64, clock: Option<&Daylight>) -> Result<String, ExportError> {
    let minute = libm::round(minute).clamp(-20_000.0, 20_000.0);
    // Clocks of a hundred years ago were off UTC by seconds too.
    let seconds = libm::round(60.0 * clock.map_or(minute, |clock| clock.utc_min(minute)));
    #[expect(clippy::cast_possible_truncation, reason = "seconds of some days; a cast saturates beyond")]
    let since = SignedDuration::from_secs(seconds as i64);
    let midnight = DateTime::from_parts(date, Time::midnight());
    let told = midnight.checked_add(since).map_err(|_beyond| ExportError::Calendar)?;
    let form = if clock.is_some() { "%Y%m%dT%H%M%SZ" } else { "%Y%m%dT%H%M%S" };
    Ok(told.strftime(form).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::daylight::{ClockChange, DayTimes, DaylightParts};
    use crate::film::Hours;
    use crate::preset::demo_film;
    use crate::rehearsal::Rehearsals;

    /// A day without a sun, by a clock two hours ahead of UTC, and that change of it.
    fn by_clock(clock_change: Option<ClockChange>) -> Daylight {
        Daylight::new(DaylightParts {
            times: DayTimes::default(),
            utc_offset_min: 120.0,
            clock_change,
            first_min: 0.0,
            directions_deg: vec![(0.0, -20.0); 4],
            air: 1.0,
            bright: Vec::new(),
        })
        .expect("a day")
    }

    /// The calendar of the demo film's day, with its setups.
    fn calendar(film: &Film, clock: Option<&Daylight>) -> Result<String, ExportError> {
        let day = &film.days[0];
        let daylights: Daylights =
            film.places.iter().filter_map(|place| Some((place.id, clock?.clone()))).collect();
        let plan = DayPlan::of(film, day, &Daylights::new(), &mut Rehearsals::default());
        ics(&DayCalendar {
            film,
            day,
            plan: Some(&plan),
            daylights: &daylights,
            film_key: "the-film",
            stamp: STAMP,
        })
    }

    const STAMP: Timestamp = Timestamp::constant(1_780_000_000, 0);

    #[test]
    fn the_call_is_told_in_universal_time() {
        let film = demo_film();
        let told = calendar(&film, Some(&by_clock(None))).expect("a calendar");
        // Nine to seven in summer is two hours before it in UTC.
        assert!(told.contains("DTSTART:20260912T070000Z\r\nDTEND:20260912T170000Z\r\n"), "{told}");
        assert!(told.contains("SUMMARY:The Biscuit Thief: day 1\\, Saturday\r\n"), "{told}");
        assert!(told.contains("DTSTAMP:20260528T202640Z\r\n"), "{told}");
    }

    #[test]
    fn without_a_clock_times_are_of_no_zone() {
        let told = calendar(&demo_film(), None).expect("a calendar");
        assert!(told.contains("DTSTART:20260912T090000\r\n"), "{told}");
    }

    #[test]
    fn every_event_has_an_id_of_its_own_and_the_same_again() {
        let film = demo_film();
        let told = calendar(&film, Some(&by_clock(None))).expect("a calendar");
        let ids = |told: &str| -> Vec<String> {
            told.replace("\r\n ", "")
                .lines()
                .filter_map(|line| line.strip_prefix("UID:"))
                .map(str::to_owned)
                .collect()
        };
        let mut all = ids(&told);
        let events = told.matches("BEGIN:VEVENT").count();
        assert!(events > 10 && all.len() == events, "{events} events");
        all.sort();
        all.dedup();
        assert_eq!(all.len(), events, "two events have one id");
        assert_eq!(told, calendar(&film, Some(&by_clock(None))).expect("a calendar"));
    }

    #[test]
    fn a_day_without_a_date_has_none() {
        let mut film = demo_film();
        let day = ShootingDay { date: None, ..film.days[0].clone() };
        film.days = [day].into();
        assert!(matches!(calendar(&film, None), Err(ExportError::NoDate)));
    }

    #[test]
    fn work_that_goes_past_midnight_ends_on_the_next_day() {
        let mut film = demo_film();
        let hours = Hours::until(19 * 60, 3 * 60).expect("hours");
        let breaks = Hours::until(24 * 60 + 30, 60).into_iter().collect();
        film.days = [ShootingDay { hours, breaks, ..film.days[0].clone() }].into();
        let told = calendar(&film, Some(&by_clock(None))).expect("a calendar");
        assert!(told.contains("DTSTART:20260912T170000Z\r\nDTEND:20260913T010000Z\r\n"), "{told}");
        assert!(told.contains("DTSTART:20260912T223000Z\r\nDTEND:20260912T230000Z\r\n"), "{told}");
    }

    #[test]
    fn a_setup_that_is_late_says_so_and_why() {
        let mut film = demo_film();
        let shot = film.scenes[2].shots[3].id;
        let hours = Hours::until(9 * 60, 12 * 60).expect("hours");
        let pinned = vec![crate::day::Pinned { shot, at: 0 }];
        film.days = [ShootingDay { hours, pinned, ..film.days[0].clone() }].into();
        let told = calendar(&film, None).expect("a calendar").replace("\r\n ", "");
        assert!(told.contains("SUMMARY:3.4 wide of Tom and Ida\\, late: "), "{told}");
        assert_eq!(told.matches("late: ").count(), 1, "{told}");
    }

    #[test]
    fn light_is_told_within_the_work_and_the_dawn_that_ends_a_night() {
        let span = |from_min, to_min| Some(DaySpan { from_min, to_min });
        let times = DayTimes {
            morning: span(400.0, 500.0),
            evening: span(1070.0, 1180.0),
            civil_dusk_min: Some(1215.0),
            ..DayTimes::default()
        };
        let told = |from_min, shown_min, daylight: &Daylight| {
            let mut film = demo_film();
            let hours = Hours::until(from_min, shown_min).expect("hours");
            film.days = [ShootingDay { hours, ..film.days[0].clone() }].into();
            let told = calendar(&film, Some(daylight)).expect("a calendar");
            ["low-sun-morning", "low-sun-evening", "civil-dusk", "civil-dawn"].map(|id| told.contains(id))
        };
        // The sun is up to minute 1200 and from 1840 on, for two days.
        let directions = (0..=600).map(|at| {
            let is_up = (380..1200).contains(&(at * 5 % 1440));
            (180.0, if is_up { 20.0 } else { -20.0 })
        });
        let parts = by_clock(None).parts().clone();
        let parts = DaylightParts { times, directions_deg: directions.collect(), ..parts };
        let daylight = Daylight::new(parts).expect("two days");
        assert_eq!(told(540, 1140, &daylight), [false, true, true, false]);
        assert_eq!(told(1260, 480, &daylight), [false, false, false, true]);
    }

    #[test]
    fn clocks_that_change_during_the_work_are_told_with_the_call() {
        let told = |from_min, change| {
            let mut film = demo_film();
            let hours = Hours::until(from_min, 600).expect("hours");
            film.days = [ShootingDay { hours, breaks: Vec::new(), ..film.days[0].clone() }].into();
            calendar(&film, Some(&by_clock(Some(change)))).expect("a calendar").replace("\r\n ", "")
        };
        let forward = ClockChange { before_min: 120.0, after_min: 180.0 };
        let back = ClockChange { before_min: 180.0, after_min: 120.0 };
        assert!(told(60, forward).contains("Clocks go forward by 60 min at 02:00: times from then to 03:00"));
        assert!(told(60, back).contains("Clocks go back by 60 min at 03:00: times from 02:00 to then"));
        assert!(!told(180, forward).contains("Clocks go"));
    }

    #[test]
    fn a_minute_past_midnight_is_of_the_next_day() {
        let date = Date::new(2026, 12, 31).expect("a date");
        assert_eq!(time(date, 1450.0, None).expect("a time"), "20270101T001000");
        assert_eq!(time(date, -10.4, None).expect("a time"), "20261230T235000");
    }

    #[test]
    fn what_is_after_a_change_of_the_clock_is_told_by_the_clock_as_it_is_then() {
        let date = Date::new(2026, 3, 29).expect("a date");
        let at = |minute: f64, change: ClockChange| time(date, minute, Some(&by_clock(Some(change))));
        let told = |minutes: &[f64], change: ClockChange| -> Vec<String> {
            minutes.iter().map(|minute| at(*minute, change).expect("a time")).collect()
        };
        let forward = ClockChange { before_min: 120.0, after_min: 180.0 };
        // One minute before, one that the clock leaves out, the first that it has again.
        let wanted = ["20260328T235900Z", "20260329T000000Z", "20260329T000000Z"];
        assert_eq!(told(&[119.0, 150.0, 180.0], forward), wanted);
        let back = ClockChange { before_min: 180.0, after_min: 120.0 };
        // One that comes once, one that comes twice, the first after those.
        let wanted = ["20260328T235900Z", "20260329T003000Z", "20260329T020000Z"];
        assert_eq!(told(&[119.0, 150.0, 180.0], back), wanted);
    }
}
