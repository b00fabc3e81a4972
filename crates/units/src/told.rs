//! Lengths as people read them. What files and requests have is [`Length`]'s own `Display`, whatever people read.

use language::Number;

use crate::length::{INCHES_IN_FOOT, Length, LengthUnit};

impl Length {
    /// As people read it, with its unit: metres with so many digits after the decimal mark, feet with whole inches, and
    /// what is shorter than a foot in inches with a decimal.
    ///
    /// ```
    /// use units::{Length, LengthUnit};
    /// let tall = Length::from_m(1.7272);
    /// assert_eq!(tall.told(LengthUnit::Metres, 2), "1.73 m");
    /// assert_eq!(tall.told(LengthUnit::Feet, 2), "5'8\"");
    /// ```
    pub fn told(self, unit: LengthUnit, digits: usize) -> String {
        match unit {
            LengthUnit::Metres => self.in_decimals(unit, digits),
            LengthUnit::Feet => self.in_feet(false),
            LengthUnit::Inches => self.in_decimals(unit, 1),
        }
    }

    /// With so many digits after the decimal mark and the unit, whatever that is: what goes by the second or the minute.
    pub fn in_decimals(self, unit: LengthUnit, digits: usize) -> String {
        Number(format_args!("{:.digits$} {}", self.to(unit), unit.sign())).to_string()
    }

    /// As a field has it, beside [`LengthUnit::beside_field`]: to the centimetre or to the tenth of an inch.
    pub fn in_field(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Metres => Number(format_args!("{:.2}", self.to(unit))).to_string(),
            LengthUnit::Feet => self.in_feet(true),
            LengthUnit::Inches => Number(format_args!("{:.1}", self.to(unit))).to_string(),
        }
    }

    /// Feet and inches: those to the tenth where they are all there is or it is asked for.
    fn in_feet(self, to_tenths: bool) -> String {
        let exact = self.abs().to(LengthUnit::Inches);
        let scale = if to_tenths || exact < INCHES_IN_FOOT { 10.0 } else { 1.0 };
        let inches = libm::round(exact * scale) / scale;
        let sign = if self < Self::ZERO && inches > 0.0 { "-" } else { "" };
        let feet = libm::floor(inches / INCHES_IN_FOOT);
        let rest = format!("{:.1}", inches - feet * INCHES_IN_FOOT);
        let rest = rest.strip_suffix(".0").unwrap_or(&rest);
        let feet = if feet < 1.0 { String::new() } else { format!("{feet:.0}'") };
        Number(format_args!("{sign}{feet}{rest}\"")).to_string()
    }
}

impl LengthUnit {
    /// The unit for what is as near to a lens as it focuses: a foot is too long to count in there.
    #[must_use]
    pub const fn near(self) -> Self {
        match self {
            Self::Metres => Self::Metres,
            Self::Feet | Self::Inches => Self::Inches,
        }
    }

    /// What stands beside a length that [`Length::in_field`] writes: nothing where its own marks say the unit.
    pub const fn beside_field(self) -> &'static str {
        match self {
            Self::Metres | Self::Inches => self.sign(),
            Self::Feet => "",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FOOT_M: f64 = 0.3048;
    const INCH_M: f64 = 0.0254;

    fn feet(metres: f64) -> String {
        Length::from_m(metres).told(LengthUnit::Feet, 2)
    }

    #[test]
    fn a_height_is_told_in_feet_and_inches() {
        assert_eq!(feet(5.0 * FOOT_M + 8.0 * INCH_M), "5'8\"");
        assert_eq!(feet(6.0 * FOOT_M), "6'0\"");
        assert_eq!(feet(1.66), "5'5\"");
        assert_eq!(Length::from_m(1.66).in_field(LengthUnit::Feet), "5'5.4\"");
        assert_eq!(feet(-1.5 * FOOT_M), "-1'6\"");
    }

    #[test]
    fn inches_never_make_a_foot() {
        assert_eq!(feet(11.97 * INCH_M), "1'0\"");
        assert_eq!(feet(23.7 * INCH_M), "2'0\"");
        assert_eq!(Length::from_m(71.96 * INCH_M).in_field(LengthUnit::Feet), "6'0\"");
    }

    #[test]
    fn what_is_shorter_than_a_foot_is_told_in_inches() {
        assert_eq!([0.2, 0.02, 0.0, -0.001].map(feet), ["7.9\"", "0.8\"", "0\"", "0\""]);
        let near = LengthUnit::Feet.near();
        assert_eq!(Length::from_m(0.2).told(near, 2), "7.9 in");
        assert_eq!((Length::from_m(0.2).in_field(near).as_str(), near.beside_field()), ("7.9", "in"));
        assert_eq!(LengthUnit::Metres.near(), LengthUnit::Metres);
    }

    proptest! {
        #[test]
        fn what_a_field_has_in_feet_reads_back_to_the_tenth_of_an_inch(metres in -300.0..300.0_f64) {
            let length = Length::from_m(metres);
            let read: Length = length.in_field(LengthUnit::Feet).parse().expect("feet and inches");
            prop_assert!((read - length).abs().to_m() <= 0.05001 * INCH_M, "{} became {}", length, read);
        }
    }
}
