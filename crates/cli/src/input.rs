//! Files and standard input.

use std::fs::File;
use std::io::{self, Read as _};

use serde::Deserialize;
use serde::de::IgnoredAny;

use crate::failure::Failure;

/// The largest request or kit that is read: far above any that a person writes, far below what would stall a machine.
const MOST_BYTES: u64 = 4 * 1024 * 1024;

/// Reads JSON from the file of that name, or from standard input if it is `-`.
pub(crate) fn read_json<Request: for<'de> Deserialize<'de>>(file: &str) -> Result<Request, Failure> {
    let text = read_text(file)?;
    // First whether it is JSON from end to end, because a broken text has no fields to name.
    if let Err(error) = serde_json::from_str::<IgnoredAny>(&text) {
        return Err(Failure::NotJson { file: file.to_owned(), message: error.to_string() });
    }
    Ok(requests::read(&mut serde_json::Deserializer::from_str(&text))?)
}

/// The whole text, without the mark that some editors put before it.
fn read_text(file: &str) -> Result<String, Failure> {
    let unreadable = |source| Failure::Unreadable { file: file.to_owned(), source };
    let mut bytes = Vec::new();
    let read = if file == "-" {
        io::stdin().lock().take(MOST_BYTES + 1).read_to_end(&mut bytes)
    } else {
        File::open(file).and_then(|opened| opened.take(MOST_BYTES + 1).read_to_end(&mut bytes))
    };
    let read = read.map_err(unreadable)?;
    if u64::try_from(read).unwrap_or(u64::MAX) > MOST_BYTES {
        return Err(Failure::TooLarge { file: file.to_owned() });
    }
    let text = String::from_utf8(bytes).map_err(|error| Failure::NotJson {
        file: file.to_owned(),
        message: error.utf8_error().to_string(),
    })?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}
