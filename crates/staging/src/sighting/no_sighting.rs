//! Why nothing can be said of where a photo was taken from, and what would help.

use std::fmt;

use language::say;
use nalgebra::Matrix4;
use units::{Angle, FieldError};

use super::Sights;
use super::pose::Pose;

/// Why a photo has no sighting.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq)]
pub enum NoSighting {
    /// Something given cannot be.
    Range(FieldError),
    /// What is given leaves something open.
    Undetermined {
        /// What.
        open: Undetermined,
        /// Whether something of known size is marked already, which then cannot tell height and tilt apart.
        is_marked: bool,
    },
    /// No phone above the floor could have seen it so.
    NoFit,
}

/// What remains open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Undetermined {
    /// The phone's height.
    pub height: bool,
    /// How far it looked up or down.
    pub tilt: bool,
    /// How far it leaned.
    pub roll: bool,
}

/// A height known less well than by this share of it, and a look less well than by this angle, are not determined:
/// chosen because beyond it a standard uncertainty of first order means nothing any more.
const MOST_SD: (f64, Angle) = (0.4, Angle::from_deg(12.0));

impl Undetermined {
    /// Refuses a pose and its covariance that say next to nothing.
    pub(super) fn check(sights: &Sights, pose: &Pose, covariance: &Matrix4<f64>) -> Result<(), NoSighting> {
        let is_open = |index: usize, most: f64| {
            let sd = libm::sqrt(covariance[(index, index)]);
            sd > most || sd.is_nan()
        };
        let (height, angle) = (MOST_SD.0 * pose.height_m(), MOST_SD.1.to_rad());
        let open = Self { height: is_open(0, height), tilt: is_open(1, angle), roll: is_open(2, angle) };
        if open.height || open.tilt || open.roll {
            let is_marked = !(sights.uprights.is_empty() && sights.boards.is_empty());
            return Err(NoSighting::Undetermined { open, is_marked });
        }
        Ok(())
    }

    /// What is open and what to add.
    fn words(self, is_marked: bool) -> &'static str {
        match (self.height, self.tilt) {
            (true, true) if is_marked => {
                say!(
                    "what is marked fits a high phone that looks down as well as a low one that looks up: mark the \
                     horizon, type the phone's height, or mark a second person nearer or farther, or a door's four \
                     corners"
                )
            }
            (true, true) => {
                say!(
                    "nothing says how high the phone was nor how far it looked up or down: mark a door's four \
                     corners, or the horizon and a person of known height"
                )
            }
            (true, false) => {
                say!(
                    "nothing says how high the phone was: type its height, or mark a person or a door of known height \
                     from the floor to the top"
                )
            }
            (false, true) => {
                say!(
                    "nothing says how far the phone looked up or down: mark the horizon, a person of known height, or \
                     a door's four corners"
                )
            }
            (false, false) => {
                say!(
                    "nothing says how far the phone leaned: mark two points of the horizon well apart, or say that it \
                     was held level"
                )
            }
        }
    }
}

impl fmt::Display for NoSighting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range(error) => error.fmt(f),
            Self::Undetermined { open, is_marked } => {
                f.write_str(open.words(*is_marked))?;
                if open.roll && (open.height || open.tilt) {
                    f.write_str(
                        say!("; and say that it was held level, or mark two points of the horizon well apart"),
                    )?;
                }
                Ok(())
            }
            Self::NoFit => f.write_str(say!(
                "no phone above the floor sees it so: feet have to be marked below the horizon, and heads above their \
                 feet"
            )),
        }
    }
}

impl std::error::Error for NoSighting {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Range(error) => error.source(),
            Self::Undetermined { .. } | Self::NoFit => None,
        }
    }
}

impl From<FieldError> for NoSighting {
    fn from(error: FieldError) -> Self {
        Self::Range(error)
    }
}
