//! The `setup` request: one shot on one lens.

use film::{
    AdapterFit, AdapterRecord, AgeWord, AspectRecord, Circumstances, LensRecord, PhoneHeightWord,
    PostureWord, RecordingRecord, ShotResult, ShotSizeWord, TakeFinding, Taking, check_take, within_range,
};
use optics::{Aspect, CropShift, Lens, Recording};
use serde::{Deserialize, Serialize};
use staging::{
    Age, Body, FocusOn, Look, Object, PhoneHeight, Posture, Sharpness, Shot, Stand, Subject, Support,
};
use units::{Angle, Length};

use crate::answer::SetupAnswer;
use crate::blocking::BlockingRequest;
use crate::error::BadRequest;
use crate::take::{ShutterRequest, TakeRequest};

/// One shot on one lens.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct SetupRequest {
    /// The lens; a comparison takes it from the kit instead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens: Option<LensRecord>,
    /// The recording mode; a comparison takes the kit's first if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recording: Option<RecordingRecord>,
    /// The adapter, if it is on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adapter: Option<AdapterRecord>,
    /// The frame that is delivered.
    pub delivery: DeliveryRequest,
    /// Who the shot is of; needed for every size but an insert.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub subject: Option<SubjectRequest>,
    /// How much of them.
    pub shot_size: ShotSizeWord,
    /// The size of the object of an insert, 0.005 to 20 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub insert_size_m: Option<f64>,
    /// How high the lower edge of an insert's object is above the floor, 0 to 50 m: 0 on the ground, more in a hand or on
    /// a piece of the set; on a table of its own, 0.75 m high, if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub insert_above_floor_m: Option<f64>,
    /// The lens's height above the floor, 0 to 50 m; by the shot size if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub camera_height_m: Option<f64>,
    /// The lens's height in words, instead of `camera_height_m`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub camera_height: Option<PhoneHeightWord>,
    /// A fixed tilt, up positive, -89 to 89 degrees; aimed for the framing if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub look_tilt_deg: Option<f64>,
    /// A fixed distance along the floor, 0.02 to 10000 m; by the shot size if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stand_at_m: Option<f64>,
    /// Where the subject stands across the frame, 0.05 to 0.95 from its left edge; 0.5 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub across_share: Option<f64>,
    /// How far behind the subject the background is, 0 to 100000 m.
    pub background_behind_subject_m: f64,
    /// How far from the subject the phone can go, 0.1 to 100000 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room_m: Option<f64>,
    /// Where focus is, axially from the lens, 0.02 to 100000 m; on the subject if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focus_at_m: Option<f64>,
    /// How long each frame is exposed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter: Option<ShutterRequest>,
    /// What moves while the shot is taken; nothing if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub take: Option<TakeRequest>,
    /// What surrounds the shot; a bare floor if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blocking: Option<BlockingRequest>,
}

/// The frame that is delivered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct DeliveryRequest {
    /// Its shape.
    #[cfg_attr(feature = "declarations", ts(type = "number | string"))]
    pub aspect: AspectRecord,
    /// The share of its height above the crown, -2 to 0.8; negative crops hair; by the shot size if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub headroom_share: Option<f64>,
    /// A second shape that must hold the people too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "declarations", ts(type = "number | string | null"))]
    pub protect_aspect: Option<AspectRecord>,
    /// How far the crop is moved up, as a share of its room, -1 to 1; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop_up_share: Option<f64>,
    /// How far the crop is moved to the right, as a share of its room, -1 to 1; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop_right_share: Option<f64>,
}

/// Who a shot is of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct SubjectRequest {
    /// Height when standing, 0.4 to 2.8 m.
    pub stature_m: f64,
    /// How they hold themselves; standing if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub posture: Option<PostureWord>,
    /// Whose proportions they have; an adult's if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age: Option<AgeWord>,
    /// Somebody else in the shot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second_person: Option<SecondPersonRequest>,
}

/// Somebody else in the shot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct SecondPersonRequest {
    /// Height when standing, 0.4 to 2.8 m; the first one's if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stature_m: Option<f64>,
    /// How they hold themselves; standing if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub posture: Option<PostureWord>,
    /// Whose proportions they have; an adult's if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age: Option<AgeWord>,
    /// Where they are; beside if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arrangement: Option<ArrangementRequest>,
    /// From the one to the other, 0.1 to 50 m; 0.7 m beside and 1.0 m over the shoulder if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub apart_m: Option<f64>,
    /// How much nearer to the phone than the first they stand, -50 to 50 m, negative farther; 0 if absent. Only beside.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nearer_m: Option<f64>,
}

/// Where a second person is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(rename_all = "snake_case")]
pub enum ArrangementRequest {
    /// Beside the first, both in the frame.
    Beside,
    /// Before the first with their back to the phone, which looks past their shoulder.
    OverShoulder,
}

/// A body from its three fields; `path` is that of the object that holds them.
pub(crate) fn body(
    path: &str,
    stature_m: f64,
    posture: Option<PostureWord>,
    age: Option<AgeWord>,
) -> Result<Body, BadRequest> {
    let stature = within_range(&format!("{path}.stature_m"), stature_m, 0.4, 2.8, "m")?;
    Ok(Body {
        stature: Length::from_m(stature),
        posture: posture.map(Posture::from).unwrap_or_default(),
        age: age.map(Age::from).unwrap_or_default(),
    })
}

impl SubjectRequest {
    fn to_subject(&self) -> Result<Subject, BadRequest> {
        let first = body("subject", self.stature_m, self.posture, self.age)?;
        let Some(second) = &self.second_person else {
            return Ok(Subject::Person(first));
        };
        let path = "subject.second_person";
        let other = body(path, second.stature_m.unwrap_or(self.stature_m), second.posture, second.age)?;
        let apart = |usual: f64| {
            let metres = second.apart_m.unwrap_or(usual);
            within_range(&format!("{path}.apart_m"), metres, 0.1, 50.0, "m").map(Length::from_m)
        };
        match second.arrangement {
            None | Some(ArrangementRequest::Beside) => {
                let nearer_m = second.nearer_m.unwrap_or(0.0);
                let nearer_m = within_range(&format!("{path}.nearer_m"), nearer_m, -50.0, 50.0, "m")?;
                let nearer = Length::from_m(nearer_m);
                Ok(Subject::Pair { first, second: other, apart: apart(0.7)?, nearer })
            }
            Some(ArrangementRequest::OverShoulder) => {
                Ok(Subject::OverShoulder { facing: first, near: other, apart: apart(1.0)? })
            }
        }
    }
}

impl SetupRequest {
    /// The shot, on `lens` in `recording`, with the request's own adapter.
    ///
    /// # Errors
    /// Names the field that is missing or out of range.
    pub fn to_shot(&self, lens: Lens, recording: Recording) -> Result<Shot, BadRequest> {
        let adapter = self
            .adapter
            .as_ref()
            .map(|record| record.to_kit_adapter(String::new()).map_err(|error| error.within("adapter")))
            .transpose()?;
        Ok(Shot {
            lens,
            recording,
            adapter: adapter.map(|adapter| adapter.before(&recording)),
            aspect: self.delivery.aspect.0,
            crop_shift: self.delivery.crop_shift()?,
            subject: self.subject()?,
            size: self.shot_size.into(),
            headroom: optional(
                "delivery.headroom_share",
                self.delivery.headroom_share,
                -2.0,
                0.8,
                "(share)",
            )?,
            phone_height: self.phone_height()?,
            look: optional("look_tilt_deg", self.look_tilt_deg, -89.0, 89.0, "deg")?
                .map_or(Look::Aimed, |degrees| Look::Tilt(Angle::from_deg(degrees))),
            stand: optional("stand_at_m", self.stand_at_m, 0.02, 10_000.0, "m")?
                .map_or(Stand::ForSize, |metres| Stand::At(Length::from_m(metres))),
            across: optional("across_share", self.across_share, 0.05, 0.95, "(share)")?.unwrap_or(0.5),
            background_behind: Length::from_m(within_range(
                "background_behind_subject_m",
                self.background_behind_subject_m,
                0.0,
                100_000.0,
                "m",
            )?),
            focus: optional("focus_at_m", self.focus_at_m, 0.02, 100_000.0, "m")?
                .map_or(FocusOn::Subject, |metres| FocusOn::At(Length::from_m(metres))),
            sharpness: Sharpness::Usual,
        })
    }

    /// What surrounds the shot.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn circumstances(&self) -> Result<Circumstances, BadRequest> {
        Ok(Circumstances {
            room: optional("room_m", self.room_m, 0.1, 100_000.0, "m")?.map(Length::from_m),
            adapter_fit: self.adapter_fit(),
            protect: self.delivery.protect_aspect.map(|aspect| -> Aspect { aspect.0 }),
        })
    }

    /// How the adapter sits before the lens, where both have names to go by.
    fn adapter_fit(&self) -> AdapterFit {
        let lens = self.lens.as_ref().and_then(|lens| lens.name.as_deref());
        let mode = self.recording.as_ref().and_then(|mode| mode.name.as_deref()).unwrap_or_default();
        match (&self.adapter, lens) {
            (Some(adapter), Some(lens)) => adapter
                .to_kit_adapter(String::new())
                .map_or(AdapterFit::Fits, |adapter| adapter.fit_in(lens, mode, 1.0)),
            _ => AdapterFit::Fits,
        }
    }

    fn subject(&self) -> Result<Subject, BadRequest> {
        match (self.shot_size, &self.subject, self.insert_size_m) {
            (ShotSizeWord::Insert, _, Some(size)) => {
                let size = within_range("insert_size_m", size, 0.005, 20.0, "m")?;
                let height = optional("insert_above_floor_m", self.insert_above_floor_m, 0.0, 50.0, "m")?;
                let support = Support::from_height(height.map(Length::from_m));
                Ok(Subject::Object(Object { size: Length::from_m(size), support }))
            }
            (ShotSizeWord::Insert, _, None) => {
                Err(missing("insert_size_m", "an insert needs the size of its object, 0.005 to 20 m"))
            }
            (_, Some(subject), _) => subject.to_subject(),
            (_, None, _) => {
                Err(missing("subject", "this shot size needs a person, with stature_m of 0.4 to 2.8 m"))
            }
        }
    }

    fn phone_height(&self) -> Result<PhoneHeight, BadRequest> {
        match (self.camera_height_m, self.camera_height) {
            (Some(_), Some(_)) => {
                Err(BadRequest::at("camera_height", "stands beside camera_height_m; give one of the two"))
            }
            (Some(metres), None) => {
                let height = within_range("camera_height_m", metres, 0.0, 50.0, "m")?;
                Ok(PhoneHeight::Fixed(Length::from_m(height)))
            }
            (None, Some(words)) => Ok(words.into()),
            (None, None) => Ok(PhoneHeight::BySize),
        }
    }
}

impl DeliveryRequest {
    fn crop_shift(&self) -> Result<Option<CropShift>, BadRequest> {
        let up = optional("delivery.crop_up_share", self.crop_up_share, -1.0, 1.0, "(share)")?;
        let right = optional("delivery.crop_right_share", self.crop_right_share, -1.0, 1.0, "(share)")?;
        Ok((up.is_some() || right.is_some())
            .then(|| CropShift { up: up.unwrap_or(0.0), right: right.unwrap_or(0.0) }))
    }
}

fn missing(path: &str, message: &str) -> BadRequest {
    BadRequest::at(path, format!("is missing: {message}"))
}

fn optional(
    path: &str,
    value: Option<f64>,
    min: f64,
    max: f64,
    unit: &'static str,
) -> Result<Option<f64>, BadRequest> {
    Ok(value.map(|value| within_range(path, value, min, max, unit)).transpose()?)
}

/// The request's shot with all that follows from it, for those who want more than the answer: to draw it, or to say it.
///
/// # Errors
/// Names the field that is missing or out of range.
pub fn resolve(request: &SetupRequest) -> Result<ShotResult, BadRequest> {
    let lens = request.lens.as_ref().ok_or_else(|| missing("lens", "a setup is made on one lens"))?;
    let recording = request.recording.as_ref().ok_or_else(|| {
        missing("recording", "a setup is made in one recording mode, with width_px and height_px")
    })?;
    let lens = lens.to_lens().map_err(|error| error.within("lens"))?;
    let recording = recording.to_recording().map_err(|error| error.within("recording"))?;
    Ok(ShotResult::of(request.to_shot(lens, recording)?, &request.circumstances()?))
}

/// What is the matter with the request's take of a shot.
///
/// # Errors
/// Names the field of take, shutter or blocking that is out of range.
pub fn take_findings(request: &SetupRequest, result: &ShotResult) -> Result<Vec<TakeFinding>, BadRequest> {
    let (blocking, take) = (request.to_blocking(&result.shot)?, request.to_take()?);
    let (rate, exposure) = (request.frame_rate()?, request.exposure()?);
    Ok(check_take(result, &Taking { blocking: &blocking, take: &take, rate, exposure }))
}

/// Answers a `setup` request.
///
/// # Errors
/// Names the field that is missing or out of range. A framing that cannot be had is not an error: it is a finding.
pub fn setup(request: &SetupRequest) -> Result<SetupAnswer, BadRequest> {
    let result = resolve(request)?;
    let findings = take_findings(request, &result)?;
    Ok(SetupAnswer::of(&result).with_take(&findings))
}
