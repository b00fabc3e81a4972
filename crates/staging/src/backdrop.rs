//! A photo of the place as what is seen behind everything: which point of the place each of its pixels stands for.
//!
//! Of what it shows only where it was taken from is known, so the place is taken for its floor and, as far away as what
//! stands behind is, a round wall. From where the photo was taken every point is then seen in its own direction, whatever
//! the wall's distance is; from elsewhere it is right for the floor, and for the rest up to parallax.

use glam::{DVec2, DVec3};
use optics::ViewTangents;
use units::Length;

use crate::camera::{Camera, Seen};

/// A photo of the place, seen behind everything.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Backdrop {
    /// Which photo, by number.
    pub photo: u64,
    /// Where it was taken from and which way it looked; it may be rolled.
    pub camera: Camera,
    /// The whole photo's edges.
    pub view: ViewTangents,
    /// How far from where it was taken, along the floor, what stands behind is: longer than nothing.
    pub far: Length,
}

/// Directions nearer to straight up or down than this meet the wall as if they were this far from it: chosen well below
/// what a picture could show.
const STEEPEST: f64 = 1.0e-9;
/// Rays of a frame along each side of it: chosen because the share that they tell is within a hundredth for straight edges.
const RAYS_PER_SIDE: u32 = 32;

impl Backdrop {
    /// The point of the place that a ray from `origin` meets: the floor within the wall, else the wall's inner side. None
    /// if it comes from outside and meets neither, or floor outside first.
    ///
    /// ```text
    /// floor  t = −o_z / d_z, d_z < 0
    /// wall   t = (−b ± √(b² − a c)) / a,   a = |d_h|², b = o_h · d_h, c = |o_h|² − far²
    /// ```
    /// `o` the ray's origin and `d` its direction, of any length; `o_h`, `d_h` their parts along the floor, from where the
    /// photo was taken (m). A wall is left at the larger `t` and, from outside, entered at the smaller.
    ///
    /// # Source
    /// Geometry: a line and a circle.
    pub fn meets(&self, origin: DVec3, direction: DVec3) -> Option<DVec3> {
        let from = origin.truncate() - self.camera.position().truncate();
        let along = direction.truncate();
        let far = self.far.to_m();
        let steepest = STEEPEST * direction.length();
        let along = if along.length() < steepest { DVec2::X * steepest } else { along };
        let (a, b, c) = (along.length_squared(), from.dot(along), from.length_squared() - far * far);
        let square = b * b - a * c;
        if square < 0.0 {
            return None;
        }
        let (enters, leaves) = ((-b - square.sqrt()) / a, (square.sqrt() - b) / a);
        if leaves < 0.0 {
            return None;
        }
        if direction.z < 0.0 {
            let floor = -origin.z / direction.z;
            if floor < enters.max(0.0) {
                return None;
            }
            if floor <= leaves {
                let point = origin + direction * floor;
                return Some(point.truncate().extend(0.0));
            }
        }
        Some((origin.truncate() + along * leaves).extend(origin.z + direction.z * leaves))
    }

    /// Where the photo shows a point of the place; none if it is outside its edges or behind where it was taken.
    pub fn shows(&self, point: DVec3) -> Option<Seen> {
        let ViewTangents { left, right, up, down } = self.view;
        let is_within =
            |seen: &Seen| (-left..=right).contains(&seen.right) && (-down..=up).contains(&seen.up);
        self.camera.see(point).filter(is_within)
    }

    /// The share of a frame that the photo covers, 0 to 1: of a grid of rays through the middle of the lens.
    pub fn covers(&self, camera: &Camera, view: &ViewTangents) -> f64 {
        let rays = f64::from(RAYS_PER_SIDE);
        let share = |ray: u32| (f64::from(ray) + 0.5) / rays;
        let is_covered = |across: u32, down: u32| {
            let right = view.width() * share(across) - view.left;
            let up = view.up - view.height() * share(down);
            let direction = camera.forward() + camera.right() * right + camera.up() * up;
            self.meets(camera.position(), direction).and_then(|point| self.shows(point)).is_some()
        };
        let covered = (0..RAYS_PER_SIDE)
            .flat_map(|down| (0..RAYS_PER_SIDE).map(move |across| (across, down)))
            .map(|(across, down)| f64::from(u8::from(is_covered(across, down))))
            .sum::<f64>();
        covered / (rays * rays)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use units::Angle;

    use super::*;

    fn camera(azimuth_deg: f64, tilt_deg: f64) -> Camera {
        let place = DVec3::new(2.0, -1.0, 1.4);
        Camera::new(place, Angle::from_deg(azimuth_deg), Angle::from_deg(tilt_deg))
    }

    fn view(half_across: f64, half_up: f64) -> ViewTangents {
        ViewTangents { left: half_across, right: half_across, up: half_up, down: half_up }
    }

    fn backdrop() -> Backdrop {
        Backdrop {
            photo: 7,
            camera: Camera::rolled(
                DVec3::new(2.0, -1.0, 1.4),
                Angle::from_deg(30.0),
                Angle::from_deg(-4.0),
                Angle::from_deg(3.0),
            ),
            view: view(1.3, 0.97),
            far: Length::from_m(18.0),
        }
    }

    fn assert_share(ours: f64, expected: f64) {
        assert!((ours - expected).abs() < 1e-12, "{ours} is not {expected}");
    }

    #[test]
    fn a_photo_covers_its_own_frame_wholly() {
        let backdrop = backdrop();
        assert_share(backdrop.covers(&backdrop.camera, &backdrop.view), 1.0);
    }

    #[test]
    fn a_frame_turned_right_away_is_not_covered() {
        let backdrop = backdrop();
        assert_share(backdrop.covers(&camera(210.0, 0.0), &view(0.4, 0.3)), 0.0);
    }

    #[test]
    fn a_narrower_frame_within_is_covered_wherever_it_looks_in_it() {
        for (azimuth, tilt) in [(30.0, 0.0), (10.0, 8.0), (50.0, -20.0)] {
            assert_share(backdrop().covers(&camera(azimuth, tilt), &view(0.3, 0.2)), 1.0);
        }
    }

    #[test]
    fn half_a_frame_is_covered_where_it_is_turned_by_half_the_photo() {
        let backdrop = Backdrop { camera: camera(0.0, 0.0), ..backdrop() };
        let edge = libm::atan(backdrop.view.right).to_degrees();
        let share = backdrop.covers(&camera(edge, 0.0), &view(0.2, 0.2));
        assert!((share - 0.5).abs() < 0.02, "{share}");
    }

    #[test]
    fn a_look_down_meets_the_floor_and_a_level_one_the_wall() {
        let backdrop = backdrop();
        let origin = backdrop.camera.position();
        let floor = backdrop.meets(origin, DVec3::new(0.0, 2.0, -1.4)).expect("the floor");
        assert!(floor.distance(DVec3::new(2.0, 1.0, 0.0)) < 1e-12, "{floor}");
        let wall = backdrop.meets(origin, DVec3::new(0.0, 5.0, 0.5)).expect("the wall");
        assert!(wall.distance(DVec3::new(2.0, 17.0, 3.2)) < 1e-12, "{wall}");
        let foot = backdrop.meets(origin, DVec3::new(0.0, 30.0, -1.4)).expect("the wall");
        assert!((foot.y - 17.0).abs() < 1e-12 && (0.0..1.4).contains(&foot.z), "{foot}");
    }

    #[test]
    fn straight_up_and_straight_down_are_directions_like_others() {
        let backdrop = backdrop();
        let origin = backdrop.camera.position();
        let up = backdrop.meets(origin, DVec3::Z * 0.3).expect("the wall") - origin;
        assert!(up.normalize().distance(DVec3::Z) < 1e-8, "{up}");
        assert_eq!(backdrop.meets(origin, -DVec3::Z), Some(origin.truncate().extend(0.0)));
    }

    #[test]
    fn from_outside_the_wall_its_far_side_is_met_or_nothing() {
        let backdrop = backdrop();
        let outside = DVec3::new(2.0, -31.0, 1.5);
        let wall = backdrop.meets(outside, DVec3::Y).expect("the far side");
        assert!(wall.distance(DVec3::new(2.0, 17.0, 1.5)) < 1e-9, "{wall}");
        for direction in [DVec3::X, -DVec3::Y, DVec3::new(0.0, 6.0, -1.5)] {
            assert_eq!(backdrop.meets(outside, direction), None, "{direction}");
        }
        assert!(backdrop.meets(outside, DVec3::new(0.0, 20.0, -1.5)).is_some_and(|point| point.z == 0.0));
    }

    proptest! {
        #[test]
        fn from_the_photos_own_place_what_it_covers_does_not_depend_on_how_far_the_wall_is(
            azimuth in 0.0..60.0_f64, tilt in -24.0..16.0_f64, half in 0.02..0.25_f64, far in 0.5..5000.0_f64,
        ) {
            let backdrop = Backdrop { far: Length::from_m(far), ..backdrop() };
            let frame = camera(azimuth, tilt);
            // Whether the frame is within the photo's edges, asked of its corners alone.
            let is_within = [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)].into_iter().all(|(right, up)| {
                let corner = frame.forward() + (frame.right() * right + frame.up() * up) * half;
                backdrop.shows(frame.position() + corner * 1.0e6).is_some()
            });
            if is_within {
                let share = backdrop.covers(&frame, &view(half, half));
                prop_assert!((share - 1.0).abs() < 1e-12, "{share}");
            }
            let share = backdrop.covers(&frame, &view(half, half));
            let elsewhere = Backdrop { far: Length::from_m(30.0), ..backdrop };
            prop_assert!((share - elsewhere.covers(&frame, &view(half, half))).abs() < 2e-3);
        }

        #[test]
        fn a_pixel_of_the_photo_is_seen_again_where_it_is(
            right in -1.29..1.29_f64, up in -0.96..0.96_f64, far in 0.5..5000.0_f64,
        ) {
            let backdrop = Backdrop { far: Length::from_m(far), ..backdrop() };
            let direction =
                backdrop.camera.forward() + backdrop.camera.right() * right + backdrop.camera.up() * up;
            let point = backdrop.meets(backdrop.camera.position(), direction).expect("from within");
            let seen = backdrop.shows(point).expect("within its edges");
            prop_assert!((seen.right - right).abs() < 1e-9 && (seen.up - up).abs() < 1e-9, "{:?}", seen);
            prop_assert!(point.z >= -1e-9, "{point}");
        }

        #[test]
        fn what_is_met_lies_on_the_ray_and_on_the_floor_or_the_wall(
            x in -40.0..40.0_f64, y in -40.0..40.0_f64, azimuth in 0.0..360.0_f64, tilt in -89.0..89.0_f64,
        ) {
            let backdrop = backdrop();
            let origin = DVec3::new(x, y, 1.5);
            let direction = Camera::new(origin, Angle::from_deg(azimuth), Angle::from_deg(tilt)).forward();
            if let Some(point) = backdrop.meets(origin, direction) {
                let off = point - origin;
                prop_assert!(off.dot(direction) >= 0.0 && off.cross(direction).length() < 1e-6 * off.length().max(1.0));
                let away = (point - backdrop.camera.position()).truncate().length();
                let is_wall = (away - 18.0).abs() < 1e-6;
                prop_assert!(is_wall || (point.z == 0.0 && away <= 18.0 + 1e-9), "{point}");
            }
        }
    }
}
