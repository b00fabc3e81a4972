//! The presets that the page opens with, read as the page reads everything.

pub(crate) use film::frame_shapes;
use film::{ADAPTERS_JSON, AdapterRecord, FIRST_KIT_JSON, KitRecord};

use crate::json;

/// The phone kit with the most lenses.
#[expect(clippy::expect_used, reason = "a test in the browser reads it")]
pub(crate) fn first_kit() -> KitRecord {
    json::read(FIRST_KIT_JSON).expect("the kit was written by the build")
}

/// The adapters.
pub(crate) fn adapters() -> Vec<AdapterRecord> {
    json::read(ADAPTERS_JSON).unwrap_or_default()
}
