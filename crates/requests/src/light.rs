//! Where the light of a shot comes from, as requests write it.

use std::fmt;

use film::within_range;
use serde::Serialize;
use serde::de::{self, Deserialize, Deserializer, MapAccess, Visitor};
use staging::Light;
use units::Angle;

use crate::error::BadRequest;

/// Where the light comes from: `"overcast"`, `"dusk"` or `{"sun": {…}}`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum LightRequest {
    /// An even sky without sun.
    Overcast,
    /// Little is left of the sky, and lamps show.
    Dusk,
    /// The sun and a clear sky.
    Sun(SunRequest),
}

/// Where the sun is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct SunRequest {
    /// Its direction, clockwise from north, -360 to 360 degrees.
    pub azimuth_deg: f64,
    /// How high it is, 0 to 90 degrees.
    pub elevation_deg: f64,
}

impl LightRequest {
    /// The light; `path` is the field's.
    pub(crate) fn to_light(self, path: &str) -> Result<Light, BadRequest> {
        let angle = |name: &str, degrees: f64, min: f64, max: f64| {
            within_range(&format!("{path}.sun.{name}"), degrees, min, max, "deg").map(Angle::from_deg)
        };
        Ok(match self {
            Self::Overcast => Light::Overcast,
            Self::Dusk => Light::Dusk,
            Self::Sun(sun) => Light::Sun {
                azimuth: angle("azimuth_deg", sun.azimuth_deg, -360.0, 360.0)?,
                elevation: angle("elevation_deg", sun.elevation_deg, 0.0, 90.0)?,
            },
        })
    }
}

struct LightVisitor;

impl<'de> Visitor<'de> for LightVisitor {
    type Value = LightRequest;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "overcast, dusk, or an object with sun")
    }

    fn visit_str<E: de::Error>(self, word: &str) -> Result<LightRequest, E> {
        match word {
            "overcast" => Ok(LightRequest::Overcast),
            "dusk" => Ok(LightRequest::Dusk),
            _ => Err(E::invalid_value(de::Unexpected::Str(word), &self)),
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<LightRequest, A::Error> {
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
        sun.map(LightRequest::Sun).ok_or_else(|| de::Error::missing_field("sun"))
    }
}

impl<'de> Deserialize<'de> for LightRequest {
    /// By hand, because an object in a word's place is allowed here and nowhere else.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(LightVisitor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::read;

    fn told(text: &str) -> Result<LightRequest, String> {
        read(&mut serde_json::Deserializer::from_str(text)).map_err(|error: BadRequest| error.to_string())
    }

    #[test]
    fn what_is_written_reads_back() {
        let sun = SunRequest { azimuth_deg: 230.0, elevation_deg: 38.0 };
        for light in [LightRequest::Overcast, LightRequest::Dusk, LightRequest::Sun(sun)] {
            let text = serde_json::to_string(&light).expect("plain values");
            assert_eq!(told(&text), Ok(light), "{text}");
        }
    }

    #[test]
    fn what_is_no_light_is_refused_in_words() {
        let allowed = "is not allowed: overcast, dusk, or an object with sun";
        assert_eq!(told("\"noon\""), Err(format!("\"noon\" {allowed}")));
        assert_eq!(told("5"), Err(format!("5 {allowed}")));
        assert_eq!(told("[]"), Err(format!("a list {allowed}")));
        assert_eq!(told(r#"{"moon": 1}"#), Err("moon: is not a field here: sun".to_owned()));
        assert_eq!(told("{}"), Err("sun: is missing".to_owned()));
        assert_eq!(told(r#"{"sun": [1, 2]}"#), Err("sun: a list is not allowed: an object".to_owned()));
        let twice = r#"{"sun": {"azimuth_deg": 1, "elevation_deg": 2}, "sun": 1}"#;
        assert_eq!(told(twice), Err("sun: is given twice".to_owned()));
    }
}
