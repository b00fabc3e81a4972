//! Likeness and time in one browser: our tracer beside a general-purpose 3D library with its own depth-of-field pass, on the
//! scenes of the checks of pictures. Run it as `cargo xtask side-by-side`; it prints and cannot fail for being slow.
//!
//! The library draws in software, as there may be no GPU. Its pass is told to focus where the lens does. How much it blurs is
//! chosen for each scene, in its favour, as what makes its picture most like the outside renderer's: around the values that
//! agree with the lens at the focus and at infinity, and before an adapter also round and oval either way.

#![expect(
    clippy::print_stdout,
    clippy::expect_used,
    clippy::panic,
    clippy::cast_precision_loss,
    reason = "it says what it measured, or stops"
)]

mod disc;
#[expect(dead_code, reason = "failures are left by the checks alone")]
#[path = "../picture/png_file.rs"]
mod png_file;
#[expect(dead_code, reason = "its speed is no matter here")]
mod renderer;
#[expect(dead_code, reason = "the checks read more")]
#[path = "../picture/scene.rs"]
mod scene;
#[expect(dead_code, reason = "here both are held to one truth")]
mod scenes;
#[path = "../picture/ssim.rs"]
mod ssim;

use std::fs::{self, File};
use std::io::BufWriter;
use std::path::Path;
use std::time::Duration;

use anyhow::{Context as _, Result, ensure};
use checks::visit;
use serde_json::{Value, json};
use thirtyfour::WebDriver;

use crate::disc::Ball;
use crate::renderer::{Renderer, Sampler};
use crate::scenes::Scene;
use crate::ssim::{Bytes, ssim};

/// Samples at which ours is shown, as in the page.
const LADDER: [u32; 12] = [4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 256];
/// Samples of pictures of which discs are measured, ours and the outside renderer's.
const DISC_SAMPLES: u32 = 512;
/// How many times the scene's size is timed too, as the scenes are small.
const LARGE: u32 = 4;
/// Times that a picture is timed.
const GOES: usize = 5;
/// Times the aperture that agrees with the lens at the focus, and times the blur that agrees with it at infinity.
const APERTURES: [f64; 6] = [0.125, 0.25, 0.5, 1.0, 2.0, 4.0];
const BLURS: [f64; 7] = [0.1, 0.25, 0.5, 0.7, 0.85, 1.0, 1.2];
/// Times a scene's size at which the library draws for what is then averaged; the most alike counts as its best.
const FINER: [u32; 3] = [1, 2, 4];

/// A picture and the milliseconds that it took.
struct Shown {
    ms: f64,
    image: Bytes,
}

/// The page on which both draw.
struct Page<'driver> {
    driver: &'driver WebDriver,
}

/// What the library's pass can be told.
#[derive(Debug, Clone, Copy)]
struct Pass {
    aperture: f64,
    most: f64,
    oval: f64,
}

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    // Cargo adds `--bench`.
    let words: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/side-by-side/page");
    visit(&folder, async |driver| {
        driver.set_script_timeout(Duration::from_mins(3)).await?;
        let page = Page { driver };
        let ready_ms = page.call("start", json!([])).await?.as_f64().context("milliseconds")?;
        println!(
            "In the browser, beside the outside renderer's pictures: SSIM of the first and the best picture, ours with {} and {} \
             samples; the largest error of a disc, pixels; and what the library's pass was told.",
            LADDER[0],
            LADDER[LADDER.len() - 1]
        );
        println!(
            "{:>22} | {:>7} {:>7} {:>8} | {:>7} {:>7} {:>8} | {:>6} {:>9} {:>9} {:>6}",
            "scene", "ours", "best", "disc px", "theirs", "best", "disc px", "finer", "aperture", "maxblur", "oval"
        );
        let mut renderer = Renderer::start();
        let mut times = Vec::new();
        for scene in Scene::all(&words) {
            times.push(compare(&page, &scene, &mut renderer).await?);
        }
        println!(
            "Milliseconds after a change until the first picture, the best, and until ours is as good as the best of theirs; the \
             same with {LARGE} times as many pixels each way; theirs from nothing to the first picture (our workers are ready in \
             {ready_ms:.0}):"
        );
        println!(
            "{:>22} | {:>7} {:>7} {:>8} | {:>7} {:>7} | {:>9} {:>9} {:>9} | {:>11}",
            "scene", "ours", "best", "as good", "theirs", "best", "x4 ours", "best", "theirs", "from nothing"
        );
        for line in times {
            println!("{line}");
        }
        Ok(())
    })
    .await
}

/// Prints how alike a scene's pictures are, and hands back the line that says how long they took.
async fn compare(page: &Page<'_>, scene: &Scene, renderer: &mut Renderer) -> Result<String> {
    let like = |shown: &Shown| ssim(&shown.image, &scene.converged);
    let ours = page.ours(&scene.json, 1, &LADDER).await?;
    let ours_large = page.ours(&scene.json, LARGE, &LADDER).await?;
    let (first, best) = (ours.first().context("a picture")?, ours.last().context("a picture")?);

    let pass = tuned(page, scene).await?;
    let again = vec![pass; 1 + GOES];
    let mut theirs = Vec::new();
    for finer in FINER {
        let (cold_ms, mut shown) = page.theirs(scene, &scene.json, finer, &again).await?;
        // The first of them compiled its shaders.
        shown.remove(0);
        theirs.push((finer, cold_ms, median(shown)?));
    }
    let (_, cold_ms, their_first) = theirs.first().context("a picture")?;
    let (finer, _, their_best) =
        theirs.iter().max_by(|one, other| like(&one.2).total_cmp(&like(&other.2))).context("a picture")?;
    let their_large = &theirs.last().context("a picture")?.2;
    let as_good = ours.iter().find(|shown| like(shown) >= like(their_best));

    let mut errors = [0.0_f64; 2];
    for ball in Ball::of(scene) {
        let truth = ball.disc_px(&renderer.draw(&ball.json, Sampler::Jittered, DISC_SAMPLES, 0).image);
        let ours = page.ours(&ball.json, 1, &[DISC_SAMPLES]).await?;
        let (_, theirs) = page.theirs(scene, &ball.json, *finer, &[pass]).await?;
        for (error, shown) in errors.iter_mut().zip([&ours, &theirs]) {
            let disc = ball.disc_px(&shown.first().context("a picture")?.image);
            *error = disc.iter().zip(truth).map(|(disc, truth)| (disc - truth).abs()).fold(*error, f64::max);
        }
    }
    println!(
        "{:>22} | {:>7.4} {:>7.4} {:>8.2} | {:>7.4} {:>7.4} {:>8.2} | {:>6} {:>9.5} {:>9.5} {:>6.2}",
        scene.name,
        like(first),
        like(best),
        errors[0],
        like(their_first),
        like(their_best),
        errors[1],
        finer,
        pass.aperture,
        pass.most,
        pass.oval
    );
    leave(&scene.name, [&best.image, &scene.converged, &their_best.image])?;
    let large = [ours_large.first(), ours_large.last()].map(|shown| shown.map_or(f64::NAN, |shown| shown.ms));
    Ok(format!(
        "{:>22} | {:>7.1} {:>7.0} {:>8} | {:>7.1} {:>7.0} | {:>9.0} {:>9.0} {:>9.0} | {:>11.0}",
        scene.name,
        first.ms,
        best.ms,
        as_good.map_or_else(|| "never".to_owned(), |shown| format!("{:.0}", shown.ms)),
        their_first.ms,
        their_best.ms,
        large[0],
        large[1],
        their_large.ms,
        cold_ms
    ))
}

/// Leaves ours | the outside renderer's | theirs to be looked at.
fn leave(name: &str, images: [&Bytes; 3]) -> Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/side-by-side/pictures");
    fs::create_dir_all(&folder)?;
    let Bytes { width, height, .. } = images[1];
    let rows = (0..*height).flat_map(|row| images.map(|image| &image.rgb[row * width..(row + 1) * width]));
    let data: Vec<u8> = rows.flatten().flatten().copied().collect();
    let file = BufWriter::new(File::create(folder.join(format!("{name}.png")))?);
    let mut encoder = png::Encoder::new(file, u32::try_from(3 * width)?, u32::try_from(*height)?);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    Ok(encoder.write_header()?.write_image_data(&data)?)
}

/// What the pass is to be told so that its picture is most like the outside renderer's.
///
/// The pass mixes over a radius of `0.4 min(aperture · |depth − focus|, maxblur)` frame widths. A lens does over
/// `D |1/s − 1/depth| / (2 w)`: `D` its pupil, `s` its focus, `w` the frame's width in tangents. Near the focus they agree if
/// `0.4 aperture = D / (2 w s²)`, at infinity if `0.4 maxblur = D / (2 w s)`.
async fn tuned(page: &Page<'_>, scene: &Scene) -> Result<Pass> {
    let picture = scene.file.picture();
    let pupil = picture.pupil.context("a lens")?;
    let at_infinity = pupil.width.to_m() / (2.0 * picture.view.width() * pupil.focus_up.to_m());
    let squeeze = scene.json["adapter"]["squeeze"].as_f64();
    let ovals = squeeze.map_or_else(|| vec![1.0], |squeeze| vec![1.0, squeeze, 1.0 / squeeze]);
    let mut passes = Vec::new();
    for oval in ovals {
        for aperture in APERTURES.map(|times| times * at_infinity / pupil.focus_up.to_m() / 0.4) {
            passes.extend(BLURS.map(|times| Pass { aperture, most: times * at_infinity / 0.4, oval }));
        }
    }
    let (_, shown) = page.theirs(scene, &scene.json, 1, &passes).await?;
    let like = shown.iter().map(|shown| ssim(&shown.image, &scene.converged));
    let best = passes.iter().zip(like).max_by(|one, other| one.1.total_cmp(&other.1));
    Ok(*best.context("a picture")?.0)
}

/// The one of several goes that took neither longest nor shortest.
fn median(mut shown: Vec<Shown>) -> Result<Shown> {
    shown.sort_by(|one, other| one.ms.total_cmp(&other.ms));
    ensure!(!shown.is_empty(), "nothing was drawn");
    Ok(shown.swap_remove(shown.len() / 2))
}

impl Page<'_> {
    async fn call(&self, function: &str, arguments: Value) -> Result<Value> {
        let script = format!(
            "const [given, done] = arguments;
             window.sideBySide.{function}(...given).then(done, (error) => done({{ error: String(error?.stack ?? error) }}));"
        );
        let told = self.driver.execute_async(script, vec![arguments]).await?.json().clone();
        ensure!(told["error"].is_null(), "the page says {}", told["error"]);
        Ok(told)
    }

    /// Our pictures after each number of samples.
    async fn ours(&self, json: &Value, scale: u32, ladder: &[u32]) -> Result<Vec<Shown>> {
        let told = self.call("ours", json!([json, scale, ladder])).await?;
        let steps = told.as_array().context("pictures")?;
        steps.iter().map(|step| shown(&step[1], &step[2], &json["size_px"])).collect()
    }

    /// The library's pictures with each of what its pass is told, and the milliseconds from nothing to the first.
    async fn theirs(
        &self,
        scene: &Scene,
        json: &Value,
        scale: u32,
        passes: &[Pass],
    ) -> Result<(f64, Vec<Shown>)> {
        let view = scene.file.picture().view;
        let half = json!({ "half_width": view.width() / 2.0, "half_height": view.height() / 2.0 });
        let passes: Vec<Value> = passes
            .iter()
            .map(|pass| json!({ "aperture": pass.aperture, "maxblur": pass.most, "oval": pass.oval }))
            .collect();
        let told = self.call("theirs", json!([json, half, scale, passes])).await?;
        let pictures = told[1].as_array().context("pictures")?;
        let shown = pictures.iter().map(|one| shown(&one[0], &one[1], &json["size_px"]));
        Ok((told[0].as_f64().context("milliseconds")?, shown.collect::<Result<_>>()?))
    }
}

/// A picture as the page tells it: milliseconds, and red, green and blue as text.
fn shown(ms: &Value, pixels: &Value, size_px: &Value) -> Result<Shown> {
    let side = |at: usize| -> Result<usize> { Ok(usize::try_from(size_px[at].as_u64().context("a side")?)?) };
    let (width, height) = (side(0)?, side(1)?);
    let letters = pixels.as_str().context("pixels")?.chars();
    let bytes: Vec<u8> = letters.map(u8::try_from).collect::<Result<_, _>>()?;
    ensure!(bytes.len() == width * height * 3, "{} bytes of {width} x {height}", bytes.len());
    let rgb = bytes.chunks_exact(3).map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    Ok(Shown { ms: ms.as_f64().context("milliseconds")?, image: Bytes { width, height, rgb } })
}
