//! Why a request cannot be answered.

use std::fmt;

use film::RecordError;
use serde::Deserialize;

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

/// Reads a request from any format, naming the field where it fails.
///
/// # Errors
/// The path of the field and the format's own words, on one line.
pub fn read<'de, Request, Format>(format: Format) -> Result<Request, BadRequest>
where
    Request: Deserialize<'de>,
    Format: serde::Deserializer<'de>,
{
    serde_path_to_error::deserialize(format).map_err(|error| {
        let path = error.path().to_string();
        let message = error.inner().to_string().replace('\n', " ");
        BadRequest { path: if path == "." { String::new() } else { path }, message }
    })
}
