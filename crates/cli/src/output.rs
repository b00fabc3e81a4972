//! Standard output and standard error.

use std::io::{self, ErrorKind, Write as _};

use serde::Serialize;

use crate::failure::Failure;

/// What a command answers.
#[derive(Debug)]
pub(crate) struct Answer {
    /// The text to print.
    pub(crate) text: String,
    /// Whether a film has findings that ask for a look.
    pub(crate) has_findings: bool,
}

impl From<String> for Answer {
    fn from(text: String) -> Self {
        Self { text, has_findings: false }
    }
}

/// Writes an answer out. Whoever stopped reading it, such as `head`, has what they wanted.
pub(crate) fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::Unwritable(error)),
        Ok(()) | Err(_) => Ok(()),
    }
}

/// Tells on one line of standard error what went wrong.
pub(crate) fn tell(line: &str) {
    let line: String = line.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
    // With standard error closed there is nobody left to tell.
    drop(writeln!(io::stderr().lock(), "tapemark: {line}"));
}

/// An answer as JSON.
pub(crate) fn json(answer: &impl Serialize) -> Result<String, Failure> {
    let text = serde_json::to_string_pretty(answer);
    text.map(|text| text + "\n").map_err(|error| Failure::Unwritable(error.into()))
}
