//! Frame lines as images to lay over what was recorded.

use std::io::Write as _;

use png::{BitDepth, ColorType, Compression, Encoder, Filter, SrgbRenderingIntent};

use super::ExportError;
use super::frames::{RecordedFrame, recorded_frames};
use crate::film::Film;

/// A matte: an image of a recorded frame's size that dims what is not delivered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Matte {
    /// The recording mode, the adapter if one is on, and the shots that it is for if their frame is off the middle.
    pub name: String,
    /// The image as a PNG with transparency.
    pub png: Vec<u8>,
}

/// What is not delivered: black that lets half of the picture through. Chosen, so that a microphone in it is still seen.
const OUTSIDE: [u8; 4] = [0, 0, 0, 128];
/// What is delivered: nothing over it.
const INSIDE: [u8; 4] = [0; 4];
/// The line between.
const LINE: [u8; 4] = [255; 4];

/// How many lines' widths a frame is high: chosen, as 4 pixels of 2160 are still seen at a quarter of the size.
const LINES_IN_HEIGHT: f64 = 540.0;

/// A matte for each recording mode, without an adapter and with each that a shot is made with; and one for each other place
/// in which shots have the delivered frame.
///
/// With an adapter it is drawn squeezed, as the picture is captured: it goes over the clip before it is brought back to shape.
/// The line lies just outside the delivered frame, so nothing that is delivered is covered; where the two frames share an
/// edge there is none.
///
/// # Errors
/// Only where an image cannot be written.
pub fn mattes(film: &Film) -> Result<Vec<Matte>, ExportError> {
    let frames = recorded_frames(film);
    let matte = |frame: &RecordedFrame<'_>| {
        Ok(Matte { name: frame.canvas.name() + &frame.whose(), png: drawn(frame)? })
    };
    frames.iter().map(matte).collect()
}

/// A stretch of a row or a column that is delivered, in whole pixels, and how wide its lines are.
#[derive(Debug, Clone, Copy)]
struct Kept {
    from: u32,
    to: u32,
    line: u32,
}

/// What a pixel is along one axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Zone {
    Outside,
    Line,
    Inside,
}

impl Kept {
    fn of(from_px: f64, length_px: f64, line_px: f64) -> Self {
        Self { from: whole(from_px), to: whole(from_px + length_px), line: whole(line_px).max(1) }
    }

    fn zone(self, at: u32) -> Zone {
        if (self.from..self.to).contains(&at) {
            Zone::Inside
        } else if (self.from.saturating_sub(self.line)..self.to + self.line).contains(&at) {
            Zone::Line
        } else {
            Zone::Outside
        }
    }
}

fn whole(pixels: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 20000 pixels")]
    let pixels = libm::round(pixels.max(0.0)) as u32;
    pixels
}

/// The image of a frame, row by row: all of it at once would be 33 MB for 4K.
fn drawn(frame: &RecordedFrame<'_>) -> Result<Vec<u8>, ExportError> {
    let RecordedFrame { canvas, delivered, .. } = frame;
    let recording = &canvas.recording.recording;
    let (width, height) = (recording.width_px(), recording.height_px());
    let line_px = f64::from(width.min(height)) / LINES_IN_HEIGHT;
    // A squeezed pixel is shown wider, so fewer of them make a line.
    let columns = Kept::of(delivered.left_px, delivered.width_px, line_px / canvas.squeeze);
    let rows = Kept::of(delivered.top_px, delivered.height_px, line_px);
    let row = |across: Zone| -> Vec<u8> {
        let pixel = |x: u32| match (across, columns.zone(x)) {
            (Zone::Outside, _) | (_, Zone::Outside) => OUTSIDE,
            (Zone::Line, _) | (_, Zone::Line) => LINE,
            (Zone::Inside, Zone::Inside) => INSIDE,
        };
        (0..width).flat_map(pixel).collect()
    };
    let [outside, line, inside] = [row(Zone::Outside), row(Zone::Line), row(Zone::Inside)];
    let mut file = Vec::new();
    let mut encoder = Encoder::new(&mut file, width, height);
    encoder.set_color(ColorType::Rgba);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_source_srgb(SrgbRenderingIntent::Perceptual);
    encoder.set_compression(Compression::Fast);
    encoder.set_filter(Filter::Up);
    let mut writer = encoder.write_header()?;
    let mut stream = writer.stream_writer()?;
    for y in 0..height {
        let row = match rows.zone(y) {
            Zone::Outside => &outside,
            Zone::Line => &line,
            Zone::Inside => &inside,
        };
        stream.write_all(row).map_err(png::EncodingError::from)?;
    }
    stream.finish()?;
    writer.finish()?;
    Ok(file)
}

#[cfg(test)]
mod tests {
    use super::super::frames::with_adapter;
    use super::*;
    use std::io::Cursor;
    use std::sync::Arc;

    /// The same film in one mode, a small one: unoptimized, large images take seconds.
    fn in_full_hd(mut film: Film) -> Film {
        let kit = Arc::make_mut(&mut film.kit);
        kit.recordings.retain(|mode| mode.name == "Full HD");
        assert_eq!(kit.recordings.len(), 1);
        film
    }

    /// The image's width, height and pixels.
    fn pixels(file: &[u8]) -> (u32, u32, Vec<[u8; 4]>) {
        let mut reader = png::Decoder::new(Cursor::new(file)).read_info().expect("a PNG");
        let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
        let info = reader.next_frame(&mut bytes).expect("an image");
        assert_eq!((info.color_type, info.bit_depth), (ColorType::Rgba, BitDepth::Eight));
        let pixels = bytes.chunks_exact(4).map(|rgba| [rgba[0], rgba[1], rgba[2], rgba[3]]).collect();
        (info.width, info.height, pixels)
    }

    #[test]
    fn nothing_that_is_delivered_is_covered_and_all_else_is_dimmed() {
        let film = in_full_hd(with_adapter());
        for (matte, frame) in mattes(&film).expect("drawn").iter().zip(recorded_frames(&film)) {
            let (width, height, pixels) = pixels(&matte.png);
            let mode = &frame.canvas.recording.recording;
            assert_eq!((width, height), (mode.width_px(), mode.height_px()), "{}", matte.name);
            let at = |x: u32, y: u32| pixels[usize::try_from(y * width + x).expect("small")];
            let (top, bottom) =
                (whole(frame.delivered.top_px), whole(frame.delivered.top_px + frame.delivered.height_px));
            assert!(top > 4 && bottom < height - 4, "{}: {top} to {bottom}", matte.name);
            for x in [0, width / 2, width - 1] {
                assert_eq!(at(x, 0), OUTSIDE, "{}", matte.name);
                assert_eq!(at(x, height - 1), OUTSIDE, "{}", matte.name);
                assert_eq!(at(x, top - 1), LINE, "{}", matte.name);
                assert_eq!(at(x, bottom), LINE, "{}", matte.name);
                for y in [top, height / 2, bottom - 1] {
                    assert_eq!(at(x, y), INSIDE, "{} at {x}, {y}", matte.name);
                }
            }
        }
    }

    #[test]
    fn a_frame_that_is_narrower_than_what_is_recorded_has_its_lines_at_the_sides() {
        let mut film = in_full_hd(crate::preset::demo_film());
        let facts = Arc::make_mut(&mut film.facts);
        facts.aspect = optics::Aspect::new(1.0).expect("a shape");
        let matte = &mattes(&film).expect("drawn")[0];
        let (width, height, pixels) = pixels(&matte.png);
        let row = usize::try_from(height / 2 * width).expect("small");
        let edge = usize::try_from((width - height) / 2).expect("small");
        assert_eq!(pixels[row], OUTSIDE);
        assert_eq!([pixels[row + edge - 1], pixels[row + edge]], [LINE, INSIDE]);
    }
}
