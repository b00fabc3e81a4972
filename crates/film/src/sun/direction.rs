//! Where in the sky something is, by the way to it from the place.

use units::Angle;

/// Its azimuth, clockwise from north, 0° to 360°.
///
/// ```text
/// A = atan2(east, north)
/// ```
/// The way is given by its parts to the east, to the north and up, of any length.
///
/// # Source
/// Plane geometry.
pub(crate) fn azimuth([east, north, _]: [f64; 3]) -> Angle {
    Angle::from_deg(Angle::from_components(east, north).to_deg().rem_euclid(360.0))
}

/// How high it is: -90° to 90°.
///
/// ```text
/// e = atan2(up, √(east² + north²))
/// ```
/// As for [`azimuth`].
///
/// # Source
/// Plane geometry.
pub(crate) fn elevation([east, north, up]: [f64; 3]) -> Angle {
    Angle::from_components(up, libm::hypot(east, north))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ways_are_told_clockwise_from_north_and_up() {
        for (way, azimuth_deg, elevation_deg) in [
            ([0.0, 2.0, 0.0], 0.0, 0.0),
            ([3.0, 0.0, 3.0], 90.0, 45.0),
            ([-1.0, 0.0, -1.0], 270.0, -45.0),
            ([0.0, -1.0, 0.0], 180.0, 0.0),
        ] {
            let (across, up) = (azimuth(way).to_deg(), elevation(way).to_deg());
            assert!(
                (across - azimuth_deg).abs() < 1e-12 && (up - elevation_deg).abs() < 1e-12,
                "{across} {up}"
            );
        }
    }
}
