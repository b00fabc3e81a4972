//! Posts of known size that show how soft a background is.

use glam::DVec3;
use staging::{POST_SPACING, Posts};
use units::Angle;

use crate::picture::{Shape, Surface};
use crate::workshop::{Workshop, matt};

/// A post is 0.1 m wide from wherever it is seen, because it is round.
const HALF_WIDTH_M: f64 = 0.05;
const HEIGHT_M: f64 = 2.2;
/// Two tones by turns, lighter and darker than the floor and the sky.
const TONES: [Surface; 2] = [matt(0.62, 0.58, 0.51), matt(0.085, 0.080, 0.076)];

/// A row of posts.
pub(crate) fn posts(posts: &Posts) -> Vec<Shape> {
    // The row lies along the workshop's x.
    let facing = Angle::from_components(-posts.along.y, posts.along.x);
    let mut workshop = Workshop::at(posts.middle, facing);
    let half = DVec3::new(HALF_WIDTH_M, HALF_WIDTH_M, HEIGHT_M / 2.0);
    let [light, dark] = TONES;
    for number in 0..=posts.on_each_side {
        let surface = if number.is_multiple_of(2) { light } else { dark };
        let right = f64::from(number) * POST_SPACING.to_m();
        workshop.column(DVec3::new(right, 0.0, half.z), half, surface);
        if number > 0 {
            workshop.column(DVec3::new(-right, 0.0, half.z), half, surface);
        }
    }
    workshop.into_shapes()
}

#[cfg(test)]
mod tests {
    use glam::DVec2;

    use super::*;

    #[test]
    fn posts_stand_every_half_metre_along_the_row_and_are_a_tenth_wide() {
        let along = DVec2::new(0.6, -0.8);
        let middle = DVec2::new(2.0, 7.0);
        let row = posts(&Posts { middle, along, on_each_side: 3 });
        assert_eq!(row.len(), 7);
        let direction = along.extend(0.0);
        let mut places: Vec<_> = row
            .iter()
            .map(|post| {
                let (from, to) = post.solid.interval(direction);
                assert!((to - from - 0.1).abs() < 1e-12, "{from} {to}");
                assert!(post.solid.interval(DVec3::Z).0.abs() < 1e-12, "{post:?}");
                f64::midpoint(from, to) - middle.dot(along)
            })
            .collect();
        places.sort_unstable_by(f64::total_cmp);
        for (place, expected) in places.iter().zip([-1.5, -1.0, -0.5, 0.0, 0.5, 1.0, 1.5]) {
            assert!((place - expected).abs() < 1e-12, "{place} {expected}");
        }
    }

    #[test]
    fn neighbours_differ_in_tone() {
        let row = posts(&Posts { middle: DVec2::ZERO, along: DVec2::X, on_each_side: 2 });
        let right: Vec<_> = row.iter().filter(|post| post.solid.interval(DVec3::X).1 > 0.0).collect();
        assert_eq!(right.len(), 3, "{right:?}");
        for pair in right.windows(2) {
            if let [one, next] = pair {
                assert_ne!(one.surface, next.surface);
            }
        }
    }
}
