//! A corner of a paced outline, and how well it is known.

use glam::{DMat2, DVec2};
use units::{Angle, Length};

/// A corner of a paced outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PacedCorner {
    /// Where it is from the first corner: east and north, in metres.
    pub at: DVec2,
    /// The covariance of the two, in square metres.
    pub covariance: DMat2,
}

/// How far a corner may be off in each direction: one standard uncertainty, as an ellipse about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpreadEllipse {
    /// Half its long axis.
    pub long: Length,
    /// Half its short axis.
    pub short: Length,
    /// The direction of the long axis, clockwise from north, −90° to 90°.
    pub direction: Angle,
}

impl PacedCorner {
    /// The ellipse of one standard uncertainty: two corners in five are inside, and 19 of 20 inside one 2.45 times as
    /// large.
    ///
    /// ```text
    /// λ = (a + c) / 2 ± √(((a − c) / 2)² + b²)          2 θ = atan2(2 b, c − a)
    /// ```
    /// `a`, `c` variances east and north and `b` their covariance (m²); `λ` squares of the half axes; `θ` the long axis
    /// from north.
    ///
    /// # Source
    /// Geometry: eigenvalues of a symmetric matrix; the shares of a normal distribution in two dimensions, 1 − exp(−k²
    /// / 2).
    pub fn ellipse(&self) -> SpreadEllipse {
        let (a, b, c) = (self.covariance.x_axis.x, self.covariance.x_axis.y, self.covariance.y_axis.y);
        let (middle, half) = (f64::midpoint(a, c), libm::hypot((a - c) / 2.0, b));
        SpreadEllipse {
            long: Length::from_m(libm::sqrt((middle + half).max(0.0))),
            short: Length::from_m(libm::sqrt((middle - half).max(0.0))),
            direction: Angle::from_components(2.0 * b, c - a) / 2.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn an_ellipse_has_the_spread_that_the_covariance_says(
            long in 0.1..2.0_f64, share in 0.1..0.9_f64, direction_deg in -89.0..89.0_f64,
        ) {
            let way = Angle::from_deg(direction_deg);
            let (along, across) = (DVec2::new(way.sin(), way.cos()), DVec2::new(way.cos(), -way.sin()));
            let outer = |v: DVec2| DMat2::from_cols(v * v.x, v * v.y);
            let covariance = outer(along * long) + outer(across * (long * share));
            let ellipse = PacedCorner { at: DVec2::ZERO, covariance }.ellipse();
            prop_assert!((ellipse.long.to_m() - long).abs() < 1e-9, "{ellipse:?}");
            prop_assert!((ellipse.short.to_m() - long * share).abs() < 1e-9, "{ellipse:?}");
            prop_assert!((ellipse.direction.to_deg() - direction_deg).abs() < 1e-6, "{ellipse:?}");
        }
    }
}
