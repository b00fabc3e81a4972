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
        // Then it is before the lens: at −b tan τ the quadratic is (b − a) p < 0, so the larger root lies beyond.
        .filter(|p| *p > 0.0)
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
    // A look so steep that its lower row points behind the phone meets the landmark there, where nothing is seen.
    let is_before_lens = p_m * cos + b * sin > 0.0;
    (p_m.is_finite() && p_m > 0.0 && is_before_lens).then_some(FixedLook { p_m, centre })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

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
    fn a_lens_as_high_as_the_lower_mark_stands_where_the_upper_one_is_seen_under_the_angle() {
        // Rows ±0.5 see 2 atan 0.5, whose cotangent is 3/4; exactly so, with a lens a nanometre higher or lower too.
        for cut_m in [0.0, 1e-9, -1e-9] {
            let p = stretch(1.0, cut_m, 0.5, -0.5).solve_distance().expect("a distance");
            assert!((p - (0.75 - cut_m * (0.75 + 4.0 / 3.0))).abs() < 1e-15, "{cut_m}: {p}");
        }
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

    #[test]
    fn heights_that_would_do_end_where_the_circle_ends() {
        // The stretch of 0.7 m on rows ±0.5 is seen under 2 atan 0.5, whose sine is 0.8: the lens is within 0.35 / 0.8 m of
        // its middle at 1.35 m.
        let none = stretch(1.7, 1.0, 0.5, -0.5).tightest(0.0);
        assert!((none.height_from.to_m() - (1.35 - 0.4375)).abs() < 1e-12, "{none:?}");
        assert!((none.height_to.to_m() - (1.35 + 0.4375)).abs() < 1e-12, "{none:?}");
        let from = |height_m: f64| stretch(1.7 - height_m, 1.0 - height_m, 0.5, -0.5).solve_distance();
        let (lowest, highest) = (none.height_from.to_m(), none.height_to.to_m());
        assert!(from(lowest + 1e-9).is_some() && from(highest - 1e-9).is_some(), "{none:?}");
        assert!(from(lowest - 1e-6).is_none() && from(highest + 1e-6).is_none(), "{none:?}");
        // Heights are told above the floor, wherever the lens is now.
        let higher = stretch(1.7 - 0.4, 1.0 - 0.4, 0.5, -0.5).tightest(0.4);
        assert!((higher.height_to - none.height_to).abs() < Length::from_m(1e-12), "{higher:?}");
    }

    #[test]
    fn past_a_right_angle_only_heights_between_the_landmarks_do() {
        // Rows ±2 see 126.9°.
        let none = stretch(1.7, 1.0, 2.0, -2.0).tightest(0.0);
        assert!((none.height_from.to_m() - 1.0).abs() < 1e-12, "{none:?}");
        assert!((none.height_to.to_m() - 1.7).abs() < 1e-12, "{none:?}");
    }

    #[test]
    fn at_the_tightest_the_stretch_is_seen_under_the_widest_angle() {
        let (a, b) = (1.7, 1.0);
        let none = stretch(a, b, 0.5, -0.5).tightest(0.2);
        let seen = |p: f64| libm::atan(a / p) - libm::atan(b / p);
        let p = none.tightest_at.to_m();
        assert!((none.widest_angle.to_rad() - seen(p)).abs() < 1e-12, "{none:?}");
        assert!(seen(p * 1.01) < seen(p) && seen(p * 0.99) < seen(p), "{none:?}");
        assert!((none.asked_angle.to_rad() - 2.0 * libm::atan(0.5)).abs() < 1e-12, "{none:?}");
    }

    #[test]
    fn at_the_tightest_the_lower_row_reaches_down_to_what_is_told() {
        // From 1.2 m high to a mark 1.6 m above it and one 0.9 m: p = 1.2 m. The upper mark is 53.13° up (4 to 3), the rows
        // are 2 atan 0.5 = 53.13° apart, so the lower row is level and meets the subject at the lens's own height.
        let none = stretch(1.6, 0.9, 0.5, -0.5).tightest(1.2);
        assert!((none.tightest_at.to_m() - 1.2).abs() < 1e-12, "{none:?}");
        assert!((none.tightest_cut.expect("it meets").to_m() - 1.2).abs() < 1e-12, "{none:?}");
        // With the rows 45° apart (1/3 and 1/2 make a right triangle's half) it looks 8.13° up, a tangent of 1/7.
        let up = stretch(1.6, 0.9, 1.0 / 3.0, -0.5).tightest(1.2).tightest_cut.expect("it meets").to_m();
        assert!((up - (1.2 + 1.2 / 7.0)).abs() < 1e-12, "{up}");
    }

    #[test]
    fn a_lower_row_that_looks_past_straight_down_meets_nothing() {
        // Both marks below the lens, and rows 126.9° apart: the lower one looks behind the phone's foot.
        let none = stretch(-1.0, -1.7, 2.0, -2.0).tightest(2.0);
        assert_eq!(none.tightest_cut, None);
    }

    #[test]
    fn at_no_distance_nothing_is_met() {
        // The lens is as high as the lower mark, and 126.9° can be had of no vertical from its own foot.
        let it = stretch(1.0, 0.0, 2.0, -2.0);
        assert_eq!(it.solve_distance(), None);
        assert_eq!(it.tightest(1.0).tightest_cut, None);
    }

    /// The row on which a height above the lens is seen from `p_m` by a phone that looks up by `tilt_rad`.
    fn row_of(up_m: f64, p_m: f64, tilt_rad: f64) -> f64 {
        libm::tan(libm::atan2(up_m, p_m) - tilt_rad)
    }

    #[test]
    fn a_tilted_look_moves_the_crop_up_or_down_as_far_as_it_must() {
        let it = stretch(0.5, -0.3, 0.2, -0.25);
        for tilt_deg in [-20.0_f64, -5.0, 5.0, 20.0] {
            let tilt = tilt_deg.to_radians();
            let look = solve_fixed_look(&it, tilt, 1.0).expect("a distance");
            let (top, cut) = (row_of(it.top_m, look.p_m, tilt), row_of(it.cut_m, look.p_m, tilt));
            assert!((top - (it.top_row + look.centre)).abs() < 1e-12, "{tilt_deg}: {look:?}");
            assert!((cut - (it.cut_row + look.centre)).abs() < 1e-12, "{tilt_deg}: {look:?}");
            // With less room it goes to the end of it, and keeps the lower row.
            let room = look.centre.abs() / 2.0;
            let less = solve_fixed_look(&it, tilt, room).expect("a distance");
            assert!((less.centre - look.centre / 2.0).abs() < 1e-12, "{tilt_deg}: {less:?}");
            let cut = row_of(it.cut_m, less.p_m, tilt);
            assert!((cut - (it.cut_row + less.centre)).abs() < 1e-12, "{tilt_deg}: {less:?}");
        }
    }

    #[test]
    fn a_look_that_meets_the_cut_only_at_the_lens_misses() {
        assert_eq!(solve_fixed_look(&stretch(0.5, 0.0, 0.2, -0.25), 0.3, 0.0), None);
    }

    #[test]
    fn a_look_that_meets_the_cut_only_behind_the_phone_misses() {
        // 60° down, and the lower row 45° below that: it points 15° backwards, away from a mark above the lens.
        let down = (-60.0_f64).to_radians();
        for (top, cut) in [(1.0, 0.5), (2.5, 2.0)] {
            assert_eq!(solve_fixed_look(&stretch(top, cut, 0.5, -1.0), down, 0.0), None, "{cut} m above it");
        }
    }

    proptest! {
        /// Whatever the look, what is solved is seen before the lens and on the rows that were asked.
        #[test]
        fn a_fixed_look_puts_both_landmarks_on_their_rows(
            top in -3.0..3.0_f64, tall in 0.05..2.0_f64, up in 0.05..1.0_f64, down in 0.05..1.0_f64, tilt_deg in -80.0..80.0_f64,
        ) {
            let it = stretch(top, top - tall, up, -down);
            let tilt = tilt_deg.to_radians();
            let Some(look) = solve_fixed_look(&it, tilt, f64::INFINITY) else { return Ok(()) };
            prop_assert!(look.p_m > 0.0, "{look:?}");
            let depth = |up_m: f64| look.p_m * libm::cos(tilt) + up_m * libm::sin(tilt);
            prop_assert!(depth(it.cut_m) > 0.0, "{look:?}");
            let slack = |row: f64| 1e-6 * (1.0 + row * row);
            let cut = row_of(it.cut_m, look.p_m, tilt);
            prop_assert!((cut - (it.cut_row + look.centre)).abs() < slack(cut), "{look:?}: {cut}");
            // Where no crop gives both, it stays where it was and the lower row is kept.
            if look.centre != 0.0 {
                let top = row_of(it.top_m, look.p_m, tilt);
                prop_assert!((top - (it.top_row + look.centre)).abs() < slack(top), "{look:?}: {top}");
            }
        }
    }
}
