//! Film files: JSON in, a film out, and back.
//!
//! A file is opened whenever anything in it can be saved. What cannot is left out or set to what is usual, and told; a field
//! that a newer program wrote is kept and written back.

mod blocking_reading;
mod blocking_record;
mod broken_json;
mod command_record;
mod day_reading;
mod day_record;
mod film_reading;
mod film_record;
mod known;
mod paced_record;
mod photo_record;
mod problem;
mod repair;
mod room;
mod scene_reading;
mod scene_record;
mod shot_reading;
mod shot_record;
mod spot_record;
mod take_record;

use std::fmt;

use language::say;
use serde_json::{Map, Value};

pub use crate::film_file::blocking_record::{
    BeatRecord, LineRecord, MarkRecord, PointRecord, SceneBlockingRecord, WayRecord,
};
pub use crate::film_file::command_record::CommandRecord;
pub use crate::film_file::day_record::{DayRecord, PinnedRecord, WorkTimesRecord};
pub(crate) use crate::film_file::film_reading::{empty_kit, usual_aspect};
pub use crate::film_file::film_record::{
    CastRecord, FILM_FORMAT_VERSION, FilmFactsRecord, FilmRecord, HoursRecord, PlaceRecord,
};
pub use crate::film_file::paced_record::{PacedPlaceRecord, PacedSideRecord};
pub use crate::film_file::photo_record::{PlacePhotoRecord, open_place_photo, write_place_photo};
pub use crate::film_file::problem::{Done, Problem};
pub(crate) use crate::film_file::room::excess;
pub use crate::film_file::scene_record::{
    EntryRecord, KeptAtRecord, KeptRecord, SceneFactsRecord, SceneRecord, WantRecord,
};
pub use crate::film_file::shot_record::{ShotOfRecord, ShotRecord};
pub use crate::film_file::spot_record::{HorizonPointRecord, SpotRecord};
pub use crate::film_file::take_record::TakeRecord;

use crate::film::Film;
use crate::film_file::broken_json::{Hopeless, salvage};
use crate::film_file::problem::{At, Mending, on_one_line};

/// A film from a file, and what in the file could not be used.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenedFilm {
    /// The film.
    pub film: Film,
    /// What was wrong, in the order in which it was found.
    pub problems: Vec<Problem>,
}

/// Why a file cannot be opened as a film at all. The file is as it was.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OpenFilmError {
    /// There is nothing in it.
    Empty,
    /// It is larger than any film.
    TooLarge {
        /// How many bytes it has.
        bytes: usize,
    },
    /// It is not JSON, or does not start as an object.
    NotJson,
    /// Its lists and objects stand too deep in each other.
    TooDeep,
    /// It has more values than any film.
    TooMany,
    /// It is an object, but has nothing that a film has.
    NotAFilm,
    /// It is a kit.
    KitInstead,
    /// It does not say its version.
    NoVersion,
    /// What it says is no version.
    BadVersion {
        /// What it says.
        found: String,
    },
    /// A newer program wrote it.
    Newer {
        /// Its version.
        version: u64,
    },
}

impl fmt::Display for OpenFilmError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str(say!("the file is empty")),
            Self::TooLarge { bytes } => {
                f.write_str(&say!("{bytes} bytes are not allowed: a film file has at most {LARGEST_FILE} bytes"))
            }
            Self::NotJson => f.write_str(say!("this is not a Tapemark film")),
            Self::TooDeep => {
                f.write_str(&say!("lists and objects stand more than {} deep in each other", broken_json::DEEPEST))
            }
            Self::TooMany => {
                f.write_str(say!("its lists and objects hold more values than any film: 10000 shots take less"))
            }
            Self::NotAFilm => {
                f.write_str(say!("this is no film file: it has neither title nor kit, cast, places or scenes"))
            }
            Self::KitInstead => f.write_str(say!("this is a kit file and no film file: open it as a kit")),
            Self::NoVersion => {
                f.write_str(&say!("format_version is missing: a film file says {FILM_FORMAT_VERSION} there"))
            }
            Self::BadVersion { found } => {
                f.write_str(&say!(
                    "format_version: {found} is not allowed: a whole number of 1 to {FILM_FORMAT_VERSION}"
                ))
            }
            Self::Newer { version } => f.write_str(&say!(
                "format_version: {version} is newer than this program, which reads up to {FILM_FORMAT_VERSION}; \
                 update the program and open the file again, nothing in it was changed"
            )),
        }
    }
}

impl std::error::Error for OpenFilmError {}

/// The most bytes of a film file: 64 MB, chosen because 10000 shots with long notes take a quarter of it.
pub const LARGEST_FILE: usize = 64_000_000;

/// The heaviest film: chosen because 10000 shots take less, as does any list of a film that is as long as it may be
/// (`tests/limits.rs`), and because objects of one field each would take a hundred times their bytes.
const HEAVIEST: usize = 1_000_000;

/// What the values of a text take when they are kept, a number in a list being one. Counted from the signs alone, before
/// anything is kept; what is broken is counted as what is made of it.
fn weight(text: &str) -> usize {
    let (mut in_text, mut escaped, mut in_word) = (false, false, false);
    let mut weight = 0;
    for byte in text.bytes() {
        if in_text {
            in_text = escaped || byte != b'"';
            escaped = !escaped && byte == b'\\';
            continue;
        }
        let is_word = byte.is_ascii_alphanumeric() || matches!(byte, b'+' | b'-' | b'.');
        weight += match byte {
            b'"' => 2,
            b':' => 1,
            b'[' => 4,
            b'{' => 7,
            _ => usize::from(is_word && !in_word),
        };
        (in_text, in_word) = (byte == b'"', is_word);
    }
    weight
}

/// Opens a film file.
///
/// # Errors
/// Says why nothing can be made of it, or that a newer program wrote it. Everything else is a problem of the opened film.
pub fn open_film(bytes: &[u8]) -> Result<OpenedFilm, OpenFilmError> {
    if bytes.len() > LARGEST_FILE {
        return Err(OpenFilmError::TooLarge { bytes: bytes.len() });
    }
    let mending = Mending::default();
    let root = At::root(&mending);
    let text = String::from_utf8_lossy(bytes);
    if let Err(error) = std::str::from_utf8(bytes) {
        let message = say!("is not UTF-8 from byte {} on", error.valid_up_to());
        root.report(message, Done::SetTo(say!("\u{fffd} where a letter cannot be read").to_owned()));
    }
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err(OpenFilmError::Empty);
    }
    if weight(text) > HEAVIEST {
        return Err(OpenFilmError::TooMany);
    }
    let fields = migrate(fields_of(text, &root)?)?;
    let film = repair::film_record(fields, &mending).read(&root);
    Ok(OpenedFilm { film, problems: mending.into_problems() })
}

/// A film as a file, the same film always as the same text.
pub fn write_film(film: &Film) -> String {
    let record = FilmRecord::from(film);
    // Records hold text, numbers and names of fields, all of which can be written.
    let mut text = serde_json::to_string_pretty(&record).unwrap_or_default();
    text.push('\n');
    text
}

/// The text's object, as much of it as there is.
fn fields_of(text: &str, root: &At<'_>) -> Result<Map<String, Value>, OpenFilmError> {
    let value = match serde_json::from_str(text) {
        Ok(value) => value,
        Err(_) => salvaged(text, root)?,
    };
    match value {
        Value::Object(fields) => Ok(fields),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) | Value::Array(_) => {
            Err(OpenFilmError::NotJson)
        }
    }
}

/// What can be read of a text that the strict reader refused.
fn salvaged(text: &str, root: &At<'_>) -> Result<Value, OpenFilmError> {
    let found = salvage(text).map_err(|hopeless| match hopeless {
        Hopeless::NotJson => OpenFilmError::NotJson,
        Hopeless::TooDeep => OpenFilmError::TooDeep,
    })?;
    let broken_json::Place { line, column } = found.broke_at;
    let message = if found.complete {
        say!("the text has a fault in line {line}, column {column}, or goes on there after the film's end")
    } else {
        say!("the text is damaged or cut off in line {line}, column {column}: what follows cannot be read")
    };
    root.report(message, Done::KeptTheRest);
    Ok(found.value)
}

/// What turns a file of one version into one of the next: the first step is from version 1 to version 2, once there is one.
const STEPS: [fn(&mut Map<String, Value>); FILM_FORMAT_VERSION as usize - 1] = [];

/// The fields of a file of any version as those of the newest.
fn migrate(mut fields: Map<String, Value>) -> Result<Map<String, Value>, OpenFilmError> {
    let has = |name: &str| fields.contains_key(name);
    if has("lenses") && !has("kit") && !has("scenes") {
        return Err(OpenFilmError::KitInstead);
    }
    if !["title", "kit", "cast", "places", "scenes"].into_iter().any(has) {
        return Err(OpenFilmError::NotAFilm);
    }
    let version = fields.get("format_version").ok_or(OpenFilmError::NoVersion)?;
    let newest = u64::from(FILM_FORMAT_VERSION);
    match version.as_u64() {
        None | Some(0) => Err(OpenFilmError::BadVersion { found: on_one_line(version.to_string(), 60) }),
        Some(version) if version > newest => Err(OpenFilmError::Newer { version }),
        Some(version) => {
            let done = usize::try_from(version - 1).unwrap_or(STEPS.len());
            for step in STEPS.iter().skip(done) {
                step(&mut fields);
            }
            Ok(fields)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preset::demo_film;

    #[test]
    fn a_film_of_millions_of_values_is_refused_before_they_fill_the_memory() {
        for (piece, broken) in [(r#"{"":0},"#, ""), ("[0],", ""), ("0,", ""), (r#""a" "#, "?"), ("0 ", "?")] {
            let text =
                format!(r#"{{"format_version":1,"title":"It","new":[{}0]{broken}}}"#, piece.repeat(HEAVIEST));
            assert_eq!(open_film(text.as_bytes()), Err(OpenFilmError::TooMany), "{piece}");
        }
    }

    #[test]
    fn ten_thousand_shots_are_no_film_of_millions() {
        let text = write_film(&demo_film());
        let shot = serde_json::to_string(&FilmRecord::from(&demo_film()).scenes[0].shots[0]).expect("a shot");
        assert!(weight(&text) < HEAVIEST / 100, "{}", weight(&text));
        assert!(weight(&shot) < HEAVIEST / 10_000, "{}", weight(&shot));
    }

    #[test]
    fn what_stands_in_a_text_weighs_nothing() {
        assert_eq!(weight(r#""{[,\"[{\\""#), 2);
        assert_eq!(weight(r#"{"a": [1, -2.5e+3, null]}"#), 7 + 2 + 1 + 4 + 3);
    }

    #[test]
    fn a_file_in_which_much_is_wrong_beside_much_that_is_right_is_read_in_the_end() {
        let bad = r#""bias_stops": [], "mains_hz": [], "line": 0, "aspect": [], "frame_rate_fps": [],"#;
        let many = "0,".repeat(HEAVIEST - 1000);
        let text = format!(r#"{{"format_version": 1, "title": "It", {bad} "new": [{many}0]}}"#);
        let told = open_film(text.as_bytes()).expect("opened").problems;
        assert!(
            told.iter().any(|problem| problem.message.ends_with("too much of the file is wrong")),
            "{told:?}"
        );
    }
}
