//! Time to equal image error, natively: our tracer beside the outside renderer on the scenes of the checks of pictures. Run
//! it as `cargo xtask side-by-side`; it prints and cannot fail for being slow.
//!
//! Error is the root mean square difference of 8-bit luma from a converged picture. For scenes in which everything glows
//! that is the outside renderer's, for both sides, so that a bias of ours would count against us; where shapes are lit, ours
//! is a simpler model of light than theirs and each side is held to its own converged picture.

#![expect(
    clippy::print_stdout,
    clippy::expect_used,
    clippy::panic,
    clippy::cast_precision_loss,
    reason = "it says what it measured, or stops"
)]

#[expect(dead_code, reason = "failures are left by the checks alone")]
#[path = "../picture/png_file.rs"]
mod png_file;
mod renderer;
#[expect(dead_code, reason = "the checks read more")]
#[path = "../picture/scene.rs"]
mod scene;
mod scenes;
#[expect(dead_code, reason = "here an error is a difference")]
#[path = "../picture/ssim.rs"]
mod ssim;

use std::sync::Mutex;
use std::sync::atomic::{AtomicU32, Ordering};
use std::thread;
use std::time::Instant;

use render::{Picture, Screen, Size, Tracer};

use crate::renderer::{Renderer, Sampler};
use crate::scenes::Scene;
use crate::ssim::{Bytes, luma};

/// Errors that both are to reach, of 255: chosen because noise of the first is just seen on a flat wall, and of the second
/// no longer.
const ERRORS: [f64; 2] = [2.0, 1.0];
/// Samples from which ours counts as converged: twice as many change the error by less than a tenth.
const CONVERGED: u32 = 16_384;
/// Samples to begin with, and after which no more are asked for.
const FIRST: u32 = 4;
const LAST: u32 = 1 << 17;
/// Seconds that a drawing may take before no better one is asked for.
const LONG_S: f64 = 60.0;
/// Goes that are timed, and the seconds after which no further one is begun: as the renderer's.
const GOES: u32 = 5;
const SHORT_S: f64 = 1.0;

const SAMPLERS: [Sampler; 3] = [Sampler::Jittered, Sampler::Orthogonal, Sampler::LowDiscrepancy];

/// How far one drawing is from the converged picture.
#[derive(Debug, Clone, Copy)]
struct Step {
    samples: f64,
    error: f64,
    seconds: f64,
}

/// All that one side drew of a scene, by how it spread its samples.
struct Side {
    how: &'static str,
    steps: Vec<Step>,
    /// The longest that compiling took.
    compiling_s: f64,
}

fn main() {
    // Cargo adds `--bench`.
    let words: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    let threads = thread::available_parallelism().map_or(1, usize::from);
    println!(
        "Time to equal error (root mean square of 8-bit luma, of 255) on {threads} cores, milliseconds. Theirs by the best of its \
         samplers, without loading the scene and without compiling; ours on all cores and on one, all included."
    );
    println!(
        "{:>22} {:>5} {:>8} | {:>8} {:>8} {:>8} | {:>8} {:>8} {:>9} {:>12} | {:>6} {:>8} | {:>9}",
        "scene",
        "error",
        "from",
        "samples",
        "1 thread",
        "all",
        "samples",
        "all",
        "compiling",
        "sampler",
        "ratio",
        "1 thread",
        "our bias"
    );
    let mut renderer = Renderer::start();
    for scene in Scene::all(&words) {
        compare(&scene, &mut renderer, threads);
    }
}

/// Prints the rows of a scene.
fn compare(scene: &Scene, renderer: &mut Renderer, threads: usize) {
    let (picture, size) = (scene.file.picture(), scene.file.size());
    let (ours_converged, _) = ours(&picture, size, CONVERGED, threads);
    let bias = error(&ours_converged, &scene.converged);
    let converged = if scene.is_lit() { &ours_converged } else { &scene.converged };
    let [alone, all] = [1, threads].map(|threads| {
        steps(LONG_S, |samples| {
            let (image, seconds) = ours(&picture, size, samples, threads);
            Step { samples: f64::from(samples), error: error(&image, converged), seconds }
        })
    });
    let mut theirs: Vec<Side> = Vec::new();
    // Where the renderer has no such lens, `renderer.py` spreads pinholes in a way of its own.
    let by_pinholes = scene.json["adapter"]["focusing"] == false;
    for &sampler in if by_pinholes { &SAMPLERS[..1] } else { &SAMPLERS } {
        // What takes longer than another took for the best picture is not the fastest for any.
        let until = theirs.iter().filter_map(|side| reached(&side.steps, ERRORS[1])).map(|step| step.seconds);
        let until = until.fold(LONG_S, f64::min);
        let mut compiling_s = 0.0_f64;
        let steps = steps(until, |samples| {
            let drawn = renderer.draw(&scene.json, sampler, samples, GOES);
            compiling_s = compiling_s.max(drawn.seconds_of_first - drawn.seconds);
            Step {
                samples: drawn.samples,
                error: error(&drawn.image, &scene.converged),
                seconds: drawn.seconds,
            }
        });
        theirs.push(Side { how: if by_pinholes { "pinholes" } else { sampler.name() }, steps, compiling_s });
    }
    for wanted in ERRORS {
        let fastest = theirs
            .iter()
            .filter_map(|side| reached(&side.steps, wanted).map(|step| (side, step)))
            .min_by(|one, other| one.1.seconds.total_cmp(&other.1.seconds));
        let [alone, all] = [&alone, &all].map(|steps| reached(steps, wanted));
        let ratio = |ours: Option<Step>| match (ours, fastest) {
            (Some(ours), Some((_, theirs))) => format!("{:.1}", theirs.seconds / ours.seconds),
            _ => "-".to_owned(),
        };
        println!(
            "{:>22} {:>5} {:>8} | {:>8} {:>8} {:>8} | {:>8} {:>8} {:>9} {:>12} | {:>6} {:>8} | {:>9.2}",
            scene.name,
            wanted,
            if scene.is_lit() { "own" } else { "theirs" },
            samples(all),
            milliseconds(alone),
            milliseconds(all),
            samples(fastest.map(|(_, step)| step)),
            milliseconds(fastest.map(|(_, step)| step)),
            fastest.map_or_else(String::new, |(side, _)| format!("{:.0}", side.compiling_s * 1000.0)),
            fastest.map_or("", |(side, _)| side.how),
            ratio(all),
            ratio(alone),
            bias
        );
    }
}

fn samples(step: Option<Step>) -> String {
    step.map_or_else(|| "never".to_owned(), |step| format!("{:.0}", step.samples))
}

fn milliseconds(step: Option<Step>) -> String {
    step.map_or_else(|| "never".to_owned(), |step| format!("{:.1}", step.seconds * 1000.0))
}

/// Drawings with twice as many samples each time, until one is good enough or takes too long.
fn steps(until_s: f64, mut draw: impl FnMut(u32) -> Step) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut samples = FIRST;
    while samples <= LAST {
        let step = draw(samples);
        steps.push(step);
        if step.error <= ERRORS[1] || step.seconds > until_s {
            break;
        }
        samples *= 2;
    }
    steps
}

/// Where an error is reached: between two drawings in proportion, all in logarithms, as errors fall with a power of the
/// samples.
fn reached(steps: &[Step], wanted: f64) -> Option<Step> {
    let index = steps.iter().position(|step| step.error <= wanted)?;
    let after = steps[index];
    let Some(before) = index.checked_sub(1).map(|before| steps[before]) else { return Some(after) };
    let share = libm::log(before.error / wanted) / libm::log(before.error / after.error);
    let between = |from: f64, to: f64| from * libm::pow(to / from, share);
    Some(Step {
        samples: between(before.samples, after.samples),
        error: wanted,
        seconds: between(before.seconds, after.seconds),
    })
}

/// Our picture with so many threads, and the seconds that it took, preparing and developing included.
fn ours(picture: &Picture, size: Size, samples: u32, threads: usize) -> (Bytes, f64) {
    let screen = Screen::new();
    let mut least = f64::INFINITY;
    let mut spent = 0.0;
    let mut rows = Vec::new();
    for _ in 0..GOES {
        let start = Instant::now();
        rows = draw(picture, size, samples, threads, &screen);
        let seconds = start.elapsed().as_secs_f64();
        least = least.min(seconds);
        spent += seconds;
        if spent > SHORT_S {
            break;
        }
    }
    let rgb = rows.iter().flat_map(|rgba| rgba.chunks_exact(4)).map(|pixel| [pixel[0], pixel[1], pixel[2]]);
    (Bytes { width: size.width as usize, height: size.height as usize, rgb: rgb.collect() }, least)
}

/// The strips of a picture, each drawn by whoever is free.
fn draw(picture: &Picture, size: Size, samples: u32, threads: usize, screen: &Screen) -> Vec<Vec<u8>> {
    let tracer = Tracer::new(picture, size);
    let next = AtomicU32::new(0);
    let strips = Mutex::new(vec![Vec::new(); tracer.strips() as usize]);
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    if index >= tracer.strips() {
                        break;
                    }
                    let mut strip = tracer.strip(index);
                    tracer.trace(&mut strip, samples);
                    let mut rgba = vec![0; strip.rows().len() * size.width as usize * 4];
                    strip.develop(screen, &mut rgba);
                    strips.lock().expect("nobody panics")[index as usize] = rgba;
                }
            });
        }
    });
    strips.into_inner().expect("nobody panics")
}

/// The root mean square difference of the luma of two pictures.
fn error(one: &Bytes, other: &Bytes) -> f64 {
    let (one, other) = (luma(one), luma(other));
    let sum: f64 = one.iter().zip(&other).map(|(one, other)| (one - other) * (one - other)).sum();
    (sum / one.len() as f64).sqrt()
}
