//! What stands around a place and hides the sun: hills, houses, trees.

use units::{Angle, checked_field};

use super::error::SunError;

/// How high the horizon stands in each direction, as it is seen from a place. The line between two points is straight.
#[derive(Debug, Clone, PartialEq)]
pub struct HorizonProfile {
    /// Azimuths in [0°, 360°), ascending, each with its elevation; none is a level horizon.
    points: Vec<(f64, f64)>,
}

/// The lowest that a horizon stands, seen from a mountain, and the highest.
const LOWEST_DEG: f64 = -5.0;
const HIGHEST_DEG: f64 = 90.0;

/// As far round as an azimuth may be counted. Chosen because a compass gives one turn either way, and more is a mistake.
const MOST_TURNED_DEG: f64 = 360.0;

impl HorizonProfile {
    /// A level horizon, as at sea.
    pub const LEVEL: Self = Self { points: Vec::new() };

    /// A horizon through these points: azimuth clockwise from north, and elevation as it is seen. Any order; what lies
    /// between the last and the first goes through north.
    ///
    /// # Errors
    /// Refuses an elevation that is not -5° to 90°, by the name `elevation_deg`.
    pub fn new(points: impl IntoIterator<Item = (Angle, Angle)>) -> Result<Self, SunError> {
        let in_degrees =
            |(azimuth, elevation): (Angle, Angle)| (azimuth.to_deg(), rounded_in(elevation.to_deg()));
        Self::from_deg(points.into_iter().map(in_degrees))
    }

    /// The same, of points in degrees, which are kept as they are given but for azimuths beyond a whole turn.
    ///
    /// # Errors
    /// Refuses an elevation that is not -5° to 90° and an azimuth that is not finite, by the names `elevation_deg` and
    /// `azimuth_deg`.
    pub fn from_deg(points: impl IntoIterator<Item = (f64, f64)>) -> Result<Self, SunError> {
        let point = |(azimuth, elevation): (f64, f64)| {
            let azimuth = checked_field("azimuth_deg", azimuth, -MOST_TURNED_DEG, MOST_TURNED_DEG, "deg")?;
            let elevation = checked_field("elevation_deg", elevation, LOWEST_DEG, HIGHEST_DEG, "deg")?;
            let within = azimuth.rem_euclid(360.0);
            // A rounding west of north comes out as a whole turn.
            Ok((if within < 360.0 { within } else { 0.0 }, elevation))
        };
        let mut points = points.into_iter().map(point).collect::<Result<Vec<_>, SunError>>()?;
        points.sort_by(|one, other| one.0.total_cmp(&other.0));
        Ok(Self { points })
    }

    /// Its points: azimuth in [0°, 360°), ascending, and elevation, in degrees; none if it is level.
    pub fn points_deg(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Its points as [`HorizonProfile::new`] takes them.
    pub fn points(&self) -> impl Iterator<Item = (Angle, Angle)> + '_ {
        self.points
            .iter()
            .map(|(azimuth, elevation)| (Angle::from_deg(*azimuth), Angle::from_deg(*elevation)))
    }

    /// Its highest point and its steepest slope, degrees over degrees; infinite for a wall's edge.
    #[cfg(feature = "sun")]
    pub(super) fn highest_and_steepest(&self) -> (f64, f64) {
        let through_north = self.points.first().map(|first| (first.0 + 360.0, first.1));
        let ends = self.points.iter().copied().skip(1).chain(through_north);
        self.points.iter().zip(ends).fold((0.0, 0.0), |(highest, steepest), (from, to)| {
            let (across, up) = (to.0 - from.0, (to.1 - from.1).abs());
            let slope = if across > 0.0 { up / across } else { f64::INFINITY };
            (from.1.max(highest), slope.max(steepest))
        })
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

/// Degrees that went through radians may come back a rounding beyond their ends.
fn rounded_in(degrees: f64) -> f64 {
    let inside = degrees.clamp(LOWEST_DEG, HIGHEST_DEG);
    if (degrees - inside).abs() < 1e-9 { inside } else { degrees }
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

    #[test]
    fn the_points_come_back_as_they_were_given_in_the_order_of_a_compass() {
        let hill = HorizonProfile::from_deg([(350.1, 0.1), (10.3, -0.7), (-90.0, 4.0)]).expect("in range");
        assert_eq!(hill.points_deg(), [(10.3, -0.7), (270.0, 4.0), (350.1, 0.1)]);
        assert_eq!(HorizonProfile::from_deg(hill.points_deg().iter().copied()).expect("in range"), hill);
        assert_eq!(HorizonProfile::from_deg([(-1e-20, 1.0)]).expect("north").points_deg(), [(0.0, 1.0)]);
        assert!(HorizonProfile::from_deg([(f64::NAN, 0.0)]).is_err());
    }
}
