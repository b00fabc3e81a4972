//! What moves while a shot is taken, as requests write it.

use film::within_range;
use optics::{ExposureTime, ShutterAngle, exposure_time};
use serde::{Deserialize, Serialize};
use staging::{FocusPull, Movement, Take};
use units::{Angle, FrameRate, Length};

use crate::error::BadRequest;

/// How long each frame is exposed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct ShutterRequest {
    /// Frames a second at capture, 23.976 to 240; 24 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_rate_fps: Option<f64>,
    /// The share of a frame's time that it is exposed, as the angle of a turning shutter, 1 to 360 degrees; 180 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub angle_deg: Option<f64>,
}

/// How a take goes: at most one of the four moves, and a focus pull.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct TakeRequest {
    /// How long it lasts, 0.1 to 600 s; 5 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duration_s: Option<f64>,
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
    /// Focus goes from one distance to another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pull: Option<PullRequest>,
}

/// Focus going from one distance to another.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct PullRequest {
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

/// Frames a second where nothing is said: the frame rate of films.
pub const FILM_FPS: f64 = 24.0;
/// How long a take lasts where nothing is said, seconds: as long as most shots are, chosen.
pub const USUAL_DURATION_S: f64 = 5.0;
/// How long a pull lasts where nothing is said, seconds: chosen because a turn from one face to another takes about that.
pub const USUAL_PULL_S: f64 = 1.0;

impl ShutterRequest {
    /// 24 frames a second, each exposed for half its time.
    pub const USUAL: Self = Self { frame_rate_fps: None, angle_deg: None };

    /// The frame rate.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn frame_rate(&self) -> Result<FrameRate, BadRequest> {
        let path = "shutter.frame_rate_fps";
        let fps = within_range(path, self.frame_rate_fps.unwrap_or(FILM_FPS), 23.976, 240.0, "fps")?;
        FrameRate::checked_from_fps(fps)
            .map_err(|error| BadRequest { path: path.to_owned(), message: error.to_string() })
    }

    /// How long each frame is exposed.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn exposure(&self) -> Result<ExposureTime, BadRequest> {
        let path = "shutter.angle_deg";
        let shutter = self.angle_deg.map_or(Ok(ShutterAngle::HALF), ShutterAngle::from_deg);
        let shutter =
            shutter.map_err(|error| BadRequest { path: path.to_owned(), message: error.to_string() })?;
        Ok(exposure_time(shutter, self.frame_rate()?))
    }
}

impl TakeRequest {
    /// The take.
    ///
    /// # Errors
    /// Names the field that is out of range, or a move beside another.
    pub fn to_take(&self) -> Result<Take, BadRequest> {
        let duration = self.duration_s.unwrap_or(USUAL_DURATION_S);
        Ok(Take {
            movement: self.movement()?,
            pull: self.pull.map(PullRequest::to_pull).transpose()?,
            duration_s: within_range("take.duration_s", duration, 0.1, 600.0, "s")?,
        })
    }

    /// The one move, if there is one.
    fn movement(&self) -> Result<Option<Movement>, BadRequest> {
        let length = |name: &str, metres: f64, min: f64| {
            within_range(&format!("take.{name}"), metres, min, 10.0, "m/s").map(Length::from_m)
        };
        let angle = |name: &str, degrees: f64| {
            within_range(&format!("take.{name}"), degrees, -360.0, 360.0, "deg/s").map(Angle::from_deg)
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
            [(first, _), (second, _), ..] => Err(BadRequest {
                path: format!("take.{second}"),
                message: format!("stands beside take.{first}; give one of the two"),
            }),
        }
    }
}

impl PullRequest {
    fn to_pull(self) -> Result<FocusPull, BadRequest> {
        let distance = |name: &str, metres: f64| {
            within_range(&format!("take.pull.{name}"), metres, 0.02, 100_000.0, "m")
        };
        let seconds =
            |name: &str, value: f64| within_range(&format!("take.pull.{name}"), value, 0.0, 600.0, "s");
        Ok(FocusPull {
            from: Length::from_m(distance("from_m", self.from_m)?),
            to: Length::from_m(distance("to_m", self.to_m)?),
            starts_s: seconds("starts_s", self.starts_s.unwrap_or(0.0))?,
            lasts_s: seconds("lasts_s", self.lasts_s.unwrap_or(USUAL_PULL_S))?,
        })
    }
}
