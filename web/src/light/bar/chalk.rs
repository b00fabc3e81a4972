//! What of chalk only Light draws: hatching and plain labels.

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
            self.add_line((x, bottom), (x + tall, top));
            x += apart;
        }
        context.stroke();
        context.restore();
    }

    /// A plain label beside, above or in the middle of a place.
    pub(in crate::light) fn label(&self, text: &str, at: Px, align: &str) {
        self.word(text, at, LABEL_FONT, align);
    }
}
