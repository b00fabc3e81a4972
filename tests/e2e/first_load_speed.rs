//! Measures a first visit over a slow link at a quarter of this machine's speed, beside a bare page that only draws a canvas
//! and beside what the link itself takes: run it as `cargo xtask bench`. It tells and cannot fail for being slow.

use std::fs;
use std::time::Duration;

use anyhow::{Context as _, Result, bail};
use checks::{Slowness, compress_files, copy_page, first_visit, tell};
use thirtyfour::WebDriver;

/// A phone of some years ago with a poor connection: 1.6 megabits a second and 150 ms there and back, which tools for
/// developers call slow 4G.
const SLOWNESS: Slowness = Slowness { bytes_per_s: 200_000.0, round_trip_ms: 150.0, processor: 4 };
/// How often each is visited.
const TIMES: usize = 5;
/// The page, its script and styles, its module and the picture's: each is known of only when the one before has come.
const ROUND_TRIPS: f64 = 3.0;

/// The table that it all stands in.
const TABLE: &str = "First drawn frame at 4x, 1.6 Mbit/s, 150 ms";

const BARE_PAGE: &str = "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>Bare</title>\
    <link rel=\"icon\" href=\"data:,\"><canvas width=\"390\" height=\"163\"></canvas><script src=\"bare.js\"></script></html>";
const BARE_SCRIPT: &str = "const canvas = document.querySelector('canvas');
    canvas.getContext('2d').fillRect(0, 0, 390, 163);
    requestAnimationFrame(() => { canvas.dataset.samples = 1; });";

/// What one visit took.
#[derive(Debug, Clone, Copy)]
struct Visit {
    /// From the request to the first drawn picture.
    ms: f64,
    bytes: f64,
    requests: f64,
}

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let (page, bare) = (tempfile::tempdir()?, tempfile::tempdir()?);
    copy_page(page.path())?;
    compress_files(page.path())?;
    fs::write(bare.path().join("index.html"), BARE_PAGE)?;
    fs::write(bare.path().join("bare.js"), BARE_SCRIPT)?;
    for (name, folder) in [("ours", page.path()), ("a bare page", bare.path())] {
        let mut visits = Vec::new();
        for _ in 0..TIMES {
            first_visit(folder, SLOWNESS, async |driver| {
                visits.push(visited(driver).await?);
                Ok(())
            })
            .await?;
        }
        visits.sort_by(|one, other| one.ms.total_cmp(&other.ms));
        let (median, worst) =
            (visits.get(TIMES / 2).context("no visits")?, visits.last().context("no visits")?);
        let link_ms = median.bytes / SLOWNESS.bytes_per_s * 1000.0 + ROUND_TRIPS * SLOWNESS.round_trip_ms;
        for (column, value, unit) in [
            ("median", median.ms, "ms"),
            ("worst", worst.ms, "ms"),
            ("bytes", median.bytes, "bytes"),
            ("requests", median.requests, ""),
            ("the link's limit", link_ms, "ms"),
        ] {
            tell(TABLE, name, column, value, unit);
        }
    }
    Ok(())
}

/// Waits for the first picture, and asks the browser what came until then.
async fn visited(driver: &WebDriver) -> Result<Visit> {
    // The canvas says how many samples it shows; when it began to is the end of the frame that first did.
    let ask = "
        if (!document.querySelector('canvas[data-samples]')) return null;
        const parts = performance.getEntriesByType('resource').concat(performance.getEntriesByType('navigation'));
        const sum = (what) => parts.reduce((sum, part) => sum + part[what], 0);
        return [performance.now(), sum('encodedBodySize'), parts.length];";
    for _ in 0..2000 {
        let answer = driver.execute(ask, Vec::new()).await?.json().clone();
        if let Some([ms, bytes, requests]) = answer.as_array().map(Vec::as_slice) {
            let number = |value: &serde_json::Value| value.as_f64().context("a number");
            return Ok(Visit { ms: number(ms)?, bytes: number(bytes)?, requests: number(requests)? });
        }
        tokio::time::sleep(Duration::from_millis(10)).await;
    }
    bail!("no picture within twenty seconds")
}
