//! A film handed over: tables, a timeline of its cut, a day's calendar, its framing, and mattes of its frame lines.
//!
//! # Conventions
//! - Functions of a film, and of what is passed in: ids, stamps and the light of days. The same twice gives the same bytes.
//! - Lengths in metres, times in seconds of the film as it plays, shots by their numbers: `2.3`.

mod csv;
mod fdl;
mod files;
mod frames;
mod ics;
mod ics_text;
mod media;
mod name;
mod otio;
mod png;
mod record_order;
mod sheet;
mod takes;

use std::fmt;

use language::say;

use crate::clock::clock;
use crate::day::ShootingDay;
use crate::daylight::{DaySpan, Daylight};
use crate::film::Film;
use crate::id::ShotId;
use crate::order::Placed;

pub use self::csv::{cut_csv, day_csv, shots_csv};
#[cfg(feature = "learn")]
pub(crate) use self::csv::{table, text};
pub use self::png::{Matte, mattes};
pub use fdl::{fdl, framing_id};
pub use files::{
    HandedFile, calendar_file, day_table_file, framing_file, matte_files, sheets_file, table_files,
    timeline_file,
};
pub use ics::{DayCalendar, ics};
pub use name::plain_name;
pub use otio::otio;
pub use sheet::{PictureAddress, SheetDay, SheetOrder, SheetPart, Sheets};
pub use takes::takes_csv;

/// Why something cannot be handed over.
#[non_exhaustive]
#[derive(Debug)]
pub enum ExportError {
    /// A calendar of a day without a date.
    NoDate,
    /// A time that no calendar has.
    Calendar,
    /// A table that cannot be written.
    Table(::csv::Error),
    /// A file of JSON that cannot be written.
    Json(serde_json::Error),
    /// An image that cannot be written.
    Image(::png::EncodingError),
}

impl fmt::Display for ExportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoDate => f.write_str(say!("a calendar needs a date, and the day has none")),
            Self::Calendar => f.write_str(say!("the calendar ends here")),
            Self::Table(source) => f.write_str(&say!("the table cannot be written: {source}")),
            Self::Json(source) => f.write_str(&say!("the file cannot be written: {source}")),
            Self::Image(source) => f.write_str(&say!("the image cannot be written: {source}")),
        }
    }
}

impl std::error::Error for ExportError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::NoDate | Self::Calendar => None,
            Self::Table(source) => Some(source),
            Self::Json(source) => Some(source),
            Self::Image(source) => Some(source),
        }
    }
}

impl From<::csv::Error> for ExportError {
    fn from(source: ::csv::Error) -> Self {
        Self::Table(source)
    }
}

impl From<serde_json::Error> for ExportError {
    fn from(source: serde_json::Error) -> Self {
        Self::Json(source)
    }
}

impl From<::png::EncodingError> for ExportError {
    fn from(source: ::png::EncodingError) -> Self {
        Self::Image(source)
    }
}

/// What a film's files are called before what tells them apart.
fn title(film: &Film) -> String {
    plain_name(&film.facts.title)
}

/// Why a setup that is pinned is not shot properly where the order has it, if it is not: `late: its light is gone`.
fn told_late(film: &Film, placed: &Placed) -> Option<String> {
    let why = placed.late?.words(|who| film.name_of(who).to_owned());
    Some(say!("late: {why}"))
}

/// That clocks are changed during a day's work, at a place, and what its times mean then.
fn told_clock_change(day: &ShootingDay, daylight: &Daylight) -> Option<String> {
    let change = daylight.parts().clock_change?;
    let (before, after) = (clock(change.before_min), clock(change.after_min));
    let changed = DaySpan {
        from_min: change.before_min.min(change.after_min),
        to_min: change.before_min.max(change.after_min),
    };
    let hours = DaySpan::from(day.hours);
    let is_at_work = changed.from_min < hours.to_min && changed.to_min > hours.from_min;
    let by_min = change.by_min();
    is_at_work.then(|| {
        if by_min > 0.0 {
            say!(
                "Clocks go forward by {by_min} min at {before}: times from then to {after} do not come, so what is planned \
                 then has to be shot at another time; times after that are by the new clock."
            )
        } else {
            say!(
                "Clocks go back by {} min at {before}: times from {after} to then come twice and are meant the first time; \
                 times after that are by the new clock.", -by_min
            )
        }
    })
}

/// A shot's number in one text: `2.3`; `0.0` if it is gone.
fn numbered(film: &Film, shot: ShotId) -> String {
    film.numbered(shot).unwrap_or_else(|| "0.0".to_owned())
}
