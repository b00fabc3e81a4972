//! Where a person stands and faces, and how their own directions become the phone's.
//!
//! A person's own directions: x to their right, y forward, z up, metres from the middle between the feet.

use glam::DVec3;
use staging::Camera;
use units::Angle;

use crate::draw::solid::Ellipsoid;
use crate::scene::along;

/// Where a person stands and faces, in the phone's own directions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stance {
    feet: DVec3,
    /// To the person's right, forward, up.
    pub(super) directions: [DVec3; 3],
}

/// An ellipsoid of a body: half axes along the person's own directions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lump {
    pub(super) at: DVec3,
    pub(super) radii: DVec3,
}

impl Stance {
    pub(super) fn new(camera: &Camera, feet: DVec3, facing: Angle) -> Self {
        let forward = along(facing);
        let right = DVec3::new(forward.y, -forward.x, 0.0);
        let origin = camera.to_own(DVec3::ZERO);
        let direction = |of: DVec3| camera.to_own(of) - origin;
        Self { feet: camera.to_own(feet), directions: [right, forward, DVec3::Z].map(direction) }
    }

    /// A point of the body in the phone's own directions.
    pub(super) fn point(&self, at: DVec3) -> DVec3 {
        self.feet + self.direction(at)
    }

    /// A direction of the body in the phone's own.
    pub(super) fn direction(&self, of: DVec3) -> DVec3 {
        self.directions[0] * of.x + self.directions[1] * of.y + self.directions[2] * of.z
    }

    /// An ellipsoid of the body in the phone's own directions.
    pub(super) fn place(&self, lump: &Lump) -> Ellipsoid {
        let [right, forward, up] = self.directions;
        Ellipsoid {
            centre: self.point(lump.at),
            axes: [right * lump.radii.x, forward * lump.radii.y, up * lump.radii.z],
        }
    }
}

impl Lump {
    pub(super) const fn new(at: DVec3, radii: DVec3) -> Self {
        Self { at, radii }
    }

    pub(super) const fn ball(at: DVec3, radius: f64) -> Self {
        Self { at, radii: DVec3::splat(radius) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::perspective::tests::looking_north;

    #[test]
    fn a_person_who_faces_the_phone_has_their_right_on_its_left() {
        let perspective = looking_north(0.0);
        let feet = DVec3::new(0.0, 3.0, 0.0);
        let stance = Stance::new(&perspective.camera, feet, Angle::from_deg(180.0));
        assert!(stance.directions[0].x < -0.99 && stance.directions[1].z < -0.99, "{stance:?}");
        let eyes = stance.point(DVec3::new(0.0, 0.0, 1.588));
        let expected = perspective.camera.to_own(feet + DVec3::Z * 1.588);
        assert!(eyes.distance(expected) < 1e-12, "{eyes} {expected}");
    }
}
