//! Where a value comes from and how far to trust it.

/// Where a value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Origin {
    /// Typical of such a thing; nobody looked at this one.
    Typical,
    /// Read from a photo or a clip that the lens took.
    File,
    /// Typed in by a person.
    Typed,
    /// Measured on this very thing.
    Measured,
}

/// A value, where it comes from, and its standard uncertainty as a share of the value.
///
/// A share rather than a quantity, because figures multiply lens values and relative uncertainties of a product add
/// in squares (JCGM 100:2008, 5.1.6, the first-order law for products).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known<T> {
    /// The value.
    pub value: T,
    /// One standard deviation over the value; finite and not negative.
    pub relative_sd: f64,
    /// Where it comes from.
    pub origin: Origin,
}

impl<T> Known<T> {
    /// A value of that origin with the uncertainty that its origin suggests.
    pub const fn new(value: T, origin: Origin) -> Self {
        Self { value, relative_sd: origin.suggested_relative_sd(), origin }
    }
}

impl Origin {
    /// The relative standard uncertainty to assume where none is stated.
    ///
    /// Typical: 3 %, chosen because generic phones of one class differ by about that much in field of view.
    /// From a file: 1.2 %, the 35 mm-equivalent tag's rounding to whole millimetres at 24 mm
    /// (0.5 mm / √3 / 24 mm; JCGM 100:2008, 4.3.7). Typed: 1 %, chosen because people copy two or three digits.
    /// Measured: 1 %, a door's width to 5 mm at a distance taped to 10 mm.
    pub const fn suggested_relative_sd(self) -> f64 {
        match self {
            Self::Typical => 0.03,
            Self::File => 0.012,
            Self::Typed | Self::Measured => 0.01,
        }
    }
}
