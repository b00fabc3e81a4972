//! A head's measures and the ellipsoids that make it.
//!
//! Measures that no landmark gives are from memory of figure drawing, as shares of a head's breadth, length or height.

use glam::DVec3;
use staging::{Age, Body, Landmark};

use crate::draw::stance::Lump;

/// Pupils are about 63 mm apart on a head 152 mm broad.
const EYE_RIGHT: f64 = 0.207;
/// The face's front before the eyes, over head length.
pub(super) const FRONT: f64 = 0.06;

/// A head's measures, metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Head {
    pub(super) crown: f64,
    pub(super) brow: f64,
    pub(super) eyes: f64,
    pub(super) chin: f64,
    pub(super) collar: f64,
    pub(super) breadth: f64,
    pub(super) length: f64,
    pub(super) age: Age,
}

/// The ellipsoids of a head, in the person's own directions.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shapes {
    pub(super) skull: Lump,
    pub(super) cheeks: Lump,
    pub(super) jaw: Lump,
    pub(super) chin: Lump,
    pub(super) hair: Lump,
}

impl Head {
    pub(super) fn of(body: &Body) -> Self {
        let height = |landmark| body.height_of(landmark).to_m();
        Self {
            crown: height(Landmark::Crown),
            brow: height(Landmark::Brow),
            eyes: height(Landmark::Eyes),
            chin: height(Landmark::Chin),
            collar: height(Landmark::Collar),
            breadth: body.head_breadth().to_m(),
            length: body.head_length().to_m(),
            age: body.age,
        }
    }

    /// Chin to crown.
    pub(super) fn height(&self) -> f64 {
        self.crown - self.chin
    }
}

impl Shapes {
    pub(super) fn of(head: &Head) -> Self {
        let (height, breadth, length) = (head.height(), head.breadth, head.length);
        // A child's face is rounder and its jaw slighter.
        let (cheek, jaw) = match head.age {
            Age::Adult => (0.430, 0.300),
            Age::Child => (0.450, 0.290),
        };
        let middle = (FRONT - 0.5) * length;
        let skull_top = head.crown - 0.035 * height;
        let skull = DVec3::new(0.485 * breadth, 0.485 * length, 0.42 * height);
        let hair = DVec3::new(0.525 * breadth, 0.50 * length, 0.43 * height);
        Self {
            skull: Lump::new(DVec3::new(0.0, middle, skull_top - skull.z), skull),
            cheeks: Lump::new(
                DVec3::new(0.0, (FRONT - 0.34) * length, head.chin + 0.40 * height),
                DVec3::new(cheek * breadth, 0.31 * length, 0.18 * height),
            ),
            jaw: Lump::new(
                DVec3::new(0.0, (FRONT - 0.28) * length, head.chin + 0.17 * height),
                DVec3::new(jaw * breadth, 0.23 * length, 0.13 * height),
            ),
            chin: Lump::new(
                DVec3::new(0.0, (FRONT - 0.16) * length, head.chin + 0.070 * height),
                DVec3::new(0.6 * jaw * breadth, 0.14 * length, 0.070 * height),
            ),
            hair: Lump::new(DVec3::new(0.0, middle - 0.025 * length, head.crown - hair.z), hair),
        }
    }
}

/// The middle of an eye: straight above the feet but for its side, so that both are where the framing puts the eyes.
pub(super) fn eye_middle(head: &Head, side: f64) -> DVec3 {
    DVec3::new(side * EYE_RIGHT * head.breadth, 0.0, head.eyes)
}

#[cfg(test)]
mod tests {
    use units::{Angle, Length};

    use super::*;
    use crate::draw::perspective::tests::looking_north;
    use crate::draw::stance::Stance;

    #[test]
    fn eyes_are_drawn_where_the_landmark_is_seen() {
        let perspective = looking_north(-4.0);
        let body = Body::standing(Length::from_m(1.7));
        let feet = DVec3::new(0.3, 2.0, 0.0);
        let landmark =
            perspective.see(feet + DVec3::Z * body.height_of(Landmark::Eyes).to_m()).expect("ahead");
        let head = Head::of(&body);
        for facing in [180.0, 150.0, 95.0] {
            let stance = Stance::new(&perspective.camera, feet, Angle::from_deg(facing));
            let [left, right] = [-1.0, 1.0].map(|side| stance.point(eye_middle(&head, side)));
            let between = perspective.project((left + right) / 2.0);
            assert!(between.distance(landmark) < 1e-9, "{facing}: {between} {landmark}");
        }
    }

    #[test]
    fn hair_ends_at_the_crown() {
        let head = Head::of(&Body::standing(Length::from_m(1.7)));
        let shapes = Shapes::of(&head);
        assert!((shapes.hair.at.z + shapes.hair.radii.z - head.crown).abs() < 1e-12, "{shapes:?}");
        assert!(shapes.skull.at.z + shapes.skull.radii.z < head.crown, "{shapes:?}");
        assert!((shapes.chin.at.z - shapes.chin.radii.z - head.chin).abs() < 1e-9, "{shapes:?}");
    }
}
