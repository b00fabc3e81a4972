//! From JSON values to records, where some values are not what they should be.
//!
//! The record's own reader says where it fails. What stands there is taken out and the record is read again, until it reads
//! or nothing is left of it. A film is read piece by piece, so that one bad value costs a second reading of one shot and not
//! of the film.

use language::{key, say, text};
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};
use serde_path_to_error::{Path, Segment};

use crate::film_file::blocking_record::SceneBlockingRecord;
use crate::film_file::film_record::{FILM_FORMAT_VERSION, FilmFactsRecord, FilmRecord};
use crate::film_file::known::NO_ID;
use crate::film_file::problem::{Done, Mending, Problem, below, on_one_line};
use crate::film_file::scene_record::{SceneFactsRecord, SceneRecord};
use crate::kit_file::{KIT_FORMAT_VERSION, KitRecord};

/// So many values of one record are taken out before all of it is: a record with more bad values is none, and reading it
/// again for each must end.
const MOST_REPAIRS: usize = 64;

/// A film from what a file holds.
pub(super) fn film_record(mut fields: Map<String, Value>, mending: &Mending) -> FilmRecord {
    fields.remove("format_version");
    let kit = fields.remove("kit");
    let cast = list(&mut fields, "", "cast", mending);
    let places = list(&mut fields, "", "places", mending);
    let days = list(&mut fields, "", "days", mending);
    let scenes = list(&mut fields, "", "scenes", mending);
    let takes = list(&mut fields, "", "takes", mending);
    let scenes = items("scenes", scenes, mending, |path, value| scene_record(path, value, mending));
    FilmRecord {
        format_version: FILM_FORMAT_VERSION,
        facts: read::<FilmFactsRecord>("", Value::Object(fields), key!("it was"), mending)
            .unwrap_or_default(),
        kit: kit_record(kit, mending),
        cast: items("cast", cast, mending, |path, value| read(path, value, key!("the person was"), mending)),
        places: items("places", places, mending, |path, value| {
            read(path, value, key!("the place was"), mending)
        }),
        days: items("days", days, mending, |path, value| read(path, value, key!("the day was"), mending)),
        scenes,
        takes: items("takes", takes, mending, |path, value| read(path, value, key!("the take was"), mending)),
    }
}

fn kit_record(kit: Option<Value>, mending: &Mending) -> KitRecord {
    let read = if let Some(mut kit) = kit {
        // A film's kit may be empty, and says so by having no lenses.
        if let Value::Object(fields) = &mut kit {
            fields.entry("lenses").or_insert_with(|| Value::Array(Vec::new()));
        }
        read("kit", kit, key!("the kit was"), mending)
    } else {
        let (path, message) = ("kit".to_owned(), say!("is missing").to_owned());
        mending.report(Problem { path, message, done: Done::SetTo(say!("an empty kit").to_owned()) });
        None
    };
    read.unwrap_or_else(|| KitRecord {
        format_version: KIT_FORMAT_VERSION,
        name: None,
        source: None,
        camera_app: None,
        lenses: Vec::new(),
        recordings: Vec::new(),
        adapters: Vec::new(),
        filters: Vec::new(),
        views: Vec::new(),
        exposure_times_s: Vec::new(),
    })
}

fn scene_record(path: &str, value: Value, mending: &Mending) -> Option<SceneRecord> {
    let Value::Object(mut fields) = value else {
        return read(path, value, key!("the scene was"), mending);
    };
    let id = fields.remove("id").and_then(|id| id.as_u64()).unwrap_or(NO_ID);
    let shots = list(&mut fields, path, "shots", mending);
    let cut = list(&mut fields, path, "cut", mending);
    let kept = list(&mut fields, path, "kept", mending);
    let blocking = fields.remove("blocking");
    let in_scene = |name: &str| format!("{path}.{name}");
    Some(SceneRecord {
        id,
        blocking: blocking.map_or_else(SceneBlockingRecord::default, |blocking| {
            blocking_record(&in_scene("blocking"), blocking, mending)
        }),
        shots: items(&in_scene("shots"), shots, mending, |path, value| {
            read(path, value, key!("the shot was"), mending)
        }),
        cut: items(&in_scene("cut"), cut, mending, |path, value| {
            read(path, value, key!("the entry was"), mending)
        }),
        kept: items(&in_scene("kept"), kept, mending, |path, value| {
            read(path, value, key!("the finding was"), mending)
        }),
        facts: read::<SceneFactsRecord>(path, Value::Object(fields), key!("it was"), mending)
            .unwrap_or_default(),
    })
}

fn blocking_record(path: &str, value: Value, mending: &Mending) -> SceneBlockingRecord {
    let Value::Object(mut fields) = value else {
        return read(path, value, key!("the blocking was"), mending).unwrap_or_default();
    };
    let marks = list(&mut fields, path, "marks", mending);
    let pieces = list(&mut fields, path, "pieces", mending);
    let beats = list(&mut fields, path, "beats", mending);
    let rest: Option<SceneBlockingRecord> = read(path, Value::Object(fields), key!("it was"), mending);
    let in_blocking = |name: &str| format!("{path}.{name}");
    SceneBlockingRecord {
        marks: items(&in_blocking("marks"), marks, mending, |path, value| {
            read(path, value, key!("the mark was"), mending)
        }),
        pieces: items(&in_blocking("pieces"), pieces, mending, |path, value| {
            read(path, value, key!("the piece was"), mending)
        }),
        beats: items(&in_blocking("beats"), beats, mending, |path, value| {
            read(path, value, key!("the beat was"), mending)
        }),
        ..rest.unwrap_or_default()
    }
}

/// A list that is a field; empty where there is none, and told where it is something else.
fn list(fields: &mut Map<String, Value>, path: &str, name: &'static str, mending: &Mending) -> Vec<Value> {
    match fields.remove(name) {
        None => Vec::new(),
        Some(Value::Array(list)) => list,
        Some(other) => {
            let message = say!("{} is not allowed: a list", shown(&other));
            let path = below(path.to_owned(), name);
            mending.report(Problem { path, message, done: Done::LeftOut(key!("it was")) });
            Vec::new()
        }
    }
}

/// The records of a list, without those of which nothing can be made.
fn items<Record>(
    list: &str,
    values: Vec<Value>,
    mending: &Mending,
    read: impl Fn(&str, Value) -> Option<Record>,
) -> Vec<Record> {
    let mut records = Vec::with_capacity(values.len());
    for (original, value) in values.into_iter().enumerate() {
        match read(&format!("{list}[{original}]"), value) {
            Some(record) => records.push(record),
            None => mending.leaves(list, records.len()),
        }
    }
    records
}

/// A record from a value, less what cannot be read of it; `what` says what is lost if nothing can.
fn read<Record: DeserializeOwned>(
    path: &str,
    mut value: Value,
    what: &'static str,
    mending: &Mending,
) -> Option<Record> {
    for _ in 0..MOST_REPAIRS {
        let error = match serde_path_to_error::deserialize::<_, Record>(&value) {
            Ok(record) => return Some(record),
            Err(error) => error,
        };
        if !mending.may_read_again(values_in(&value)) {
            let message =
                say!("is left out with what is wrong in it: too much of the file is wrong").to_owned();
            mending.report(Problem { path: path.to_owned(), message, done: Done::LeftOut(what) });
            return None;
        }
        let steps = steps_to(error.path());
        if !mend(path, &mut value, steps, &error.inner().to_string(), what, mending) {
            return None;
        }
    }
    let message = say!("more than {MOST_REPAIRS} values in it are not what they should be");
    mending.report(Problem { path: path.to_owned(), message, done: Done::LeftOut(what) });
    None
}

/// How many values there are in one, itself among them.
fn values_in(value: &Value) -> usize {
    match value {
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => 1,
        Value::Array(list) => 1 + list.iter().map(values_in).sum::<usize>(),
        Value::Object(fields) => 1 + fields.values().map(values_in).sum::<usize>(),
    }
}

/// One step into a value.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Into {
    Field(String),
    Item(usize),
}

/// The steps to where reading failed, as far as they lead through objects and lists.
fn steps_to(path: &Path) -> Vec<Into> {
    let steps = path.iter().map_while(|segment| match segment {
        Segment::Map { key } => Some(Into::Field(key.clone())),
        Segment::Seq { index } => Some(Into::Item(*index)),
        // A kind with values of its own is taken out whole.
        Segment::Enum { .. } | Segment::Unknown => None,
    });
    steps.collect()
}

/// Takes out what cannot be read and tells it; false if that is all of the record.
fn mend(
    path: &str,
    value: &mut Value,
    mut steps: Vec<Into>,
    told: &str,
    what: &'static str,
    mending: &Mending,
) -> bool {
    let missing = told.strip_prefix("missing field `").and_then(|rest| rest.split('`').next());
    if let Some(name) = missing {
        if name == "id" && steps.is_empty() {
            return set_no_id(value);
        }
        let is_all = steps.is_empty();
        let done = Done::LeftOut(if is_all { what } else { key!("all of it was") });
        let place = text_of(path, &steps, mending);
        // If the field was taken out just now, that it is missing is no second problem.
        let field = below(place, name);
        if !mending.amend_last(&field, done.clone()) {
            let message = say!("is missing").to_owned();
            mending.report(Problem { path: field, message, done });
        }
        return !is_all && take_out(path, value, &steps, mending).is_some();
    }
    let unknown = told.strip_prefix("unknown field `").and_then(|rest| rest.rsplit_once("`, expected "));
    if let Some((name, known)) = unknown {
        let step = Into::Field(name.to_owned());
        if steps.last() != Some(&step) {
            steps.push(step);
        }
        let place = text_of(path, &steps, mending);
        let message = say!("is not a field here: {}", words_of(known));
        mending.report(Problem { path: place, message, done: Done::LeftOut(key!("it was")) });
        return take_out(path, value, &steps, mending).is_some();
    }
    if steps.is_empty() {
        let message = say!("{} is not allowed: {}", shown(value), allowed(told, path));
        mending.report(Problem { path: path.to_owned(), message, done: Done::LeftOut(what) });
        return false;
    }
    if steps == [Into::Field("id".to_owned())] {
        return set_no_id(value);
    }
    let place = text_of(path, &steps, mending);
    if let Some(gone) = take_out(path, value, &steps, mending) {
        let message = say!("{} is not allowed: {}", shown(&gone), allowed(told, &place));
        mending.report(Problem { path: place, message, done: Done::LeftOut(key!("it was")) });
        true
    } else {
        mending.report(Problem { path: place, message: told.to_owned(), done: Done::LeftOut(what) });
        false
    }
}

/// Marks a record as one without an id, which is given one when all that are taken are known.
fn set_no_id(value: &mut Value) -> bool {
    value.as_object_mut().map(|fields| fields.insert("id".to_owned(), NO_ID.into())).is_some()
}

/// The place as people read it, by where things stood in the file.
fn text_of(path: &str, steps: &[Into], mending: &Mending) -> String {
    steps.iter().fold(path.to_owned(), |path, step| match step {
        Into::Field(name) => below(path, name),
        Into::Item(index) => {
            let index = mending.original(&path, *index);
            below(path, &format!("[{index}]"))
        }
    })
}

fn take_out(path: &str, value: &mut Value, steps: &[Into], mending: &Mending) -> Option<Value> {
    let (last, way) = steps.split_last()?;
    let mut at = value;
    for step in way {
        at = match step {
            Into::Field(name) => at.get_mut(name.as_str())?,
            Into::Item(index) => at.get_mut(*index)?,
        };
    }
    match last {
        Into::Field(name) => at.as_object_mut()?.remove(name),
        Into::Item(index) => {
            let list = at.as_array_mut().filter(|list| *index < list.len())?;
            mending.leaves(&text_of(path, way, mending), *index);
            Some(list.remove(*index))
        }
    }
}

/// What a field takes, from what the reader expected and the unit that its name ends in.
fn allowed(told: &str, path: &str) -> String {
    let known = told.strip_prefix("unknown variant `").and_then(|rest| rest.rsplit_once("`, expected "));
    if let Some((_, known)) = known {
        return words_of(known);
    }
    let expected = told.rsplit_once(", expected ").map(|(_, expected)| expected);
    match expected {
        None => told.to_owned(),
        Some("f64") => match unit_of(path) {
            Some(unit) => say!("a number ({unit})", unit = text(unit)),
            None => say!("a number").to_owned(),
        },
        Some("u32" | "u64") => say!("a whole number").to_owned(),
        Some("a string") => say!("text").to_owned(),
        Some("a boolean") => say!("true or false").to_owned(),
        Some("a sequence") => say!("a list").to_owned(),
        Some(expected) if expected.starts_with("struct ") || expected == "a map" => {
            say!(in "JSON", "an object").to_owned()
        }
        Some(expected) if expected.starts_with("enum ") => {
            say!("a word, or an object of one field").to_owned()
        }
        Some(expected) => expected.to_owned(),
    }
}

/// The unit that a field's name ends in.
fn unit_of(path: &str) -> Option<&'static str> {
    // Of two endings the longer one comes first.
    const ENDINGS: [(&str, &str); 10] = [
        ("_deg_per_s", "deg/s"),
        ("_m_per_s", "m/s"),
        ("_deg", key!("deg")),
        ("_fps", "fps"),
        ("_mm", "mm"),
        ("_min", "min"),
        ("_share", key!("share")),
        ("_stops", key!("stops")),
        ("_m", "m"),
        ("_s", "s"),
    ];
    ENDINGS.into_iter().find(|(ending, _)| path.ends_with(ending)).map(|(_, unit)| unit)
}

/// serde's "one of `a`, `b`" or "`a` or `b`" as a plain list.
fn words_of(known: &str) -> String {
    known.trim_start_matches("one of ").replace("` or `", ", ").replace('`', "")
}

/// A value in one short line.
fn shown(value: &Value) -> String {
    match value {
        Value::Array(_) => say!("a list").to_owned(),
        Value::Object(_) => say!(in "JSON", "an object").to_owned(),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {
            // JSON has its own words for most signs that end a line, but not for all.
            on_one_line(value.to_string(), 60)
        }
    }
}
