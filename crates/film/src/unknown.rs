//! What a file says beside what this program understands, kept so that it is written back.

use serde_json::{Map, Value};

/// Fields that a newer program wrote. Nothing reads them; they go back into the file as they came.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Unknown(Option<Box<Map<String, Value>>>);

impl Unknown {
    /// Keeps those fields.
    pub(crate) fn of(fields: Map<String, Value>) -> Self {
        Self((!fields.is_empty()).then(|| Box::new(fields)))
    }

    /// The fields, to be written.
    pub(crate) fn fields(&self) -> Map<String, Value> {
        self.0.as_deref().cloned().unwrap_or_default()
    }

    /// How many fields there are.
    pub fn len(&self) -> usize {
        self.0.as_ref().map_or(0, |fields| fields.len())
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_none()
    }
}
