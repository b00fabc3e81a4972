//! The picture in the frame: it appears, follows, gets better, and outlives its workers.

use std::time::{Duration, Instant};

use anyhow::{Result, bail, ensure};
use checks::Browser;
use serde_json::{Value, json};

/// How long a picture may take on a machine that does other things too.
const PATIENCE: Duration = Duration::from_secs(30);

/// Samples of a pixel of a finished picture, and of one that may keep its grain, as they are in journeys.
const FINE: u64 = 128;
const GRAINY: u64 = 12;

/// What the large picture shows, as one number, and the least samples of its pixels; nothing before it shows something.
const LOOK: &str = "
    const canvas = document.querySelector('canvas.picture');
    if (!canvas?.dataset.samples) return null;
    const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    let sum = 0;
    for (let at = 0; at < data.length; at += 4) sum = (sum * 31 + data[at] + 256 * data[at + 1]) % 1000003;
    return [sum, Number(canvas.dataset.samples), canvas.width];";

/// Keeps the workers that the page starts in a list, each of which can be made to end as a module does that runs into a
/// trap: with an error that no program sees coming. While `trapping` is set, whatever a worker is asked does that.
const KEEP_WORKERS: &str = "
    window.workers = [];
    window.Worker = class extends Worker {
        constructor(script, options) {
            // A module whose one function is `unreachable`.
            const trap = `const trap = Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0,
                    7, 5, 1, 1, 116, 0, 0, 10, 5, 1, 3, 0, 0, 11);
                addEventListener('message', ({ data }) => {
                    if (data === 'trap') new WebAssembly.Instance(new WebAssembly.Module(trap)).exports.t();
                });
                import('${new URL(script, document.baseURI)}');`;
            super(URL.createObjectURL(new Blob([trap], { type: 'text/javascript' })), options);
            window.workers.push(this);
        }
        postMessage(...given) { super.postMessage(...(window.trapping ? ['trap'] : given)); }
    };";

/// Workers that say at once that they cannot be loaded.
const NO_WORKERS: &str = "
    window.RealWorker = Worker;
    window.Worker = class {
        constructor() { setTimeout(() => this.onmessage?.({ data: null })); }
        postMessage() {}
        terminate() {}
    };";

/// The large picture: what it shows, and its samples.
async fn look(browser: &Browser) -> Result<Option<(u64, u64)>> {
    let seen = browser.script(LOOK).await?;
    Ok(seen[0].as_u64().zip(seen[1].as_u64()))
}

/// Waits until the large picture is as it should be, and says what it shows.
async fn wait_until(browser: &Browser, what: &str, is_so: impl Fn(u64, u64) -> bool) -> Result<u64> {
    let start = Instant::now();
    loop {
        let seen = look(browser).await?;
        if let Some((shows, _)) = seen.filter(|(shows, samples)| is_so(*shows, *samples)) {
            return Ok(shows);
        }
        if start.elapsed() > PATIENCE {
            bail!("{what}: the picture is {seen:?}");
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}

/// Waits until the picture is finished, with at least so many samples: no longer changing.
async fn wait_until_finished(browser: &Browser, least: u64) -> Result<u64> {
    let start = Instant::now();
    let mut before = 0;
    loop {
        let shows = wait_until(browser, "not finished", |_, samples| samples >= least).await?;
        if shows == before {
            return Ok(shows);
        }
        ensure!(start.elapsed() < PATIENCE, "the picture changes and changes");
        before = shows;
        tokio::time::sleep(Duration::from_secs(2)).await;
    }
}

/// Runs a script before the page's own, from the next load on, and loads the page anew.
async fn reload_after(browser: &Browser, script: &str) -> Result<()> {
    let add = json!({ "source": script });
    browser.driver().cdp().send_raw("Page.addScriptToEvaluateOnNewDocument", add).await?;
    browser.reload().await
}

/// A picture appears without a question, gets better, and is another one for another size; the small ones follow.
pub(crate) async fn a_picture_appears_and_follows(browser: &mut Browser) -> Result<()> {
    let grainy = wait_until_finished(browser, GRAINY).await?;
    browser.click("button", "Menu").await?;
    browser.click("button", "fine").await?;
    browser.click("button", "Done").await?;
    let medium = wait_until_finished(browser, FINE).await?;
    ensure!(medium != grainy, "a fine picture is the grainy one");
    browser.screenshot("picture-medium").await?;
    browser.click("button", "tight").await?;
    let tight = wait_until(browser, "still medium", |shows, _| shows != medium).await?;
    let finished = wait_until_finished(browser, FINE).await?;
    ensure!(finished != medium, "{tight} became {medium} again");
    let small = "return [...document.querySelectorAll('canvas.thumb')].map(({ dataset }) => Number(dataset.samples ?? 0))";
    let small = browser.script(small).await?;
    let is_drawn = |samples: &Value| samples.as_u64().is_some_and(|samples| samples >= 4);
    ensure!(
        small.as_array().is_some_and(|all| all.len() >= 3 && all.iter().all(is_drawn)),
        "lenses show {small}"
    );
    browser.screenshot("picture-tight").await?;
    browser.click("button", "medium").await?;
    let again = wait_until(browser, "still tight", |shows, _| shows != finished).await?;
    ensure!(again == medium, "the same setup shows {again} and not {medium}");
    browser.click("button", "What the crop loses").await?;
    wait_until(browser, "the crop hides it", |shows, _| shows != medium).await?;
    wait_until_finished(browser, GRAINY).await?;
    browser.screenshot("picture-whole").await?;
    Ok(())
}

/// A worker that falls silent or runs into a trap is replaced, and what it was drawing is drawn all the same; where that
/// does not help, the page says so and tries again when asked.
pub(crate) async fn a_dead_worker_is_replaced(browser: &mut Browser) -> Result<()> {
    // The page's policy lets in no worker but its own.
    browser.driver().cdp().send_raw("Page.setBypassCSP", json!({ "enabled": true })).await?;
    reload_after(browser, KEEP_WORKERS).await?;
    let count = "return window.workers.length";
    let mut before = wait_until_finished(browser, GRAINY).await?;
    let ends =
        [("window.workers[0].terminate()", "wide"), ("window.workers.at(-1).postMessage('trap')", "tight")];
    for (end, size) in ends {
        let started = browser.script(count).await?;
        browser.script(end).await?;
        browser.click("button", size).await?;
        before = wait_until(browser, end, move |shows, samples| shows != before && samples >= GRAINY).await?;
        let now = browser.script(count).await?;
        ensure!(now.as_u64() > started.as_u64(), "{end}: {started} workers were started, and then {now}");
    }

    browser.script("window.trapping = true").await?;
    // Of nothing that was drawn before, as that is kept.
    browser.click("button", "What the crop loses").await?;
    browser.wait_for_text("fails again and again").await?;
    browser.script("window.trapping = false").await?;
    browser.click("button", "Try again").await?;
    wait_until(browser, "tried again", |shows, samples| shows != before && samples >= 4).await?;
    browser.wait_until_gone("again and again").await
}

/// Nothing is drawn while the page is hidden; when it is seen again it catches up.
pub(crate) async fn a_hidden_page_rests(browser: &mut Browser) -> Result<()> {
    let before = wait_until_finished(browser, GRAINY).await?;
    let hide = |hidden: bool| {
        format!(
            "Object.defineProperty(document, 'hidden', {{ configurable: true, get: () => {hidden} }});
             document.dispatchEvent(new Event('visibilitychange'));"
        )
    };
    browser.script(&hide(true)).await?;
    browser.click("button", "wide").await?;
    tokio::time::sleep(Duration::from_secs(2)).await;
    let hidden = look(browser).await?.map(|(shows, _)| shows);
    ensure!(hidden == Some(before), "while nobody looked {before} became {hidden:?}");
    browser.script(&hide(false)).await?;
    wait_until(browser, "seen again", |shows, _| shows != before).await?;
    Ok(())
}

/// Where what draws cannot be loaded, the page says so, goes on, and tries again when asked.
pub(crate) async fn a_picture_that_cannot_be_drawn(browser: &mut Browser) -> Result<()> {
    reload_after(browser, NO_WORKERS).await?;
    browser.wait_for_text("what draws it could not be loaded").await?;
    browser.screenshot("picture-trouble").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    browser.click("button", "tight").await?;
    browser.wait_for_text("eye height").await?;
    browser.script("window.Worker = window.RealWorker").await?;
    browser.click("button", "Try again").await?;
    wait_until(browser, "tried again", |_, samples| samples >= 4).await?;
    browser.wait_until_gone("could not be loaded").await
}

/// A click on somebody puts focus on them, and another button takes it back.
pub(crate) async fn focus_is_put_where_one_clicks(browser: &mut Browser) -> Result<()> {
    wait_until_finished(browser, GRAINY).await?;
    let frame = browser.find_containing("image", "The frame.").await?;
    frame.scroll_into_view().await?;
    // In the middle, a little below it, is their chest.
    frame.click().await?;
    browser.find("button", "Usual focus").await?;
    browser.click("button", "Usual focus").await?;
    for _ in 0..20 {
        if !browser.labels("button").await?.iter().any(|label| label == "Usual focus") {
            return Ok(());
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    bail!("focus is still where it was put")
}
