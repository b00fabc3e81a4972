//! How far a solid reaches, in any direction.

use glam::DVec3;

use crate::picture::Solid;

impl Solid {
    /// The least and the greatest of `point · direction` over its points.
    pub(crate) fn interval(&self, direction: DVec3) -> (f64, f64) {
        let about = |centre: DVec3, half: f64| {
            let middle = centre.dot(direction);
            (middle - half, middle + half)
        };
        match *self {
            Self::Ellipsoid { centre, axes } => {
                about(centre, libm::sqrt(axes.iter().map(|axis| square(axis.dot(direction))).sum()))
            }
            Self::Block { centre, axes } => {
                about(centre, axes.iter().map(|axis| axis.dot(direction).abs()).sum())
            }
            Self::Cylinder { centre, axes: [one, other, half_length] } => {
                let section = libm::hypot(one.dot(direction), other.dot(direction));
                about(centre, section + half_length.dot(direction).abs())
            }
            Self::RoundCone { from, from_radius, to, to_radius } => {
                let length = direction.length();
                let first = (from.dot(direction), from_radius * length);
                let second = (to.dot(direction), to_radius * length);
                ((first.0 - first.1).min(second.0 - second.1), (first.0 + first.1).max(second.0 + second.1))
            }
        }
    }

    /// The box along the world's axes around it: its least and its greatest corner.
    pub(crate) fn extent(&self) -> (DVec3, DVec3) {
        let [x, y, z] = DVec3::AXES.map(|axis| self.interval(axis));
        (DVec3::new(x.0, y.0, z.0), DVec3::new(x.1, y.1, z.1))
    }

    /// The solid with its points mapped: `point` maps places, `vector` the differences between them, without stretching.
    pub(crate) fn mapped(&self, point: impl Fn(DVec3) -> DVec3, vector: impl Fn(DVec3) -> DVec3) -> Self {
        match *self {
            Self::Ellipsoid { centre, axes } => {
                Self::Ellipsoid { centre: point(centre), axes: axes.map(vector) }
            }
            Self::Block { centre, axes } => Self::Block { centre: point(centre), axes: axes.map(vector) },
            Self::Cylinder { centre, axes } => {
                Self::Cylinder { centre: point(centre), axes: axes.map(vector) }
            }
            Self::RoundCone { from, from_radius, to, to_radius } => {
                Self::RoundCone { from: point(from), from_radius, to: point(to), to_radius }
            }
        }
    }
}

fn square(value: f64) -> f64 {
    value * value
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::picture::Shape;

    /// The least and the greatest of `point · direction` over the points of several shapes.
    pub(crate) fn reach<'shape>(
        shapes: impl IntoIterator<Item = &'shape Shape>,
        direction: DVec3,
    ) -> (f64, f64) {
        let intervals = shapes.into_iter().map(|shape| shape.solid.interval(direction));
        intervals.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (lower, higher)| {
            (low.min(lower), high.max(higher))
        })
    }

    #[test]
    fn a_cylinder_reaches_past_its_rim() {
        let axes = [DVec3::X * 2.0, DVec3::Y * 2.0, DVec3::Z * 3.0];
        let cylinder = Solid::Cylinder { centre: DVec3::new(1.0, 0.0, 0.0), axes };
        let diagonal = DVec3::new(1.0, 0.0, 1.0).normalize();
        let (least, most) = cylinder.interval(diagonal);
        let half = (2.0 + 3.0) / 2.0_f64.sqrt();
        let middle = 1.0 / 2.0_f64.sqrt();
        assert!((least - (middle - half)).abs() < 1e-12 && (most - (middle + half)).abs() < 1e-12);
    }

    #[test]
    fn a_round_cone_reaches_as_far_as_its_farther_ball() {
        let cone =
            Solid::RoundCone { from: DVec3::ZERO, from_radius: 1.0, to: DVec3::X * 3.0, to_radius: 0.5 };
        assert_eq!(cone.interval(DVec3::X), (-1.0, 3.5));
        assert_eq!(cone.interval(DVec3::Y), (-1.0, 1.0));
    }
}
