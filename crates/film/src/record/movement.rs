//! How the phone and its focus move, as files and requests write it.

use language::say;
use serde::{Deserialize, Serialize};
use staging::{FocusPull, Movement};
use units::{Angle, Length};

use crate::kit_file::{RecordError, within_range};
use crate::record::written::written_deg;

/// The one move of the phone: at most one of the four.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MovementRecord {
    /// The phone goes that far towards the subject in a second, -10 to 10 m; away from it if negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub push_m_per_s: Option<f64>,
    /// The subject walks that far in a second, 0 to 10 m, the way it faces, and the phone goes along.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub follow_m_per_s: Option<f64>,
    /// The phone turns that far to the right in a second, -360 to 360 degrees; to the left if negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pan_deg_per_s: Option<f64>,
    /// The phone turns that far up in a second, -360 to 360 degrees; down if negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tilt_deg_per_s: Option<f64>,
}

/// Focus going from one distance to another.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(rename = "PullRequest"))]
#[cfg_attr(
    feature = "declarations",
    derive(ts_rs::TS),
    ts(rename = "PullRequest", optional_fields = nullable)
)]
#[serde(deny_unknown_fields)]
pub struct PullRecord {
    /// Axial focus distance at first, 0.02 to 100000 m.
    pub from_m: f64,
    /// Axial focus distance at last, 0.02 to 100000 m.
    pub to_m: f64,
    /// When it starts, 0 to 600 s into the take; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub starts_s: Option<f64>,
    /// How long it takes, 0 to 600 s; 1 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lasts_s: Option<f64>,
}

/// How long a pull lasts where nothing is said, seconds: chosen because a turn from one face to another takes about that.
pub const USUAL_PULL_S: f64 = 1.0;

impl MovementRecord {
    /// The one move, if there is one; `path` is where the record stands.
    ///
    /// # Errors
    /// Names the field that is out of range, or a move beside another.
    pub fn to_movement(&self, path: &str) -> Result<Option<Movement>, RecordError> {
        let length = |name: &str, metres: f64, min: f64| {
            within_range(&format!("{path}.{name}"), metres, min, 10.0, "m/s").map(Length::from_m)
        };
        let angle = |name: &str, degrees: f64| {
            within_range(&format!("{path}.{name}"), degrees, -360.0, 360.0, "deg/s").map(Angle::from_deg)
        };
        let mut given: Vec<(&str, Movement)> = Vec::new();
        if let Some(metres) = self.push_m_per_s {
            let name = "push_m_per_s";
            given.push((name, Movement::Push { per_second: length(name, metres, -10.0)? }));
        }
        if let Some(metres) = self.follow_m_per_s {
            let name = "follow_m_per_s";
            given.push((name, Movement::Follow { per_second: length(name, metres, 0.0)? }));
        }
        if let Some(degrees) = self.pan_deg_per_s {
            let name = "pan_deg_per_s";
            given.push((name, Movement::Pan { per_second: angle(name, degrees)? }));
        }
        if let Some(degrees) = self.tilt_deg_per_s {
            let name = "tilt_deg_per_s";
            given.push((name, Movement::Tilt { per_second: angle(name, degrees)? }));
        }
        match given.as_slice() {
            [] => Ok(None),
            [(_, movement)] => Ok(Some(*movement)),
            [(first, _), (second, _), ..] => Err(RecordError::at(
                &format!("{path}.{second}"),
                say!("stands beside {path}.{first}; give one of the two"),
            )),
        }
    }
}

impl From<Movement> for MovementRecord {
    fn from(movement: Movement) -> Self {
        let none = Self::default();
        match movement {
            Movement::Push { per_second } => Self { push_m_per_s: Some(per_second.to_m()), ..none },
            Movement::Follow { per_second } => Self { follow_m_per_s: Some(per_second.to_m()), ..none },
            Movement::Pan { per_second } => Self { pan_deg_per_s: Some(written_deg(per_second)), ..none },
            Movement::Tilt { per_second } => Self { tilt_deg_per_s: Some(written_deg(per_second)), ..none },
        }
    }
}

impl PullRecord {
    /// The focus pull.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn to_pull(self) -> Result<FocusPull, RecordError> {
        let distance = |field: &str, metres: f64| within_range(field, metres, 0.02, 100_000.0, "m");
        let seconds = |field: &str, value: f64| within_range(field, value, 0.0, 600.0, "s");
        Ok(FocusPull {
            from: Length::from_m(distance("from_m", self.from_m)?),
            to: Length::from_m(distance("to_m", self.to_m)?),
            starts_s: seconds("starts_s", self.starts_s.unwrap_or(0.0))?,
            lasts_s: seconds("lasts_s", self.lasts_s.unwrap_or(USUAL_PULL_S))?,
        })
    }
}

impl From<FocusPull> for PullRecord {
    fn from(pull: FocusPull) -> Self {
        Self {
            from_m: pull.from.to_m(),
            to_m: pull.to.to_m(),
            starts_s: Some(pull.starts_s),
            lasts_s: Some(pull.lasts_s),
        }
    }
}
