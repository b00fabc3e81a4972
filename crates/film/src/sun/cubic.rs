//! What lies between four values.

/// The weights of four values at 0, 1, 2 and 3 for the cubic through them at `x`.
///
/// # Source
/// Lagrange's form of the polynomial through given points.
pub(crate) fn cubic_weights(x: f64) -> [f64; 4] {
    let [a, b, c, d] = [x, x - 1.0, x - 2.0, x - 3.0];
    [-b * c * d / 6.0, a * c * d / 2.0, -a * b * d / 2.0, a * b * c / 6.0]
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
}
