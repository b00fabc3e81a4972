//! The words and small values that files and requests share, each written once.
//!
//! A file reads and writes more than a request does, so what both need stands here, below both. The names that a request's
//! schema and declarations use are kept.

mod aspect;
mod colour;
mod light;
mod movement;
mod piece;
mod words;
mod written;

pub use aspect::AspectRecord;
pub use colour::ColourRecord;
pub use light::{LightRecord, SunRecord};
pub use movement::{MovementRecord, PullRecord, USUAL_PULL_S};
pub use piece::{FARTHEST_PLACE_M, ForegroundRecord, PieceRecord};
pub use words::{
    AgeWord, LandmarkWord, PhoneHeightWord, PieceWord, PostureWord, PriorityWord, SettingWord, ShotSizeWord,
    SoundWord, SunWishWord, TimeOfDayWord, VerdictWord, WeatherWord,
};
pub(crate) use written::{read_back, within_a_turn, written_deg};
