//! Chalk and tape on a canvas that is no floor plan: strokes, hatching, torn strips and plain words, in CSS pixels.

use web_sys::CanvasRenderingContext2d;

use crate::canvas::Surface;
use crate::draw::Palette;

/// A pen on a canvas.
pub(in crate::light) struct Chalk<'a> {
    pub(in crate::light) context: &'a CanvasRenderingContext2d,
    pub(in crate::light) palette: &'a Palette,
    pub(in crate::light) width: f64,
    pub(in crate::light) height: f64,
}

/// A place on the canvas.
pub(in crate::light) type Px = (f64, f64);

impl<'a> Chalk<'a> {
    pub(in crate::light) fn new(surface: &'a Surface, palette: &'a Palette) -> Self {
        Self { context: &surface.context, palette, width: surface.width, height: surface.height }
    }

    /// The bare studio floor.
    pub(in crate::light) fn sweep(&self) {
        self.context.set_fill_style_str(&self.palette.studio);
        self.context.fill_rect(0.0, 0.0, self.width, self.height);
    }

    pub(in crate::light) fn pen(&self, colour: &str, width: f64) {
        self.context.set_stroke_style_str(colour);
        self.context.set_line_width(if self.palette.heavier { width * 1.5 } else { width });
    }

    pub(in crate::light) fn dashed(&self, on: f64, off: f64) {
        let pattern = js_sys::Array::of2(&on.into(), &off.into());
        // Refused only for patterns that are not numbers.
        self.context.set_line_dash(&pattern).unwrap_or_default();
    }

    pub(in crate::light) fn solid(&self) {
        self.context.set_line_dash(&js_sys::Array::new()).unwrap_or_default();
    }

    pub(in crate::light) fn line(&self, from: Px, to: Px) {
        self.context.begin_path();
        self.context.move_to(from.0, from.1);
        self.context.line_to(to.0, to.1);
        self.context.stroke();
    }

    /// A stroke through several places.
    pub(in crate::light) fn stroke(&self, places: impl Iterator<Item = Px>) {
        self.context.begin_path();
        for (at, (x, y)) in places.enumerate() {
            if at == 0 { self.context.move_to(x, y) } else { self.context.line_to(x, y) }
        }
        self.context.stroke();
    }

    /// Chalk strokes aslant between two upright edges, so far apart.
    pub(in crate::light) fn hatch(&self, (left, right): (f64, f64), (top, bottom): (f64, f64), apart: f64) {
        if right <= left {
            return;
        }
        let context = self.context;
        context.save();
        context.begin_path();
        context.rect(left, top, right - left, bottom - top);
        context.clip();
        let tall = bottom - top;
        // On one grid whatever the edges, so that two hatchings beside each other meet.
        let mut x = ((left - tall) / apart).floor() * apart;
        context.begin_path();
        while x < right {
            context.move_to(x, bottom);
            context.line_to(x + tall, top);
            x += apart;
        }
        context.stroke();
        context.restore();
    }

    /// A strip of tape between two places, its ends torn.
    pub(in crate::light) fn strip(&self, from: Px, to: Px, colour: &str, width: f64) {
        let length = libm::hypot(to.0 - from.0, to.1 - from.1).max(1.0);
        let (ux, uy) = ((to.0 - from.0) / length, (to.1 - from.1) / length);
        let half = width / 2.0;
        // A tear is a zigzag across the strip, the same at every redraw, and no deeper than a short strip has room for.
        let deep = (length / 6.0).min(1.0);
        let corner = |end: Px, across: f64, out: f64| {
            (end.0 + ux * out * deep - uy * half * across, end.1 + uy * out * deep + ux * half * across)
        };
        let tears = [(1.0, 0.0), (0.4, -2.0), (0.0, 0.5), (-0.5, -1.5), (-1.0, 0.0)];
        let start = tears.map(|(across, out)| corner(from, across, out));
        let end = [(-1.0, 0.0), (-0.4, 1.5), (0.1, -0.5), (0.5, 2.0), (1.0, 0.0)];
        let end = end.map(|(across, out)| corner(to, across, out));
        self.context.set_fill_style_str(colour);
        self.context.begin_path();
        for (at, (x, y)) in start.into_iter().chain(end).enumerate() {
            if at == 0 { self.context.move_to(x, y) } else { self.context.line_to(x, y) }
        }
        self.context.close_path();
        self.context.fill();
    }

    /// Words with a halo of floor around them; `align` is left, center or right of the place.
    pub(in crate::light) fn word(&self, text: &str, (x, y): Px, align: &str) {
        let context = self.context;
        context.set_font("14px system-ui, sans-serif");
        context.set_text_align(align);
        context.set_text_baseline("middle");
        context.set_line_width(4.0);
        context.set_stroke_style_str(&self.palette.studio);
        context.set_line_join("round");
        // Text is refused only when it is not text.
        context.stroke_text(text, x, y).unwrap_or_default();
        context.set_fill_style_str(&self.palette.chalk);
        context.fill_text(text, x, y).unwrap_or_default();
    }

    /// How wide words are.
    pub(in crate::light) fn width_of(&self, text: &str) -> f64 {
        self.context.set_font("14px system-ui, sans-serif");
        self.context.measure_text(text).map_or(0.0, |measured| measured.width())
    }
}
