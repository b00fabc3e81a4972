//! Lengths and distances.

use std::fmt;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};
use std::str::FromStr;

use language::key;

use crate::error::{QuantityError, checked, split_number};

/// A length or a distance along a stated direction, in metres; negative where the direction allows it.
///
/// ```
/// use units::Length;
/// let tall: Length = "6'2\"".parse()?;
/// assert_eq!(format!("{tall:.2}"), "1.88 m");
/// assert_eq!("188cm".parse::<Length>()?, "1.88 m".parse()?);
/// # Ok::<(), units::QuantityError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Length(f64);

/// A unit in which people state lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LengthUnit {
    /// Metres.
    #[default]
    Metres,
    /// Feet of 0.3048 m, exactly (international yard and pound agreement, 1959).
    Feet,
    /// Inches, a twelfth of a foot each.
    Inches,
}

/// Exactly (international yard and pound agreement, 1959).
const METRES_IN_FOOT: f64 = 0.3048;
pub(crate) const INCHES_IN_FOOT: f64 = 12.0;
/// Wider than any film set and any sensor: chosen because text beyond it is a slip of the finger.
const MOST_M: f64 = 1.0e6;

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0.0);

    /// A length of `metres`, which must be finite.
    pub const fn from_m(metres: f64) -> Self {
        debug_assert!(metres.is_finite(), "a length must be finite");
        Self(metres)
    }

    /// A length of `millimetres`, which must be finite.
    pub const fn from_mm(millimetres: f64) -> Self {
        Self::from_m(millimetres / 1000.0)
    }

    /// A length from outside.
    ///
    /// # Errors
    /// Refuses what is not finite or beyond a thousand kilometres.
    pub fn checked_from_m(metres: f64) -> Result<Self, QuantityError> {
        checked(metres, -MOST_M, MOST_M, "m").map(Self)
    }

    /// In metres.
    pub const fn to_m(self) -> f64 {
        self.0
    }

    /// In millimetres.
    pub const fn to_mm(self) -> f64 {
        self.0 * 1000.0
    }

    /// In `unit`.
    pub const fn to(self, unit: LengthUnit) -> f64 {
        match unit {
            LengthUnit::Metres => self.0,
            LengthUnit::Feet => self.0 / METRES_IN_FOOT,
            LengthUnit::Inches => self.0 / METRES_IN_FOOT * INCHES_IN_FOOT,
        }
    }

    /// The same length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The smaller of two.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// The larger of two.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }
}

impl LengthUnit {
    /// The unit's sign: `m`, `ft` or `in`.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Metres => "m",
            Self::Feet => "ft",
            Self::Inches => "in",
        }
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

impl Div for Length {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(digits) = f.precision() {
            write!(f, "{:.digits$} m", self.0)
        } else {
            write!(f, "{} m", self.0)
        }
    }
}

impl FromStr for Length {
    type Err = QuantityError;

    /// Understands `1.88`, `1.88 m`, `188cm`, `1880 mm`, `6'2"`, `6 ft 2 in`, `74"`; a bare number is metres, and after feet
    /// it is inches. Phones type curly marks, and some people primes.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let (first, rest) = split_number(text)?;
        let (unit, more) = split_unit(rest)?;
        let mut metres = unit.to_m(first);
        if !more.is_empty() {
            let (second, rest) = split_number(more)?;
            let (smaller, rest) = match rest {
                "" if unit == FOOT => (INCH, rest),
                // Whoever writes `1 m 80` does not mean inches.
                "" => return Err(unknown_unit(more)),
                _ => split_unit(rest)?,
            };
            if !rest.is_empty() {
                return Err(unknown_unit(rest));
            }
            metres += smaller.to_m(second) * first.signum();
        }
        Self::checked_from_m(metres)
    }
}

/// A unit as millimetres over a power of ten.
///
/// A quotient, because 188 cm must be the same number as 1.88 m and 188 × 0.01 is not.
#[derive(Clone, Copy, PartialEq)]
struct TextUnit {
    numerator: f64,
    denominator: f64,
}

const METRE: TextUnit = TextUnit { numerator: 1.0, denominator: 1.0 };
const CENTIMETRE: TextUnit = TextUnit { numerator: 1.0, denominator: 100.0 };
const MILLIMETRE: TextUnit = TextUnit { numerator: 1.0, denominator: 1000.0 };
const FOOT: TextUnit = TextUnit { numerator: 304.8, denominator: 1000.0 };
const INCH: TextUnit = TextUnit { numerator: 25.4, denominator: 1000.0 };

impl TextUnit {
    fn to_m(self, value: f64) -> f64 {
        value * self.numerator / self.denominator
    }
}

/// The unit that `text` begins with, and what follows it.
fn split_unit(text: &str) -> Result<(TextUnit, &str), QuantityError> {
    const UNITS: [(&str, TextUnit); 15] = [
        ("mm", MILLIMETRE),
        ("cm", CENTIMETRE),
        ("metres", METRE),
        ("meters", METRE),
        ("m", METRE),
        ("feet", FOOT),
        ("ft", FOOT),
        ("'", FOOT),
        ("’", FOOT),
        ("′", FOOT),
        ("in", INCH),
        ("\"", INCH),
        ("”", INCH),
        ("″", INCH),
        ("", METRE),
    ];
    for (sign, unit) in UNITS {
        if let Some(rest) = text.strip_prefix(sign)
            && !rest.starts_with(char::is_alphabetic)
            && (!sign.is_empty() || rest.is_empty())
        {
            return Ok((unit, rest.trim()));
        }
    }
    Err(unknown_unit(text))
}

fn unknown_unit(text: &str) -> QuantityError {
    QuantityError::UnknownUnit { unit: text.to_owned(), known: key!("m, cm, mm, ft, in, ' or \"") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn metres(text: &str) -> f64 {
        text.parse::<Length>().expect(text).to_m()
    }

    fn assert_near(left: f64, right: f64) {
        assert!((left - right).abs() < 1e-12, "{left} is not {right}");
    }

    #[test]
    fn one_height_in_every_spelling_is_one_length() {
        for text in ["1.88", "1.88 m", "188cm", "1880 mm", "1,88 m", " 188 cm "] {
            assert_near(metres(text), 1.88);
        }
        for text in ["6'2\"", "6' 2", "6 ft 2 in", "6ft2in", "74\"", "74 in", "6’2”", "6′2″"] {
            assert_near(metres(text), 1.8796);
        }
    }

    #[test]
    fn an_unknown_unit_is_named() {
        let error = "3 yards".parse::<Length>().expect_err("yards are not taken");
        assert_eq!(error.to_string(), "unit `yards` is not known here: m, cm, mm, ft, in, ' or \"");
    }

    #[test]
    fn a_second_number_says_what_it_counts_unless_it_follows_feet() {
        assert_near(metres("1 m 80 cm"), 1.8);
        for text in ["1 m 80", "1m80", "180 cm 5", "6'2\" 3", "6 ft 2 in 1 mm"] {
            let read = text.parse::<Length>();
            assert!(matches!(read, Err(QuantityError::UnknownUnit { .. })), "{text}: {read:?}");
        }
    }

    #[test]
    fn words_are_not_a_length() {
        assert_eq!("far".parse::<Length>(), Err(QuantityError::NotANumber { text: "far".to_owned() }));
        assert_eq!("".parse::<Length>(), Err(QuantityError::Empty));
    }

    proptest! {
        #[test]
        fn what_is_printed_reads_back(metres in -1.0e5..1.0e5_f64) {
            let length = Length::from_m(metres);
            prop_assert_eq!(length.to_string().parse::<Length>(), Ok(length));
        }

        #[test]
        fn any_text_gives_an_answer(text in ".{0,24}") {
            if let Ok(length) = text.parse::<Length>() {
                prop_assert!(length.to_m().is_finite());
            }
        }
    }
}
