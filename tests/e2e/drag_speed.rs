//! Measures how long a drag keeps the page's main thread busy at a stretch, at a quarter of this machine's speed, beside a
//! bare page that only fills two canvases as large and sets one text: run it as `cargo xtask bench`. It tells and cannot
//! fail for being slow.

use anyhow::Result;
use checks::{MainTask, Screen, main_tasks, quantile, recorded, tell};
use serde_json::json;
use thirtyfour::WebDriver;

/// How many times slower the processor is made to seem.
const SLOWER: u32 = 4;

/// A task that takes longer makes a drag miss a frame at 60 a second, milliseconds.
const FRAME_MS: f64 = 16.0;

/// Moves the phone's distance step by step, as a drag does, each step once the one before has been painted.
const DRAG: &str = r#"
    const frame = () => new Promise(requestAnimationFrame);
    const fold = [...document.querySelectorAll("summary")].find((one) => one.textContent === "Move by steps");
    return (async () => {
        if (!fold.parentElement.open) fold.click();
        let slider = null;
        // What is in the fold comes with the later module.
        while (!(slider = document.querySelector("input[aria-label=\"Phone's distance\"]"))) await frame();
        // The first pictures are drawn by then, and what a step needs has been compiled.
        await new Promise((done) => setTimeout(done, 4000));
        for (let step = -20; step < 120; step += 1) {
            if (step === 0) console.timeStamp("drag begins");
            await frame();
            // One notch of the slider each time, to and fro, so that every step changes everything.
            slider.value = (1.0 + Math.abs((step + 20) % 60 - 30) * 0.1).toFixed(1);
            slider.dispatchEvent(new Event("input", { bubbles: true }));
        }
        await frame();
        console.timeStamp("drag ends");
    })();
"#;

/// What no page that draws can do without: two canvases of the page's sizes and one text, new in every frame.
const BARE: &str = r#"
    const frame = () => new Promise(requestAnimationFrame);
    document.body.innerHTML = "<canvas></canvas><canvas></canvas><p>0</p>";
    const [large, small] = document.querySelectorAll("canvas");
    const wide = Math.min(innerWidth, 800);
    Object.assign(large, { width: wide, height: wide * 9 / 16 });
    Object.assign(small, { width: wide * 0.6, height: wide * 0.6 });
    return (async () => {
        for (let step = -20; step < 120; step += 1) {
            if (step === 0) console.timeStamp("drag begins");
            await frame();
            for (const canvas of [large, small]) {
                const context = canvas.getContext("2d");
                context.fillStyle = `rgb(${step + 100} 90 60)`;
                context.fillRect(0, 0, canvas.width, canvas.height);
            }
            document.querySelector("p").textContent = String(step);
        }
        await frame();
        console.timeStamp("drag ends");
    })();
"#;

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    for screen in [Screen::PHONE, Screen::LAPTOP] {
        for (name, steps) in [("ours", DRAG), ("a bare one", BARE)] {
            recorded(screen, async |driver| {
                let tasks = during(driver, steps).await?;
                told(&format!("{}, {name}", screen.name), &tasks);
                Ok(())
            })
            .await?;
        }
    }
    Ok(())
}

async fn during(driver: &WebDriver, steps: &str) -> Result<Vec<MainTask>> {
    driver.cdp().send_raw("Emulation.setCPUThrottlingRate", json!({ "rate": SLOWER })).await?;
    driver.execute(steps, Vec::new()).await?;
    main_tasks(driver, "drag begins", "drag ends").await
}

/// Tells how long tasks took. Those that do next to nothing are left out, as there are any number of them.
fn told(row: &str, tasks: &[MainTask]) {
    const TABLE: &str = "A drag at 4x: tasks of the main thread";
    let sorted = |of: fn(&MainTask) -> f64| {
        let mut times: Vec<f64> = tasks.iter().map(of).filter(|ms| *ms > 0.5).collect();
        times.sort_by(f64::total_cmp);
        times
    };
    let (whole, own) = (sorted(|task| task.ms), sorted(|task| task.ms - task.of_browser_ms));
    #[expect(clippy::cast_precision_loss, reason = "some hundred tasks")]
    let (count, over) = (whole.len() as f64, whole.iter().filter(|ms| **ms > FRAME_MS).count() as f64);
    tell(TABLE, row, "tasks", count, "");
    tell(TABLE, row, "over 16 ms", over, "");
    for (column, share) in [("p95", 0.95), ("p99", 0.99), ("longest", 1.0)] {
        tell(TABLE, row, column, quantile(&whole, share), "ms");
    }
    tell(TABLE, row, "without the browser's own: p99", quantile(&own, 0.99), "ms");
}
