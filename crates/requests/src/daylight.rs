//! The `daylight` request: the light of one day at one place, as plain numbers that a page can keep.

#[cfg(feature = "sun")]
mod answering;

use film::{ClockChange, DaySpan, DayTimes, Daylight, DaylightParts, HorizonPointRecord};
use serde::{Deserialize, Serialize};

use crate::error::BadRequest;

#[cfg(feature = "sun")]
pub use answering::daylight;

/// A place, what stands around it, and a day by its clock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DaylightRequest {
    /// How far north, -90 to 90 degrees.
    pub latitude_deg: f64,
    /// How far east, -180 to 180 degrees.
    pub longitude_deg: f64,
    /// How high above the sea, -500 to 9000 m; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elevation_m: Option<f64>,
    /// How high the horizon stands in each direction, -5 to 90 degrees; level if absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub horizon: Vec<HorizonPointRecord>,
    /// The day, such as `2026-06-21`, in the years 1900 to 2100.
    pub date: String,
    /// The IANA name of the zone whose clock the day goes by.
    pub time_zone: String,
    /// Whether the directions go on to the end of the day after, for work that goes past midnight; false if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_day: Option<bool>,
}

/// What a [`DaylightRequest`] is answered with. Minutes count from the midnight that begins the day as its clock shows them;
/// null for what does not happen on it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DaylightAnswer {
    /// The sun's centre rises over 6 degrees below the horizon.
    pub civil_dawn_min: Option<f64>,
    /// Its upper edge comes over a level horizon.
    pub sunrise_min: Option<f64>,
    /// It is at its highest.
    pub noon_min: Option<f64>,
    /// Its upper edge goes under a level horizon.
    pub sunset_min: Option<f64>,
    /// Its centre sinks to 6 degrees below the horizon.
    pub civil_dusk_min: Option<f64>,
    /// From civil dawn until the sun comes over the place's own horizon.
    pub dawn_glow: Option<SpanRecord>,
    /// From there until it is no longer low.
    pub morning: Option<SpanRecord>,
    /// From where it is low again until it drops behind the place's own horizon.
    pub evening: Option<SpanRecord>,
    /// From there until civil dusk.
    pub afterglow: Option<SpanRecord>,
    /// How far the clock is ahead of UTC before it is changed.
    pub utc_offset_min: f64,
    /// The change of the clock, if there is one on the day or beside it. The fields below count as if nobody changed it.
    pub clock_change: Option<ClockChangeRecord>,
    /// When the sun shines over the place's own horizon.
    pub bright: Vec<SpanRecord>,
    /// When the first of the directions is.
    pub first_min: f64,
    /// Every five minutes the sun's direction, clockwise from north.
    pub azimuths_deg: Vec<f64>,
    /// And how high its centre is, without the air.
    pub true_elevations_deg: Vec<f64>,
    /// How much the air bends light, over air of 1010 hPa and 10 °C.
    pub air: f64,
}

/// From one minute to another.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SpanRecord {
    /// When it starts.
    pub from_min: f64,
    /// When it ends.
    pub to_min: f64,
}

/// What a clock shows as it is put forward or back.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ClockChangeRecord {
    /// What it shows before.
    pub before_min: f64,
    /// What it shows then.
    pub after_min: f64,
}

impl From<&Daylight> for DaylightAnswer {
    fn from(light: &Daylight) -> Self {
        let DaylightParts { times, utc_offset_min, clock_change, first_min, directions_deg, air, bright } =
            light.parts();
        let DayTimes {
            civil_dawn_min,
            sunrise_min,
            noon_min,
            sunset_min,
            civil_dusk_min,
            dawn_glow,
            morning,
            evening,
            afterglow,
        } = *times;
        Self {
            civil_dawn_min,
            sunrise_min,
            noon_min,
            sunset_min,
            civil_dusk_min,
            dawn_glow: dawn_glow.map(Into::into),
            morning: morning.map(Into::into),
            evening: evening.map(Into::into),
            afterglow: afterglow.map(Into::into),
            utc_offset_min: *utc_offset_min,
            clock_change: clock_change
                .map(|ClockChange { before_min, after_min }| ClockChangeRecord { before_min, after_min }),
            bright: bright.iter().copied().map(Into::into).collect(),
            first_min: *first_min,
            azimuths_deg: directions_deg.iter().map(|direction| direction.0).collect(),
            true_elevations_deg: directions_deg.iter().map(|direction| direction.1).collect(),
            air: *air,
        }
    }
}

impl DaylightAnswer {
    /// The day's light.
    ///
    /// # Errors
    /// If these are no day's numbers: fewer than four directions, not as many of the one angle as of the other, or what is
    /// out of range.
    pub fn to_daylight(&self) -> Result<Daylight, BadRequest> {
        if self.azimuths_deg.len() != self.true_elevations_deg.len() {
            return Err(BadRequest::at("true_elevations_deg", "has not as many angles as azimuths_deg"));
        }
        let times = DayTimes {
            civil_dawn_min: self.civil_dawn_min,
            sunrise_min: self.sunrise_min,
            noon_min: self.noon_min,
            sunset_min: self.sunset_min,
            civil_dusk_min: self.civil_dusk_min,
            dawn_glow: self.dawn_glow.map(Into::into),
            morning: self.morning.map(Into::into),
            evening: self.evening.map(Into::into),
            afterglow: self.afterglow.map(Into::into),
        };
        Daylight::new(DaylightParts {
            times,
            utc_offset_min: self.utc_offset_min,
            clock_change: self
                .clock_change
                .map(|ClockChangeRecord { before_min, after_min }| ClockChange { before_min, after_min }),
            first_min: self.first_min,
            directions_deg: self
                .azimuths_deg
                .iter()
                .copied()
                .zip(self.true_elevations_deg.iter().copied())
                .collect(),
            air: self.air,
            bright: self.bright.iter().copied().map(Into::into).collect(),
        })
        .ok_or_else(|| BadRequest::at("", "these are not the numbers of a day"))
    }
}

impl From<DaySpan> for SpanRecord {
    fn from(DaySpan { from_min, to_min }: DaySpan) -> Self {
        Self { from_min, to_min }
    }
}

impl From<SpanRecord> for DaySpan {
    fn from(SpanRecord { from_min, to_min }: SpanRecord) -> Self {
        Self { from_min, to_min }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_is_no_days_numbers_is_refused() {
        let answer = |directions: usize, elevation: f64| -> DaylightAnswer {
            serde_json::from_value(json!({
                "utc_offset_min": 0, "first_min": 0, "air": 1, "bright": [],
                "azimuths_deg": vec![10.0; directions], "true_elevations_deg": vec![elevation; 4],
            }))
            .expect("an answer")
        };
        let light = answer(4, 20.0).to_daylight().expect("a day");
        assert_eq!(DaylightAnswer::from(&light), answer(4, 20.0));
        let told = answer(3, 20.0).to_daylight().expect_err("one too few").to_string();
        assert_eq!(told, "true_elevations_deg: has not as many angles as azimuths_deg");
        assert!(answer(4, 91.0).to_daylight().is_err());
    }
}
