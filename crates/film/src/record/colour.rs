//! A colour as files and requests write it.

use std::fmt;

use language::say;
use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde::{Serialize, Serializer};
use staging::Colour;

/// A colour as style sheets write it: `#2f6f8f` is red, green and blue of sRGB, two hexadecimal digits each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ColourRecord(pub [u8; 3]);

impl ColourRecord {
    /// The share of light that such a surface gives back.
    pub fn to_colour(self) -> Colour {
        Colour::from_srgb8(self.0)
    }

    /// The colour as screens write it, to the nearest that they can.
    pub fn of(colour: Colour) -> Self {
        Self(colour.to_srgb8())
    }

    /// The colour that `text` writes; none if it writes none.
    fn read(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('#')?;
        if digits.len() != 6 || !digits.bytes().all(|digit| digit.is_ascii_hexdigit()) {
            return None;
        }
        let pair = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
        Some(Self([pair(0)?, pair(2)?, pair(4)?]))
    }
}

impl fmt::Display for ColourRecord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [red, green, blue] = self.0;
        write!(f, "#{red:02x}{green:02x}{blue:02x}")
    }
}

struct ColourVisitor;

impl Visitor<'_> for ColourVisitor {
    type Value = ColourRecord;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(say!("text such as \"#2f6f8f\""))
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<ColourRecord, E> {
        ColourRecord::read(text).ok_or_else(|| E::invalid_value(de::Unexpected::Str(text), &self))
    }
}

impl<'de> Deserialize<'de> for ColourRecord {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_str(ColourVisitor)
    }
}

impl Serialize for ColourRecord {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for ColourRecord {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Colour".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "Red, green and blue of sRGB, two hexadecimal digits each, such as \"#2f6f8f\".",
            "type": "string",
            "pattern": "^#[0-9a-fA-F]{6}$",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn only_six_digits_after_a_hash_are_a_colour() {
        assert_eq!(ColourRecord::read("#2F6f8f"), Some(ColourRecord([0x2f, 0x6f, 0x8f])));
        for text in ["2f6f8f", "#2f6f8", "#2f6f8f0", "#2f6f8g", "#+f6f8f", "blue", "", "#ääää"] {
            assert_eq!(ColourRecord::read(text), None, "{text}");
        }
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back(bytes in any::<[u8; 3]>()) {
            let colour = ColourRecord(bytes);
            prop_assert_eq!(ColourRecord::read(&colour.to_string()), Some(colour));
            prop_assert_eq!(colour.to_colour().to_srgb8(), bytes);
        }
    }
}
