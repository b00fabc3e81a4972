//! Films outlive a crash: whatever the page has said is saved is there again, and can be undone.

use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use checks::Browser;
use serde_json::{Value, json};

/// How often the page is made to crash.
const CRASHES: u32 = 25;
/// Of these the page must have said that something more is saved: it says so within a second, on a busy machine in two.
const SAID_IN: u32 = 15;
/// How many edits there are, if the page says at the same moment that all of them are saved.
const SAVED: &str = "
    const title = document.querySelector('[aria-label=Title]');
    return document.body.innerText.includes('Saved on this device') ? [...title.value].length : null";

/// Shows the Story screen with a film: the one that was open, or a new one.
async fn open_story(browser: &Browser, is_first: bool) -> Result<()> {
    browser.open("").await?;
    browser.click("button", "Story").await?;
    if is_first {
        browser.click("button", "Start a film").await?;
    }
    browser.find("textbox", "Title").await.map(drop)
}

/// Makes the edit of that number, which is one key: so none is ever half there.
async fn make_an_edit(browser: &Browser, number: u32) -> Result<()> {
    let key = if number.is_multiple_of(8) { " " } else { "a" };
    Ok(browser.find("textbox", "Title").await?.send_keys(key).await?)
}

/// How many edits the page shows, for a film that had no title.
async fn edits(browser: &Browser) -> Result<usize> {
    let title = browser.find("textbox", "Title").await?.prop("value").await?.unwrap_or_default();
    Ok(title.chars().count())
}

/// Ends the page's process at once, as a phone that is out of memory does. The window is of no use afterwards.
async fn crash(browser: &Browser) {
    // Nobody is left to answer.
    drop(browser.driver().cdp().send_raw("Page.crash", json!({})).await);
}

/// The page crashes again and again in the middle of edits.
pub(crate) async fn edits_outlive_crashes(browser: &mut Browser) -> Result<()> {
    let driver = browser.driver();
    // This window stays, so that the browser does when the other's process ends.
    let quiet = driver.window().await?;
    let (mut kept, mut said) = (0, 0);
    for crashes in 0..=CRASHES {
        let window = driver.new_tab().await?;
        driver.switch_to_window(window).await?;
        open_story(browser, crashes == 0).await?;
        if crashes == 0 {
            browser.find("textbox", "Title").await?.clear().await?;
        }
        // The title comes with the film, a moment after the field.
        let start = Instant::now();
        let mut found = edits(browser).await?;
        while found < kept && start.elapsed() < Duration::from_secs(10) {
            tokio::time::sleep(Duration::from_millis(50)).await;
            found = edits(browser).await?;
        }
        ensure!(found >= kept, "after {crashes} crashes {kept} edits must be there, and {found} are");
        kept = found;
        let mut number = u32::try_from(found)?;
        if crashes == CRASHES {
            break;
        }
        for _ in 0..4 + crashes % 5 {
            number += 1;
            make_an_edit(browser, number).await?;
            // From one edit at once after the other to pauses that part steps.
            tokio::time::sleep(Duration::from_millis(u64::from(number * 97 % 700))).await;
            let saved: Value = browser.script(SAVED).await?;
            kept = saved.as_u64().map_or(Ok(kept), usize::try_from)?;
        }
        crash(browser).await;
        said += u32::from(kept > found);
        driver.switch_to_window(quiet.clone()).await?;
    }
    ensure!(said >= SAID_IN, "in {CRASHES} visits the page said {said} times that an edit is saved");
    let before = edits(browser).await?;
    browser.click("button", "Undo: Change the title").await?;
    let after = edits(browser).await?;
    ensure!(after < before, "after the crashes undo led from {before} edits to {after}");
    Ok(())
}
