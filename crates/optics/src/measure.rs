//! What a lens really sees in the mode it shoots, worked out from frames that were looked at.
//!
//! Positions in a frame are pixels from its left or upper edge; an end's uncertainty is that of finding it in the frame.

mod corners;
mod darkened;
mod frames;
mod squeeze;
mod view;

use std::fmt;

use language::{Number, say};
use units::{FieldError, checked_field};

pub use corners::{CornerLight, Corners, GreyFrame, LitWallError, STOP_DOWN};
pub use darkened::darkened_share;
pub use frames::{KnownThing, MOST_FRAMES, MeasuredWidth, ThingInFrame, combined_view};
pub use squeeze::{MeasuredSqueeze, RoundThing};
pub use view::SeenView;

/// Why a measurement is not usable.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq)]
pub enum MeasureError {
    /// A value out of range.
    Range(FieldError),
    /// Two ends that are one place.
    EqualEnds {
        /// The field, in the words of files and requests.
        field: &'static str,
        /// Where both are.
        at_px: f64,
    },
    /// More frames than are combined, or none.
    FrameCount {
        /// How many were given.
        count: usize,
    },
}

impl MeasureError {
    /// The field that it is about, in the words of files and requests.
    pub const fn field(&self) -> &'static str {
        match self {
            Self::Range(FieldError { field, .. }) | Self::EqualEnds { field, .. } => field,
            Self::FrameCount { .. } => "frames",
        }
    }

    /// What is the matter with it.
    pub fn message(&self) -> String {
        match self {
            Self::Range(FieldError { source, .. }) => source.to_string(),
            Self::EqualEnds { at_px, .. } => {
                say!("both ends are at {} px: put one on each end", Number(at_px))
            }
            Self::FrameCount { count } => {
                say!("{count} frames are not allowed: 1 to {MOST_FRAMES} frames")
            }
        }
    }
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.field(), self.message())
    }
}

impl std::error::Error for MeasureError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Range(error) => error.source(),
            Self::EqualEnds { .. } | Self::FrameCount { .. } => None,
        }
    }
}

impl From<FieldError> for MeasureError {
    fn from(error: FieldError) -> Self {
        Self::Range(error)
    }
}

/// A count of pixels, blocks or frames as a number; all are far below what a number holds exactly.
fn as_f64(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// The distance between two ends, in either order, both within a side of `side_px`.
fn between(
    fields: (&'static str, [&'static str; 2]),
    ends_px: (f64, f64),
    side_px: f64,
) -> Result<f64, MeasureError> {
    let (field, [first, second]) = fields;
    let one = checked_field(first, ends_px.0, 0.0, side_px, "px")?;
    let other = checked_field(second, ends_px.1, 0.0, side_px, "px")?;
    let apart = (other - one).abs();
    if apart > 0.0 { Ok(apart) } else { Err(MeasureError::EqualEnds { field, at_px: one }) }
}
