//! Why a text or a number is not a quantity.

use std::fmt;

use language::{Number, say, text};

/// Why a text or a number is not a quantity.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq)]
pub enum QuantityError {
    /// Nothing was given.
    Empty,
    /// The text does not begin with a number.
    NotANumber {
        /// The text as given.
        text: String,
    },
    /// The unit is not one of this quantity.
    UnknownUnit {
        /// The unit as given.
        unit: String,
        /// The units that are understood.
        known: &'static str,
    },
    /// The value is not finite, or outside what the quantity can hold.
    OutOfRange {
        /// The value, in `unit`.
        value: f64,
        /// Smallest value allowed.
        min: f64,
        /// Largest value allowed.
        max: f64,
        /// The unit of all three.
        unit: &'static str,
    },
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str(say!("nothing was given")),
            Self::NotANumber { text } => f.write_str(&say!("`{text}` does not begin with a number")),
            Self::UnknownUnit { unit, known } => {
                f.write_str(&say!("unit `{unit}` is not known here: {known}", known = text(known)))
            }
            Self::OutOfRange { value, min, max, unit } => {
                let [value, min, max] = [value, min, max].map(Number);
                let unit = text(unit);
                f.write_str(&say!("{value} {unit} is not allowed: {min} to {max} {unit}"))
            }
        }
    }
}

impl std::error::Error for QuantityError {}

/// Passes a finite value within `min..=max` on, and says what is allowed otherwise.
///
/// # Errors
/// Refuses what is not within, NaN among it.
pub fn checked(value: f64, min: f64, max: f64, unit: &'static str) -> Result<f64, QuantityError> {
    // A NaN is inside no range, so this refuses it as well.
    if (min..=max).contains(&value) {
        Ok(value)
    } else {
        Err(QuantityError::OutOfRange { value, min, max, unit })
    }
}

/// A value of a named field that is not allowed.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldError {
    /// The field, in the words of files and requests.
    pub field: &'static str,
    /// What is allowed.
    pub source: QuantityError,
}

impl fmt::Display for FieldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { field, source } = self;
        write!(f, "{field}: {source}")
    }
}

impl std::error::Error for FieldError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.source)
    }
}

/// Passes a finite value within `min..=max` on, and names its field otherwise.
///
/// # Errors
/// Refuses any other value, NaN among them.
pub fn checked_field(
    field: &'static str,
    value: f64,
    min: f64,
    max: f64,
    unit: &'static str,
) -> Result<f64, FieldError> {
    checked(value, min, max, unit).map_err(|source| FieldError { field, source })
}

/// Splits `"1.88 m"` into the number and the trimmed rest.
pub(crate) fn split_number(text: &str) -> Result<(f64, &str), QuantityError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(QuantityError::Empty);
    }
    let is_part = |(index, c): (usize, char)| {
        c.is_ascii_digit() || c == '.' || c == ',' || (index == 0 && (c == '-' || c == '+'))
    };
    let end = text.char_indices().find(|&at| !is_part(at)).map_or(text.len(), |(index, _)| index);
    // Half of the world writes a comma for the decimal point.
    let number = text[..end].replace(',', ".");
    match number.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok((value, text[end..].trim())),
        Ok(_) | Err(_) => Err(QuantityError::NotANumber { text: text.to_owned() }),
    }
}
