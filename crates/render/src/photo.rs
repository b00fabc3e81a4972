//! A photo's pixels, ready to be looked up between them.

use std::array;
use std::fmt;

use optics::srgb_light;

use crate::image::Screen;
use crate::lanes::{Lanes, Vector, Vectors, all, narrow, numbers};

/// A photo: its pixels, and the same at half the size, again and again down to a few.
///
/// A picture in which the photo's pixels are small looks up the coarser ones, so that few samples tell what is there.
#[derive(Clone, PartialEq)]
pub struct Photo {
    /// From the finest.
    levels: Vec<Level>,
    /// The light of each byte.
    linear: Box<[f32; 256]>,
}

/// A photo's pixels at one size: red, green, blue and one more byte each, in sRGB, from the upper left, row by row.
#[derive(Clone, PartialEq)]
struct Level {
    width: usize,
    height: usize,
    rgba: Vec<u8>,
}

/// The longest side of a photo, pixels: chosen because single precision still tells a hundredth of a pixel of it.
const LONGEST_SIDE: u32 = 16_384;
/// A level no wider or higher than this has none below it: chosen because no picture is drawn so small.
const SMALLEST: usize = 8;

impl Photo {
    /// A photo of pixels in sRGB: red, green, blue and one more byte each, which is not looked at, from the upper left, row
    /// by row. None if they are not as many as its sides say, or if a side is nothing or more than 16,384.
    pub fn new(width: u32, height: u32, rgba: Vec<u8>) -> Option<Self> {
        let is_side = |side: u32| (1..=LONGEST_SIDE).contains(&side);
        let (wide, high) = (usize::try_from(width).ok()?, usize::try_from(height).ok()?);
        if !is_side(width) || !is_side(height) || rgba.len() != wide.checked_mul(high)?.checked_mul(4)? {
            return None;
        }
        let linear: Box<[f32; 256]> =
            Box::new(array::from_fn(|byte| u8::try_from(byte).map_or(1.0, |byte| narrow(srgb_light(byte)))));
        let screen = Screen::new();
        let mut levels = vec![Level { width: wide, height: high, rgba }];
        while let Some(coarser) = levels.last().and_then(|finest| finest.halved(&linear, &screen)) {
            levels.push(coarser);
        }
        Some(Self { levels, linear })
    }

    /// Its width and height, pixels.
    pub fn size(&self) -> (f64, f64) {
        self.levels.first().map_or((0.0, 0.0), |level| (whole(level.width), whole(level.height)))
    }

    /// The coarsest level of which a pixel is not larger than that many of the photo's own.
    pub(crate) fn level_for(&self, pixels: f64) -> usize {
        let mut size = 2.0;
        let mut level = 0;
        while size <= pixels && level + 1 < self.levels.len() {
            level += 1;
            size *= 2.0;
        }
        level
    }

    /// The light at places of it, in pixels from its upper left corner: between four pixels of a level, by how near each
    /// is; outside, that of its edge.
    pub(crate) fn light(&self, level: usize, x: Lanes, y: Lanes) -> Vectors {
        let Some(pixels) = self.levels.get(level) else { return Vector::ZERO.lanes() };
        let (per, half) = (all(per_pixel(level)), all(0.5));
        let place = |at: Lanes, count: usize| {
            let at = (at * per - half).fast_clamp(Lanes::ZERO, all(narrow(whole(count - 1))));
            let first = numbers(at);
            // As `numbers` cuts off, this is what is left.
            let rest = at - Lanes::new(first.map(|first| narrow(whole(first))));
            (first, rest)
        };
        let ((columns, across), (rows, down)) = (place(x, pixels.width), place(y, pixels.height));
        // Four lanes of four corners, each three channels.
        let corners: [[[f32; 3]; 4]; 4] =
            array::from_fn(|lane| self.corners(pixels, columns[lane], rows[lane]));
        let channel = |channel: usize| {
            let [upper_left, upper_right, lower_left, lower_right] =
                array::from_fn::<Lanes, 4, _>(|corner| {
                    Lanes::new(array::from_fn(|lane| corners[lane][corner][channel]))
                });
            let upper = upper_left + (upper_right - upper_left) * across;
            let lower = lower_left + (lower_right - lower_left) * across;
            upper + (lower - upper) * down
        };
        Vectors { x: channel(0), y: channel(1), z: channel(2) }
    }

    /// The light of a pixel, the one right of it, the one below and the one right of that.
    fn corners(&self, pixels: &Level, column: usize, row: usize) -> [[f32; 3]; 4] {
        let right = (column + 1).min(pixels.width - 1);
        let below = (row + 1).min(pixels.height - 1);
        [(column, row), (right, row), (column, below), (right, below)]
            .map(|(column, row)| pixels.light(&self.linear, column, row))
    }
}

impl Level {
    fn light(&self, linear: &[f32; 256], column: usize, row: usize) -> [f32; 3] {
        let from = (row * self.width + column) * 4;
        let Some([red, green, blue]) = self.rgba.get(from..from + 3).and_then(|pixel| pixel.as_array())
        else {
            return [0.0; 3];
        };
        [red, green, blue].map(|byte| linear[usize::from(*byte)])
    }

    /// The same at half the size, each pixel the mean light of four, or of those that there are at an odd edge; none if it
    /// is small already.
    fn halved(&self, linear: &[f32; 256], screen: &Screen) -> Option<Self> {
        let (width, height) = (self.width.div_ceil(2), self.height.div_ceil(2));
        if self.width.max(self.height) <= SMALLEST {
            return None;
        }
        let mut rgba = Vec::with_capacity(width * height * 4);
        for row in 0..height {
            let rows = [2 * row, (2 * row + 1).min(self.height - 1)];
            for column in 0..width {
                let columns = [2 * column, (2 * column + 1).min(self.width - 1)];
                let [[a, b], [c, d]] = rows.map(|row| columns.map(|column| self.light(linear, column, row)));
                let mean =
                    array::from_fn(|channel| ((a[channel] + b[channel]) + (c[channel] + d[channel])) * 0.25);
                rgba.extend(screen.pixel(mean));
            }
        }
        Some(Self { width, height, rgba })
    }
}

impl fmt::Debug for Photo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (width, height) = self.size();
        write!(f, "Photo({width} x {height})")
    }
}

/// How many pixels of a level there are to one of the photo's own side.
fn per_pixel(level: usize) -> f32 {
    (0..level).fold(1.0, |per, _| per * 0.5)
}

/// A count as a number; photos' sides are exact.
#[expect(clippy::cast_precision_loss, reason = "at most sixteen thousand")]
const fn whole(count: usize) -> f64 {
    count as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn photo(width: u32, height: u32, grey: impl Fn(u32, u32) -> u8) -> Photo {
        let pixels = (0..height).flat_map(|row| (0..width).map(move |column| (column, row)));
        let rgba = pixels.flat_map(|(column, row)| [grey(column, row), 0, 255, 7]).collect();
        Photo::new(width, height, rgba).expect("a photo")
    }

    fn red(photo: &Photo, level: usize, x: f32, y: f32) -> f64 {
        f64::from(photo.light(level, all(x), all(y)).x.to_array()[2])
    }

    #[test]
    fn every_byte_comes_back_from_its_light() {
        let photo = photo(256, 1, |column, _| u8::try_from(column).expect("a byte"));
        let screen = Screen::new();
        for column in 0..=u8::MAX {
            let light = photo.light(0, all(f32::from(column) + 0.5), all(0.5));
            let pixel = [light.x, light.y, light.z].map(|lanes| lanes.to_array()[0]);
            assert_eq!(screen.pixel(pixel), [column, 0, 255, 255]);
        }
    }

    #[test]
    fn between_pixels_light_is_as_near_to_each() {
        let photo = photo(2, 2, |column, row| if column == 1 && row == 1 { 255 } else { 0 });
        for (x, y, expected) in [(0.5, 0.5, 0.0), (1.0, 1.5, 0.5), (1.0, 1.0, 0.25), (1.75, 1.25, 0.75)] {
            assert!((red(&photo, 0, x, y) - expected).abs() < 1e-6, "{x} {y}: {}", red(&photo, 0, x, y));
        }
    }

    #[test]
    fn outside_it_is_as_at_its_edge() {
        let photo = photo(3, 2, |column, _| if column == 2 { 255 } else { 0 });
        assert!((red(&photo, 0, 900.0, -4.0) - 1.0).abs() < 1e-6);
        assert!(red(&photo, 0, -1.0e30, 7.0).abs() < 1e-6);
    }

    #[test]
    fn coarser_levels_hold_the_mean_light_at_the_same_places() {
        let photo = photo(64, 64, |column, row| if (column + row) % 2 == 0 { 255 } else { 0 });
        for level in 1..=3 {
            for place in [10.0, 31.0, 50.3] {
                let light = red(&photo, level, place, 64.0 - place);
                assert!((light - 0.5).abs() < 0.003, "{level} {place}: {light}");
            }
        }
        let ramp = self::photo(64, 8, |column, _| u8::try_from(3 * column).expect("a byte"));
        for level in [0, 1, 2] {
            let light = red(&ramp, level, 32.0, 4.0);
            assert!((light - decoded_share(94.5)).abs() < 0.002, "{level}: {light}");
        }
    }

    /// Light between bytes.
    fn decoded_share(byte: f64) -> f64 {
        f64::midpoint(srgb_light(94), srgb_light(95)) + (byte - 94.5) * (srgb_light(95) - srgb_light(94))
    }

    #[test]
    fn an_odd_photo_goes_on_to_its_last_pixel() {
        let photo = photo(33, 9, |_, _| 200);
        let last = photo.levels.last().expect("a level");
        assert!(last.width <= SMALLEST && last.height >= 1, "{} x {}", last.width, last.height);
        for level in 0..photo.levels.len() {
            assert!((red(&photo, level, 32.9, 8.9) - srgb_light(200)).abs() < 0.005, "{level}");
        }
    }

    #[test]
    fn a_level_is_as_coarse_as_is_asked_for_and_there_is() {
        let photo = photo(64, 64, |_, _| 0);
        let levels = [0.3, 1.0, 1.9, 2.0, 3.9, 4.0, 1.0e9].map(|pixels| photo.level_for(pixels));
        assert_eq!(levels, [0, 0, 0, 1, 1, 2, 3]);
    }

    #[test]
    fn pixels_that_are_no_photo_are_none() {
        assert_eq!(Photo::new(2, 2, vec![0; 15]), None);
        assert_eq!(Photo::new(0, 2, Vec::new()), None);
        assert_eq!(Photo::new(1, 16_385, vec![0; 4 * 16_385]), None);
        assert!(Photo::new(1, 1, vec![0; 4]).is_some());
    }
}
