//! Quantities with a dimension, so that a distance is never added to an angle.
//!
//! # Conventions
//! - Every value is a private `f64` in SI units: metres, radians; light in stops; frame rates in frames a second.
//! - Stored values are finite. The doors (`checked_*` and [`FromStr`](std::str::FromStr)) refuse anything else;
//!   the plain constructors are for values that are finite by construction and assert it in debug builds.
//! - Text is forgiving in and canonical out: `6'2"`, `1.88 m` and `188cm` are one length, printed `1.88 m`,
//!   and `parse(print(x)) == x`. People are told lengths by [`Length::told`], in their own unit; files never are.
//! - Transcendental functions come from `libm`, because those of std differ between native and wasm in the last bit.
#![deny(clippy::disallowed_methods, clippy::disallowed_types)]

mod angle;
mod error;
mod frame_rate;
mod length;
mod stops;
mod told;

pub use angle::Angle;
pub use error::{FieldError, QuantityError, checked, checked_field};
pub use frame_rate::FrameRate;
pub use length::{Length, LengthUnit};
pub use stops::Stops;
