//! Measures how soon a lesson in a frame of somebody's own page shows its first picture, at a quarter of this machine's
//! speed, the first time and from a warm cache: run it as `cargo xtask bench`. It tells and cannot fail for being slow.

use std::time::Duration;

use anyhow::Result;
use checks::{Browser, Screen, journey, quantile, tell};
use serde_json::json;

/// How many times slower the processor is made to seem.
const SLOWER: u32 = 4;
/// How often it is opened from a warm cache.
const TIMES: usize = 7;
/// The table that it all stands in.
const TABLE: &str = "A lesson in a frame at 4x: its first picture";
/// The lesson that is opened.
const FRAME: &str = "frame.html#learn=1.soft";

/// Notes when the first picture is there, milliseconds after the page was asked for.
const WATCH: &str = "
    const look = () => {
        const canvas = document.querySelector('.lesson-picture canvas');
        if (canvas?.dataset.samples) window.firstPictureAt = performance.now(); else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
";

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    for screen in [Screen::PHONE, Screen::LAPTOP] {
        journey(screen, "frame-speed", async |browser| {
            let add = json!({ "source": WATCH });
            browser.driver().cdp().send_raw("Page.addScriptToEvaluateOnNewDocument", add).await?;
            browser.slow_down(SLOWER).await?;
            let first = opened(browser).await?;
            let mut warm = Vec::new();
            for _ in 0..TIMES {
                warm.push(opened(browser).await?);
            }
            warm.sort_by(f64::total_cmp);
            let name = screen.name;
            tell(TABLE, name, "the first time", first, "ms");
            tell(TABLE, name, "warm, median", quantile(&warm, 0.5), "ms");
            tell(TABLE, name, "warm, worst", quantile(&warm, 1.0), "ms");
            Ok(())
        })
        .await?;
    }
    Ok(())
}

/// Opens the frame anew.
async fn opened(browser: &Browser) -> Result<f64> {
    browser.driver().goto("about:blank").await?;
    browser.open_path(FRAME).await?;
    for _ in 0..600 {
        if let Some(at) = browser.script("return window.firstPictureAt ?? null").await?.as_f64() {
            return Ok(at);
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    anyhow::bail!("no picture within half a minute")
}
