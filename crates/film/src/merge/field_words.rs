//! The words for fields of records: their names, the units that their names end in, and what ids in them stand for.

use language::{key, text};
use serde_json::Number;

use crate::clock::clock_of_day;
use crate::merge::file_words::said;

/// What an id in a field is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Refers {
    Person,
    Place,
    Shot,
    Beat,
}

/// Units that the names of fields end in, longer ones before those that they end in.
const UNITS: [(&str, &str); 14] = [
    ("_deg_per_s", key!(" degrees a second")),
    ("_m_per_s", key!(" m a second")),
    ("_stops", key!(" stops")),
    ("_ev100", " EV"),
    ("_share", key!(" as a share")),
    ("_deg", key!(" degrees")),
    ("_fps", key!(" frames a second")),
    ("_min", " min"),
    ("_mm", " mm"),
    ("_px", " px"),
    ("_hz", " Hz"),
    ("_m", " m"),
    ("_s", " s"),
    ("_k", " K"),
];

/// Names that say too little outside their file.
const NAMES: [(&str, &str); 9] = [
    ("x_m", key!("east")),
    ("y_m", key!("north")),
    ("side_deg", key!("side of the phone")),
    ("across_share", key!("place across the frame")),
    ("background_behind_m", key!("background behind")),
    ("happens", key!("what happens")),
    ("changes", key!("what it changes")),
    ("above_floor_m", key!("height above the floor")),
    ("room_m", key!("room for the phone")),
];

/// Fields that hold one of a few words.
const WORDS: [&str; 18] = [
    "age",
    "axis_when_upright",
    "camera_app",
    "desqueeze",
    "height",
    "height_landmark",
    "kind",
    "light",
    "origin",
    "posture",
    "priority",
    "setting",
    "size",
    "sound",
    "sun",
    "time",
    "verdict",
    "weather",
];

/// Minutes that count from midnight and are told as a clock shows them.
const CLOCKS: [&str; 3] = ["from_min", "to_min", "resumes_min"];

/// What a field is called: `planned_s` is "planned".
pub(super) fn told_field(field: &str) -> String {
    if let Some((_, name)) = NAMES.into_iter().find(|(one, _)| *one == field) {
        return text(name).to_owned();
    }
    said(unit_of(field).map_or(field, |(name, _)| name))
}

/// A number with the unit that its field's name ends in.
pub(super) fn told_number(field: &str, number: &Number) -> String {
    let value = number.as_f64().unwrap_or_default();
    if CLOCKS.contains(&field) {
        return clock_of_day(value);
    }
    format!("{}{}", language::Number(value), unit_of(field).map_or("", |(_, unit)| text(unit)))
}

fn unit_of(field: &str) -> Option<(&str, &'static str)> {
    UNITS.into_iter().find_map(|(ending, unit)| Some((field.strip_suffix(ending)?, unit)))
}

/// A text as it is, and one of a few words without what files write between its parts.
pub(super) fn plain_word(field: &str, text: &str) -> String {
    if WORDS.contains(&field) { said(text) } else { text.to_owned() }
}

/// What a number in that field is the id of, if it is one.
pub(super) fn refers(field: &str) -> Option<Refers> {
    match field {
        "who" | "one" | "other" | "first" | "second" | "facing" | "near" | "of" | "seen" | "along"
        | "faces_person" | "hands" => Some(Refers::Person),
        "place" => Some(Refers::Place),
        "shot" | "shots" | "done" => Some(Refers::Shot),
        "beat" => Some(Refers::Beat),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fields_name_loses_its_unit_and_its_value_has_it() {
        let told = |field: &str, value: f64| {
            format!("{} {}", told_field(field), told_number(field, &Number::from_f64(value).expect("finite")))
        };
        assert_eq!(told("planned_s", 4.0), "planned 4 s");
        assert_eq!(told("pan_deg_per_s", -12.5), "pan -12.5 degrees a second");
        assert_eq!(told("stature_m", 1.7), "stature 1.7 m");
        assert_eq!(told("frame_rate_fps", 24.0), "frame rate 24 frames a second");
        assert_eq!(told("headroom_share", 0.1), "headroom 0.1 as a share");
        assert_eq!(told("f_number", 1.8), "f number 1.8");
        assert_eq!(told("from_min", 865.0), "from 14:25");
    }

    #[test]
    fn only_words_of_files_lose_their_strokes() {
        assert_eq!(plain_word("size", "over_the_knee"), "over the knee");
        assert_eq!(plain_word("notes", "file_7"), "file_7");
    }
}
