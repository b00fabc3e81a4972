//! One frame of a shot's take with everything in its place: what terminal and page draw.

use film::ShotResult;
use optics::ExposureTime;
use staging::{Blocking, Moment, Shot, Stage, Take};
use units::FrameRate;

use crate::blocking::BlockingRequest;
use crate::error::BadRequest;
use crate::setup::{SetupRequest, resolve};
use crate::take::{ShutterRequest, TakeRequest};

/// A shot with the stage of one frame of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Pictured {
    /// The shot, with all that follows from it.
    pub result: ShotResult,
    /// What the frame shows, where the framing can be had.
    pub stage: Option<Stage>,
}

impl SetupRequest {
    /// What surrounds the shot.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn to_blocking(&self, shot: &Shot) -> Result<Blocking, BadRequest> {
        self.blocking.as_ref().unwrap_or(&BlockingRequest::default()).to_blocking(shot)
    }

    /// How the take goes; one in which nothing moves if absent.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn to_take(&self) -> Result<Take, BadRequest> {
        self.take.as_ref().map_or(Ok(Take::default()), TakeRequest::to_take)
    }

    /// Frames a second at capture.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn frame_rate(&self) -> Result<FrameRate, BadRequest> {
        self.shutter.as_ref().unwrap_or(&ShutterRequest::USUAL).frame_rate()
    }

    /// How long each frame is exposed.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn exposure(&self) -> Result<ExposureTime, BadRequest> {
        self.shutter.as_ref().unwrap_or(&ShutterRequest::USUAL).exposure()
    }
}

/// The request's shot, and the stage of the frame that is taken `at_s` seconds into its take.
///
/// # Errors
/// Names the field that is missing or out of range, or `at_s` if it lies outside the take. A framing that cannot be had is
/// not an error: it is a finding, and there is no stage.
pub fn picture(request: &SetupRequest, at_s: f64) -> Result<Pictured, BadRequest> {
    let result = resolve(request)?;
    let blocking = request.to_blocking(&result.shot)?;
    let take = request.to_take()?;
    let exposure_s = request.exposure()?.to_s();
    if !(0.0..=take.duration_s).contains(&at_s) {
        let message = format!("{at_s} s is not allowed: 0 to {} s, the take's length", take.duration_s);
        return Err(BadRequest::at("at_s", message));
    }
    let moment = Moment { at_s, exposure_s };
    let stage =
        result.outcome.as_ref().ok().map(|setup| Stage::of(&result.shot, setup, &blocking, &take, moment));
    Ok(Pictured { result, stage })
}
