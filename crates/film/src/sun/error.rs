//! Why there is no answer about the sun.

use std::fmt;

use language::say;
use units::FieldError;

/// Why there is no answer about the sun.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq)]
pub enum SunError {
    /// A value out of range.
    Range(FieldError),
    /// A year beyond those for which the earth's turning is known or foretold.
    Year {
        /// The year.
        year: i16,
    },
    /// The position cannot be computed.
    #[cfg(feature = "sun")]
    Position(solar_positioning::Error),
    /// The calendar ends here.
    Calendar,
}

impl SunError {
    /// Refuses a year beyond.
    pub(crate) fn check_year(year: i16) -> Result<(), Self> {
        if (1900..=2100).contains(&year) { Ok(()) } else { Err(Self::Year { year }) }
    }
}

impl fmt::Display for SunError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range(error) => error.fmt(f),
            Self::Year { year } => f.write_str(&say!("the year {year} is not allowed: 1900 to 2100")),
            #[cfg(feature = "sun")]
            Self::Position(source) => f.write_str(&say!("the sun's position cannot be computed: {source}")),
            Self::Calendar => f.write_str(say!("the calendar ends here")),
        }
    }
}

impl std::error::Error for SunError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Range(error) => error.source(),
            #[cfg(feature = "sun")]
            Self::Position(source) => Some(source),
            Self::Year { .. } | Self::Calendar => None,
        }
    }
}

impl From<FieldError> for SunError {
    fn from(error: FieldError) -> Self {
        Self::Range(error)
    }
}

#[cfg(feature = "sun")]
impl From<solar_positioning::Error> for SunError {
    fn from(error: solar_positioning::Error) -> Self {
        Self::Position(error)
    }
}
