//! Files and standard input.

use std::fs::File;
use std::io::{self, Read as _};

use serde::Deserialize;
use serde::de::IgnoredAny;

use crate::failure::Failure;

/// The largest request or kit that is read: far above any that a person writes, far below what would stall a machine.
const MOST_BYTES: usize = 4 * 1024 * 1024;

/// Reads JSON from the file of that name, or from standard input if it is `-`.
pub(crate) fn read_json<Request: for<'de> Deserialize<'de>>(file: &str) -> Result<Request, Failure> {
    from_json(file, &read_bytes(file, MOST_BYTES)?)
}

/// Reads JSON from bytes that are those of the file of that name.
pub(crate) fn from_json<Request: for<'de> Deserialize<'de>>(
    file: &str,
    bytes: &[u8],
) -> Result<Request, Failure> {
    if bytes.len() > MOST_BYTES {
        return Err(Failure::TooLarge { file: file.to_owned() });
    }
    let not_json = |message| Failure::NotJson { file: file.to_owned(), message };
    let text = str::from_utf8(bytes).map_err(|error| not_json(error.to_string()))?;
    // Some editors put a mark before the text.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // First whether it is JSON from end to end, because a broken text has no fields to name.
    if let Err(error) = serde_json::from_str::<IgnoredAny>(text) {
        return Err(not_json(error.to_string()));
    }
    Ok(requests::read(&mut serde_json::Deserializer::from_str(text))?)
}

/// Reads the bytes of what is or may be a film from the file of that name, or from standard input if it is `-`.
pub(crate) fn read_film(file: &str) -> Result<Vec<u8>, Failure> {
    read_bytes(file, film::LARGEST_FILE)
}

fn read_bytes(file: &str, most: usize) -> Result<Vec<u8>, Failure> {
    let unreadable = |source| Failure::Unreadable { file: file.to_owned(), source };
    // One byte more than is allowed tells that there is too much, without reading all of it.
    let limit = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    let mut bytes = Vec::new();
    let read = if file == "-" {
        io::stdin().lock().take(limit).read_to_end(&mut bytes)
    } else {
        File::open(file).and_then(|opened| opened.take(limit).read_to_end(&mut bytes))
    };
    if read.map_err(unreadable)? > most {
        return Err(Failure::TooLarge { file: file.to_owned() });
    }
    Ok(bytes)
}
