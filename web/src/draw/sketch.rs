//! A pencil that turns outlines into canvas paths and keeps its working lists from shape to shape.

use glam::{DVec2, DVec3};
use web_sys::CanvasRenderingContext2d;

use crate::draw::perspective::Perspective;
use crate::draw::solid::{Ellipsoid, convex_hull};

/// A canvas with the lists that outlines are worked out in, so that a picture allocates them once.
#[derive(Debug)]
pub(super) struct Sketch<'canvas> {
    pub(super) context: &'canvas CanvasRenderingContext2d,
    before: Vec<DVec2>,
    points: Vec<DVec2>,
    hull: Vec<DVec2>,
}

impl<'canvas> Sketch<'canvas> {
    pub(super) fn new(context: &'canvas CanvasRenderingContext2d) -> Self {
        Self { context, before: Vec::new(), points: Vec::new(), hull: Vec::new() }
    }

    pub(super) fn begin(&self) {
        self.context.begin_path();
    }

    pub(super) fn fill(&self, colour: &str) {
        self.context.set_fill_style_str(colour);
        self.context.fill();
    }

    pub(super) fn stroke(&self, colour: &str, width: f64) {
        self.context.set_stroke_style_str(colour);
        self.context.set_line_width(width);
        self.context.stroke();
    }

    pub(super) fn line(&self, from: DVec2, to: DVec2) {
        self.context.move_to(from.x, from.y);
        self.context.line_to(to.x, to.y);
    }

    /// Adds the outline that `add` appends to an empty list.
    pub(super) fn outline(&mut self, add: impl FnOnce(&mut Vec<DVec2>)) {
        self.points.clear();
        add(&mut self.points);
        trace(self.context, &self.points);
    }

    /// Adds a flat polygon of the place.
    pub(super) fn polygon(&mut self, perspective: &Perspective, corners: &[DVec3]) {
        self.outline(|outline| perspective.polygon(corners, outline));
    }

    /// Adds a chain of ellipsoids: each link's hull, all the same way round, so that filling joins them.
    pub(super) fn chain(&mut self, perspective: &Perspective, links: impl IntoIterator<Item = Ellipsoid>) {
        self.before.clear();
        let mut traced = false;
        for link in links {
            self.points.clear();
            link.outline(perspective, &mut self.points);
            let own = self.points.len();
            if own == 0 {
                continue;
            }
            let joined = !self.before.is_empty();
            self.points.extend_from_slice(&self.before);
            self.before.clear();
            self.before.extend_from_slice(&self.points[..own]);
            if joined {
                convex_hull(&mut self.points, &mut self.hull);
                trace(self.context, &self.hull);
                traced = true;
            }
        }
        if !traced {
            convex_hull(&mut self.before, &mut self.hull);
            trace(self.context, &self.hull);
        }
    }
}

/// Adds a closed polygon to the context's path; nothing of fewer than three corners.
fn trace(context: &CanvasRenderingContext2d, outline: &[DVec2]) {
    let [first, rest @ ..] = outline else { return };
    if rest.len() < 2 {
        return;
    }
    context.move_to(first.x, first.y);
    for point in rest {
        context.line_to(point.x, point.y);
    }
    context.close_path();
}
