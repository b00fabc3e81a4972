//! How high the sun is seen, for how high it is.

use optics::{SUN_HALF_DISC_DEG, air_lift_deg};
use units::Angle;

/// Below this the sun is seen where it is, because nobody sees it.
///
/// # Source
/// `Reda2008`, section A.2: −(0.26667° + 0.5667°).
pub(crate) const LAST_SEEN_DEG: f64 = -SUN_HALF_DISC_DEG - 0.5667;

/// How high the sun is seen, through air that bends light so many times as much as common air.
///
/// ```text
/// e' = e + k · 1.02° / (60 tan(e + 10.3/(e + 5.11)))      for e > −0.8333°, else e
/// ```
/// `e` true elevation (°); `k` how much the air bends light over air of 1010 hPa and 10 °C; `e'` in °. It jumps by 0.6° where
/// the sun's upper edge goes.
///
/// # Source
/// `Reda2008`, equation 42.
pub(crate) fn seen_through_air(true_elevation: Angle, air: f64) -> Angle {
    let degrees = true_elevation.to_deg();
    if degrees <= LAST_SEEN_DEG {
        return true_elevation;
    }
    true_elevation + Angle::from_deg(air_lift_deg(degrees, air))
}
