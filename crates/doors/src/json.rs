//! JSON as the terminal and the page read it.

use std::fmt::Debug;

use requests::BadRequest;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Deserializer;

use crate::has_words;

/// The value that bytes say, if they say one; a refusal has words, and what is let in is written and read as the same.
pub(crate) fn read<Value: Serialize + DeserializeOwned + PartialEq + Debug>(bytes: &[u8]) -> Option<Value> {
    let text = str::from_utf8(bytes).ok()?;
    let value: Value = match from_text(text) {
        Ok(value) => value,
        Err(refusal) => {
            has_words(refusal);
            return None;
        }
    };
    let written = serde_json::to_string(&value).expect("records can be written");
    let again: Value = from_text(&written).expect("a value that was written");
    assert_eq!(again, value, "{written}");
    Some(value)
}

fn from_text<Value: DeserializeOwned>(text: &str) -> Result<Value, BadRequest> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reader = Deserializer::from_str(text);
    let value = requests::read(&mut reader)?;
    let after = |error: serde_json::Error| BadRequest { path: String::new(), message: error.to_string() };
    reader.end().map_err(after)?;
    Ok(value)
}

/// An answer has numbers in it: JSON would write what is none as null, so Rust's own form is read instead.
pub(crate) fn has_numbers(answer: &impl Debug) {
    let told = format!("{answer:?}");
    assert!(!told.contains("NaN") && !told.contains("inf"), "{told}");
}
