//! Lines over a picture: thirds, and the edges of a second frame shape.

use optics::Aspect;
use render::Size;

/// How much of a pixel a line covers: chosen so that the picture shows through.
const COVER: u32 = 50;
/// One line in how many rows a line is high: hairlines on every size of image.
const ROWS_A_LINE: u32 = 400;

/// An image of four bytes a pixel that is drawn over.
struct Canvas<'image> {
    rgba: &'image mut [u8],
    size: Size,
    /// How wide lines are, pixels.
    thick: u32,
}

/// Draws thirds over the whole image, and the edges of the largest centred frame of shape `second`.
pub(crate) fn draw_lines(rgba: &mut [u8], size: Size, second: Option<Aspect>) {
    let thick = (size.height / ROWS_A_LINE).max(1);
    let mut canvas = Canvas { rgba, size, thick };
    for thirds in [1, 2] {
        canvas.column(size.width * thirds / 3);
        canvas.row(size.height * thirds / 3);
    }
    if let Some(shape) = second {
        let (width, height) = (f64::from(size.width), f64::from(size.height));
        let (kept_width, kept_height) =
            (width.min(height * shape.to_f64()), height.min(width / shape.to_f64()));
        let (aside, above) = (whole((width - kept_width) / 2.0), whole((height - kept_height) / 2.0));
        if aside > 0 {
            canvas.column(aside);
            canvas.column(size.width - aside);
        }
        if above > 0 {
            canvas.row(above);
            canvas.row(size.height - above);
        }
    }
}

/// Whole pixels of a part of an image.
fn whole(pixels: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a part of an image, not negative"
    )]
    let pixels = pixels.round() as u32;
    pixels
}

impl Canvas<'_> {
    /// A line from the upper edge to the lower, its middle `at` pixels from the left.
    fn column(&mut self, at: u32) {
        for x in self.across(at, self.size.width) {
            for y in 0..self.size.height {
                self.mark(x, y);
            }
        }
    }

    /// A line from the left edge to the right, its middle `at` pixels from the top.
    fn row(&mut self, at: u32) {
        for y in self.across(at, self.size.height) {
            for x in 0..self.size.width {
                self.mark(x, y);
            }
        }
    }

    /// The pixels that a line covers across its length.
    fn across(&self, at: u32, end: u32) -> std::ops::Range<u32> {
        let from = at.saturating_sub(self.thick / 2);
        from..(from + self.thick).min(end)
    }

    /// Lightens a dark pixel and darkens a light one, so that a line shows on any ground.
    fn mark(&mut self, x: u32, y: u32) {
        let at = (u64::from(y) * u64::from(self.size.width) + u64::from(x)) * 4;
        let Some(pixel) = usize::try_from(at).ok().and_then(|at| self.rgba.get_mut(at..at + 3)) else {
            return;
        };
        let light: u32 = pixel.iter().map(|byte| u32::from(*byte)).sum();
        let line = if light > 3 * 160 { 0 } else { 255 };
        for byte in pixel {
            let mixed = (u32::from(*byte) * (100 - COVER) + line * COVER) / 100;
            *byte = u8::try_from(mixed).unwrap_or(u8::MAX);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Which pixels of the first row and of the first column of a black image are marked.
    fn marked(width: u32, height: u32, second: Option<f64>) -> (Vec<u32>, Vec<u32>) {
        let size = Size { width, height };
        let mut rgba = vec![0; usize::try_from(width * height * 4).expect("small")];
        draw_lines(&mut rgba, size, second.map(|shape| Aspect::new(shape).expect("a shape")));
        let lit = |x: u32, y: u32| rgba[usize::try_from((y * width + x) * 4).expect("small")] > 0;
        ((0..width).filter(|x| lit(*x, 0)).collect(), (0..height).filter(|y| lit(0, *y)).collect())
    }

    #[test]
    fn thirds_are_at_thirds() {
        assert_eq!(marked(90, 60, None), (vec![30, 60], vec![20, 40]));
    }

    #[test]
    fn a_second_shape_is_as_wide_as_its_shape_says() {
        // 60 high at 9:16 is 33.75 wide: 28 pixels are left on each side.
        assert_eq!(marked(90, 60, Some(0.5625)).0, [28, 30, 60, 62]);
        assert_eq!(marked(90, 60, Some(3.0)).1, [15, 20, 40, 45]);
        assert_eq!(marked(90, 60, Some(1.5)), marked(90, 60, None));
    }

    #[test]
    fn lines_show_on_white_too() {
        let mut rgba = vec![255; 30 * 30 * 4];
        draw_lines(&mut rgba, Size { width: 30, height: 30 }, None);
        assert_eq!(rgba[10 * 4], 127);
        assert_eq!(rgba[10 * 4 + 3], 255);
    }
}
