//! Numbers as people would write them, which still read back as the very value that was written.
//!
//! A file's unit is seldom the program's: degrees are kept as radians, millimetres as metres. Turned round and back, a
//! value ends up a rounding away from itself, and a file would change by being opened and saved. So what is written is
//! looked for among the neighbours of the plain conversion: the shortest number that reads as the value.

use units::Angle;

/// How many floats on each side of a conversion are tried: the two roundings of a conversion and its inverse are worth
/// less than two units in the last place together.
const NEIGHBOURS: usize = 2;
/// Most decimals that a shorter number is looked for with: more of them are no shorter than the float itself.
const MOST_DECIMALS: i32 = 12;

/// The shortest number near `plain` that `read` turns into `value`; where there is none, one that reads as near to it as can
/// be had, and always the same one for what that reads as.
pub(crate) fn read_back(value: f64, plain: f64, read: impl Fn(f64) -> f64) -> f64 {
    // Zero has a sign that no reader of a file cares for, and that is not to be looked for among its neighbours.
    let (value, plain) = (value + 0.0, plain + 0.0);
    match exactly(value, plain, &read) {
        Some(number) => number,
        // Nothing reads as this value: the value next to it that can be read is written instead.
        None => exactly(read(plain), plain, &read).unwrap_or(plain),
    }
}

fn exactly(value: f64, plain: f64, read: &impl Fn(f64) -> f64) -> Option<f64> {
    let reads = |number: &f64| read(*number).to_bits() == value.to_bits();
    let mut power = 1.0;
    for _ in 0..=MOST_DECIMALS {
        let short = libm::round(plain * power) / power;
        if reads(&short) {
            return Some(short);
        }
        power *= 10.0;
    }
    let below = std::iter::successors(Some(plain), |number| Some(number.next_down()));
    let above = std::iter::successors(Some(plain), |number| Some(number.next_up()));
    below.take(NEIGHBOURS + 1).chain(above.take(NEIGHBOURS + 1)).find(reads)
}

/// An angle in degrees.
pub(crate) fn written_deg(angle: Angle) -> f64 {
    read_back(angle.to_rad(), angle.to_deg(), |degrees| Angle::from_deg(degrees).to_rad()) + 0.0
}

/// The same direction within one turn, as far as files allow; a direction within it is left as it is.
pub(crate) fn within_a_turn(direction: Angle) -> Angle {
    if direction.to_deg().abs() <= 360.0 {
        direction
    } else {
        Angle::from_deg(libm::fmod(direction.to_deg(), 360.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_round_number_of_degrees_is_written_round() {
        for degrees in [0.0, 30.0, 33.3, 135.0, 200.25, 359.9] {
            let written = written_deg(Angle::from_deg(degrees));
            assert_eq!(written.to_bits(), f64::to_bits(degrees), "{written} is not {degrees}");
        }
    }

    #[test]
    fn nothing_is_written_as_nothing_whatever_its_sign() {
        assert_eq!(written_deg(Angle::from_deg(-0.0)).to_bits(), 0.0_f64.to_bits());
    }

    proptest! {
        #[test]
        fn an_angle_that_was_read_is_written_as_itself(degrees in -360.0..360.0_f64) {
            let angle = Angle::from_deg(degrees);
            prop_assert_eq!(Angle::from_deg(written_deg(angle)).to_rad().to_bits(), angle.to_rad().to_bits());
        }

        #[test]
        fn writing_what_was_written_changes_nothing(radians in -7.0..7.0_f64) {
            let once = written_deg(Angle::from_rad(radians));
            let twice = written_deg(Angle::from_deg(once));
            prop_assert!((Angle::from_deg(once).to_rad() - radians).abs() <= 4.0e-16 * radians.abs(), "{}", radians);
            prop_assert_eq!(once.to_bits(), twice.to_bits(), "{}", radians);
        }
    }
}
