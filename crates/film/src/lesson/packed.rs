//! A kit within a link: its file's JSON without spaces as a zlib stream, in the base64 of links, as films go into theirs.

use base64::Engine as _;
use language::say;
use miniz_oxide::deflate::compress_to_vec_zlib;

use super::fields::field;
use super::link::LessonLinkError;
use crate::kit::Kit;
use crate::kit_file::KitRecord;
use crate::link::{EFFORT, LINK_BASE64, unfolded};

/// The field that a kit is in.
pub(super) const KIT: &str = "kit";

/// The most bytes of a kit's JSON: chosen far above what lists of 64 entries take, because a short link may unfold to millions
/// of empty lenses.
const LARGEST_KIT: usize = 500_000;

/// The kit as the value of a field.
pub(super) fn packed(kit: &Kit) -> String {
    // Records hold text, numbers and names of fields, all of which can be written.
    let json = serde_json::to_string(&KitRecord::from(kit)).unwrap_or_default();
    LINK_BASE64.encode(compress_to_vec_zlib(json.as_bytes(), EFFORT))
}

/// The kit of a field's value.
pub(super) fn unpacked(value: &str) -> Result<Kit, LessonLinkError> {
    let damaged = say!("was changed or cut off on its way: ask for the link again");
    let json = unfolded(value).map_err(|_error| field(KIT, damaged))?;
    if json.len() > LARGEST_KIT {
        return Err(field(KIT, say!("unfolds to more than the {LARGEST_KIT} bytes of any kit")));
    }
    let record: KitRecord = serde_json::from_slice(&json).map_err(|_error| field(KIT, damaged))?;
    record.to_kit().map_err(|error| LessonLinkError::Field(error.within(KIT)))
}
