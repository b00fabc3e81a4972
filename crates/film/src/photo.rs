//! What a photo or a clip says about the lens that took it.
//!
//! The facts, what is missing from them and the lens worked out from them are plain values and always here. Reading a
//! file needs the feature `photo`, so that only what reads files carries the readers.
//!
//! # Conventions
//! - Bytes are passed in and plain values handed back. A long file need not be in memory: see `PartialFile`.
//! - A tag that says "unknown" in the way of its standard (0, or a fraction of nothing) counts as absent.
//! - Files come from strangers: whatever the bytes, reading ends, soon, without a panic and with little memory.

mod facts;
mod lens;
mod notice;
mod record;

#[cfg(feature = "photo")]
mod boxes;
#[cfg(feature = "photo")]
mod clip;
#[cfg(feature = "photo")]
mod error;
#[cfg(feature = "photo")]
mod exif_tags;
#[cfg(feature = "photo")]
mod heif;
#[cfg(test)]
#[cfg(feature = "photo")]
mod hostile;
#[cfg(feature = "photo")]
mod partial_file;
#[cfg(feature = "photo")]
mod reading;
#[cfg(test)]
#[cfg(feature = "photo")]
mod samples;

pub use facts::{FileKind, PhotoFacts, Turn};
pub use lens::{LensFromPhoto, LensFromPhotoError, SensorFromPhoto, lens_from_photo};
pub use notice::MissingFact;
pub use record::lens_record;

#[cfg(feature = "photo")]
pub use error::PhotoError;
#[cfg(feature = "photo")]
pub use partial_file::PartialFile;
#[cfg(feature = "photo")]
pub use reading::{Progress, read_photo, read_photo_in_parts};
