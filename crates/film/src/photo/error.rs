//! Why a file gives no facts at all.

use std::fmt;

use language::say;

use super::FileKind;

/// Why a file gives no facts at all. A readable file that lacks tags is no error: its facts are absent.
#[non_exhaustive]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhotoError {
    /// The file has no bytes.
    Empty,
    /// The bytes are not those of a form that is read here.
    UnknownForm,
    /// A photo or a clip lacks the part that describes it.
    NoIndex {
        /// The form that it claims.
        kind: FileKind,
    },
    /// The part that describes a photo or a clip is longer than any camera writes.
    IndexTooLong {
        /// The form that it claims.
        kind: FileKind,
        /// Its length in bytes.
        bytes: u64,
        /// The longest that is read.
        most: u64,
    },
    /// A clip has no moving picture in it.
    NoPicture {
        /// Its form.
        kind: FileKind,
    },
}

impl fmt::Display for PhotoError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str(say!("the file is empty")),
            Self::UnknownForm => f.write_str(say!(
                "the file is no JPEG, HEIC, MOV or MP4: screenshots and pictures saved from other apps often are not, \
                 and hold no lens data; use the original photo or clip from the phone that took it"
            )),
            Self::NoIndex { kind } => f.write_str(&say!(
                "the {} has no index: it was cut off while recording or copying; copy it again, or use another",
                kind.name()
            )),
            Self::IndexTooLong { kind, bytes, most } => {
                f.write_str(&say!(
                    "the index of the {} takes {bytes} bytes; at most {most} bytes are read",
                    kind.name()
                ))
            }
            Self::NoPicture { kind } => {
                f.write_str(&say!("the {} holds no moving picture, only sound or data", kind.name()))
            }
        }
    }
}

impl std::error::Error for PhotoError {}
