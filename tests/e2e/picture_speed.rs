//! Measures how soon the page shows a change and how soon its picture is good: run it as `cargo xtask bench`. It tells and
//! cannot fail for being slow.
//!
//! What counts as good is likeness to the converged image, which the page's own worker draws with many samples.

#![expect(clippy::expect_used, reason = "it stops if it cannot measure")]

#[path = "../picture/ssim.rs"]
mod ssim;

use std::time::Duration;

use anyhow::{Context as _, Result, ensure};
use checks::{Browser, Screen, journey, tell};
use serde_json::Value;
use ssim::{Bytes, ssim};

/// Screens on which the large frame is 480 by 270 and 960 by 540 pixels.
const SCREENS: [Screen; 2] = [
    Screen { name: "480x270", width: 480 + SCROLLBAR, height: 1000, touch: false },
    Screen { name: "960x540", width: 960 + SCROLLBAR, height: 1000, touch: false },
];

/// What Chromium's scrollbar takes, pixels.
const SCROLLBAR: u32 = 15;

/// Changes of everything that the picture shows: in words, and how to make them.
const CHANGES: [(&str, &str); 3] = [
    ("wide", "[...document.querySelectorAll('.size')].find((one) => one.textContent === 'wide')"),
    ("tight", "[...document.querySelectorAll('.size')].find((one) => one.textContent === 'tight')"),
    ("long", "[...document.querySelectorAll('.lens')].find((one) => one.textContent.startsWith('long'))"),
];

/// Two people and eight pieces of a set.
const DRESS: &str = r#"
    const plan = JSON.parse(localStorage.getItem("tapemark.setup"));
    plan.shot.delivery.aspect = "16:9";
    plan.shot.subject.second_person = {};
    plan.shot.blocking = { pieces: [
        { kind: "wall", x_m: 0, y_m: 8 }, { kind: "window", x_m: -4, y_m: 7 }, { kind: "doorway", x_m: 4, y_m: 7 },
        { kind: "table", x_m: 1.6, y_m: 2 }, { kind: "bench", x_m: -2, y_m: 3 }, { kind: "tree", x_m: 3, y_m: 5 },
        { kind: "hedge", x_m: -3, y_m: 6 }, { kind: "lamp_post", x_m: 2, y_m: 4 },
    ] };
    localStorage.setItem("tapemark.setup", JSON.stringify(plan));
"#;

/// Notes when rows appear on the large picture, and what its workers were asked.
const WATCH: &str = r#"
    window.shown = [];
    window.begun = [];
    let number = 0, isOpen = false;
    const put = CanvasRenderingContext2D.prototype.putImageData;
    CanvasRenderingContext2D.prototype.putImageData = function (image, x, y) {
        put.call(this, image, x, y);
        if (!this.canvas.classList.contains("picture")) return;
        if (!isOpen) {
            isOpen = true;
            number += 1;
            const first = window.shown.length;
            queueMicrotask(() => {
                isOpen = false;
                for (const one of window.shown.slice(first)) one.samples = Number(this.canvas.dataset.samples);
            });
        }
        const { width, height } = this.canvas;
        window.shown.push({ number, at: performance.now(), image, y, width, height });
    };
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (message, ...rest) {
        // `requests::DrawingRequest` in numbers: its first kind begins a picture, and ends with size, part and parts.
        if (message[0] === 0) window.begun.push(message);
        post.call(this, message, ...rest);
    };
"#;

/// The converged image, and the large picture after each time that rows appeared on it: luma as text, one letter a pixel.
const COLLECT: &str = r#"
    const done = arguments[0];
    const lumaOf = (rgba) => {
        const luma = new Uint8Array(rgba.length / 4);
        for (let at = 0; at < luma.length; at += 1) {
            luma[at] = Math.round(0.2126 * rgba[4 * at] + 0.7152 * rgba[4 * at + 1] + 0.0722 * rgba[4 * at + 2]);
        }
        let text = "";
        for (let at = 0; at < luma.length; at += 4096) text += String.fromCharCode(...luma.subarray(at, at + 4096));
        return text;
    };
    const converged = async (begin) => {
        const worker = new Worker("picture/worker.js", { type: "module" });
        const next = () => new Promise((heard) => { worker.onmessage = ({ data }) => heard(data); });
        await next();
        worker.postMessage(begin.with(-2, 0).with(-1, 1));
        worker.postMessage(Float64Array.of(1, begin[1], 0, 512));
        let data = await next();
        while (!Array.isArray(data)) data = await next();
        worker.terminate();
        return lumaOf(new Uint8Array(data[1]));
    };
    (async () => {
        const { width, height } = document.querySelector("canvas.picture");
        const begin = window.begun.findLast((one) => one.at(-4) === width && one.at(-3) === height);
        const steps = [];
        let rgba = new Uint8ClampedArray(0), size = "";
        for (let at = 0; at < window.shown.length; at += 1) {
            const one = window.shown[at];
            if (size !== `${one.width} ${one.height}`) {
                size = `${one.width} ${one.height}`;
                rgba = new Uint8ClampedArray(one.width * one.height * 4);
            }
            rgba.set(one.image.data, one.y * one.width * 4);
            if (at + 1 === window.shown.length || window.shown[at + 1].number !== one.number) {
                steps.push([one.at - window.changed, one.width, one.height, lumaOf(rgba), one.samples]);
            }
        }
        done([[0, width, height, await converged(begin), 512], ...steps]);
    })().catch((error) => done(String(error)));
"#;

/// The table that it all stands in.
const TABLE: &str = "From a change to its picture, two people and eight pieces";

/// Samples after which the large picture is finished.
const FINISHED: &str = "return document.querySelector('canvas.picture')?.dataset.samples === '128'";

/// An image that was shown, and when, counted from the change.
struct Step {
    at_ms: f64,
    image: Bytes,
    /// Of the least of its pixels.
    samples: u32,
}

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    for screen in SCREENS {
        journey(screen, "picture-speed", async |browser| {
            browser.script(DRESS).await?;
            browser.reload().await?;
            wait_until_finished(browser).await?;
            browser.script(WATCH).await?;
            browser.driver().set_script_timeout(Duration::from_mins(3)).await?;
            for change in CHANGES {
                measure(browser, screen, change).await?;
            }
            Ok(())
        })
        .await?;
    }
    Ok(())
}

/// Makes a change and tells when its picture was how good.
async fn measure(browser: &Browser, screen: Screen, (name, button): (&str, &str)) -> Result<()> {
    // Thumbnails that are still being drawn would slow it down.
    tokio::time::sleep(Duration::from_secs(2)).await;
    let change = format!(
        "window.shown.length = 0; document.querySelector('canvas.picture').dataset.samples = 0;
         const button = {button}; window.changed = performance.now(); button.click();"
    );
    browser.script(&change).await?;
    wait_until_finished(browser).await?;
    let told = browser.driver().execute_async(COLLECT, Vec::new()).await?;
    let mut steps = steps(told.json())?;
    let converged = steps.remove(0).image;
    let first = steps.first().context("nothing was shown")?;
    let likeness = |step: &Step| ssim(&enlarged(&step.image, converged.width, converged.height), &converged);
    let likenesses: Vec<f64> = steps.iter().map(likeness).collect();
    let row = format!("{} to {name}", screen.name);
    let tell = |column: &str, value: f64, unit: &str| tell(TABLE, &row, column, value, unit);
    tell("first image", first.at_ms, "ms");
    tell("its SSIM", likenesses.first().copied().unwrap_or(f64::NAN), "x");
    for (column, least) in [("SSIM 0.95", 0.95), ("SSIM 0.98", 0.98), ("SSIM 0.99", 0.99)] {
        let reached = steps.iter().zip(&likenesses).find(|(_, likeness)| **likeness >= least);
        tell(column, reached.map_or(f64::NAN, |(step, _)| step.at_ms), "ms");
        tell(
            &format!("{column}, samples"),
            reached.map_or(f64::NAN, |(step, _)| f64::from(step.samples)),
            "",
        );
    }
    tell("finished", steps.last().map_or(f64::NAN, |step| step.at_ms), "ms");
    Ok(())
}

async fn wait_until_finished(browser: &Browser) -> Result<()> {
    for _ in 0..600 {
        if browser.script(FINISHED).await? == Value::Bool(true) {
            return Ok(());
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    anyhow::bail!("the picture is not finished after a minute")
}

/// Reads what the page collected.
fn steps(told: &Value) -> Result<Vec<Step>> {
    let list = told.as_array().with_context(|| format!("the page says {told}"))?;
    list.iter()
        .map(|one| {
            let number = |at: usize| one[at].as_f64().context("a number");
            let side =
                |at: usize| -> Result<usize> { Ok(usize::try_from(one[at].as_u64().context("a side")?)?) };
            let luma = one[3].as_str().context("luma")?.chars();
            let rgb: Vec<[u8; 3]> =
                luma.map(|letter| u8::try_from(letter).map(|luma| [luma; 3])).collect::<Result<_, _>>()?;
            let (width, height) = (side(1)?, side(2)?);
            ensure!(rgb.len() == width * height, "{} pixels of {width} x {height}", rgb.len());
            let samples = u32::try_from(one[4].as_u64().context("samples")?)?;
            Ok(Step { at_ms: number(0)?, image: Bytes { width, height, rgb }, samples })
        })
        .collect()
}

/// An image at another size, as a browser shows it: between the middles of four pixels in proportion.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "places in an image of a thousand pixels"
)]
fn enlarged(image: &Bytes, width: usize, height: usize) -> Bytes {
    if (image.width, image.height) == (width, height) {
        return image.clone();
    }
    let between = |at: usize, from: usize, to: usize| {
        let place = ((at as f64 + 0.5) * from as f64 / to as f64 - 0.5).clamp(0.0, (from - 1) as f64);
        let first = place.floor();
        (first as usize, (first as usize + 1).min(from - 1), place - first)
    };
    let luma = |x: usize, y: usize| f64::from(image.rgb[y * image.width + x][0]);
    let mut rgb = Vec::with_capacity(width * height);
    for y in 0..height {
        let (top, bottom, down) = between(y, image.height, height);
        for x in 0..width {
            let (left, right, across) = between(x, image.width, width);
            let row = |y: usize| luma(left, y) + (luma(right, y) - luma(left, y)) * across;
            let value = row(top) + (row(bottom) - row(top)) * down;
            rgb.push([value.round() as u8; 3]);
        }
    }
    Bytes { width, height, rgb }
}
