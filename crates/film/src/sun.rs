//! Where the sun is, when it rises and sets, and how long the low sun shines on a place.
//!
//! # Conventions
//! - Azimuth clockwise from north, elevation up positive; both of the sun's centre.
//! - True elevation is without the air's bending; apparent is what an eye or a phone sees.
//! - Times are instants. A day is a calendar day of a time zone that is passed in: nothing here reads a clock or a file.
//! - Years 1900 to 2100, because the earth's turning is neither known nor foretold to a second beyond.
//! - Where a place is and what stands around it is part of a film; what needs positions or a calendar is there with the
//!   feature `sun` alone.

mod coordinates;
#[cfg(feature = "sun")]
mod crossing;
mod cubic;
#[cfg(feature = "sun")]
mod day;
mod direction;
mod error;
#[cfg(feature = "sun")]
mod heavens;
mod horizon;
#[cfg(feature = "sun")]
mod low_sun;
#[cfg(feature = "sun")]
mod place_sky;
#[cfg(feature = "sun")]
mod position;
mod refraction;
mod turn;

#[cfg(feature = "sun")]
pub use coordinates::Air;
pub use coordinates::Coordinates;
pub(crate) use cubic::four_about;
#[cfg(feature = "sun")]
pub use day::DaySun;
pub(crate) use direction::{azimuth, elevation};
pub use error::SunError;
#[cfg(feature = "sun")]
pub(crate) use heavens::{Heavens, seconds, timestamp};
pub use horizon::HorizonProfile;
#[cfg(feature = "sun")]
pub use low_sun::{LONG_SHADOWS, LowSun, Stretch};
#[cfg(feature = "sun")]
pub(crate) use place_sky::PlaceSky;
#[cfg(feature = "sun")]
pub use position::SunAt;
pub(crate) use refraction::seen_through_air;
pub(crate) use turn::turn;

/// How high the sun's centre is where civil twilight ends, without the air's bending.
///
/// # Source
/// The definition of civil twilight: the sun's centre 6° below the horizon.
pub(crate) const AT_CIVIL_TWILIGHT_DEG: f64 = -6.0;

/// The true elevation of the sun's centre as its upper edge meets a level horizon: 16' for half its disc and 34' for the air.
///
/// # Source
/// `Reda2008`, section A.2: h'0 = −0.8333°.
pub(crate) const AT_THE_HORIZON_DEG: f64 = -0.8333;

/// How high the sun's centre is at the most in golden hour, without the air's bending.
///
/// # Source
/// Common practice: 6° is most often said, up to 10° by some. At 6° a clear sky and its sun give EV 13.4, and EV 13 at 5°,
/// which is the light that is usual for golden hour; at 10° they give 14.2, as much as the hazy sun of the table.
pub(crate) const UP_TO_GOLDEN_HOUR_DEG: f64 = 6.0;
