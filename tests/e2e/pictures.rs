//! Draws the README's pictures of the built page, with the film that comes with it: run it as `cargo xtask pictures`.

#![expect(clippy::print_stdout, reason = "it says where the pictures are")]

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use anyhow::{Context as _, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use checks::{Browser, Screen, journey};
use serde_json::json;

/// Where they lie, beside this.
const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/e2e/pictures");

/// The most bytes of one: chosen so that a README with all of them opens at once on a phone.
const LARGEST: usize = 150_000;

/// How good they are, of 100: chosen as the lowest at which small letters have no shadows.
const QUALITY: u32 = 82;

/// How long a screen may take until every picture on it is drawn.
const PATIENCE: Duration = Duration::from_mins(2);
/// How long nothing must have changed.
const STILL: Duration = Duration::from_secs(3);

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    journey(Screen::PHONE, "picture", async |browser| {
        prepare(browser, Screen::PHONE, 2).await?;
        set_up(browser).await?;
        save(browser, "set-up-on-a-phone").await?;
        browser.press_first(".bar button", "Learn").await?;
        browser.wait_for(".lesson-says").await?;
        save(browser, "lesson-on-a-phone").await
    })
    .await?;
    journey(Screen::LAPTOP, "picture", async |browser| {
        prepare(browser, Screen::LAPTOP, 1).await?;
        set_up(browser).await?;
        save(browser, "set-up").await?;
        browser.press_first(".bar button", "Story").await?;
        show(browser, ".shots").await?;
        save(browser, "shots-of-a-story").await?;
        browser.press_first(".bar button", "Day").await?;
        show(browser, ".day-setup").await?;
        save(browser, "day").await
    })
    .await
}

/// Paper, without motion, and with so many pixels to a CSS pixel.
async fn prepare(browser: &Browser, screen: Screen, scale: u32) -> Result<()> {
    let cdp = browser.driver().cdp();
    let calm = json!({ "features": [{ "name": "prefers-reduced-motion", "value": "reduce" }] });
    cdp.send_raw("Emulation.setEmulatedMedia", calm).await?;
    let metrics = json!({
        "width": screen.width, "height": screen.height, "deviceScaleFactor": scale, "mobile": screen.touch,
    });
    cdp.send_raw("Emulation.setDeviceMetricsOverride", metrics).await?;
    browser.script("document.documentElement.dataset.theme = 'paper'; return true").await?;
    Ok(())
}

/// Opens the first shot of the film that comes with the program.
async fn set_up(browser: &Browser) -> Result<()> {
    browser.press_first(".bar button", "Story").await?;
    browser.press_first("button", "Look at an invented one").await?;
    browser.wait_for(".shots .shot").await?;
    browser.press_first(".shot-buttons button", "Set it up").await?;
    browser.wait_for(".of-shot").await?;
    browser.script("scrollTo(0, 0); return true").await?;
    Ok(())
}

/// Scrolls to the first thing that a selector finds, below what lies over the page's top.
async fn show(browser: &Browser, selector: &str) -> Result<()> {
    browser.wait_for(selector).await?;
    let script =
        format!("document.querySelector({selector:?}).scrollIntoView(); scrollBy(0, -120); return true");
    browser.script(&script).await?;
    Ok(())
}

/// Saves what the window shows once that changes no more: pictures come one after the other and get finer.
async fn save(browser: &Browser, name: &str) -> Result<()> {
    let start = Instant::now();
    let mut last = captured(browser).await?;
    let mut since = Instant::now();
    while since.elapsed() < STILL {
        ensure!(start.elapsed() < PATIENCE, "{name} goes on changing");
        tokio::time::sleep(Duration::from_millis(500)).await;
        let now = captured(browser).await?;
        if now != last {
            (last, since) = (now, Instant::now());
        }
    }
    ensure!(last.len() <= LARGEST, "{name} has {} bytes: {LARGEST} are the most", last.len());
    fs::create_dir_all(FOLDER)?;
    let file = Path::new(FOLDER).join(name).with_extension("webp");
    println!("{} ({} bytes)", file.display(), last.len());
    Ok(fs::write(file, last)?)
}

/// What the window shows, as a WebP file.
async fn captured(browser: &Browser) -> Result<Vec<u8>> {
    let form = json!({ "format": "webp", "quality": QUALITY });
    let answer = browser.driver().cdp().send_raw("Page.captureScreenshot", form).await?;
    let data = answer["data"].as_str().context("Chromium sent no picture")?;
    Ok(STANDARD.decode(data)?)
}
