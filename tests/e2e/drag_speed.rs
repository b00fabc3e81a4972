//! Measures how long a drag keeps the page's main thread busy at a stretch, at a quarter of this machine's speed, beside a
//! bare page that only fills two canvases as large and sets one text: run it as `cargo xtask bench`. It prints and cannot
//! fail for being slow.

#![expect(clippy::print_stdout, reason = "it says what it measured")]

use anyhow::Result;
use checks::{MainTask, Screen, main_tasks, recorded};
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
    println!("Tasks of the main thread in 120 steps of a drag at {SLOWER}x throttle, milliseconds:");
    println!(
        "{:>8} {:>11} {:>6} {:>14} {:>8} {:>8} {:>8} {:>22}",
        "screen", "page", "tasks", "over 16 ms", "p95", "p99", "longest", "ours alone: p99, longest"
    );
    for screen in [Screen::PHONE, Screen::LAPTOP] {
        for (name, steps) in [("ours", DRAG), ("a bare one", BARE)] {
            recorded(screen, async |driver| {
                let tasks = during(driver, steps).await?;
                println!("{:>8} {:>11} {}", screen.name, name, told(&tasks));
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

/// How long tasks took. Those that do next to nothing are left out, as there are any number of them.
fn told(tasks: &[MainTask]) -> String {
    let mut whole: Vec<f64> = tasks.iter().map(|task| task.ms).filter(|ms| *ms > 0.5).collect();
    let mut own: Vec<f64> =
        tasks.iter().map(|task| task.ms - task.of_browser_ms).filter(|ms| *ms > 0.5).collect();
    let over = whole.iter().filter(|ms| **ms > FRAME_MS).count();
    whole.sort_by(f64::total_cmp);
    own.sort_by(f64::total_cmp);
    format!(
        "{:>6} {over:>14} {:>8.1} {:>8.1} {:>8.1} {:>13.1} {:>8.1}",
        whole.len(),
        at(&whole, 0.95),
        at(&whole, 0.99),
        at(&whole, 1.0),
        at(&own, 0.99),
        at(&own, 1.0)
    )
}

/// The value below which that share of sorted ones lies.
fn at(sorted: &[f64], share: f64) -> f64 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a place in a list"
    )]
    let place = ((sorted.len() as f64 * share) as usize).min(sorted.len().saturating_sub(1));
    sorted.get(place).copied().unwrap_or(0.0)
}
