//! What lies between four values.

/// The weights of four values at 0, 1, 2 and 3 for the cubic through them at `x`.
///
/// # Source
/// Lagrange's form of the polynomial through given points.
fn cubic_weights(x: f64) -> [f64; 4] {
    let [a, b, c, d] = [x, x - 1.0, x - 2.0, x - 3.0];
    [-b * c * d / 6.0, a * c * d / 2.0, -a * b * d / 2.0, a * b * c / 6.0]
}

/// The first of the four of so many values, one apart, between whose middle ones a place lies, or the nearest four to it; and
/// their weights for the cubic through them there.
pub(crate) fn four_about(place: f64, count: usize) -> (usize, [f64; 4]) {
    let last = count.saturating_sub(4);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "not negative, and bounded")]
    let start = ((place - 1.0).max(0.0) as usize).min(last);
    #[expect(clippy::cast_precision_loss, reason = "far fewer values than a float counts")]
    let share = place - start as f64;
    (start, cubic_weights(share))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cubic_comes_out_as_it_is() {
        let cubic = |x: f64| 2.0 - x + 0.5 * x * x * x;
        for x in [-1.0, 0.0, 0.3, 1.5, 2.9, 4.0] {
            let [a, b, c, d] = cubic_weights(x);
            let ours = a * cubic(0.0) + b * cubic(1.0) + c * cubic(2.0) + d * cubic(3.0);
            assert!((ours - cubic(x)).abs() < 1e-12, "{ours} at {x}");
        }
    }

    #[test]
    fn a_place_lies_between_the_middle_two_except_at_the_ends() {
        for (place, start) in [(-2.0, 0), (0.5, 0), (1.5, 0), (2.0, 1), (3.25, 2), (4.9, 2), (9.0, 2)] {
            assert_eq!(four_about(place, 6).0, start, "{place}");
        }
        assert_eq!(four_about(2.5, 3).0, 0, "too few");
    }
}
