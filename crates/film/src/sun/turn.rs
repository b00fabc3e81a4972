//! Where a curve turns.

/// Where the parabola through three points, evenly far apart, turns; the middle one if they lie on a straight line.
///
/// # Source
/// The vertex of the parabola through given points.
pub(crate) fn turn(left: (f64, f64), middle: (f64, f64), right: (f64, f64)) -> f64 {
    let step = middle.0 - left.0;
    let bend = left.1 - 2.0 * middle.1 + right.1;
    let off = (left.1 - right.1) / (2.0 * bend);
    if off.is_finite() { middle.0 + off * step } else { middle.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_parabola_turns_at_its_vertex_and_a_line_nowhere() {
        let parabola = |x: f64| 3.0 - (x - 2.3) * (x - 2.3);
        let at = |x: f64| (x, parabola(x));
        assert!((turn(at(1.0), at(2.0), at(3.0)) - 2.3).abs() < 1e-12);
        assert!((turn((1.0, 4.0), (2.0, 4.0), (3.0, 4.0)) - 2.0).abs() < 1e-12);
    }
}
