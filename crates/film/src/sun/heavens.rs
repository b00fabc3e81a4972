//! The sun's way over a place: the full algorithm once a day, and what lies between from geometry.

use jiff::Timestamp;
use solar_positioning::{Location, SolarPositions, time::JulianDate};
use units::Angle;

use super::coordinates::{Air, Coordinates};
use super::cubic::four_about;
use super::direction::{azimuth, elevation};
use super::error::SunError;
use super::position::{SunAt, delta_t_s};
use super::refraction::seen_through_air;

/// The sky over a place for some days: what all positions and crossings share.
#[derive(Debug, Clone)]
pub(crate) struct Heavens {
    /// When the first of the nodes is, seconds of the Unix epoch.
    first_s: f64,
    /// Where the sun is once a day, seen from the earth's centre.
    nodes: Vec<Node>,
    /// The sun's parallax, as a sine: 8.794″ at its mean distance.
    parallax: f64,
    longitude_deg: f64,
    sin_latitude: f64,
    cos_latitude: f64,
    /// How far the place is from the earth's axis and from the plane of its equator, in its radii at the equator.
    from_axis: f64,
    from_equator: f64,
    /// How much the air there bends light, over common air.
    air: f64,
}

/// Where the sun is from the earth's centre, in degrees.
#[derive(Debug, Clone, Copy)]
struct Node {
    /// Its hour angle at Greenwich, less 360° for each day since the first node: so it changes by little.
    hour_angle: f64,
    declination: f64,
}

/// A day in seconds, which is how far the nodes are apart.
pub(super) const DAY_S: f64 = 86_400.0;

/// The earth's radius at its equator, in metres, and its polar one as a share of that.
///
/// # Source
/// `Reda2008`, equations 34 to 36.
const RADIUS_M: f64 = 6_378_140.0;
const POLAR_SHARE: f64 = 0.996_647_19;

impl Heavens {
    /// The sky over a place from one moment to another; a day before and after it is good too, and a little worse.
    ///
    /// ```text
    /// δ(t), H(t) − 360° t: cubic through the nodes of four days
    /// ```
    /// `δ` the sun's declination and `H` its hour angle from the earth's centre (°); `t` in days. Both change so evenly that
    /// between nodes a day apart they are off by less than 2e-6°, and a test compares; the parallax and the place's own sky
    /// are exact. Whoever calls it has checked the year.
    ///
    /// # Source
    /// `Reda2008` for the nodes and for the parallax, equations 34 to 47.
    pub(crate) fn over(
        place: &Coordinates,
        air: Air,
        from: Timestamp,
        to: Timestamp,
    ) -> Result<Self, SunError> {
        let delta_t_s = delta_t_s(from)?;
        let (from_s, to_s) = (seconds(from), seconds(to));
        let first_s = from_s - DAY_S;
        let mut nodes: Vec<Node> = Vec::new();
        let mut parallax = 0.0;
        let mut at_s = first_s;
        while nodes.len() < 4 || at_s < to_s + 1.5 * DAY_S {
            let now =
                SolarPositions::new().for_time_from_julian(JulianDate::new(julian(at_s), delta_t_s)?)?;
            // Seen from the earth's centre with the pole overhead, elevation is declination and azimuth is hour angle.
            let pole = Location { latitude: 90.0, longitude: 0.0 };
            let seen = now.at(pole, -POLAR_SHARE * RADIUS_M, None)?;
            let turned = seen.azimuth() - 180.0;
            let hour_angle = nodes.last().map_or(turned, |last| {
                last.hour_angle + (turned - last.hour_angle + 180.0).rem_euclid(360.0) - 180.0
            });
            nodes.push(Node { hour_angle, declination: seen.elevation_angle() });
            parallax = Angle::from_deg(8.794 / 3600.0 / now.earth_radius_vector().unwrap_or(1.0)).sin();
            at_s += DAY_S;
        }
        let latitude = place.latitude();
        let (sin_latitude, cos_latitude) = (latitude.sin(), latitude.cos());
        let reduced = Angle::from_components(POLAR_SHARE * sin_latitude, cos_latitude);
        let height = place.elevation_m() / RADIUS_M;
        Ok(Self {
            first_s,
            nodes,
            parallax,
            longitude_deg: place.longitude_deg(),
            sin_latitude,
            cos_latitude,
            from_axis: reduced.cos() + height * cos_latitude,
            from_equator: POLAR_SHARE * reduced.sin() + height * sin_latitude,
            air: air.lift(),
        })
    }

    /// Where the sun's centre is at a second of the Unix epoch.
    pub(crate) fn sun(&self, at_s: f64) -> SunAt {
        let way = self.towards(at_s);
        let true_elevation = elevation(way);
        SunAt {
            azimuth: azimuth(way),
            true_elevation,
            apparent_elevation: seen_through_air(true_elevation, self.air),
        }
    }

    /// How high its centre is, without the air, in degrees.
    pub(super) fn true_elevation_deg(&self, at_s: f64) -> f64 {
        elevation(self.towards(at_s)).to_deg()
    }

    /// Towards the sun from the place: east, north and up.
    fn towards(&self, at_s: f64) -> [f64; 3] {
        let node = self.node(at_s);
        let hour_angle = Angle::from_deg(self.hour_angle_deg(node, at_s));
        let declination = Angle::from_deg(node.declination);
        let (sine, cosine) = (declination.sin(), declination.cos());
        let south = cosine * hour_angle.cos() - self.from_axis * self.parallax;
        let west = cosine * hour_angle.sin();
        let axial = sine - self.from_equator * self.parallax;
        [
            -west,
            axial * self.cos_latitude - south * self.sin_latitude,
            axial * self.sin_latitude + south * self.cos_latitude,
        ]
    }

    fn hour_angle_deg(&self, node: Node, at_s: f64) -> f64 {
        let turned = ((at_s - self.first_s) / DAY_S).rem_euclid(1.0) * 360.0;
        (node.hour_angle + turned + self.longitude_deg).rem_euclid(360.0)
    }

    fn node(&self, at_s: f64) -> Node {
        let (start, weights) = four_about((at_s - self.first_s) / DAY_S, self.nodes.len());
        let four = self.nodes.iter().skip(start).zip(weights);
        four.fold(Node { hour_angle: 0.0, declination: 0.0 }, |sum, (node, weight)| Node {
            hour_angle: sum.hour_angle + weight * node.hour_angle,
            declination: sum.declination + weight * node.declination,
        })
    }

    /// Every time after `from` and up to `to` at which the sun crosses the meridian above.
    pub(super) fn noons(&self, from: Timestamp, to: Timestamp) -> Result<Vec<Timestamp>, SunError> {
        let hour_angle = |at_s: f64| self.hour_angle_deg(self.node(at_s), at_s);
        let mut at_s = seconds(from);
        let mut found = Vec::new();
        loop {
            at_s += (360.0 - hour_angle(at_s)) / 360.0 * DAY_S;
            // The sun keeps 30 s a day with the clock at the worst, so this closes in by three digits a step.
            for _ in 0..3 {
                let past = (hour_angle(at_s) + 180.0).rem_euclid(360.0) - 180.0;
                at_s -= past / 360.0 * DAY_S;
            }
            let noon = timestamp(at_s)?;
            if noon > to {
                return Ok(found);
            }
            if noon > from {
                found.push(noon);
            }
            at_s += DAY_S / 2.0;
        }
    }
}

/// Seconds of the Unix epoch.
pub(crate) fn seconds(moment: Timestamp) -> f64 {
    moment.as_duration().as_secs_f64()
}

/// The Julian date of a second of the Unix epoch: days since noon of 1 January 4713 BC; the epoch was 2440587.5.
pub(super) fn julian(at_s: f64) -> f64 {
    at_s / DAY_S + 2_440_587.5
}

/// The moment of a second of the Unix epoch, to a millisecond, which is what crossings are searched to.
pub(crate) fn timestamp(at_s: f64) -> Result<Timestamp, SunError> {
    #[expect(clippy::cast_possible_truncation, reason = "whole milliseconds of the years 1900 to 2100 fit")]
    let milliseconds = libm::round(at_s * 1000.0) as i64;
    Timestamp::from_millisecond(milliseconds).map_err(|_beyond| SunError::Calendar)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sun::refraction::LAST_SEEN_DEG;
    use proptest::prelude::*;

    #[test]
    fn a_moment_comes_back_from_its_seconds() {
        for text in ["1900-01-01T00:00:00Z", "2026-06-21T19:30:00.125Z", "2100-12-31T23:59:59.999Z"] {
            let moment: Timestamp = text.parse().expect("a time");
            assert_eq!(timestamp(seconds(moment)).expect("in the calendar"), moment, "{text}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]

        #[test]
        fn between_the_nodes_the_sun_is_where_the_full_algorithm_has_it(
            latitude in -90.0_f64..=90.0, longitude in -180.0_f64..=180.0, height in 0.0_f64..=5000.0,
            hours in 0_i64..=1_750_000, minutes in 0_i64..=1440,
        ) {
            let place = Coordinates::new(latitude, longitude, height).expect("a place");
            let start: Timestamp = "1900-01-03T00:00:00Z".parse().expect("a time");
            let from = start + jiff::SignedDuration::from_hours(hours);
            let to = from + jiff::SignedDuration::from_hours(24);
            let air = Air::standard_at(&place);
            let heavens = Heavens::over(&place, air, from, to).expect("a sky");
            let moment = from + jiff::SignedDuration::from_mins(minutes);
            let (ours, full) = (heavens.sun(seconds(moment)), SunAt::of(&place, air, moment).expect("a position"));
            let off = |one: Angle, other: Angle| ((one - other).to_deg() + 180.0).rem_euclid(360.0) - 180.0;
            let up = off(ours.true_elevation, full.true_elevation).abs();
            let along = off(ours.azimuth, full.azimuth).abs() * full.true_elevation.cos();
            prop_assert!(up < 2e-6 && along < 2e-6, "{up} {along}");
            // On the very limit the one may be seen already and the other not yet.
            let seen = off(ours.apparent_elevation, full.apparent_elevation).abs();
            let limit = (full.true_elevation.to_deg() - LAST_SEEN_DEG).abs() < 1e-5;
            prop_assert!(seen < 1e-5 || limit, "{seen}");
        }
    }
}
