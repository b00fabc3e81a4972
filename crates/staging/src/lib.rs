//! People, sizes, the phone's place and aim: a shot resolved to a setup.
//!
//! # Conventions
//! - World: metres, right-handed, x east, y north, z up; the floor is z = 0.
//! - Azimuth clockwise from north, tilt up positive, roll 0; a photo's roll (`sighting`) is positive clockwise.
//! - Rows and columns of a frame are tangents about the optical axis, up and right positive; shares of the frame are
//!   counted from its upper left corner.
//! - Distances are measured from the lens: along the floor for where to stand, along the axis for focus and blur.
//! - A subject is one vertical: all its landmarks are at one distance.
#![deny(clippy::disallowed_methods, clippy::disallowed_types)]

mod backdrop;
mod blocking;
mod body;
mod camera;
mod course;
mod figures;
mod framing;
mod larger;
mod movement;
mod pupil;
mod setup;
mod shot_size;
#[cfg(feature = "sighting")]
mod sighting;
mod stage;
mod subject;

pub use backdrop::Backdrop;
pub use blocking::{
    BESIDE_A_SHOULDER, Blocking, Colour, Foreground, Light, Opening, Person, PieceKind, PieceSize, SetPiece,
    Stance, USUAL_PACE, along, azimuth, direction,
};
pub use body::{Age, Body, Landmark, Posture};
pub use camera::{Camera, Seen};
pub use figures::{Blur, Figures, Softness};
pub use framing::NoFraming;
pub use larger::{BEYOND_ANY_PHONE, Larger, LargerCamera};
pub use movement::{Accompanies, FocusPull, Moment, Movement, Take, fastest_turn, turn_smear_px};
pub use pupil::Pupil;
pub use setup::{Binding, FocusOn, Look, Setup, Sharpness, Shot, Spread, Stand, Unframed};
pub use shot_size::{ShotSize, SizeRule};
#[cfg(feature = "sighting")]
pub use sighting::{
    Board, FloorPlace, NoSighting, PhotoFit, PhotoLens, Sighting, Sights, SightsPart, Stated, Undetermined,
    Upright,
};
pub use stage::{POST_SPACING, Posts, Stage};
pub use subject::{Object, PhoneHeight, Subject, Support};
