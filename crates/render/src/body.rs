//! Shapes as rays meet them: where each is in the middle of the exposure, how it moves, and what it melts into.

use glam::DVec3;

use crate::beam::Middle;
use crate::buckets::Buckets;
use crate::lanes::{Lanes, Vector, Vectors, narrow};
use crate::picture::{Shape, Solid, Surface};
use crate::shade::light;
use crate::solid::{Form, Rays};

/// A shape as rays meet it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Body {
    pub(crate) form: Form,
    /// How far it moves while the shutter is open.
    moved: Option<Vector>,
    pub(crate) colour: Vector,
    pub(crate) glows: bool,
    /// Over what distance its surface melts into others.
    pub(crate) melts: f32,
}

impl Body {
    /// A shape, with its solid and how far it moves in the tracer's own directions.
    pub(crate) fn new(shape: &Shape, (solid, moved): &(Solid, DVec3)) -> Self {
        let (colour, glows) = match shape.surface {
            Surface::Matt(colour) => (light(colour.0), false),
            Surface::Glowing(given) => (light(given), true),
        };
        Self {
            form: Form::new(solid),
            moved: (*moved != DVec3::ZERO).then(|| Vector::new(*moved)),
            colour,
            glows,
            melts: narrow(shape.melts_m),
        }
    }

    /// Where rays of that time enter it before `until`: see [`Form::meet`].
    #[inline]
    pub(crate) fn meet(&self, rays: &Rays, time: Lanes, until: Lanes) -> Lanes {
        self.form.meet(rays, self.moved.map(|moved| -(moved.lanes() * time)), until)
    }

    /// A place on it at `time`, put back to where it is in the middle of the exposure.
    pub(crate) fn moved_back(&self, at: Vectors, time: Lanes) -> Vectors {
        self.moved.map_or(at, |moved| at - moved.lanes() * time)
    }
}

/// A shape's solid in the tracer's own directions in the middle of the exposure, and how far it moves.
pub(crate) fn own_shape(middle: &Middle, shape: &Shape) -> (Solid, DVec3) {
    let half = shape.moved / 2.0;
    let solid = shape.solid.mapped(|point| middle.place(point + half), |vector| middle.vector(vector));
    (solid, middle.vector(shape.moved))
}

/// For every shape the others of the same surface and motion that come as near as it melts.
pub(crate) fn melting(shapes: &[Shape]) -> Buckets<u32> {
    let boxes: Vec<_> = shapes.iter().map(|shape| shape.solid.extent()).collect();
    let meets = |one: usize, other: usize, over: f64| {
        let ((low, high), (other_low, other_high)) = (boxes[one], boxes[other]);
        low.cmple(other_high + over).all() && other_low.cmple(high + over).all()
    };
    let pairs: Vec<(usize, u32)> = shapes
        .iter()
        .enumerate()
        .filter(|(_, shape)| shape.melts_m > 0.0)
        .flat_map(|(index, shape)| {
            let alike = move |other: &Shape| {
                other.melts_m > 0.0 && other.surface == shape.surface && other.moved == shape.moved
            };
            (0_u32..).zip(shapes).filter(move |(_, other)| alike(other)).map(move |(place, _)| (index, place))
        })
        .filter(|(index, place)| {
            let other = *place as usize;
            *index != other && meets(*index, other, shapes[*index].melts_m)
        })
        .collect();
    Buckets::new(shapes.len(), 0, pairs.iter().copied())
}
