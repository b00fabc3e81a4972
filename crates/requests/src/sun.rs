//! The `sun` request: where the sun is at a moment, or what it does on a day.

#[cfg(feature = "sun")]
mod answering;

use serde::{Deserialize, Serialize};

use crate::fields::{Field, Takes, field, number};

#[cfg(feature = "sun")]
pub use answering::sun;
#[cfg(feature = "sun")]
pub(crate) use answering::{day_of, named_zone, told};

/// A place with a moment, or with a day and the clocks that it is counted by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SunAtRequest {
    /// How far north, -90 to 90 degrees.
    pub latitude_deg: f64,
    /// How far east, -180 to 180 degrees.
    pub longitude_deg: f64,
    /// How high above the sea, -500 to 9000 m; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elevation_m: Option<f64>,
    /// The moment, as RFC 3339 has it, with its offset, in the years 1900 to 2100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
    /// The day, such as `2026-06-21`, in the years 1900 to 2100; instead of the moment.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// The IANA name of the zone whose clocks the day is counted by; needed with the day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time_zone: Option<String>,
}

/// What a [`SunAtRequest`] is answered with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum SunAnswer {
    /// Where the sun is at the moment.
    At(SunAtAnswer),
    /// What it does on the day.
    Day(DaySunAnswer),
}

/// Where the sun's centre is at a moment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SunAtAnswer {
    /// Its direction, clockwise from north, 0 to 360.
    pub azimuth_deg: f64,
    /// How high it is, without the air.
    pub true_elevation_deg: f64,
    /// How high it is seen through standard air; the same as without the air once its upper edge is below the horizon.
    pub apparent_elevation_deg: f64,
}

/// What the sun does on a day, as RFC 3339 times with the zone's offset; null for what does not happen on it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DaySunAnswer {
    /// Its upper edge comes over a level horizon.
    pub sunrise: Option<String>,
    /// Its upper edge goes under a level horizon.
    pub sunset: Option<String>,
    /// It is at its highest.
    pub noon: Option<String>,
    /// Its centre rises over 6 degrees below the horizon.
    pub civil_dawn: Option<String>,
    /// Its centre sinks to 6 degrees below the horizon.
    pub civil_dusk: Option<String>,
}

/// Every field of a sun request, in the order in which people write them.
pub const SUN_FIELDS: &[Field] = &[
    number("latitude_deg", -90.0, 90.0, "deg", "how far north"),
    number("longitude_deg", -180.0, 180.0, "deg", "how far east"),
    number("elevation_m", -500.0, 9000.0, "m", "how high above the sea; 0"),
    field("time", Takes::Text, "the moment, as RFC 3339 has it with its offset, years 1900 to 2100"),
    field("date", Takes::Text, "instead of the moment a day such as 2026-06-21, years 1900 to 2100"),
    field("time_zone", Takes::Text, "the IANA name of the zone whose clocks the day is counted by"),
];
