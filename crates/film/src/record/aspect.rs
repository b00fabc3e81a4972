//! A frame shape as files and requests write it: a number or text.

use std::fmt;

use language::say;
use optics::Aspect;
use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde::{Serialize, Serializer};

/// A frame shape: a number such as 2.39, or text such as "16:9".
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AspectRecord(pub Aspect);

struct AspectVisitor;

impl Visitor<'_> for AspectVisitor {
    type Value = AspectRecord;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(say!("a number such as 2.39, or text such as \"16:9\""))
    }

    fn visit_f64<E: de::Error>(self, value: f64) -> Result<AspectRecord, E> {
        Aspect::new(value).map(AspectRecord).map_err(E::custom)
    }

    fn visit_u64<E: de::Error>(self, value: u64) -> Result<AspectRecord, E> {
        // A shape beyond what u32 holds is out of range in any case.
        self.visit_f64(u32::try_from(value).map_or(f64::MAX, f64::from))
    }

    fn visit_i64<E: de::Error>(self, value: i64) -> Result<AspectRecord, E> {
        self.visit_f64(i32::try_from(value).map_or(f64::MIN, f64::from))
    }

    fn visit_str<E: de::Error>(self, value: &str) -> Result<AspectRecord, E> {
        value.parse().map(AspectRecord).map_err(E::custom)
    }
}

impl<'de> Deserialize<'de> for AspectRecord {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(AspectVisitor)
    }
}

impl Serialize for AspectRecord {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.0.to_f64())
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for AspectRecord {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Aspect".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "Width over height: a number of 0.2 to 5 such as 2.39, or text such as \"16:9\".",
            "type": ["number", "string"],
        })
    }
}
