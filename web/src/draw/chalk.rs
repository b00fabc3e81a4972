//! Chalk and tape on a canvas, in units ([`crate::canvas::unit_px`]): what floor plans, the bar of a day and what lies over
//! a picture are drawn with.

use web_sys::CanvasRenderingContext2d;

use super::Palette;
use crate::canvas::Surface;

/// The font of labels on a canvas.
pub(crate) const LABEL_FONT: &str = "14px system-ui, sans-serif";

/// A pen on a canvas, in the theme's colours.
pub(crate) struct Chalk<'a> {
    pub(crate) context: &'a CanvasRenderingContext2d,
    pub(crate) palette: &'a Palette,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

/// A place on the canvas.
pub(crate) type Px = (f64, f64);

impl<'a> Chalk<'a> {
    pub(crate) fn new(surface: &'a Surface, palette: &'a Palette) -> Self {
        Self { context: &surface.context, palette, width: surface.width, height: surface.height }
    }
}

impl Chalk<'_> {
    /// The bare studio floor.
    pub(crate) fn sweep(&self) {
        self.context.set_fill_style_str(&self.palette.studio);
        self.context.fill_rect(0.0, 0.0, self.width, self.height);
    }

    pub(crate) fn pen(&self, colour: &str, width: f64) {
        self.exact_pen(colour, if self.palette.heavier { width * 1.5 } else { width });
    }

    /// A pen that is no wider in sunlight either: for halos, and for what has one.
    pub(super) fn exact_pen(&self, colour: &str, width: f64) {
        self.context.set_stroke_style_str(colour);
        self.context.set_line_width(width);
    }

    pub(crate) fn dashed(&self, on: f64, off: f64) {
        let pattern = js_sys::Array::of2(&on.into(), &off.into());
        // Refused only for patterns that are not numbers.
        self.context.set_line_dash(&pattern).unwrap_or_default();
    }

    pub(crate) fn solid(&self) {
        self.context.set_line_dash(&js_sys::Array::new()).unwrap_or_default();
    }

    /// One more straight line of the path, which is stroked when it has all of them.
    pub(crate) fn add_line(&self, from: Px, to: Px) {
        self.context.move_to(from.0, from.1);
        self.context.line_to(to.0, to.1);
    }

    /// A straight stroke.
    pub(crate) fn line(&self, from: Px, to: Px) {
        self.stroke([from, to].into_iter());
    }

    /// A stroke through several places.
    pub(crate) fn stroke(&self, places: impl Iterator<Item = Px>) {
        self.context.begin_path();
        for (x, y) in places {
            // The first of a path is where it starts.
            self.context.line_to(x, y);
        }
        self.context.stroke();
    }

    /// A strip of tape between two places, its ends torn.
    pub(crate) fn torn_strip(&self, from: Px, to: Px, colour: &str, width: f64) {
        let length = libm::hypot(to.0 - from.0, to.1 - from.1).max(1.0);
        let (ux, uy) = ((to.0 - from.0) / length, (to.1 - from.1) / length);
        let half = width / 2.0;
        // A tear is a zigzag across the strip, the same at every redraw, and no deeper than a short strip has room for.
        let deep = (length / 6.0).min(1.0);
        let corner = |end: Px, across: f64, out: f64| {
            (end.0 + ux * out * deep - uy * half * across, end.1 + uy * out * deep + ux * half * across)
        };
        let start = [(1.0, 0.0), (0.4, -2.0), (0.0, 0.5), (-0.5, -1.5), (-1.0, 0.0)];
        let end = [(-1.0, 0.0), (-0.4, 1.5), (0.1, -0.5), (0.5, 2.0), (1.0, 0.0)];
        self.context.set_fill_style_str(colour);
        self.context.begin_path();
        for (place, tears) in [(from, start), (to, end)] {
            for (across, out) in tears {
                // The first of a path is where it starts.
                let (x, y) = corner(place, across, out);
                self.context.line_to(x, y);
            }
        }
        self.context.close_path();
        self.context.fill();
    }

    /// How wide words are.
    pub(crate) fn width_of(&self, text: &str, font: &str) -> f64 {
        self.context.set_font(font);
        self.context.measure_text(text).map_or(0.0, |measured| measured.width())
    }

    /// Words with a halo of floor around them; `align` is left, center or right of the place.
    pub(crate) fn word(&self, text: &str, (x, y): Px, font: &str, align: &str) {
        let context = self.context;
        context.set_font(font);
        context.set_text_align(align);
        context.set_text_baseline("middle");
        // Wide enough to close the gaps between letters: a line that runs through words ends before them.
        self.exact_pen(&self.palette.studio, 7.0);
        context.set_line_join("round");
        // Text is refused only when it is not text.
        context.stroke_text(text, x, y).unwrap_or_default();
        context.set_fill_style_str(&self.palette.chalk);
        context.fill_text(text, x, y).unwrap_or_default();
    }
}
