//! From a day's record to the day.

use std::collections::BTreeSet;
use std::sync::Arc;

use jiff::civil::Date;
use language::{key, say};
use optics::Weather;

use crate::day::{Pinned, ShootingDay, WorkTimes};
use crate::film::Hours;
use crate::film_file::day_record::{DayRecord, PinnedRecord, WorkTimesRecord};
use crate::film_file::film_reading::{MOST_IN_A_NAME, MOST_IN_A_TEXT, read_hours};
use crate::film_file::known::Ids;
use crate::film_file::problem::{At, Done, Range};
use crate::id::{DayId, ShotId};
use crate::order::ChangeTimes;
use crate::sun::SunError;
use crate::unknown::Unknown;

/// The most of each: chosen generous, as nobody shoots a hundred setups on a day, or a film on hundreds of days.
const MOST_DAYS: usize = 500;
const MOST_LISTED: usize = 2000;
const MOST_BREAKS: usize = 20;

/// The range of every time of the work. Ten hours: chosen because what takes longer is a day of its own.
const fn minutes(field: &'static str) -> Range {
    Range { field, min: 0.0, max: 600.0, unit: "min" }
}

const TAKES: Range = Range { field: "takes", min: 1.0, max: 100.0, unit: key!("takes") };

/// The days, each with an id of its own. Where `shots` are known, what a day says of others is left out.
pub(super) fn read_days(
    at: &At<'_>,
    records: &[DayRecord],
    shots: Option<&BTreeSet<ShotId>>,
) -> Arc<[ShootingDay]> {
    let records = at.few("days", records, MOST_DAYS);
    let mut ids = Ids::of(records.iter().map(|record| record.id));
    let days = records.iter().enumerate().filter_map(|(index, record)| {
        let at = at.item("days", index);
        Some(record.read(&at, DayId::new(ids.claim(&at, record.id))?, &Shots { at: &at, known: shots }))
    });
    days.collect()
}

/// The shots that a day may speak of.
struct Shots<'a> {
    at: &'a At<'a>,
    known: Option<&'a BTreeSet<ShotId>>,
}

impl Shots<'_> {
    /// The shot of that number, or none with what is wrong told.
    fn shot(&self, field: &'static str, index: usize, number: u64) -> Option<ShotId> {
        let is_known = |id: &ShotId| self.known.is_none_or(|known| known.contains(id));
        let shot = ShotId::new(number).filter(is_known);
        if shot.is_none() {
            let message = say!("{number} is no shot of the film");
            self.at.item(field, index).report(message, Done::LeftOut(key!("it was")));
        }
        shot
    }

    /// The shots of a list, each once.
    fn list(&self, field: &'static str, numbers: &[u64]) -> Vec<ShotId> {
        let numbers = self.at.few(field, numbers, MOST_LISTED).iter().enumerate();
        let mut seen = BTreeSet::new();
        let shots = numbers.filter_map(|(index, number)| self.shot(field, index, *number));
        shots.filter(|shot| seen.insert(*shot)).collect()
    }
}

impl DayRecord {
    fn read(&self, at: &At<'_>, id: DayId, shots: &Shots<'_>) -> ShootingDay {
        let breaks = at.few("breaks", &self.breaks, MOST_BREAKS).iter().enumerate();
        let breaks = breaks.filter_map(|(index, hours)| read_hours(&at.item("breaks", index), *hours));
        let pinned = at.few("pinned", &self.pinned, MOST_LISTED).iter().enumerate();
        let mut seen = BTreeSet::new();
        let pinned = pinned
            .filter_map(|(index, PinnedRecord { shot, at })| {
                let shot = shots.shot("pinned", index, *shot)?;
                Some(Pinned { shot, at: usize::try_from(*at).unwrap_or(usize::MAX) })
            })
            .filter(|pinned| seen.insert(pinned.shot));
        ShootingDay {
            id,
            title: at.text("title", &self.title, MOST_IN_A_NAME),
            date: self.date.as_deref().and_then(|date| read_date(at, date)),
            hours: self.hours.and_then(|hours| read_hours(&at.field("hours"), hours)).unwrap_or(Hours::USUAL),
            breaks: breaks.collect(),
            weather: self.weather.map_or(Weather::Clear, Weather::from),
            shots: self.shots.as_ref().map(|numbers| shots.list("shots", numbers)),
            pinned: pinned.collect(),
            work: self.work.map_or(WorkTimes::USUAL, |work| work.read(&at.field("work"))),
            done: shots.list("done", &self.done),
            resumes_min: self.resumes_min.and_then(|minute| read_minute(at, minute)),
            notes: at.text("notes", &self.notes, MOST_IN_A_TEXT),
            unknown: Unknown::of(self.unknown.clone()),
        }
    }
}

fn read_date(at: &At<'_>, text: &str) -> Option<Date> {
    let date = text.parse::<Date>().ok().filter(|date| SunError::check_year(date.year()).is_ok());
    if date.is_none() {
        let shown: String = text.chars().take(40).collect();
        let message = say!("{shown:?} is not allowed: a date such as 2026-09-10, of 1900 to 2100");
        at.field("date").report(message, Done::LeftOut(key!("it was")));
    }
    date
}

fn read_minute(at: &At<'_>, minute: u32) -> Option<u16> {
    let read = u16::try_from(minute).ok().filter(|minute| *minute <= Hours::LATEST_MIN);
    if read.is_none() {
        let message = say!("{minute} min is not allowed: 0 to {} min", Hours::LATEST_MIN);
        at.field("resumes_min").report(message, Done::LeftOut(key!("it was")));
    }
    read
}

impl WorkTimesRecord {
    fn read(&self, at: &At<'_>) -> WorkTimes {
        let usual = WorkTimes::USUAL;
        let usually = usual.changes;
        let read = |field, given, usual| at.or_usual(&minutes(field), given, usual);
        WorkTimes {
            rehearsal_min: read("rehearsal_min", self.rehearsal_min, usual.rehearsal_min),
            takes: at.or_usual(&TAKES, self.takes, usual.takes),
            reset_min: read("reset_min", self.reset_min, usual.reset_min),
            changes: ChangeTimes {
                setting_up_min: read("setting_up_min", self.setting_up_min, usually.setting_up_min),
                lens_min: read("lens_min", self.lens_min, usually.lens_min),
                filters_min: read("filters_min", self.filters_min, usually.filters_min),
                adapter_min: read("adapter_min", self.adapter_min, usually.adapter_min),
                gimbal_min: read("gimbal_min", self.gimbal_min, usually.gimbal_min),
                spot_min: read("spot_min", self.spot_min, usually.spot_min),
                turn_min: read("turn_min", self.turn_min, usually.turn_min),
                scene_min: read("scene_min", self.scene_min, usually.scene_min),
                place_min: read("place_min", self.place_min, usually.place_min),
            },
        }
    }
}
