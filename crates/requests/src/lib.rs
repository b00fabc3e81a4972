//! Every request and answer once: the contract of terminal, page, workers and ES module.
//!
//! # Conventions
//! - Plain serde structs; every bare number's name ends in its unit.
//! - Unknown fields are refused. An error names the field's path, its value, the allowed range and the unit.
//! - `null` in an answer is "cannot be told", except in `far_m`, where it is infinity; a finding says which and why.
#![deny(clippy::disallowed_methods, clippy::disallowed_types)]

mod answer;
mod aspect;
mod blocking;
mod colour;
mod compare;
mod drawing;
mod error;
mod fields;
mod given;
mod light;
mod numbers;
mod picture;
mod setup;
mod stage;
mod take;

pub use answer::{FindingAnswer, PixelsAnswer, SetupAnswer, SeverityAnswer};
pub use aspect::AspectRequest;
pub use blocking::{
    BlockingRequest, FARTHEST_PLACE_M, ForegroundRequest, MOST_PEOPLE, MOST_PIECES, PersonRequest,
    PieceRequest, SecondMarkRequest, USUAL_STATURE_M,
};
pub use colour::ColourRequest;
pub use compare::{CareRequest, CompareAnswer, ComparedLens, compare};
pub use drawing::{DrawingAnswer, DrawingRequest, LONGEST_SIDE_PX, STRIP_ROWS, SeenRecord};
pub use error::{BadRequest, read};
pub use fields::{Field, SETUP_FIELDS, Takes};
pub use light::{LightRequest, SunRequest};
pub use numbers::{NotNumbers, from_numbers, to_numbers};
pub use picture::{Pictured, picture};
pub use setup::{
    AgeRequest, ArrangementRequest, DeliveryRequest, PhoneHeightRequest, PostureRequest, SecondPersonRequest,
    SetupRequest, ShotSizeRequest, SubjectRequest, resolve, setup, take_findings,
};
pub use stage::{
    CameraRecord, LightRecord, PersonRecord, PieceRecord, PieceWord, PostsRecord, PupilRecord, StageRecord,
};
pub use take::{FILM_FPS, PullRequest, ShutterRequest, TakeRequest, USUAL_DURATION_S, USUAL_PULL_S};
