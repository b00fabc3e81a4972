//! `tapemark picture`: what the frame will look like, as a PNG.

mod of_film;
mod of_request;

use std::fs::File;
use std::io::{self, BufWriter};
use std::num::NonZero;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;

use film::ShotResult;
use optics::Aspect;
use png::{BitDepth, ColorType, Encoder, SrgbRenderingIntent};
use render::{Picture, Screen, Size, Strip, Tracer};
use requests::FindingAnswer;
use units::LengthUnit;

use crate::failure::Failure;
use crate::figures;
use crate::film_input::FilmFile;
use crate::frame_lines::draw_lines;
use crate::shot_number::{ShotNumber, shot_number};

/// What to draw.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A JSON file that says the shot, or with --shot a film's; - for standard input
    #[arg(value_name = "FILE.json")]
    file: String,
    /// The shot of a film, by its number in `tapemark shots`, such as 2.3
    #[arg(long, value_name = "S.N", value_parser = shot_number)]
    shot: Option<ShotNumber>,
    /// Go on with what can be saved of a damaged film, and tell the rest on standard error
    #[arg(long, requires = "shot")]
    anyway: bool,
    /// The image's size in pixels; it must have the frame's shape
    #[arg(long, value_name = "WIDTHxHEIGHT", value_parser = size, conflicts_with = "width")]
    size: Option<Size>,
    /// The image's width in pixels, its height following from the frame's shape
    #[arg(long, value_name = "PIXELS", default_value_t = 960, value_parser = clap::value_parser!(u32).range(LEAST_PX..=MOST_PX))]
    width: u32,
    /// Samples a pixel: more of them, less grain
    #[arg(long, default_value_t = 256, value_parser = clap::value_parser!(u32).range(1..=65_536))]
    samples: u32,
    /// Where to write the image
    #[arg(long, value_name = "FILE.png")]
    out: String,
    /// The frame that is taken so many seconds into the take, or into a film's shot as it plays
    #[arg(long, value_name = "SECONDS", default_value_t = 0.0)]
    at: f64,
    /// Draw thirds over it, and the edges of the second shape if there is one
    #[arg(long)]
    lines: bool,
    /// How many threads draw; as many as there are cores if absent. The image is the same with any
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=256))]
    threads: Option<u32>,
}

/// What `picture` reads and writes.
pub(crate) const HELP: &str = "\
The request is that of `tapemark setup`: its blocking says who and what else is there and where the light is, its take \
what moves, its shutter how long the frame is exposed. Without blocking, the subject stands on a floor with a line every \
metre, before posts 0.1 m wide that stand every 0.5 m across the frame at the background's distance.

The picture is sharp where setup says so, and soft by the discs that it tells, in both axes with an adapter, and smeared \
by what moves. Where f-number or focal length are not known all of it is sharp. Samples are taken four at a time. The \
same request gives the same file, byte by byte, with any number of threads; so does the same film and shot.

With --shot the file is a film, whose JSON Schema is printed by `tapemark schema film`. The shot is drawn as it is \
rehearsed: everybody where their ways have them then, on the lens that `tapemark shots` names, in the scene's light. --at \
counts seconds of the shot as it plays, up to its planned length. A file that is no film, from a newer version, or damaged \
is refused as by `tapemark check`; --anyway goes on with what can be saved, and tells the rest on standard error, a line each.

Where the framing cannot be had, the film lacks what the shot needs or has no such shot, or the size has another shape than \
the frame, the exit is 2 with one line on standard error, and nothing is written.";

/// Sides of an image: chosen because less shows nothing and no screen has more.
const LEAST_PX: i64 = 16;
const MOST_PX: i64 = 8192;

/// A frame to be drawn, and what is to be said of its shot.
struct ToDraw {
    picture: Picture,
    /// The frame's width over its height.
    aspect: f64,
    /// The second shape that the shot is to hold, if any.
    second: Option<Aspect>,
    findings: Vec<FindingAnswer>,
}

/// Draws the picture and writes it; the text to print says what was written and what is the matter with the shot.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    let Options { file, at, anyway, .. } = options;
    let ToDraw { picture, aspect, second, findings } = match options.shot {
        Some(number) => of_film::to_draw(&FilmFile { name: file, anyway: *anyway }, number, *at)?,
        None => of_request::to_draw(file, *at)?,
    };
    let size = sized(options, aspect)?;
    let threads = options.threads.map_or_else(cores, |threads| usize::try_from(threads).unwrap_or(1));
    let tracer = Tracer::new(&picture, size);
    let (mut rgba, taken) = draw(&tracer, options.samples, threads);
    if options.lines {
        draw_lines(&mut rgba, size, second);
    }
    write(&options.out, size, &rgba)
        .map_err(|source| Failure::UnwritableFile { file: options.out.clone(), source })?;
    let written = format!("{}: {} x {} px, {taken} samples a pixel\n", options.out, size.width, size.height);
    Ok(written + &figures::findings(&findings))
}

/// What stands in the way of any framing, on one line.
fn unframed(result: &ShotResult) -> Failure {
    let told = result.worst().map(|finding| finding.to_finding(LengthUnit::Metres));
    let message = told.map(|finding| format!("{}; {}", finding.message, finding.hint));
    Failure::Unframed { message: message.unwrap_or_default() }
}

/// A size such as `960x402`.
fn size(text: &str) -> Result<Size, String> {
    let told = format!("two whole numbers of {LEAST_PX} to {MOST_PX} with an x between, such as 960x402");
    let side =
        |part: &str| part.parse().ok().filter(|side: &u32| (LEAST_PX..=MOST_PX).contains(&i64::from(*side)));
    let (width, height) = text.split_once('x').ok_or_else(|| told.clone())?;
    match (side(width), side(height)) {
        (Some(width), Some(height)) => Ok(Size { width, height }),
        _ => Err(told),
    }
}

/// The image's size, held to the frame's shape.
fn sized(options: &Options, aspect: f64) -> Result<Size, Failure> {
    let wanted = options.size.unwrap_or(Size { width: options.width, height: 0 });
    let height = f64::from(wanted.width) / aspect;
    let fitting = Size { width: wanted.width, height: rounded(height) };
    if options.size.is_none() {
        return Ok(fitting);
    }
    // Either side may be the one that was rounded.
    let width = f64::from(wanted.height) * aspect;
    let off = (height - f64::from(wanted.height)).abs().min((width - f64::from(wanted.width)).abs());
    if off < 1.0 { Ok(wanted) } else { Err(Failure::WrongShape { wanted, fitting, aspect }) }
}

/// A side in whole pixels, within what an image may have.
pub(crate) fn rounded(side: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped and rounded")]
    let side = side.round().clamp(1.0, 65_535.0) as u32;
    side
}

/// As many threads as may run at once.
pub(crate) fn cores() -> usize {
    thread::available_parallelism().map_or(1, NonZero::get)
}

/// A strip to be drawn, and where its pixels go.
struct Task<'image> {
    strip: Strip,
    pixels: &'image mut [u8],
}

/// Draws strip after strip, each on whichever thread is free: the pixels, and how many samples were taken of each.
pub(crate) fn draw(tracer: &Tracer, samples: u32, threads: usize) -> (Vec<u8>, u32) {
    let Size { width, height } = tracer.size();
    let bytes_of = |rows: u32| usize::try_from(u64::from(width) * u64::from(rows) * 4).unwrap_or(0);
    let mut rgba = vec![0; bytes_of(height)];
    let mut rest = rgba.as_mut_slice();
    let mut tasks = Vec::new();
    for index in 0..tracer.strips() {
        let strip = tracer.strip(index);
        let rows = strip.rows();
        let (pixels, below) = rest.split_at_mut(bytes_of(rows.end - rows.start));
        rest = below;
        tasks.push(Task { strip, pixels });
    }
    // The lock is held for the taking alone, so that a thread that dies leaves the others their tasks.
    let tasks = Mutex::new(tasks);
    let next = || tasks.lock().unwrap_or_else(PoisonError::into_inner).pop();
    let screen = Screen::new();
    let taken = AtomicU32::new(0);
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                while let Some(Task { mut strip, pixels }) = next() {
                    tracer.trace(&mut strip, samples);
                    strip.develop(&screen, pixels);
                    taken.fetch_max(strip.samples(), Ordering::Relaxed);
                }
            });
        }
    });
    (rgba, taken.into_inner())
}

fn write(file: &str, size: Size, rgba: &[u8]) -> io::Result<()> {
    encode(BufWriter::new(File::create(file)?), size, rgba)
}

/// Writes the image as a PNG without its opacity, of which there is none to tell.
pub(crate) fn encode(to: impl io::Write, size: Size, rgba: &[u8]) -> io::Result<()> {
    let rgb: Vec<u8> = rgba.chunks_exact(4).flat_map(|pixel| pixel.iter().take(3).copied()).collect();
    let mut encoder = Encoder::new(to, size.width, size.height);
    encoder.set_color(ColorType::Rgb);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_source_srgb(SrgbRenderingIntent::Perceptual);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&rgb)?;
    writer.finish()?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_is_two_sides() {
        assert_eq!(size("960x402"), Ok(Size { width: 960, height: 402 }));
        for text in ["960", "960x", "x402", "960 x 402", "-960x402", "15x16", "9000x16", "960x402x3"] {
            assert!(size(text).is_err(), "{text}");
        }
    }
}
