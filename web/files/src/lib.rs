//! Reads photos and clips in the browser: a wasm module of its own, so that only a person who brings a file loads it.
//!
//! Nothing leaves the device, and little of a file comes into memory: a clip of gigabytes is read at its ends.
//!
//! What comes back is `film::PhotoFacts` as a plain object: every field is there, and `undefined` where the file is
//! silent. A refusal is an `Error` whose message a person can read.

use film::{PartialFile, PhotoFacts, Progress};
use js_sys::Uint8Array;
use language::say;
use serde::Serialize as _;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::Blob;

/// Refuses in the language that is spoken.
#[wasm_bindgen]
pub fn speak(tag: &str, words: Vec<String>, mark: char, hours: u8) {
    language::speak(language::Spoken::handed_on(tag, words, mark, hours));
}

/// Reads the facts of a photo or a clip that is in memory.
///
/// # Errors
/// If it is no photo or clip in a known form, or lacks the part that describes it.
#[wasm_bindgen]
pub fn read_photo(bytes: &[u8]) -> Result<JsValue, JsError> {
    to_object(&film::read_photo(bytes)?)
}

/// Reads the facts of a photo or a clip from a file that a person dropped or picked, part by part.
///
/// # Errors
/// As [`read_photo`], and if the browser cannot read the file any more.
#[wasm_bindgen]
pub async fn read_file(file: Blob) -> Result<JsValue, JsError> {
    let mut known = PartialFile::new(whole(file.size()));
    loop {
        match film::read_photo_in_parts(&known)? {
            Progress::Done(facts) => return to_object(&facts),
            Progress::Wants(range) => {
                let part = file
                    .slice_with_f64_and_f64(offset(range.start), offset(range.end))
                    .map_err(|error| unreadable(&error))?;
                let buffer = JsFuture::from(part.array_buffer()).await.map_err(|error| unreadable(&error))?;
                known.fill(range, Uint8Array::new(&buffer).to_vec());
            }
        }
    }
}

fn to_object(facts: &PhotoFacts) -> Result<JsValue, JsError> {
    Ok(facts.serialize(&serde_wasm_bindgen::Serializer::new())?)
}

/// A browser refuses when the file was moved, changed or withdrawn since the person chose it.
fn unreadable(error: &JsValue) -> JsError {
    let reason = error.dyn_ref::<js_sys::Error>().map(|error| String::from(error.message()));
    JsError::new(&say!("the file cannot be read any more: {}", reason.unwrap_or_default()))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a browser gives a whole number of bytes"
)]
fn whole(bytes: f64) -> u64 {
    bytes as u64
}

#[expect(clippy::cast_precision_loss, reason = "a browser counts bytes in the same kind of number")]
fn offset(bytes: u64) -> f64 {
    bytes as f64
}
