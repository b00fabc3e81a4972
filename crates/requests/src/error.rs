//! Why a request cannot be answered.

use std::fmt;

use film::RecordError;
use serde::Deserialize;

use crate::fields::takes_at;
use crate::given::Given;

/// Why a request cannot be answered: the field's path and what is the matter with it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadRequest {
    /// The field, such as `lens.f_number`; empty for the request as a whole.
    pub path: String,
    /// What is the matter, with the value, the allowed range and the unit.
    pub message: String,
}

impl fmt::Display for BadRequest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.path.is_empty() {
            write!(f, "{}", self.message)
        } else {
            write!(f, "{}: {}", self.path, self.message)
        }
    }
}

impl std::error::Error for BadRequest {}

impl From<RecordError> for BadRequest {
    fn from(RecordError { path, message }: RecordError) -> Self {
        Self { path, message }
    }
}

impl BadRequest {
    /// What is the matter with the field at `path`.
    pub fn at(path: &str, message: impl Into<String>) -> Self {
        Self { path: path.to_owned(), message: message.into() }
    }

    /// The same error seen from one level further out.
    #[must_use]
    pub fn within(self, outer: &str) -> Self {
        Self { path: joined(outer, &self.path), message: self.message }
    }
}

/// Reads a request from any format, naming the field where it fails.
///
/// # Errors
/// The path of the field, the value and what the field takes, on one line without control characters.
pub fn read<'de, Request, Format>(format: Format) -> Result<Request, BadRequest>
where
    Request: Deserialize<'de>,
    Format: serde::Deserializer<'de>,
{
    let given: Given = serde_path_to_error::deserialize(format).map_err(named)?;
    serde_path_to_error::deserialize(given).map_err(named)
}

/// Names the field where reading failed.
fn named<Failure: fmt::Display>(error: serde_path_to_error::Error<Failure>) -> BadRequest {
    let path = error.path().to_string();
    let path = if path == "." { "" } else { &path };
    let BadRequest { path, message } = explain(path, &error.into_inner().to_string());
    BadRequest { path: printable(&shortened(&path, 120)), message: printable(&message) }
}

/// Puts the words of serde's error kinds, which name Rust types, into words about the field.
///
/// Formats hand their errors on as text alone, so text is what there is to tell them apart by.
fn explain(path: &str, told: &str) -> BadRequest {
    if let Some(rest) = told.strip_prefix("missing field `") {
        let path = joined(path, rest.trim_end_matches('`'));
        let message = match takes_at(&path) {
            Some(takes) => format!("is missing: {takes}"),
            None => "is missing".to_owned(),
        };
        return BadRequest { path, message };
    }
    if let Some((name, known)) =
        told.strip_prefix("unknown field `").and_then(|rest| rest.rsplit_once("`, expected "))
    {
        let message = format!("is not a field here: {}", words_of(known));
        return BadRequest { path: ending_in(path, name), message };
    }
    if let Some((value, known)) =
        told.strip_prefix("unknown variant `").and_then(|rest| rest.rsplit_once("`, expected "))
    {
        let known = words_of(known);
        return BadRequest::at(path, format!("\"{}\" is not allowed: {known}", shortened(value, 60)));
    }
    if let Some(name) = told.strip_prefix("duplicate field `") {
        let path = ending_in(path, name.trim_end_matches('`'));
        return BadRequest { path, message: "is given twice".to_owned() };
    }
    let mismatch = told.strip_prefix("invalid type: ").or_else(|| told.strip_prefix("invalid value: "));
    if let Some((value, expected)) = mismatch.and_then(|rest| rest.rsplit_once(", expected ")) {
        let allowed = takes_at(path).map_or_else(|| plain(expected).to_owned(), |takes| takes.to_string());
        return BadRequest::at(path, format!("{} is not allowed: {allowed}", shortened(bare(value), 60)));
    }
    if told.starts_with("number out of range")
        && let Some(takes) = takes_at(path)
    {
        return BadRequest::at(path, format!("a number beyond any is not allowed: {takes}"));
    }
    // A value's own check has said what it takes; a broken text's reader, at which line and column it broke.
    BadRequest::at(path, told)
}

/// The path of the field `name`, which some errors are told at and others at what holds it.
fn ending_in(path: &str, name: &str) -> String {
    let ends = path == name || path.ends_with(&format!(".{name}"));
    if ends { path.to_owned() } else { joined(path, name) }
}

/// A field's path below another's.
fn joined(outer: &str, inner: &str) -> String {
    match (outer.is_empty(), inner.is_empty()) {
        (true, _) => inner.to_owned(),
        (_, true) => outer.to_owned(),
        (false, false) if inner.starts_with('[') => format!("{outer}{inner}"),
        (false, false) => format!("{outer}.{inner}"),
    }
}

/// serde's "one of `a`, `b`" or "`a` or `b`" as a plain list.
fn words_of(known: &str) -> String {
    known.trim_start_matches("one of ").replace("` or `", ", ").replace('`', "")
}

/// A value as people write it: without the name of its kind, a whole number without a fraction.
fn bare(value: &str) -> &str {
    if let Some(number) = value.strip_prefix("floating point ") {
        let number = number.trim_matches('`');
        return number.strip_suffix(".0").unwrap_or(number);
    }
    match value {
        "map" => "an object",
        "sequence" => "a list",
        "unit value" | "Option value" => "null",
        _ => value.trim_start_matches("string ").trim_start_matches("boolean ").trim_matches('`'),
    }
}

/// What a type takes, for fields that no table knows.
fn plain(expected: &str) -> &str {
    match expected {
        "f64" | "f32" => "a number",
        "u32" | "u64" | "i64" => "a whole number",
        "a string" | "a borrowed string" => "text",
        "a boolean" => "true or false",
        "a sequence" => "a list",
        _ if expected.starts_with("struct ") => "an object",
        _ => expected,
    }
}

/// A text of any length, short enough for one line.
fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars().take(most).chain("…".chars()).collect()
}

/// A text from outside, on one line and short enough for it.
#[cfg(feature = "sun")]
pub(crate) fn one_line(text: &str, most: usize) -> String {
    printable(&shortened(text, most))
}

/// The text on one line: whoever wrote the request may have put anything into a name.
fn printable(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::SetupRequest;
    use film::{KitRecord, LightRecord, SunRecord};

    const REQUEST: &str = r#"{
        "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3},
        "recording": {"width_px": 3840, "height_px": 2160}, "adapter": {"squeeze": 1.33},
        "delivery": {"aspect": 2.39}, "subject": {"stature_m": 1.70},
        "shot_size": "medium", "background_behind_subject_m": 10.0}"#;

    /// The refusal of the example with one piece of its text exchanged.
    fn refusal(piece: &str, other: &str) -> String {
        assert!(REQUEST.contains(piece), "{piece} is not in the example");
        let text = REQUEST.replace(piece, other);
        let request: Result<SetupRequest, _> = read(&mut serde_json::Deserializer::from_str(&text));
        request.expect_err("refused").to_string()
    }

    #[test]
    fn a_wrong_type_is_told_with_value_range_and_unit() {
        assert_eq!(
            refusal("6.86", "\"six\""),
            "lens.focal_length_mm: \"six\" is not allowed: 0.1 to 2000 mm"
        );
        assert_eq!(
            refusal("3840", "3840.5"),
            "recording.width_px: 3840.5 is not allowed: 16 to 20000 px, whole"
        );
        assert_eq!(refusal("3840", "-1"), "recording.width_px: -1 is not allowed: 16 to 20000 px, whole");
        assert_eq!(refusal("1.70", "null"), "subject.stature_m: null is not allowed: 0.4 to 2.8 m");
        assert_eq!(refusal("1.33", "[1.33]"), "adapter.squeeze: a list is not allowed: 1 to 3 (factor)");
        assert_eq!(refusal("{\"stature_m\": 1.70}", "true"), "subject: true is not allowed: an object");
        assert_eq!(
            refusal("2.39", "null"),
            "delivery.aspect: null is not allowed: 0.2 to 5 (width over height), or text such as \"16:9\""
        );
    }

    #[test]
    fn a_missing_field_is_told_by_its_whole_path() {
        assert_eq!(
            refusal("\"aspect\": 2.39", ""),
            "delivery.aspect: is missing: 0.2 to 5 (width over height), or text such as \"16:9\""
        );
        assert_eq!(
            refusal(", \"background_behind_subject_m\": 10.0", ""),
            "background_behind_subject_m: is missing: 0 to 100000 m"
        );
    }

    #[test]
    fn an_unknown_field_is_refused_by_its_whole_path() {
        let told = refusal("\"stature_m\"", "\"height_m\"");
        assert_eq!(told, "subject.height_m: is not a field here: stature_m, posture, age, second_person");
        assert!(
            refusal("\"shot_size\"", "\"size\"").starts_with("size: is not a field here: lens, recording, ")
        );
        let control = refusal("\"stature_m\"", "\"a\\nb\\u001b[1m\"");
        assert!(control.starts_with("subject.a b [1m: is not a field here: "), "{control}");
    }

    #[test]
    fn an_unknown_word_is_told_with_the_known_ones() {
        assert_eq!(
            refusal("\"medium\"", "\"big\""),
            "shot_size: \"big\" is not allowed: extreme_wide, wide, mid_thigh, medium, chest_up, tight, extreme_tight, insert"
        );
        assert!(refusal("\"medium\"", "5").starts_with("shot_size: 5 is not allowed: extreme_wide, wide"));
    }

    #[test]
    fn a_field_given_twice_is_refused() {
        assert_eq!(
            refusal("\"aspect\": 2.39", "\"aspect\": 2.39, \"aspect\": 2"),
            "delivery.aspect: is given twice"
        );
    }

    #[test]
    fn a_shape_out_of_range_is_told_without_its_place_in_the_text() {
        assert_eq!(
            refusal("2.39", "9"),
            "delivery.aspect: 9 (width over height) is not allowed: 0.2 to 5 (width over height)"
        );
        assert_eq!(
            refusal("2.39", "\"wide\""),
            "delivery.aspect: `wide` is not a frame shape: 0.2 to 5, a number such as 2.39 or two such as 16:9"
        );
    }

    #[test]
    fn broken_text_is_told_with_its_place() {
        let told = refusal("1.70", "1.7.0");
        assert!(told.starts_with("subject") && told.contains(" at line 4 column "), "{told}");
    }

    #[test]
    fn a_number_too_large_for_any_reader_is_refused_at_its_field() {
        let told = refusal("10.0", "1e999");
        assert_eq!(told, "background_behind_subject_m: a number beyond any is not allowed: 0 to 100000 m");
    }

    #[test]
    fn a_long_value_is_cut_short() {
        let told = refusal("\"medium\"", &format!("\"{}\"", "x".repeat(500)));
        assert!(told.len() < 250, "{told}");
    }

    #[test]
    fn a_request_of_millions_is_refused_before_it_fills_the_memory() {
        let many = format!("\"adapter\": {{\"fits\": [{}1]}}", "1,".repeat(200_000));
        let told = refusal("\"adapter\": {\"squeeze\": 1.33}", &many);
        assert!(told.starts_with("adapter.fits[") && told.contains("more than 100000 values"), "{told}");
        let deep = format!("\"adapter\": {}1{}", "[".repeat(100), "]".repeat(100));
        let told = refusal("\"adapter\": {\"squeeze\": 1.33}", &deep);
        assert!(told.starts_with("adapter[0]") && told.contains("more than 32 deep"), "{told}");
    }

    #[test]
    fn a_kits_fields_are_named_by_their_place_in_the_list() {
        let text = r#"{"lenses": [{"focal_length_mm": 6}, {"f_number": "fast"}]}"#;
        let kit: Result<KitRecord, _> = read(&mut serde_json::Deserializer::from_str(text));
        assert_eq!(
            kit.expect_err("refused").within("kit").to_string(),
            "kit.lenses[1].f_number: \"fast\" is not allowed: 0.5 to 64 (f-number)"
        );
    }

    fn light(text: &str) -> Result<LightRecord, String> {
        read(&mut serde_json::Deserializer::from_str(text)).map_err(|error| error.to_string())
    }

    #[test]
    fn a_light_that_is_written_reads_back() {
        let sun = SunRecord { azimuth_deg: 230.0, elevation_deg: 38.0 };
        for one in [LightRecord::Overcast, LightRecord::Dusk, LightRecord::Sun(sun)] {
            let text = serde_json::to_string(&one).expect("plain values");
            assert_eq!(light(&text), Ok(one), "{text}");
        }
    }

    #[test]
    fn what_is_no_light_is_refused_in_words() {
        let allowed = "is not allowed: overcast, dusk, or an object with sun";
        assert_eq!(light("\"noon\""), Err(format!("\"noon\" {allowed}")));
        assert_eq!(light("5"), Err(format!("5 {allowed}")));
        assert_eq!(light("[]"), Err(format!("a list {allowed}")));
        assert_eq!(light(r#"{"moon": 1}"#), Err("moon: is not a field here: sun".to_owned()));
        assert_eq!(light("{}"), Err("sun: is missing".to_owned()));
        assert_eq!(light(r#"{"sun": [1, 2]}"#), Err("sun: a list is not allowed: an object".to_owned()));
        let twice = r#"{"sun": {"azimuth_deg": 1, "elevation_deg": 2}, "sun": 1}"#;
        assert_eq!(light(twice), Err("sun: is given twice".to_owned()));
    }
}
