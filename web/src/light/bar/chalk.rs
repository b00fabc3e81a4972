//! What of chalk only Light draws: hatching, and how wide words are.

use crate::draw::{Chalk, LABEL_FONT, Px};

impl Chalk<'_> {
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

    /// A plain label beside, above or in the middle of a place.
    pub(in crate::light) fn label(&self, text: &str, at: Px, align: &str) {
        self.word(text, at, LABEL_FONT, align);
    }

    /// How wide a label is.
    pub(in crate::light) fn width_of(&self, text: &str) -> f64 {
        self.context.set_font(LABEL_FONT);
        self.context.measure_text(text).map_or(0.0, |measured| measured.width())
    }
}
