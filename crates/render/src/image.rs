//! What a tracer has drawn so far, and how it becomes pixels of a screen.

use std::ops::Range;

use optics::srgb_byte;

use crate::lanes::narrow;
use crate::tracer::Size;

/// A strip of an image: rows that are drawn together, and how far they have come.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    pub(crate) index: u32,
    pub(crate) width: u32,
    pub(crate) rows: Range<u32>,
    pub(crate) samples: u32,
    /// Sums of all samples, pixel by pixel.
    pub(crate) sums: Vec<[f32; 3]>,
}

/// A whole image, linear.
#[derive(Debug, Clone, PartialEq)]
pub struct Image {
    /// Its size.
    pub size: Size,
    /// Pixel by pixel from the upper left, row by row.
    pub linear: Vec<[f32; 3]>,
}

impl Strip {
    /// Which of the strips it is, from the top.
    pub const fn index(&self) -> u32 {
        self.index
    }

    /// The rows of the image that it holds.
    pub fn rows(&self) -> Range<u32> {
        self.rows.clone()
    }

    /// Samples taken of each pixel.
    pub const fn samples(&self) -> u32 {
        self.samples
    }

    /// Its pixels so far; black before the first sample.
    pub fn linear(&self) -> Vec<[f32; 3]> {
        self.pixels().collect()
    }

    fn pixels(&self) -> impl Iterator<Item = [f32; 3]> {
        let share = narrow(1.0 / f64::from(self.samples.max(1)));
        self.sums.iter().map(move |sum| sum.map(|channel| channel * share))
    }

    /// Writes its pixels as red, green, blue and opacity, a byte each in sRGB; what does not fit into `rgba` is left out.
    pub fn develop(&self, screen: &Screen, rgba: &mut [u8]) {
        for (bytes, pixel) in rgba.chunks_exact_mut(4).zip(self.pixels()) {
            bytes.copy_from_slice(&screen.pixel(pixel));
        }
    }
}

impl Image {
    /// Red, green, blue and opacity, a byte each in sRGB.
    pub fn to_rgba8(&self) -> Vec<u8> {
        let screen = Screen::new();
        self.linear.iter().flat_map(|pixel| screen.pixel(*pixel)).collect()
    }
}

/// Turns linear light into bytes of sRGB.
#[derive(Debug, Clone)]
pub struct Screen {
    /// The byte for each step of the light's square root.
    bytes: Vec<u8>,
}

/// Steps of the square root of light: chosen because each is less than an eighth of the least step between bytes.
const STEPS: u16 = 8192;

impl Default for Screen {
    fn default() -> Self {
        Self::new()
    }
}

impl Screen {
    /// The usual screen.
    pub fn new() -> Self {
        let bytes = (0..=STEPS)
            .map(|step| {
                let root = f64::from(step) / f64::from(STEPS);
                srgb_byte(root * root)
            })
            .collect();
        Self { bytes }
    }

    /// A pixel's bytes: red, green, blue, opacity. Light past white is white.
    pub fn pixel(&self, linear: [f32; 3]) -> [u8; 4] {
        let [red, green, blue] = linear.map(|channel| self.byte(channel));
        [red, green, blue, u8::MAX]
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the table")]
    fn byte(&self, linear: f32) -> u8 {
        let step = linear.clamp(0.0, 1.0).sqrt() * f32::from(STEPS) + 0.5;
        self.bytes.get(step as usize).copied().unwrap_or(u8::MAX)
    }
}

#[cfg(test)]
mod tests {
    use optics::srgb_signal;

    use super::*;

    #[test]
    fn bytes_are_the_nearest_to_the_standard() {
        let screen = Screen::new();
        for step in 0..=10_000_u16 {
            let linear = f64::from(step) / 10_000.0;
            let exact = 255.0 * srgb_signal(linear);
            let byte = f64::from(screen.byte(narrow(linear)));
            assert!((byte - exact).abs() < 0.56, "{linear}: {byte} {exact}");
        }
    }

    #[test]
    fn mid_grey_is_the_published_byte() {
        // IEC 61966-2-1: 18 % grey is 118 (0.4613 of 255, rounded).
        assert_eq!(Screen::new().byte(0.18), 118);
        assert_eq!(Screen::new().byte(7.0), 255);
    }
}
