//! The thing that an insert is of: a cup, on a table if it is on one, its handle to the image's right.

use glam::{DVec2, DVec3};
use staging::{Object, Support};
use units::Angle;

use crate::picture::{Shape, Surface};
use crate::set_piece::table;
use crate::workshop::{Workshop, matt};

const GLAZE: Surface = matt(0.62, 0.565, 0.475);
/// How many straight pieces make a handle look round.
const HANDLE_LINKS: u8 = 9;
const DRINK: Surface = matt(0.075, 0.040, 0.025);

/// A cup as high and wide as the object at the origin, turned to a lens at `lens`.
///
/// What is there anyway, such as the ground or a hand, is not the object's to draw.
pub(crate) fn object(object: Object, lens: DVec2) -> Vec<Shape> {
    let (size, foot) = (object.size.to_m(), object.support.top().to_m());
    let mut workshop = Workshop::at(DVec2::ZERO, Angle::from_components(lens.x, lens.y));
    if object.support == Support::Table {
        // Large things need large tables.
        table::make(&mut workshop, DVec3::new((2.2 * size).max(1.2), (1.6 * size).max(0.76), foot));
    }
    let place = |x: f64, z: f64| DVec3::new(x, 0.0, z) * size + DVec3::Z * foot;
    let (axis, radius) = (0.125, 0.375);
    let round = |radius: f64, up: f64| DVec3::new(radius, radius, up) * size;
    workshop.column(place(axis, 0.025), round(0.24, 0.025), GLAZE);
    workshop.ellipsoid(place(axis, 0.24), round(radius, 0.23), GLAZE);
    workshop.column(place(axis, 0.616), round(radius, 0.376), GLAZE);
    workshop.column(place(axis, 0.99), round(0.89 * radius, 0.010), DRINK);
    // Facing the lens, its own left is the image's right.
    let bend = |step: u8| {
        let angle = f64::from(step) / f64::from(HANDLE_LINKS) * 3.1 - 1.55;
        let thick = 0.040;
        (place(-0.235 - 0.225 * libm::cos(angle), 0.56 + 0.26 * libm::sin(angle)), thick * size)
    };
    for link in 0..HANDLE_LINKS {
        workshop.round_cone(bend(link), bend(link + 1), GLAZE);
    }
    workshop.into_shapes()
}

#[cfg(test)]
mod tests {
    use staging::{PhoneHeight, ShotSize, Subject};
    use units::Length;

    use super::*;
    use crate::bounds::tests::reach;

    #[test]
    fn the_cup_stands_on_the_table_that_framing_assumes() {
        let cup = Object::on_table(Length::from_m(0.12));
        let middle = Subject::Object(cup).phone_height(ShotSize::Insert, PhoneHeight::BySize);
        let shapes = object(cup, DVec2::new(0.0, -1.0));
        let (low, high) = reach(&shapes, DVec3::Z);
        assert!(low.abs() < 1e-9 && (high - middle.to_m() - 0.06).abs() < 1e-9, "{low} {high}");
    }

    #[test]
    fn under_a_cup_on_the_ground_or_in_a_hand_nothing_is_drawn() {
        for foot_m in [0.0, 0.9] {
            let support = Support::At(Length::from_m(foot_m));
            let shapes = object(Object { size: Length::from_m(0.12), support }, DVec2::new(0.0, -1.0));
            let (low, high) = reach(&shapes, DVec3::Z);
            assert!((low - foot_m).abs() < 1e-9 && (high - foot_m - 0.12).abs() < 1e-9, "{low} {high}");
            let (left, right) = reach(&shapes, DVec3::X);
            assert!(right - left < 0.13, "{left} {right}");
        }
    }

    #[test]
    fn the_cup_is_as_wide_as_it_is_high_and_its_handle_is_on_the_right() {
        let thing = Object { size: Length::from_m(0.1), support: Support::GROUND };
        let cup = object(thing, DVec2::new(0.0, -1.0));
        let (left, right) = reach(&cup, DVec3::X);
        assert!((right - left - 0.1).abs() < 0.002 && (right + left).abs() < 0.002, "{left} {right}");
        // A lens in the south has east on its right.
        let is_link = |shape: &&Shape| matches!(shape.solid, crate::picture::Solid::RoundCone { .. });
        let handle: Vec<_> = cup.iter().filter(is_link).collect();
        assert_eq!(handle.len(), usize::from(HANDLE_LINKS));
        for link in handle {
            assert!(link.solid.interval(DVec3::X).0 > 0.0, "{link:?}");
        }
    }
}
