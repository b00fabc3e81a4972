//! Measures how long the core takes in wasm: the cases of `crates/js/benches/speeds` in a bare page, and what the ES module
//! takes to answer with plain objects. `cargo xtask bench` makes the page and starts this; it cannot fail for being slow.

use std::path::PathBuf;
use std::time::Duration;

use anyhow::{Context as _, Result};
use checks::{tell, visit};
use clap::Parser;
use serde_json::json;
use thirtyfour::WebDriver;

/// Where the page lies.
#[derive(Debug, Parser)]
struct Options {
    /// A folder with `index.html` and the module of the cases, `speeds/`.
    folder: PathBuf,
}

/// One case a call, so that no script runs for long.
const TIME: &str = r#"
    const [number, done] = arguments;
    (async () => {
        const speeds = await import("/speeds/speeds_in_wasm.js");
        if (!window.isReady) { await speeds.default(); window.isReady = true; }
        return number < 0 ? speeds.count() : speeds.time(number);
    })().then(done, (error) => done(String(error)));
"#;

/// A setup and a comparison by the ES module, which reads and writes plain objects: the median of nine goes.
const ASK: &str = r#"
    const [done] = arguments;
    (async () => {
        const core = await import("/core/tapemark_core.js");
        await core.default();
        const lens = { focal_length_mm: 6.86, f_number: 1.78, sensor_width_mm: 9.8, sensor_height_mm: 7.3 };
        const shot = {
            lens, recording: { width_px: 3840, height_px: 2160 }, delivery: { aspect: 2.39 }, subject: { stature_m: 1.70 },
            shot_size: "medium", camera_height_m: 1.2, background_behind_subject_m: 10.0,
        };
        const kit = {
            lenses: Array.from({ length: 8 }, (_, at) => ({ ...lens, name: String(at), focal_length_mm: 2 + 1.1 * at })),
            recordings: [shot.recording], adapters: [{ squeeze: 1.33, focusing: true }],
        };
        const timed = (ask) => {
            const times = [];
            for (let go = 0; go < 9; go += 1) {
                const start = performance.now();
                for (let time = 0; time < 200; time += 1) ask();
                times.push((performance.now() - start) / 200);
            }
            return times.sort((one, other) => one - other)[4];
        };
        return [timed(() => core.setup(shot)), timed(() => core.compare(kit, shot, "least_distance"))];
    })().then(done, (error) => done(String(error)));
"#;

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let options = Options::parse();
    visit(&options.folder, measure).await
}

async fn measure(driver: &WebDriver) -> Result<()> {
    driver.set_script_timeout(Duration::from_mins(2)).await?;
    let count = driver.execute_async(TIME, vec![json!(-1)]).await?.json().as_i64().context("no cases")?;
    for number in 0..count {
        let told = driver.execute_async(TIME, vec![json!(number)]).await?.json().clone();
        let lines: Vec<&str> = told.as_str().context("a case")?.lines().collect();
        let [table, row, column, ms] = lines.as_slice() else { anyhow::bail!("the page says {told}") };
        tell(table, row, column, ms.parse()?, "ms");
    }
    let told = driver.execute_async(ASK, Vec::new()).await?.json().clone();
    for (at, row) in
        ["one setup, asked of the ES module", "a comparison, asked of the ES module"].iter().enumerate()
    {
        tell(
            "The core",
            row,
            "wasm",
            told[at].as_f64().with_context(|| format!("the page says {told}"))?,
            "ms",
        );
    }
    Ok(())
}
