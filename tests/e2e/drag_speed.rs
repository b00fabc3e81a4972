//! Measures how long the page keeps its main thread busy for one step of a drag, at a quarter of this machine's speed: run
//! it as `cargo xtask bench`. It prints and cannot fail for being slow.

#![expect(clippy::print_stdout, reason = "it says what it measured")]

use anyhow::Result;
use checks::{Screen, journey};
use serde_json::json;

/// How many times slower the processor is made to seem.
const SLOWER: u32 = 4;

/// Notes how long the page takes to hear each message of its workers, which are tasks of their own.
const TIME_MESSAGES: &str = r"
    window.heard = [];
    window.Worker = class extends Worker {
        set onmessage(listener) {
            super.onmessage = listener && ((event) => {
                const start = performance.now();
                listener(event);
                window.heard.push(performance.now() - start);
            });
        }
    };
";

/// Moves the phone's distance step by step, as a drag does, and times each: until every effect has run and drawn, and
/// until the frame that shows it has been painted.
const STEPS: &str = r#"
    let slider = null;
    const fold = [...document.querySelectorAll("summary")].find((one) => one.textContent === "Move by steps");
    const turn = () => new Promise((done) => { const { port1, port2 } = new MessageChannel(); port1.onmessage = done; port2.postMessage(0); });
    const frame = () => new Promise(requestAnimationFrame);
    return (async () => {
        if (!fold.parentElement.open) fold.click();
        // What is in the fold comes with the later module.
        while (!(slider = document.querySelector("input[aria-label=\"Phone's distance\"]"))) await frame();
        const script = [], painted = [];
        window.heard.length = 0;
        for (let step = 0; step < 120; step += 1) {
            await frame();
            await turn();
            // Asked for before and after the page asks for its own frame: between the two it draws.
            let from = 0, until = 0;
            frame().then(() => { from = performance.now(); });
            const start = performance.now();
            // One notch of the slider each time, to and fro, so that every step changes everything.
            slider.value = (1.0 + Math.abs(step % 60 - 30) * 0.1).toFixed(1);
            slider.dispatchEvent(new Event("input", { bubbles: true }));
            await turn();
            const handled = performance.now() - start;
            await frame().then(() => { until = performance.now(); });
            await turn();
            script.push(handled + until - from);
            painted.push(handled + performance.now() - from);
        }
        const at = (times, share) => times.slice(10).sort((one, other) => one - other)[Math.floor((times.length - 10) * share)] ?? 0;
        const messages = window.heard;
        return [at(script, 0.5), at(script, 0.95), at(painted, 0.5), at(painted, 0.95), at(messages, 0.95), Math.max(0, ...messages)];
    })();
"#;

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    println!(
        "One step of a drag, frame and plan and comparison redrawn, at {SLOWER}x throttle, milliseconds:"
    );
    println!(
        "{:>8} {:>12} {:>12} {:>14} {:>14} {:>12} {:>12}",
        "screen", "script p50", "script p95", "with paint p50", "p95", "message p95", "longest"
    );
    for screen in [Screen::PHONE, Screen::LAPTOP] {
        journey(screen, "drag-speed", async |browser| {
            let add = json!({ "source": TIME_MESSAGES });
            browser.driver().cdp().send_raw("Page.addScriptToEvaluateOnNewDocument", add).await?;
            browser.reload().await?;
            browser.slow_down(SLOWER).await?;
            let times = browser.script(STEPS).await?;
            let time = |index: usize| times[index].as_f64().unwrap_or(f64::NAN);
            println!(
                "{:>8} {:>12.1} {:>12.1} {:>14.1} {:>14.1} {:>12.1} {:>12.1}",
                screen.name,
                time(0),
                time(1),
                time(2),
                time(3),
                time(4),
                time(5)
            );
            Ok(())
        })
        .await?;
    }
    Ok(())
}
