//! Measures whether the page grows while it is used: round after round through every screen with the invented film, for half
//! an hour or as long as it is told. Run it as `cargo xtask bench`. It tells and cannot fail for growing.
//!
//! What the first round makes stays by intent (modules, caches, the film that is opened, and the last 200 things that were done
//! to it, which undo keeps), so growth is counted from the end of the second. Before each look garbage is collected; the page
//! then shows Set-up and has drawn its pictures.

#![expect(clippy::print_stdout, reason = "it is asked to tell each look")]

use std::collections::BTreeMap;
use std::fs;
use std::time::{Duration, Instant};

use anyhow::{Context as _, Result, ensure};
use checks::{Browser, Screen, journey, tell};
use clap::Parser;
use serde_json::json;

/// How long to use the page.
#[derive(Debug, Parser)]
struct Options {
    /// Minutes.
    #[arg(long, default_value_t = 30.0)]
    minutes: f64,
    /// Only this part of a round, such as `Learn`: to see where something grows.
    #[arg(long)]
    only: Option<String>,
    /// Tell every look as it is taken.
    #[arg(long)]
    looks: bool,
}

/// How long the page rests before a look: its pictures are drawn by then, and what is told to whom has been told.
const SETTLING: Duration = Duration::from_secs(3);

/// Keeps hold of the memory of every module of the page, to ask for its size.
const MODULES: &str = r#"
    window.modules = {};
    const make = WebAssembly.instantiateStreaming;
    WebAssembly.instantiateStreaming = async (source, imports) => {
        const response = await source;
        const made = await make(response, imports);
        window.modules[new URL(response.url).pathname.split("/").pop()] = made.instance.exports.memory;
        return made;
    };
"#;

/// One round of typical use. Hands back what it did not find.
const ROUND: &str = r#"
    const [turn, only, done] = arguments;
    const rest = (ms) => new Promise((later) => setTimeout(later, ms));
    const missed = [];
    const find = (css, words) => [...document.querySelectorAll(css)].filter((one) => one.getClientRects().length
        && !one.disabled && (one.getAttribute("aria-label") ?? one.textContent).trim().startsWith(words ?? ""));
    const tap = async (css, words, at = 0) => {
        let found = [];
        for (let look = 0; look < 60 && !found.length; look += 1) {
            found = find(css, words);
            if (!found.length) await rest(50);
        }
        const one = found[at % found.length];
        if (one) one.click(); else missed.push(`${css} ${words ?? ""}`);
        await rest(150);
    };
    const slide = async (css) => {
        for (let look = 0; look < 60 && !find(css).length; look += 1) await rest(50);
        const one = find(css)[0];
        if (!one) return missed.push(css);
        const { min, max } = one;
        for (let step = 0; step <= 6; step += 1) {
            one.value = Number(min) + (Number(max) - Number(min)) * (step % 2 ? 0.4 : 0.4 + step * 0.05);
            one.dispatchEvent(new Event("input", { bubbles: true }));
            await rest(30);
        }
        one.dispatchEvent(new Event("change", { bubbles: true }));
    };
    const door = (name) => tap("nav button", name);
    const story = async () => {
        await door("Story");
        if (!document.querySelector(".story-title")) await tap("button", "Look at an invented one");
    };
    // So that undo has all that it keeps; each of two that take turns is a step of its own.
    const fill = async () => {
        for (let step = 0; step < 220; step += 1) {
            const event = new KeyboardEvent("keydown", { key: "ArrowDown", bubbles: true });
            find(".shot-handle")[0]?.dispatchEvent(event);
            await rest(20);
        }
        if (!find("button", "Undo: Move a shot").length) missed.push("what undo keeps");
    };
    const parts = {
        "sizes and lenses": async () => {
            for (let at = 0; at < 3; at += 1) {
                await tap(".size", "", turn + at);
                await tap(".lens", "", turn + at);
            }
        },
        "chips": async () => {
            for (let at = 0; at < find(".chip").length; at += 1) {
                await tap(".chip", "", at);
                await tap("dialog[open] button", "Done");
            }
        },
        "steps": async () => {
            await tap("summary", "Move by steps");
            await slide("input[aria-label=\"Phone's distance\"]");
        },
        "Story": async () => {
            await story();
            for (let at = 0; at < 3; at += 1) {
                await tap(".shot-main", "", turn + at);
                await tap("button", "Planned: more");
                await tap("button", "Planned: less");
                await tap(".strip-entry", "", turn + at);
            }
        },
        "Light": async () => {
            await door("Light");
            for (let at = 0; at < 3; at += 1) {
                await tap(".light-row", "", turn + at);
                await tap("button", "15 minutes later");
            }
            await tap("button", "rain");
            await tap("button", "Back to ");
        },
        "Day": async () => {
            await door("Day");
            await tap(".day-views button", "Plan");
            await tap("button", "+10 min");
            await tap(".day-main", "", turn);
            await tap("button", "As planned again");
            // What is chosen here is shown on the set, where something has to come after it.
            await tap(".day-main", "", 0);
        },
        "On the set": async () => {
            await door("Day");
            await tap("button", "On the set");
            await tap(".set button", "After");
            await tap(".set-bar button", "Only log");
            await tap("button", "Undo");
            await tap(".set button", "Before");
        },
        "Learn": async () => {
            await door("Learn");
            await slide(".lesson input[type=range]");
            await tap("button", "Next lesson");
            await slide(".lesson input[type=range]");
            await tap(".learn-which button", "Back");
        },
        "Kit": async () => {
            await door("Kit");
            await tap(".kit summary", "", turn);
            await tap(".kit summary", "", turn);
        },
        "Menu": async () => {
            await tap("nav button", "Menu");
            await tap("dialog[open] button", "Done");
        },
    };
    const round = async () => {
        // Every other part is of the film.
        if (turn === 0) {
            await story();
            await fill();
        }
        await door("Set-up");
        for (const [name, part] of Object.entries(parts)) {
            if (!only || name === only) await part();
        }
        await door("Set-up");
    };
    round().then(() => done(missed), (error) => done([String(error)]));
"#;

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let options = Options::parse();
    let until = Instant::now() + Duration::from_secs_f64(options.minutes * 60.0);
    journey(Screen::PHONE, "memory", async |browser| {
        let add = json!({ "source": MODULES });
        browser.driver().cdp().send_raw("Page.addScriptToEvaluateOnNewDocument", add).await?;
        browser.driver().set_script_timeout(Duration::from_mins(3)).await?;
        browser.reload().await?;
        browser.driver().cdp().send_raw("Performance.enable", json!({})).await?;
        let mut looks = Vec::new();
        while looks.len() < 3 || Instant::now() < until {
            let turn = vec![json!(looks.len()), json!(options.only)];
            let missed = browser.driver().execute_async(ROUND, turn).await?.json().clone();
            ensure!(missed == json!([]), "round {} did not find {missed}", looks.len() + 1);
            tokio::time::sleep(SETTLING).await;
            looks.push(look(browser).await?);
            if options.looks {
                let now = looks.last().context("a look")?;
                let told = now.iter().map(|(name, value)| format!("{name} {value}"));
                println!("{}", told.collect::<Vec<_>>().join("; "));
            }
        }
        growth(&looks)
    })
    .await
}

/// Tells what there was after the second round and at the end, and what it has grown by.
fn growth(looks: &[BTreeMap<String, f64>]) -> Result<()> {
    let (first, last) = (looks.get(1).context("two rounds")?, looks.last().context("a round")?);
    #[expect(clippy::cast_precision_loss, reason = "some hundred rounds")]
    tell("Memory", "rounds", "at the end", looks.len() as f64, "");
    for (name, then) in first {
        let now = last.get(name).with_context(|| format!("no {name} at the end"))?;
        let unit = if name.ends_with('s') && !name.contains("wasm") { "" } else { "bytes" };
        tell("Memory", name, "after two rounds", *then, unit);
        tell("Memory", name, "at the end", *now, unit);
        tell("Memory", name, "bar", 5.0, "%");
        tell("Memory", name, "growth", (now / then - 1.0) * 100.0, "%");
    }
    Ok(())
}

/// What there is now, garbage left out.
async fn look(browser: &Browser) -> Result<BTreeMap<String, f64>> {
    let cdp = browser.driver().cdp();
    // What the first frees may hold the last of something else.
    for _ in 0..2 {
        cdp.send_raw("HeapProfiler.collectGarbage", json!({})).await?;
    }
    let metrics = cdp.send_raw("Performance.getMetrics", json!({})).await?;
    let metric = |wanted: &str| {
        let found =
            metrics["metrics"].as_array().and_then(|all| all.iter().find(|one| one["name"] == wanted));
        found.and_then(|one| one["value"].as_f64()).with_context(|| format!("the browser tells no {wanted}"))
    };
    let mut now = BTreeMap::from([
        ("JavaScript heap".to_owned(), metric("JSHeapUsedSize")?),
        ("nodes".to_owned(), metric("Nodes")?),
        ("listeners".to_owned(), metric("JSEventListeners")?),
    ]);
    let sizes =
        "return Object.entries(window.modules).map(([name, { buffer }]) => [name, buffer.byteLength])";
    for one in browser.script(sizes).await?.as_array().context("sizes")? {
        let name = one[0].as_str().unwrap_or_default().trim_end_matches("_bg.wasm");
        now.insert(format!("wasm memory of {name}"), one[1].as_f64().context("a size")?);
    }
    if let Some(bytes) = resident() {
        now.insert("process, workers too".to_owned(), bytes);
    }
    Ok(now)
}

/// What the processes that draw this program's pages have in memory, where the system tells it by way of `/proc`.
#[expect(clippy::cast_precision_loss, reason = "some hundred megabytes")]
fn resident() -> Option<f64> {
    const PAGE_BYTES: u64 = 4096;
    let mut parents = BTreeMap::new();
    for entry in fs::read_dir("/proc").ok()?.flatten() {
        let Ok(id) = entry.file_name().to_string_lossy().parse::<u32>() else { continue };
        let Ok(stat) = fs::read_to_string(entry.path().join("stat")) else { continue };
        // After the name, which is in brackets and may hold anything: the state and the parent.
        let parent = stat.rsplit_once(')').and_then(|(_, rest)| rest.split_whitespace().nth(1)?.parse().ok());
        parents.insert(id, parent.unwrap_or(0_u32));
    }
    let is_ours = |id: &u32| {
        let mut at = *id;
        while at > 1 && at != std::process::id() {
            at = parents.get(&at).copied().unwrap_or(0);
        }
        at == std::process::id()
    };
    let pages = parents.keys().filter(|id| is_ours(id)).filter_map(|id| {
        let folder = std::path::PathBuf::from(format!("/proc/{id}"));
        let said = fs::read_to_string(folder.join("cmdline")).ok()?;
        let sizes = fs::read_to_string(folder.join("statm")).ok()?;
        let pages: u64 = sizes.split_whitespace().nth(1)?.parse().ok()?;
        said.contains("--type=renderer").then_some(pages * PAGE_BYTES)
    });
    Some(pages.sum::<u64>() as f64)
}
