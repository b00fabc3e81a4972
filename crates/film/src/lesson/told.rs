//! Values as lessons tell them: as many digits as anybody can see or pace out.

use language::{Number, say};
use units::{Length, LengthUnit};

use crate::wording::fixed;

/// Pixels: with a decimal below ten.
pub(super) fn px(value: f64) -> String {
    if value < 9.95 { say!("{value:.1} px") } else { say!("{value:.0} px") }
}

/// A length: metres with a decimal below ten, with two below one.
pub(super) fn length(metres: f64, unit: LengthUnit) -> String {
    let digits = match metres.abs() {
        near if near < 0.995 => 2,
        middle if middle < 9.95 => 1,
        _ => 0,
    };
    Length::from_m(metres).told(unit, digits)
}

/// A height: metres to the centimetre.
pub(super) fn height(metres: f64, unit: LengthUnit) -> String {
    Length::from_m(metres).told(unit, 2)
}

/// A share as per cent: with a decimal below ten.
pub(super) fn percent(share: f64) -> String {
    let value = share * 100.0;
    if value.abs() < 9.95 { say!("{value:.1}%") } else { format!("{value:.0}%") }
}

/// An f-number: with a decimal below ten where it is not whole, with two below one.
pub(super) fn f_number(value: f64) -> String {
    let digits = match value {
        low if low < 0.995 => 2,
        middle if middle < 9.95 => 1,
        _ => 0,
    };
    let text = format!("f/{value:.digits$}");
    Number(text.strip_suffix(".0").unwrap_or(&text)).to_string()
}

/// Millimetres: with a decimal below ten.
pub(super) fn millimetres(value: f64) -> String {
    if value < 9.95 { say!("{value:.1} mm") } else { say!("{value:.0} mm") }
}

/// Stops.
pub(super) fn stops(value: f64) -> String {
    let text = fixed(value, 1);
    match text.strip_suffix(".0").unwrap_or(&text) {
        "1" => say!("1 stop").to_owned(),
        text => say!("{} stops", Number(text)),
    }
}

/// Degrees, whole.
pub(super) fn degrees(value: f64) -> String {
    fixed(value, 0) + "°"
}

/// A handle's value that counts: which of a list.
pub(super) fn whole(value: f64, most: usize) -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "rounded and not negative")]
    let place = libm::round(value.max(0.0)) as usize;
    place.min(most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_values_are_told_finer() {
        assert_eq!([px(3.12), px(9.96), px(120.4)], ["3.1 px", "10 px", "120 px"]);
        assert_eq!(
            [0.35, 1.5, 12.4].map(|metres| length(metres, LengthUnit::Metres)),
            ["0.35 m", "1.5 m", "12 m"]
        );
        assert_eq!([stops(6.0), stops(1.0), stops(-0.04)], ["6 stops", "1 stop", "0 stops"]);
        assert_eq!([percent(0.744), percent(0.031)], ["74%", "3.1%"]);
        assert_eq!([0.346, 1.78, 8.0, 16.0].map(f_number), ["f/0.35", "f/1.8", "f/8", "f/16"]);
    }

    #[test]
    fn lengths_are_told_in_the_readers_unit() {
        assert_eq!([0.2, 1.5].map(|metres| length(metres, LengthUnit::Feet)), ["7.9\"", "4'11\""]);
        assert_eq!(height(1.7, LengthUnit::Metres), "1.70 m");
        assert_eq!(height(1.7, LengthUnit::Feet), "5'7\"");
    }

    #[test]
    fn a_place_in_a_list_stays_in_it() {
        assert_eq!([whole(-3.0, 5), whole(1.6, 5), whole(99.0, 5)], [0, 2, 5]);
    }
}
