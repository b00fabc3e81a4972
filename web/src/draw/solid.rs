//! Ellipsoids and what is spanned between them: the outlines that they have in the picture, exactly.
//!
//! A limb, a trunk or a pot is a chain of ellipsoids; between neighbours it fills what their hull fills. A projection
//! keeps hulls, so the outline of a link is the convex hull of two outlines.

use std::f64::consts::{PI, TAU};

use glam::{DVec2, DVec3};

use crate::draw::perspective::{NEAREST_M, Perspective};

/// An ellipsoid in the phone's own directions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ellipsoid {
    pub(super) centre: DVec3,
    /// Half axes, at right angles to each other, none of length 0.
    pub(super) axes: [DVec3; 3],
}

impl Ellipsoid {
    /// A point given in half axes from the centre.
    pub(super) fn at(&self, share: DVec3) -> DVec3 {
        self.centre + self.axes[0] * share.x + self.axes[1] * share.y + self.axes[2] * share.z
    }

    /// The depth of its nearest point.
    fn nearest(&self) -> f64 {
        let [a, b, c] = self.axes;
        self.centre.z - DVec3::new(a.z, b.z, c.z).length()
    }

    /// Where the lens is, given in half axes from the centre.
    fn lens(&self) -> DVec3 {
        let along = |axis: DVec3| -self.centre.dot(axis) / axis.length_squared();
        DVec3::new(along(self.axes[0]), along(self.axes[1]), along(self.axes[2]))
    }

    /// How many corners make its outline look round: more the larger it is drawn.
    ///
    /// A regular polygon of n corners leaves a circle by r (1 − cos π/n) ≈ r π² / 2n²; 0.3 px are not seen.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 8..=96")]
    fn corners(&self, perspective: &Perspective) -> usize {
        let [a, b, c] = self.axes;
        let reach = a.length_squared().max(b.length_squared()).max(c.length_squared()).sqrt();
        let radius_px = reach * perspective.px_per_m(self.centre.z);
        (PI * (radius_px / 0.6).sqrt()).clamp(8.0, 96.0).ceil() as usize
    }

    /// Appends its outline; nothing if it is behind or too near the lens.
    ///
    /// In half axes the ellipsoid is the unit sphere, and a lens at `e` sees as its rim the circle around e / |e|² of
    /// radius √(1 − 1/|e|²) in the plane across `e`.
    pub(super) fn outline(&self, perspective: &Perspective, outline: &mut Vec<DVec2>) {
        if self.nearest() <= NEAREST_M {
            return;
        }
        let rim = Circle::rim(self.lens());
        rim.walk(self.corners(perspective), |share| outline.push(perspective.project(self.at(share))));
    }

    /// Appends the outline of the part that is on the far side of a plane across it, as hair on a head: the plane is
    /// `normal · share = offset` in half axes, `normal` of length 1, |offset| < 1.
    pub(super) fn cap_outline(
        &self,
        perspective: &Perspective,
        normal: DVec3,
        offset: f64,
        outline: &mut Vec<DVec2>,
    ) {
        if self.nearest() <= NEAREST_M {
            return;
        }
        let lens = self.lens();
        let corners = self.corners(perspective);
        let rim = Circle::rim(lens);
        let cut = Circle::across(normal, normal * offset);
        let mut push = |share: DVec3| outline.push(perspective.project(self.at(share)));
        // Of the rim, what is on the cap; of the cut, what faces the lens. Where both are arcs they close the outline.
        let on_cap = |share: DVec3| normal.dot(share) - offset;
        let to_lens = |share: DVec3| lens.dot(share) - 1.0;
        match (rim.arc(normal, offset), cut.arc(lens, 1.0)) {
            (Some(on_rim), Some(on_cut)) => {
                rim.walk_arc(on_rim, corners, &mut push);
                // The second arc starts where the first one ended, whichever way round that is.
                let end = rim.point(on_rim.1);
                let forward = (cut.point(on_cut.0) - end).length_squared()
                    <= (cut.point(on_cut.1) - end).length_squared();
                let on_cut = if forward { on_cut } else { (on_cut.1, on_cut.0) };
                cut.walk_arc(on_cut, corners, &mut push);
            }
            _ if on_cap(rim.point(0.0)) > 0.0 => rim.walk(corners, push),
            _ if to_lens(cut.point(0.0)) > 0.0 => cut.walk(corners, push),
            _ => {}
        }
    }

    /// A smaller one that touches it from within where it reaches farthest toward `direction`.
    pub(super) fn inscribed(&self, share: f64, direction: DVec3) -> Self {
        let toward = self.axes.map(|axis| axis.dot(direction));
        let toward = DVec3::from_array(toward).normalize_or_zero();
        Self { centre: self.at(toward * (1.0 - share)), axes: self.axes.map(|axis| axis * share) }
    }
}

/// A circle on the unit sphere.
#[derive(Clone, Copy)]
struct Circle {
    centre: DVec3,
    /// Two radii at right angles.
    radii: [DVec3; 2],
}

impl Circle {
    /// What a lens at `lens` sees as the sphere's rim.
    fn rim(lens: DVec3) -> Self {
        let square = lens.length_squared().max(1.0 + 1.0e-9);
        Self::across(lens / square.sqrt(), lens / square)
    }

    /// The circle around `centre`, in the plane across `normal`.
    fn across(normal: DVec3, centre: DVec3) -> Self {
        let radius = (1.0 - centre.length_squared()).max(0.0).sqrt();
        let first = normal.any_orthonormal_vector();
        Self { centre, radii: [first * radius, normal.cross(first) * radius] }
    }

    fn point(&self, angle: f64) -> DVec3 {
        self.centre + self.radii[0] * libm::cos(angle) + self.radii[1] * libm::sin(angle)
    }

    /// All the way around.
    fn walk(&self, corners: usize, push: impl FnMut(DVec3)) {
        self.walk_steps(0.0, TAU, corners, push);
    }

    /// From one angle to another, both ends included.
    fn walk_arc(&self, (from, to): (f64, f64), corners: usize, mut push: impl FnMut(DVec3)) {
        self.walk_steps(from, to - from, corners, &mut push);
        push(self.point(to));
    }

    /// `steps` points from an angle on, without the last; turned step by step, which spares two sines a point.
    fn walk_steps(&self, from: f64, sweep: f64, steps: usize, mut push: impl FnMut(DVec3)) {
        let step = sweep / count(steps);
        let (cos_step, sin_step) = (libm::cos(step), libm::sin(step));
        let (mut cos, mut sin) = (libm::cos(from), libm::sin(from));
        for _ in 0..steps {
            push(self.centre + self.radii[0] * cos + self.radii[1] * sin);
            (cos, sin) = (cos * cos_step - sin * sin_step, sin * cos_step + cos * sin_step);
        }
    }

    /// The angles between which it is beyond the plane `normal · p = offset`; none if it does not cross it.
    ///
    /// With a = normal · first radius, b = normal · second: a cos t + b sin t = R cos(t − φ) exceeds m within ± acos m/R
    /// of φ.
    fn arc(&self, normal: DVec3, offset: f64) -> Option<(f64, f64)> {
        let (a, b) = (normal.dot(self.radii[0]), normal.dot(self.radii[1]));
        let reach = (a * a + b * b).sqrt();
        let missing = offset - normal.dot(self.centre);
        if reach <= missing.abs() {
            return None;
        }
        let (middle, half) = (libm::atan2(b, a), libm::acos(missing / reach));
        Some((middle - half, middle + half))
    }
}

#[expect(clippy::cast_precision_loss, reason = "at most 96")]
fn count(steps: usize) -> f64 {
    steps as f64
}

/// Replaces `hull` by the convex hull of `points`, which are sorted on the way; always the same way round.
///
/// Monotone chain: lower side from left to right, then upper side back.
pub(super) fn convex_hull(points: &mut [DVec2], hull: &mut Vec<DVec2>) {
    hull.clear();
    points.sort_unstable_by(|one, other| one.x.total_cmp(&other.x).then(one.y.total_cmp(&other.y)));
    let mut side = |floor: usize, point: DVec2| {
        while let [.., before, last] = hull[floor..] {
            if (last - before).perp_dot(point - last) > 0.0 {
                break;
            }
            hull.pop();
        }
        hull.push(point);
        hull.len()
    };
    let mut lower = 0;
    for point in points.iter() {
        lower = side(0, *point);
    }
    // The way back starts at the rightmost point, which both sides share.
    for point in points.iter().rev().skip(1) {
        side(lower.saturating_sub(1), *point);
    }
    if hull.len() > 1 {
        // It ends where it began.
        hull.pop();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::perspective::tests::looking_north;

    fn ball(centre: DVec3, radius: f64) -> Ellipsoid {
        Ellipsoid { centre, axes: [DVec3::X * radius, DVec3::Y * radius, DVec3::Z * radius] }
    }

    fn extent(outline: &[DVec2]) -> (DVec2, DVec2) {
        let low = outline.iter().copied().reduce(DVec2::min).expect("points");
        let high = outline.iter().copied().reduce(DVec2::max).expect("points");
        (low, high)
    }

    #[test]
    fn a_ball_on_the_axis_is_as_large_as_its_tangents_say() {
        let perspective = looking_north(0.0);
        let mut outline = Vec::new();
        ball(DVec3::new(0.0, 0.0, 2.0), 0.3).outline(&perspective, &mut outline);
        let (low, high) = extent(&outline);
        // A tangent to a ball of radius r at distance d: r / √(d² − r²).
        let expected = 2.0 * 0.3 / f64::sqrt(4.0 - 0.09) * 1000.0;
        assert!(((high.x - low.x) - expected).abs() < 1.0, "{} {expected}", high.x - low.x);
    }

    #[test]
    fn a_ball_off_the_axis_is_drawn_wider() {
        let perspective = looking_north(0.0);
        let mut outline = Vec::new();
        ball(DVec3::new(1.2, 0.0, 2.0), 0.3).outline(&perspective, &mut outline);
        let (low, high) = extent(&outline);
        assert!(high.x - low.x > 1.1 * (high.y - low.y), "{low} {high}");
    }

    #[test]
    fn what_touches_the_lens_is_dropped() {
        let mut outline = Vec::new();
        ball(DVec3::new(0.0, 0.0, 0.3), 0.28).outline(&looking_north(0.0), &mut outline);
        assert!(outline.is_empty(), "{outline:?}");
    }

    #[test]
    fn an_inscribed_ellipsoid_stays_inside_and_touches() {
        let perspective = looking_north(0.0);
        let whole =
            Ellipsoid { centre: DVec3::new(0.0, 0.0, 9.0), axes: [DVec3::X * 0.5, DVec3::Y, DVec3::Z * 0.2] };
        let (mut outer, mut inner) = (Vec::new(), Vec::new());
        whole.outline(&perspective, &mut outer);
        whole.inscribed(0.6, DVec3::X).outline(&perspective, &mut inner);
        let ((low, high), (low_inner, high_inner)) = (extent(&outer), extent(&inner));
        assert!(
            (high.x - high_inner.x).abs() < 0.5 && low_inner.x > low.x + 20.0,
            "{low_inner} {high_inner}"
        );
    }

    #[test]
    fn a_cap_seen_from_above_is_the_whole_outline_and_from_below_nothing() {
        let perspective = looking_north(0.0);
        let head = ball(DVec3::new(0.0, 0.0, 2.0), 0.3);
        let toward_lens = DVec3::NEG_Z;
        let (mut whole, mut cap) = (Vec::new(), Vec::new());
        head.outline(&perspective, &mut whole);
        head.cap_outline(&perspective, toward_lens, -0.5, &mut cap);
        assert_eq!(whole.len(), cap.len());
        cap.clear();
        head.cap_outline(&perspective, -toward_lens, 0.5, &mut cap);
        assert!(cap.is_empty(), "{cap:?}");
    }

    #[test]
    fn a_cap_across_the_view_is_the_upper_part() {
        let perspective = looking_north(0.0);
        let head = ball(DVec3::new(0.0, 0.0, 2.0), 0.3);
        let mut cap = Vec::new();
        head.cap_outline(&perspective, DVec3::Y, 0.0, &mut cap);
        let (low, high) = extent(&cap);
        assert!(high.y < 251.0 && low.y < 105.0, "{low} {high}");
        // The two arcs join: no step around the outline is longer than a few corners' worth.
        let longest =
            cap.iter().zip(cap.iter().cycle().skip(1)).map(|(a, b)| a.distance(*b)).fold(0.0, f64::max);
        assert!(longest < 40.0, "{longest}");
    }

    #[test]
    fn the_hull_of_a_square_with_points_inside_is_the_square() {
        let mut points: Vec<_> =
            [(0.0, 0.0), (4.0, 0.0), (2.0, 1.0), (4.0, 4.0), (1.0, 3.0), (0.0, 4.0), (2.0, 0.0)]
                .into_iter()
                .map(DVec2::from)
                .collect();
        let mut hull = Vec::new();
        convex_hull(&mut points, &mut hull);
        assert_eq!(hull, [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)].map(DVec2::from));
    }

    #[test]
    fn hulls_of_nothing_and_of_one_point_are_themselves() {
        let mut hull = vec![DVec2::ONE];
        convex_hull(&mut [], &mut hull);
        assert!(hull.is_empty(), "{hull:?}");
        convex_hull(&mut [DVec2::ONE], &mut hull);
        assert_eq!(hull, [DVec2::ONE]);
    }
}
