//! From how high the phone is and what the frame holds to where the phone stands.
//!
//! The subject is a vertical at distance `p` straight ahead; heights are counted from the lens, rows are tangents
//! about the optical axis. Lengths here are bare metres, because every line is a formula.

use units::{Angle, Length};

/// A stretch of the subject's vertical and the rows of the frame that it must fill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stretch {
    /// Height of the upper landmark above the lens, metres.
    pub(crate) top_m: f64,
    /// Height of the lower landmark above the lens, metres.
    pub(crate) cut_m: f64,
    /// Row of the upper landmark, a tangent, up positive.
    pub(crate) top_row: f64,
    /// Row of the lower landmark.
    pub(crate) cut_row: f64,
}

/// Why no distance gives the framing from that height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NoFraming {
    /// The distance along the floor at which the framing is tightest.
    pub tightest_at: Length,
    /// How high above the floor the frame's lower landmark row then lies; the asked landmark is above it.
    pub tightest_cut: Option<Length>,
    /// Lens heights from which some distance does.
    pub height_from: Length,
    /// The highest of them.
    pub height_to: Length,
    /// The widest angle between the two rows that this height can give: a longer lens stays below it.
    pub widest_angle: Angle,
    /// The angle that was asked for.
    pub asked_angle: Angle,
}

/// How the solved distance answers small changes: one partial derivative for each uncertain input.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Sensitivity {
    /// Metres per relative change of all row tangents.
    pub(crate) rows: f64,
    /// Metres per metre of the upper landmark.
    pub(crate) top: f64,
    /// Metres per metre of the lower landmark.
    pub(crate) cut: f64,
}

impl Stretch {
    /// The angle between the two rows at the lens.
    fn angle(&self) -> f64 {
        libm::atan(self.top_row) - libm::atan(self.cut_row)
    }

    /// cot γ, straight from the rows: finite where γ passes a right angle, as tan γ is not.
    ///
    /// ```text
    /// cot γ = (1 + u_top u_cut) / (u_top − u_cut)
    /// ```
    fn cotangent(&self) -> f64 {
        (1.0 + self.top_row * self.cut_row) / (self.top_row - self.cut_row)
    }

    /// The distance at which the landmarks fall on their rows; none if there is none.
    ///
    /// ```text
    /// tan γ = (a − b) p / (p² + a b)   ⇒   p² − (a − b) cot γ · p + a b = 0
    /// ```
    /// `γ` angle between the rows; `a`, `b` heights of the upper and the lower landmark above the lens (m); `p` the
    /// larger positive root (m). Exact for a vertical subject. None when the discriminant is negative or no root is
    /// positive.
    ///
    /// # Source
    /// The tangent of a difference of angles; a hand calculation in the tests.
    pub(crate) fn solve_distance(&self) -> Option<f64> {
        let (a, b) = (self.top_m, self.cut_m);
        let sum = (a - b) * self.cotangent();
        let discriminant = sum * sum - 4.0 * a * b;
        if discriminant < 0.0 {
            return None;
        }
        let root = libm::sqrt(discriminant);
        // Of two equal formulas for the larger root, take the one that does not subtract near-equal numbers.
        let larger = if sum >= 0.0 { f64::midpoint(sum, root) } else { -2.0 * a * b / (root - sum) };
        (larger > 0.0).then_some(larger)
    }

    /// The tilt that puts the upper landmark on its row from distance `p_m`.
    ///
    /// ```text
    /// τ = atan(a / p) − atan u_top
    /// ```
    pub(crate) fn tilt_at(&self, p_m: f64) -> f64 {
        libm::atan2(self.top_m, p_m) - libm::atan(self.top_row)
    }

    /// What can be had when nothing fits: the tightest framing, the heights and the angle that would do.
    ///
    /// ```text
    /// tightest at p = √(a b), where tan γ = (a − b) / 2√(a b)
    /// |h − (z_top + z_cut)/2| ≤ (z_top − z_cut) / (2 sin γ)   for γ ≤ 90°, else ≤ (z_top − z_cut) / 2
    /// ```
    /// The second line is the inscribed angle theorem: the lens must touch the circle that sees the stretch under γ.
    pub(crate) fn tightest(&self, lens_height_m: f64) -> NoFraming {
        let (a, b) = (self.top_m, self.cut_m);
        let p = libm::sqrt(libm::fabs(a * b));
        let gamma = self.angle();
        let middle = lens_height_m + f64::midpoint(a, b);
        let half = (a - b) / 2.0;
        let reach = if self.cotangent() >= 0.0 { half / libm::sin(gamma) } else { half };
        let down = libm::atan2(a, p) - gamma;
        let tightest_cut = (down > -std::f64::consts::FRAC_PI_2 && p > 0.0)
            .then(|| Length::from_m(lens_height_m + p * libm::tan(down)));
        NoFraming {
            tightest_at: Length::from_m(p),
            tightest_cut,
            height_from: Length::from_m((middle - reach).max(0.0)),
            height_to: Length::from_m(middle + reach),
            widest_angle: Angle::from_rad(libm::atan2(a - b, 2.0 * p)),
            asked_angle: Angle::from_rad(gamma),
        }
    }

    /// How the solved distance `p_m` answers small changes, from the implicit derivative of the quadratic.
    ///
    /// # Source
    /// `Jcgm2008`, 5.1.3: sensitivity coefficients are the partial derivatives.
    pub(crate) fn sensitivity(&self, p_m: f64) -> Sensitivity {
        let (a, b) = (self.top_m, self.cut_m);
        let cot = self.cotangent();
        let by_distance = 2.0 * p_m - (a - b) * cot;
        let by_angle = (a - b) * (1.0 + cot * cot) * p_m;
        let angle_by_rows = self.top_row / (1.0 + self.top_row * self.top_row)
            - self.cut_row / (1.0 + self.cut_row * self.cut_row);
        Sensitivity {
            rows: -by_angle * angle_by_rows / by_distance,
            top: -(b - cot * p_m) / by_distance,
            cut: -(a + cot * p_m) / by_distance,
        }
    }
}

/// Where a level or tilted look puts the phone, and how far the crop must move to give the headroom too.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FixedLook {
    /// Distance, metres.
    pub(crate) p_m: f64,
    /// Row of the frame's centre, a tangent, up positive.
    pub(crate) centre: f64,
}

/// Solves for a fixed tilt: the distance that gives the size, and the crop's move that gives the headroom.
///
/// With rows counted about the axis and the frame's centre at row `o`, both rows hold when
///
/// ```text
/// (a − b) p / ((p cos τ + a sin τ)(p cos τ + b sin τ)) = K,   K = u_top − u_cut
/// ```
/// which is a quadratic in `p`; then `o` follows from the lower row. Where the crop has no room for `o` it goes as far
/// as it can (`room`, a tangent either way) and the lower row alone gives the distance.
///
/// None if the look misses the lower landmark.
pub(crate) fn solve_fixed_look(stretch: &Stretch, tilt_rad: f64, room: f64) -> Option<FixedLook> {
    let (a, b) = (stretch.top_m, stretch.cut_m);
    let (sin, cos) = (libm::sin(tilt_rad), libm::cos(tilt_rad));
    let rows = stretch.top_row - stretch.cut_row;
    let quadratic = rows * cos * cos;
    let linear = rows * (a + b) * sin * cos - (a - b);
    let constant = rows * a * b * sin * sin;
    let discriminant = linear * linear - 4.0 * quadratic * constant;
    let moved = (discriminant >= 0.0)
        .then(|| (libm::sqrt(discriminant) - linear) / (2.0 * quadratic))
        .filter(|p| *p > 0.0 && p * cos + b * sin > 0.0)
        .map(|p_m| {
            let row_of_cut = (b * cos - p_m * sin) / (p_m * cos + b * sin);
            FixedLook { p_m, centre: row_of_cut - stretch.cut_row }
        });
    if let Some(look) = moved
        && libm::fabs(look.centre) <= room
    {
        return Some(look);
    }
    let centre = moved.map_or(0.0, |look| look.centre.clamp(-room, room));
    let p_m = b / libm::tan(tilt_rad + libm::atan(stretch.cut_row + centre));
    (p_m.is_finite() && p_m > 0.0).then_some(FixedLook { p_m, centre })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stretch(top_m: f64, cut_m: f64, top_row: f64, cut_row: f64) -> Stretch {
        Stretch { top_m, cut_m, top_row, cut_row }
    }

    #[test]
    fn a_symmetric_stretch_stands_where_its_half_fills_the_half_frame() {
        // Hand calculation: one metre up and down on rows ±0.5 is two metres away, level.
        let it = stretch(1.0, -1.0, 0.5, -0.5);
        let p = it.solve_distance().expect("a distance");
        assert!((p - 2.0).abs() < 1e-12, "{p}");
        assert!(it.tilt_at(p).abs() < 1e-12, "{}", it.tilt_at(p));
    }

    #[test]
    fn an_angle_past_a_right_one_still_has_a_distance_from_between() {
        // Rows ±2 see 126.9°; one metre up and down is half a metre away.
        let p = stretch(1.0, -1.0, 2.0, -2.0).solve_distance().expect("a distance");
        assert!((p - 0.5).abs() < 1e-12, "{p}");
    }

    #[test]
    fn from_far_below_there_is_no_wide_angle() {
        let it = stretch(1.7, 1.0, 0.5, -0.5);
        assert_eq!(it.solve_distance(), None);
        let none = it.tightest(0.0);
        assert!((none.tightest_at.to_m() - 1.7_f64.sqrt()).abs() < 1e-12, "{none:?}");
        // At the edge of the heights that would do, the discriminant vanishes.
        let edge = none.height_from.to_m();
        let inside = stretch(1.7 - edge - 1e-9, 1.0 - edge - 1e-9, 0.5, -0.5);
        let outside = stretch(1.7 - edge + 1e-6, 1.0 - edge + 1e-6, 0.5, -0.5);
        assert!(inside.solve_distance().is_some() && outside.solve_distance().is_none(), "{none:?}");
    }

    #[test]
    fn sensitivities_agree_with_small_changes() {
        let it = stretch(0.6, -0.3, 0.2, -0.25);
        let p = it.solve_distance().expect("a distance");
        let by = it.sensitivity(p);
        let step = 1e-7;
        let moved = |changed: Stretch| (changed.solve_distance().expect("a distance") - p) / step;
        let rows = Stretch { top_row: it.top_row * (1.0 + step), cut_row: it.cut_row * (1.0 + step), ..it };
        assert!((moved(rows) - by.rows).abs() < 1e-4, "{by:?}");
        assert!((moved(Stretch { top_m: it.top_m + step, ..it }) - by.top).abs() < 1e-4, "{by:?}");
        assert!((moved(Stretch { cut_m: it.cut_m + step, ..it }) - by.cut).abs() < 1e-4, "{by:?}");
    }

    #[test]
    fn a_level_look_moves_the_crop_for_headroom_if_there_is_room() {
        let it = stretch(0.5, -0.3, 0.2, -0.25);
        let look = solve_fixed_look(&it, 0.0, 1.0).expect("a distance");
        assert!((look.p_m - 0.8 / 0.45).abs() < 1e-12, "{look:?}");
        assert!((it.cut_m / look.p_m - (it.cut_row + look.centre)).abs() < 1e-12, "{look:?}");
        assert!((it.top_m / look.p_m - (it.top_row + look.centre)).abs() < 1e-12, "{look:?}");
    }

    #[test]
    fn a_level_look_without_room_keeps_the_lower_row() {
        let it = stretch(0.5, -0.3, 0.2, -0.25);
        let look = solve_fixed_look(&it, 0.0, 0.0).expect("a distance");
        assert!((it.cut_m / look.p_m - it.cut_row).abs() < 1e-12, "{look:?}");
    }

    #[test]
    fn a_look_above_the_subject_misses() {
        assert_eq!(solve_fixed_look(&stretch(-1.0, -2.0, 0.2, -0.25), 0.5, 0.0), None);
    }
}
