//! People: plain mannequins from the landmarks of their bodies.
//!
//! Heights come from the landmarks. Breadths and depths that no landmark gives are shares of stature from memory of
//! figure drawing. The eyes are straight above the person's place, because framing puts all landmarks on one vertical;
//! the rest of a body stands a hand's breadth behind its eyes.

mod dress;
mod face;
mod gait;
mod hand;
mod head;
mod joints;
mod limbs;
mod trunk;

use staging::{Person, Posture};

use crate::picture::Shape;
use crate::workshop::Workshop;
use dress::Dress;
use head::Head;
use joints::Joints;

/// Over what distance lumps of skin and cloth melt into each other, as a share of stature: chosen by eye.
const MELTS: f64 = 0.012;

/// A person, and how far they get in `exposure_s` seconds.
pub(crate) fn figure(person: &Person, exposure_s: f64) -> Vec<Shape> {
    let mut workshop = Workshop::moving(person.place, person.facing, person.velocity * exposure_s);
    let body = &person.body;
    let dress = Dress::of(person.clothes);
    let joints = Joints::of(body, person.stance);
    let head = Head::of(body);
    workshop.melt(MELTS * joints.stature);
    head.make(&mut workshop, &dress);
    face::make(&mut workshop, &head, &dress);
    trunk::make(&mut workshop, body, &joints, &head, &dress);
    for arm in &joints.arms {
        limbs::make_arm(&mut workshop, joints.stature, arm, &dress);
    }
    for leg in &joints.legs {
        limbs::make_leg(&mut workshop, joints.stature, leg, &dress);
    }
    if body.posture == Posture::Seated {
        trunk::make_stool(&mut workshop, body, &dress);
    }
    workshop.into_shapes()
}

#[cfg(test)]
mod tests {
    use glam::{DVec2, DVec3};
    use proptest::prelude::*;
    use staging::{Age, Body, Colour, Landmark, Stance};
    use units::{Angle, Length};

    use super::*;
    use crate::bounds::tests::reach;
    use crate::picture::{Solid, Surface};

    const CLOTHES: Colour = Colour([0.4, 0.1, 0.07]);

    fn person(body: Body, stance: Stance) -> Person {
        Person {
            body,
            stance,
            place: DVec2::ZERO,
            facing: Angle::ZERO,
            clothes: CLOTHES,
            velocity: DVec2::ZERO,
        }
    }

    fn bodies() -> impl Iterator<Item = Body> {
        [1.05, 1.25, 1.5, 1.7, 1.95].into_iter().flat_map(|stature| {
            let stature = Length::from_m(stature);
            [Posture::Standing, Posture::Seated]
                .into_iter()
                .flat_map(move |posture| [Age::Adult, Age::Child].map(|age| Body { stature, posture, age }))
        })
    }

    fn stances() -> impl Iterator<Item = Stance> {
        std::iter::once(Stance::Still).chain((0..20_u8).map(|step| Stance::Walking(f64::from(step) / 20.0)))
    }

    fn everybody() -> impl Iterator<Item = Person> {
        bodies().flat_map(|body| stances().map(move |stance| person(body, stance)))
    }

    /// The middles of the ellipsoids of a surface.
    fn middles(shapes: &[Shape], surface: Surface) -> Vec<DVec3> {
        shapes
            .iter()
            .filter(|shape| shape.surface == surface)
            .filter_map(|shape| match shape.solid {
                Solid::Ellipsoid { centre, .. } => Some(centre),
                Solid::RoundCone { .. } | Solid::Block { .. } | Solid::Cylinder { .. } => None,
            })
            .collect()
    }

    #[test]
    fn eyes_are_where_the_framing_has_them() {
        for person in everybody() {
            let eyes = middles(&figure(&person, 0.0), Dress::of(CLOTHES).eye);
            let [left, right] = *eyes.as_slice() else { panic!("{} eyes", eyes.len()) };
            let between = (left + right) / 2.0;
            let landmark = DVec3::Z * person.body.height_of(Landmark::Eyes).to_m();
            assert!(between.distance(landmark) < 1e-12, "{:?} {between} {landmark}", person.body);
            assert!((left.z - landmark.z).abs() < 1e-12 && right.x - left.x > 0.03, "{left} {right}");
        }
    }

    #[test]
    fn the_head_ends_at_crown_and_chin() {
        for person in everybody() {
            let shapes = figure(&person, 0.0);
            let (_, top) = reach(&shapes, DVec3::Z);
            let crown = person.body.height_of(Landmark::Crown).to_m();
            assert!((top - crown).abs() < 0.003, "{:?} {top} {crown}", person.body);
            // The chin is the lowest of the head's lumps of skin; hands, which are lower, and ears are no part of it.
            let skin = Dress::of(CLOTHES).skin;
            let chest = person.body.height_of(Landmark::Chest).to_m();
            let lumps = shapes.iter().filter(|shape| {
                shape.surface == skin
                    && matches!(shape.solid, Solid::Ellipsoid { .. })
                    && shape.solid.interval(DVec3::Z).0 > chest
            });
            let (low, _) = reach(lumps, DVec3::Z);
            let chin = person.body.height_of(Landmark::Chin).to_m();
            assert!((low - chin).abs() < 0.003, "{:?} {low} {chin}", person.body);
        }
    }

    #[test]
    fn nobody_sinks_into_the_floor_and_who_stands_touches_it() {
        for person in everybody() {
            let (low, _) = reach(&figure(&person, 0.0), DVec3::Z);
            assert!(low > -0.005 && low < 0.02, "{person:?} {low}");
        }
    }

    #[test]
    fn shoulders_are_as_broad_as_surveyed() {
        for body in bodies() {
            let shapes = figure(&person(body, Stance::Still), 0.0);
            let chest = body.height_of(Landmark::Chest).to_m();
            let upper = shapes.iter().filter(|shape| match shape.solid {
                // The ball of a shoulder, not the arm that hangs from it.
                Solid::RoundCone { from, .. } => from.z > chest,
                Solid::Ellipsoid { .. } | Solid::Block { .. } | Solid::Cylinder { .. } => false,
            });
            let widest = upper
                .filter_map(|shape| match shape.solid {
                    Solid::RoundCone { from, from_radius, .. } => Some(from.x + from_radius),
                    Solid::Ellipsoid { .. } | Solid::Block { .. } | Solid::Cylinder { .. } => None,
                })
                .fold(0.0, f64::max);
            let breadth = body.shoulder_breadth().to_m();
            assert!((2.0 * widest - breadth).abs() < 0.02, "{body:?} {widest} {breadth}");
        }
    }

    #[test]
    fn a_person_is_a_few_dozen_shapes() {
        for person in everybody() {
            let count = figure(&person, 0.0).len();
            assert!((45..=90).contains(&count), "{count}");
        }
    }

    #[test]
    fn irises_look_the_way_a_person_faces() {
        for facing_deg in [0.0, 90.0, 200.0] {
            let facing = Angle::from_deg(facing_deg);
            let body = Body::standing(Length::from_m(1.7));
            let shapes = figure(&Person { facing, ..person(body, Stance::Still) }, 0.0);
            let dress = Dress::of(CLOTHES);
            let ahead = DVec3::new(facing.sin(), facing.cos(), 0.0);
            let (eyes, irises) = (middles(&shapes, dress.eye), middles(&shapes, dress.iris));
            assert_eq!((eyes.len(), irises.len()), (2, 2));
            for (eye, iris) in eyes.into_iter().zip(irises) {
                let look = (iris - eye).normalize();
                assert!(look.distance(ahead) < 1e-9, "{facing_deg} {look} {ahead}");
            }
        }
    }

    #[test]
    fn a_walker_is_at_their_place_in_the_middle_of_the_exposure() {
        let velocity = DVec2::new(1.2, -0.4);
        let walker = Person { velocity, ..person(Body::standing(Length::from_m(1.7)), Stance::Walking(0.3)) };
        let still = figure(&Person { velocity: DVec2::ZERO, ..walker }, 0.02);
        for (shape, at_rest) in figure(&walker, 0.02).iter().zip(&still) {
            assert!(shape.moved.distance((velocity * 0.02).extend(0.0)) < 1e-12, "{shape:?}");
            let (from, rest) = (shape.solid.interval(DVec3::X).0, at_rest.solid.interval(DVec3::X).0);
            assert!((from + shape.moved.x / 2.0 - rest).abs() < 1e-9, "{from} {rest}");
        }
    }

    proptest! {
        #[test]
        fn turning_around_moves_nothing_up_or_down(facing_deg in 0.0..360.0_f64) {
            let body = Body::standing(Length::from_m(1.7));
            let ahead = figure(&person(body, Stance::Still), 0.0);
            let turned = Person { facing: Angle::from_deg(facing_deg), ..person(body, Stance::Still) };
            for (one, other) in ahead.iter().zip(figure(&turned, 0.0)) {
                let (one, other) = (one.solid.interval(DVec3::Z), other.solid.interval(DVec3::Z));
                prop_assert!((one.0 - other.0).abs() < 1e-9 && (one.1 - other.1).abs() < 1e-9);
            }
        }
    }
}
