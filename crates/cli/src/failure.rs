//! Why a command has no answer.

use std::fmt;
use std::io;
use std::process::ExitCode;

use render::Size;
use requests::BadRequest;

/// Why a command has no answer.
#[derive(Debug)]
pub(crate) enum Failure {
    /// A file cannot be read.
    Unreadable {
        /// Its name as given.
        file: String,
        /// Why.
        source: io::Error,
    },
    /// A file is larger than any request, kit or film.
    TooLarge {
        /// Its name as given.
        file: String,
    },
    /// A file is not JSON in UTF-8 at all.
    NotJson {
        /// Its name as given.
        file: String,
        /// Why.
        message: String,
    },
    /// A file is no film, or a damaged one.
    NoFilm {
        /// Its name as given.
        file: String,
        /// Why, on one line.
        message: String,
    },
    /// A field of a request is not what it should be.
    Request(BadRequest),
    /// None of the photos and clips tells a lens.
    NoLens {
        /// What each lacks, on one line.
        message: String,
    },
    /// A picture was asked for where there is no framing.
    Unframed {
        /// Why, and what would do, on one line.
        message: String,
    },
    /// The image that was asked for has another shape than the frame.
    WrongShape {
        /// The size that was asked for.
        wanted: Size,
        /// The size of the same width that would do.
        fitting: Size,
        /// The frame's width over its height.
        aspect: f64,
    },
    /// The file cannot be written.
    UnwritableFile {
        /// Its name as given.
        file: String,
        /// Why.
        source: io::Error,
    },
    /// The answer cannot be written out.
    Unwritable(io::Error),
}

impl Failure {
    /// 2 for what was given wrongly, 1 for what went wrong here.
    pub(crate) fn exit_code(&self) -> ExitCode {
        match self {
            Self::Unreadable { .. }
            | Self::TooLarge { .. }
            | Self::NotJson { .. }
            | Self::NoFilm { .. }
            | Self::Request(_)
            | Self::NoLens { .. }
            | Self::Unframed { .. }
            | Self::WrongShape { .. } => ExitCode::from(2),
            Self::UnwritableFile { .. } | Self::Unwritable(_) => ExitCode::FAILURE,
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable { file, source } => write!(f, "{file}: cannot be read: {source}"),
            Self::TooLarge { file } => write!(f, "{file}: is larger than any such file is"),
            Self::NotJson { file, message } => write!(f, "{file}: is not JSON: {message}"),
            Self::NoFilm { file, message } => write!(f, "{file}: {message}"),
            Self::Request(bad) => write!(f, "{bad}"),
            Self::NoLens { message } | Self::Unframed { message } => write!(f, "{message}"),
            Self::WrongShape { wanted, fitting, aspect } => write!(
                f,
                "--size: {}x{} is {:.3} wide to high and the frame is {aspect:.3}: {}x{} would do",
                wanted.width,
                wanted.height,
                f64::from(wanted.width) / f64::from(wanted.height),
                fitting.width,
                fitting.height
            ),
            Self::UnwritableFile { file, source } => write!(f, "{file}: cannot be written: {source}"),
            Self::Unwritable(source) => write!(f, "the answer cannot be written: {source}"),
        }
    }
}

impl std::error::Error for Failure {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Unreadable { source, .. }
            | Self::UnwritableFile { source, .. }
            | Self::Unwritable(source) => Some(source),
            Self::Request(bad) => Some(bad),
            Self::TooLarge { .. }
            | Self::NotJson { .. }
            | Self::NoFilm { .. }
            | Self::NoLens { .. }
            | Self::Unframed { .. }
            | Self::WrongShape { .. } => None,
        }
    }
}

impl From<BadRequest> for Failure {
    fn from(bad: BadRequest) -> Self {
        Self::Request(bad)
    }
}
