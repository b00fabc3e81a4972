//! What stands around a place and hides the sun: hills, houses, trees.

use units::{Angle, QuantityError};

use super::error::SunError;

/// How high the horizon stands in each direction, as it is seen from a place. The line between two points is straight.
#[derive(Debug, Clone, PartialEq)]
pub struct HorizonProfile {
    /// Azimuths in [0°, 360°), ascending, each with its elevation; none is a level horizon.
    points: Vec<(f64, f64)>,
}

impl HorizonProfile {
    /// A level horizon, as at sea.
    pub const LEVEL: Self = Self { points: Vec::new() };

    /// A horizon through these points: azimuth clockwise from north, and elevation as it is seen. Any order; what lies
    /// between the last and the first goes through north.
    ///
    /// # Errors
    /// Refuses an elevation that is not -5° to 90°, by the name `elevation_deg`.
    pub fn new(points: impl IntoIterator<Item = (Angle, Angle)>) -> Result<Self, SunError> {
        let point = |(azimuth, elevation): (Angle, Angle)| {
            let (azimuth, value) = (azimuth.to_deg().rem_euclid(360.0), elevation.to_deg());
            let (min, max) = (-5.0, 90.0);
            // Degrees that went through radians may come back a rounding beyond their ends.
            if (min - 1e-9..=max + 1e-9).contains(&value) {
                Ok((azimuth, value))
            } else {
                let source = QuantityError::OutOfRange { value, min, max, unit: "deg" };
                Err(SunError::Range { field: "elevation_deg", source })
            }
        };
        let mut points = points.into_iter().map(point).collect::<Result<Vec<_>, _>>()?;
        points.sort_by(|one, other| one.0.total_cmp(&other.0));
        Ok(Self { points })
    }

    /// How high the horizon stands in a direction.
    pub fn elevation_at(&self, azimuth: Angle) -> Angle {
        let (Some(first), Some(last)) = (self.points.first(), self.points.last()) else { return Angle::ZERO };
        let azimuth = azimuth.to_deg().rem_euclid(360.0);
        let next = self.points.partition_point(|(at, _)| *at <= azimuth);
        let (left, right) =
            match (next.checked_sub(1).and_then(|at| self.points.get(at)), self.points.get(next)) {
                (Some(left), Some(right)) => (*left, *right),
                // Beyond the last point or before the first the line goes through north.
                (Some(left), None) => (*left, (first.0 + 360.0, first.1)),
                (None, _) => ((last.0 - 360.0, last.1), *first),
            };
        let across = right.0 - left.0;
        let share = if across > 0.0 { (azimuth - left.0) / across } else { 0.0 };
        Angle::from_deg(left.1 + share * (right.1 - left.1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn profile(points: &[(f64, f64)]) -> HorizonProfile {
        let points = points
            .iter()
            .map(|(azimuth, elevation)| (Angle::from_deg(*azimuth), Angle::from_deg(*elevation)));
        HorizonProfile::new(points).expect("in range")
    }

    fn assert_stands(profile: &HorizonProfile, azimuth: f64, expected: f64) {
        let stands = profile.elevation_at(Angle::from_deg(azimuth)).to_deg();
        assert!((stands - expected).abs() < 1e-9, "{stands} is not {expected} at {azimuth}");
    }

    #[test]
    fn between_two_points_the_horizon_is_straight_and_it_closes_through_north() {
        let hill = profile(&[(350.0, 0.0), (250.0, 10.0), (10.0, 4.0)]);
        assert_stands(&hill, 300.0, 5.0);
        assert_stands(&hill, 0.0, 2.0);
        assert_stands(&hill, 355.0, 1.0);
        assert_stands(&hill, 370.0, 4.0);
    }

    #[test]
    fn no_points_are_level_and_one_point_is_a_wall_all_around() {
        assert_stands(&HorizonProfile::LEVEL, 123.0, 0.0);
        for azimuth in [0.0, 90.0, 200.0] {
            assert_stands(&profile(&[(90.0, 7.0)]), azimuth, 7.0);
        }
    }

    #[test]
    fn a_horizon_overhead_is_refused() {
        let error = HorizonProfile::new([(Angle::ZERO, Angle::from_deg(91.0))]).expect_err("overhead");
        assert!(error.to_string().starts_with("elevation_deg: 91"), "{error}");
    }
}
