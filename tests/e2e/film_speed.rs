//! Measures how long films of ten to a thousand shots take to open in the page, how long an edit of them keeps the page's
//! main thread busy, and how long a day takes to be put in order on a slow device: run it as `cargo xtask bench`. It tells and
//! cannot fail for being slow.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use anyhow::{Context as _, Result};
use checks::{Screen, journey, tell};
use film::{Film, FreshIds, Scene, Shot, write_film};
use thirtyfour::prelude::*;

/// How many shots the films have.
const SHOTS: [usize; 3] = [10, 100, 1000];

/// From the press of Story until the last film's title is on the page and the browser has painted it.
const OPEN: &str = r#"
    const frame = () => new Promise(requestAnimationFrame);
    const button = [...document.querySelectorAll("nav button")].find((one) => one.textContent === "Story");
    return (async () => {
        // The later module comes two seconds after the page; it is not the film's.
        await new Promise((done) => setTimeout(done, 4000));
        const start = performance.now();
        button.click();
        while (!(document.querySelector(".story-title")?.value)) await frame();
        const there = performance.now() - start;
        while (!document.querySelector(".strip-entry")) await frame();
        await frame();
        return [there, performance.now() - start];
    })();
"#;

/// Edits: one letter of the title, and a step of a shot's seconds, which changes its row, its entry and its scene's
/// findings. Times until every effect of each has run.
const EDIT: &str = r#"
    const rest = (ms) => new Promise((done) => setTimeout(done, ms));
    const at = (times, share) => times.slice(5).sort((one, other) => one - other)[Math.floor((times.length - 5) * share)] ?? 0;
    const timed = async (step) => {
        const times = [];
        for (let number = 0; number < 45; number += 1) {
            await rest(60);
            const start = performance.now();
            step(number);
            // Effects run before the task ends; what workers send and what is painted are tasks of their own.
            for (let turn = 0; turn < 20; turn += 1) await null;
            times.push(performance.now() - start);
        }
        return times;
    };
    return (async () => {
        // The pictures that come with the page are drawn by then.
        await rest(6000);
        const title = document.querySelector(".story-title");
        const letters = await timed((number) => {
            title.value = "A long film " + number;
            title.dispatchEvent(new Event("input", { bubbles: true }));
        });
        document.querySelector(".shot-main").click();
        await rest(1500);
        const more = document.querySelector("button[aria-label='Planned: more']");
        const less = document.querySelector("button[aria-label='Planned: less']");
        const steps = await timed((number) => (number % 2 ? less : more).click());
        return [at(letters, 0.5), at(letters, 0.95), at(steps, 0.5), at(steps, 0.95)];
    })();
"#;

/// How many setups the days have: the most that are put in order exactly, and a long day.
const DAYS: [usize; 2] = [10, 40];

/// How many times slower than this machine the device is on which a day is put in order.
const SLOWER: u32 = 4;

/// Ten minutes later each time: the day is planned and put in order anew, and shown.
const DELAYS: &str = r#"
    const rest = (ms) => new Promise((done) => setTimeout(done, ms));
    return (async () => {
        await rest(4000);
        const later = [...document.querySelectorAll("button")].find((one) => one.textContent === "+10 min");
        const times = [];
        for (let number = 0; number < 12; number += 1) {
            await rest(300);
            const start = performance.now();
            later.click();
            for (let turn = 0; turn < 20; turn += 1) await null;
            times.push(performance.now() - start);
        }
        times.splice(0, 2);
        times.sort((one, other) => one - other);
        return [times[5], times[9]];
    })();
"#;

/// The demo's scenes again and again, until there are as many shots as wanted.
fn long_film(shots: usize) -> Film {
    let mut film = film::demo_film();
    let mut fresh = FreshIds::starting_at(1 << 40);
    let scenes: Vec<Arc<Scene>> = film.scenes.drain(..).collect();
    let mut count = 0;
    while count < shots {
        for scene in &scenes {
            let mut copy = Scene { id: fresh.fresh(), kept: Vec::new(), ..Scene::clone(scene) };
            for shot in &mut copy.shots {
                let (before, id) = (shot.id, fresh.fresh());
                *shot = Arc::new(Shot::known_by(shot, id));
                copy.cut.iter_mut().filter(|entry| entry.shot == before).for_each(|entry| entry.shot = id);
            }
            copy.shots.truncate(shots - count);
            copy.cut.retain(|entry| copy.shots.iter().any(|shot| shot.id == entry.shot));
            copy.cut.iter_mut().for_each(|entry| entry.id = fresh.fresh());
            count += copy.shots.len();
            film.scenes.push(Arc::new(copy));
        }
    }
    film
}

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    for shots in SHOTS {
        films(shots).await?;
    }
    days().await
}

/// How long a film of so many shots takes to open and to edit.
async fn films(shots: usize) -> Result<()> {
    let file = written(&long_film(shots))?;
    for screen in [Screen::PHONE, Screen::LAPTOP] {
        journey(screen, "film-speed", async |browser| {
            browser.click("button", "Story").await?;
            browser.find("button", "Start a film").await?;
            let input = browser.driver().find(By::Css("input[type=file]")).await?;
            input.send_keys(file.display().to_string()).await?;
            browser.wait_for_text("Saved on this device").await?;
            browser.reload().await?;
            let opened = browser.script(OPEN).await?;
            let edited = browser.script(EDIT).await?;
            let time = |of: &serde_json::Value, at: usize| of[at].as_f64().unwrap_or(f64::NAN);
            for (row, ms) in [
                ("opens", time(&opened, 0)),
                ("opens, with its shots", time(&opened, 1)),
                ("a letter of the title, p95", time(&edited, 1)),
                ("a second of a shot, p95", time(&edited, 3)),
            ] {
                tell(
                    "Growth, a film in the page",
                    &format!("{}: {row}", screen.name),
                    &shots.to_string(),
                    ms,
                    "ms",
                );
            }
            Ok(())
        })
        .await?;
    }
    Ok(fs::remove_file(file)?)
}

/// A film as a file that a browser can be given.
fn written(film: &Film) -> Result<PathBuf> {
    let file = std::env::temp_dir().join(format!("tapemark-long-{}.json", std::process::id()));
    fs::write(&file, write_film(film)).context("the film cannot be written")?;
    Ok(file)
}

/// How long a day takes to be planned anew.
async fn days() -> Result<()> {
    for setups in DAYS {
        let file = written(&long_film(setups))?;
        journey(Screen::PHONE, "day-speed", async |browser| {
            browser.click("button", "Story").await?;
            browser.find("button", "Start a film").await?;
            let input = browser.driver().find(By::Css("input[type=file]")).await?;
            input.send_keys(file.display().to_string()).await?;
            browser.wait_for_text("Saved on this device").await?;
            browser.click("button", "Day").await?;
            browser.wait_for_text("Running late?").await?;
            browser.slow_down(SLOWER).await?;
            let times = browser.script(DELAYS).await?;
            let time = |at: usize| times[at].as_f64().unwrap_or(f64::NAN);
            for (column, at) in [("p50", 0), ("most", 1)] {
                tell(
                    "A day planned anew and shown, at 4x",
                    &format!("{setups} setups"),
                    column,
                    time(at),
                    "ms",
                );
            }
            Ok(())
        })
        .await?;
        fs::remove_file(file)?;
    }
    Ok(())
}
