//! Pictures: drawn by workers, shown on canvases, better from moment to moment.
//!
//! A [`PictureCanvas`] says what it wants to show; [`Pictures`] has it drawn. The page never waits for a worker.

mod behind;
mod canvas;
mod lab;
mod ladder;
mod pool;
mod reel;
mod shelf;

pub(crate) use canvas::{Look, Picker, PictureCanvas};
pub(crate) use lab::Standing;
pub(crate) use ladder::{Grain, Rank};
pub(crate) use pool::Pictures;
pub(crate) use reel::{Cue, RATE_FPS, Reel, wants_less_motion};
