//! A pencil on a canvas.

use glam::DVec2;
use web_sys::CanvasRenderingContext2d;

/// A canvas that is drawn on with lines.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sketch<'canvas> {
    pub(super) context: &'canvas CanvasRenderingContext2d,
}

impl<'canvas> Sketch<'canvas> {
    pub(super) const fn new(context: &'canvas CanvasRenderingContext2d) -> Self {
        Self { context }
    }

    pub(super) fn begin(self) {
        self.context.begin_path();
    }

    pub(super) fn stroke(self, colour: &str, width: f64) {
        self.context.set_stroke_style_str(colour);
        self.context.set_line_width(width);
        self.context.stroke();
    }

    pub(super) fn line(self, from: DVec2, to: DVec2) {
        self.context.move_to(from.x, from.y);
        self.context.line_to(to.x, to.y);
    }
}
