//! How numbers and times are written.

use std::fmt::{self, Write as _};

use serde::{Deserialize, Serialize};

/// What stands between a whole number and its decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DecimalMark {
    /// `1.5`.
    #[default]
    Point,
    /// `1,5`.
    Comma,
}

impl DecimalMark {
    /// The mark itself.
    pub const fn sign(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }
}

/// How many hours a clock has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClockFace {
    /// `14:05`.
    #[default]
    TwentyFour,
    /// `2:05 pm`.
    Twelve,
}

impl ClockFace {
    /// So many.
    pub const fn hours(self) -> u8 {
        match self {
            Self::TwentyFour => 24,
            Self::Twelve => 12,
        }
    }
}

/// How numbers and times are written: `1.5` and `14:05` where nothing is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Manner {
    /// Between a whole number and its decimals.
    pub mark: DecimalMark,
    /// On clocks.
    pub face: ClockFace,
}

/// A number for people, as `{}` writes it: what stands in it as a point is written with their mark.
#[derive(Debug, Clone, Copy)]
pub struct Number<Value>(pub Value);

impl<Value: fmt::Display> fmt::Display for Number<Value> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match crate::manner().mark {
            DecimalMark::Point => write!(f, "{}", self.0),
            DecimalMark::Comma => write!(WithComma(f), "{}", self.0),
        }
    }
}

/// A number with so many decimals, for people.
#[derive(Debug, Clone, Copy)]
pub struct Rounded<'value, Value>(pub &'value Value, pub usize);

impl<Value: fmt::Display> fmt::Display for Rounded<'_, Value> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(value, digits) = self;
        Number(format_args!("{value:.digits$}")).fmt(f)
    }
}

/// Writes on, with commas for points.
struct WithComma<'to, 'f>(&'to mut fmt::Formatter<'f>);

impl fmt::Write for WithComma<'_, '_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        text.chars().try_for_each(|letter| self.0.write_char(if letter == '.' { ',' } else { letter }))
    }
}
