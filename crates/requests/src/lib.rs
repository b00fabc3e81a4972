//! Every request and answer once: the contract of terminal, page, workers and ES module.
//!
//! # Conventions
//! - Plain serde structs; every bare number's name ends in its unit.
//! - Unknown fields are refused. An error names the field's path, its value, the allowed range and the unit.
//! - `null` in an answer is "cannot be told", except in `far_m`, where it is infinity; a finding says which and why.
#![deny(clippy::disallowed_methods, clippy::disallowed_types)]

mod answer;
mod blocking;
mod blur;
mod compare;
mod daylight;
mod drawing;
mod error;
mod exposure;
mod fields;
mod given;
mod measure;
mod numbers;
mod picture;
mod setup;
mod stage;
mod sun;
mod take;

pub use answer::{FindingAnswer, PixelsAnswer, SetupAnswer, SeverityAnswer};
pub use blocking::{
    BlockingRequest, MOST_PEOPLE, MOST_PIECES, PersonRequest, SecondMarkRequest, USUAL_STATURE_M,
};
pub use blur::{BLUR_FIELDS, BlurAnswer, BlurRequest, blur};
pub use compare::{CareRequest, CompareAnswer, ComparedLens, compare};
#[cfg(feature = "sun")]
pub use daylight::daylight;
pub use daylight::{ClockChangeRecord, DaylightAnswer, DaylightRequest, SpanRecord};
pub use drawing::{DrawingAnswer, DrawingRequest, LONGEST_SIDE_PX, PHOTOS_KEPT, STRIP_ROWS, SeenRecord};
pub use error::{BadRequest, read};
pub use exposure::{EXPOSURE_FIELDS, ExposureAnswer, ExposureRequest, exposure};
pub use fields::{Field, SETUP_FIELDS, Takes};
/// What requests and files write alike stands below both, under the names that requests have for it.
pub use film::{
    AgeWord as AgeRequest, AspectRecord as AspectRequest, ColourRecord as ColourRequest, FARTHEST_PLACE_M,
    ForegroundRecord as ForegroundRequest, LightRecord as LightRequest,
    PhoneHeightWord as PhoneHeightRequest, PieceRecord as PieceRequest, PieceWord,
    PostureWord as PostureRequest, PullRecord as PullRequest, ShotSizeWord as ShotSizeRequest,
    SunRecord as SunRequest, USUAL_PULL_S,
};
pub use measure::{
    CircleRequest, MEASURE_FIELDS, MeasureAnswer, MeasureRequest, MeasuredFrameRequest, SeenFrameAnswer,
    measure,
};
pub use numbers::{NotNumbers, from_numbers, to_numbers};
pub use picture::{Pictured, picture};
pub use setup::{
    ArrangementRequest, DeliveryRequest, SecondPersonRequest, SetupRequest, SubjectRequest, resolve, setup,
    take_findings,
};
pub use stage::{
    BackdropRecord, CameraRecord, LightRecord, ObjectRecord, PersonRecord, PhotoNumber, PieceRecord,
    PostsRecord, PupilRecord, StageRecord,
};
#[cfg(feature = "sun")]
pub use sun::sun;
pub use sun::{DaySunAnswer, SUN_FIELDS, SunAnswer, SunAtAnswer, SunAtRequest};
pub use take::{FILM_FPS, ShutterRequest, TakeRequest, USUAL_DURATION_S};
