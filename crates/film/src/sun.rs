//! Where the sun is, when it rises and sets, and how long the low sun shines on a place.
//!
//! # Conventions
//! - Azimuth clockwise from north, elevation up positive; both of the sun's centre.
//! - True elevation is without the air's bending; apparent is what an eye or a phone sees.
//! - Times are instants. A day is a calendar day of a time zone that is passed in: nothing here reads a clock or a file.
//! - Years 1900 to 2100, because the earth's turning is neither known nor foretold to a second beyond.

mod coordinates;
mod day;
mod error;
mod horizon;
mod low_sun;
mod position;

pub use coordinates::{Air, Coordinates};
pub use day::DaySun;
pub use error::SunError;
pub use horizon::HorizonProfile;
pub use low_sun::{LONG_SHADOWS, LowSun, Stretch};
pub use position::SunAt;
