//! What moves while a shot is taken, as requests write it.

use film::{MovementRecord, PullRecord as PullRequest, within_range};
use optics::{ExposureTime, ShutterAngle, exposure_time};
use serde::{Deserialize, Serialize};
use staging::{Movement, Take};
use units::FrameRate;

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

/// Frames a second where nothing is said: the frame rate of films.
pub const FILM_FPS: f64 = FrameRate::FILM.to_fps();
/// How long a take lasts where nothing is said, seconds: as long as most shots are, chosen.
pub const USUAL_DURATION_S: f64 = 5.0;

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
        FrameRate::checked_from_fps(fps).map_err(|error| BadRequest::at(path, error.to_string()))
    }

    /// How long each frame is exposed.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn exposure(&self) -> Result<ExposureTime, BadRequest> {
        let shutter = self.angle_deg.map_or(Ok(ShutterAngle::HALF), ShutterAngle::from_deg);
        let shutter = shutter.map_err(|error| BadRequest::at("shutter.angle_deg", error.to_string()))?;
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
        let pull = self.pull.map(|pull| pull.to_pull().map_err(|error| error.within("take.pull")));
        Ok(Take {
            movement: self.movement()?,
            pull: pull.transpose()?,
            duration_s: within_range("take.duration_s", duration, 0.1, 600.0, "s")?,
        })
    }

    /// The one move, if there is one.
    fn movement(&self) -> Result<Option<Movement>, BadRequest> {
        let Self { push_m_per_s, follow_m_per_s, pan_deg_per_s, tilt_deg_per_s, duration_s: _, pull: _ } =
            *self;
        let record = MovementRecord { push_m_per_s, follow_m_per_s, pan_deg_per_s, tilt_deg_per_s };
        Ok(record.to_movement("take")?)
    }
}
