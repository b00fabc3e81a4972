//! Where the light of a shot comes from, as files and requests write it.

use std::fmt;

use language::{key, say};
use serde::Serialize;
use serde::de::{self, Deserialize, Deserializer, MapAccess, Visitor};
use staging::Light;
use units::Angle;

use crate::kit_file::{RecordError, within_range};
use crate::record::written::{within_a_turn, written_deg};

/// Where the light comes from: `"overcast"`, `"dusk"` or `{"sun": {…}}`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(rename = "LightRequest"))]
#[cfg_attr(feature = "schema", schemars(rename = "LightRequest"))]
#[serde(rename_all = "snake_case")]
pub enum LightRecord {
    /// An even sky without sun.
    Overcast,
    /// Little is left of the sky, and lamps show.
    Dusk,
    /// The sun and a clear sky.
    Sun(SunRecord),
}

/// Where the sun is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(rename = "SunRequest", optional_fields = nullable))]
#[cfg_attr(feature = "schema", schemars(rename = "SunRequest"))]
#[serde(deny_unknown_fields)]
pub struct SunRecord {
    /// Its direction, clockwise from north, -360 to 360 degrees.
    pub azimuth_deg: f64,
    /// How high it is, 0 to 90 degrees.
    pub elevation_deg: f64,
}

impl LightRecord {
    /// The light.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn to_light(self) -> Result<Light, RecordError> {
        let angle = |field: &str, degrees: f64, min: f64, max: f64| {
            within_range(field, degrees, min, max, key!("deg")).map(Angle::from_deg)
        };
        Ok(match self {
            Self::Overcast => Light::Overcast,
            Self::Dusk => Light::Dusk,
            Self::Sun(sun) => Light::Sun {
                azimuth: angle("sun.azimuth_deg", sun.azimuth_deg, -360.0, 360.0)?,
                elevation: angle("sun.elevation_deg", sun.elevation_deg, 0.0, 90.0)?,
            },
        })
    }
}

impl From<Light> for LightRecord {
    fn from(light: Light) -> Self {
        match light {
            Light::Overcast => Self::Overcast,
            Light::Dusk => Self::Dusk,
            Light::Sun { azimuth, elevation } => Self::Sun(SunRecord {
                azimuth_deg: written_deg(within_a_turn(azimuth)),
                elevation_deg: written_deg(elevation),
            }),
        }
    }
}

struct LightVisitor;

impl<'de> Visitor<'de> for LightVisitor {
    type Value = LightRecord;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(say!("overcast, dusk, or an object with sun"))
    }

    fn visit_str<E: de::Error>(self, word: &str) -> Result<LightRecord, E> {
        match word {
            "overcast" => Ok(LightRecord::Overcast),
            "dusk" => Ok(LightRecord::Dusk),
            _ => Err(E::invalid_value(de::Unexpected::Str(word), &self)),
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<LightRecord, A::Error> {
        let mut sun = None;
        while let Some(name) = fields.next_key::<String>()? {
            if name != "sun" {
                return Err(de::Error::unknown_field(&name, &["sun"]));
            }
            if sun.is_some() {
                return Err(de::Error::duplicate_field("sun"));
            }
            sun = Some(fields.next_value()?);
        }
        sun.map(LightRecord::Sun).ok_or_else(|| de::Error::missing_field("sun"))
    }
}

impl<'de> Deserialize<'de> for LightRecord {
    /// By hand, because an object in a word's place is allowed here and nowhere else.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(LightVisitor)
    }
}
