//! The presets that the page opens with, read as the page reads everything.

use film::{ADAPTERS_JSON, AdapterRecord, FIRST_KIT_JSON, FRAME_SHAPES_JSON, KitRecord};
use optics::Aspect;

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

/// The frame shapes, by name.
pub(crate) fn frame_shapes() -> Vec<(String, Aspect)> {
    let shapes: Vec<(String, String)> = json::read(FRAME_SHAPES_JSON).unwrap_or_default();
    shapes.into_iter().filter_map(|(name, aspect)| Some((name, aspect.parse().ok()?))).collect()
}
