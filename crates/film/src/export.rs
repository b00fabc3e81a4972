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

use crate::film::Film;
use crate::id::ShotId;

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

/// A shot's number in one text: `2.3`; `0.0` if it is gone.
fn numbered(film: &Film, shot: ShotId) -> String {
    film.numbered(shot).unwrap_or_else(|| "0.0".to_owned())
}
