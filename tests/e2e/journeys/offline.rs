//! The page without a network, and a new version of it that comes while something is open.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use checks::{Browser, copy_page, list_files};

/// How long a browser may take to fetch everything, or to find that there is a new version.
const PATIENCE: Duration = Duration::from_secs(30);

/// What the menu says of it.
const READY: &str = "Ready for use without a network.";
const NEW: &str = "A new version is ready.";

/// Opens the menu, and waits until it says something.
async fn wait_in_menu(browser: &Browser, words: &str) -> Result<()> {
    wait_for_one_in_menu(browser, &[words]).await
}

/// Opens the menu, and waits until it says one of these.
async fn wait_for_one_in_menu(browser: &Browser, words: &[&str]) -> Result<()> {
    browser.click("button", "Menu").await?;
    let start = Instant::now();
    loop {
        let text = browser.text().await?;
        if words.iter().any(|words| text.contains(words)) {
            break;
        }
        ensure!(start.elapsed() < PATIENCE, "the menu says none of {words:?} but: {text}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    Ok(())
}

/// Waits until a picture has been drawn.
async fn wait_for_a_picture(browser: &Browser) -> Result<()> {
    let samples = "return Number(document.querySelector('canvas.picture')?.dataset.samples ?? 0)";
    let start = Instant::now();
    while browser.script(samples).await?.as_u64().is_none_or(|samples| samples < 4) {
        ensure!(start.elapsed() < PATIENCE, "no picture is drawn");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    Ok(())
}

/// Gives the open film a title, and waits until it is kept.
async fn call_it(browser: &Browser, title: &str) -> Result<()> {
    browser.fill("textbox", "Title", title).await?;
    browser.wait_for_text("Saved on this device").await
}

/// Opens the Story screen, and waits until the film there has that title.
async fn find_called(browser: &Browser, title: &str) -> Result<()> {
    browser.click("button", "Story").await?;
    let start = Instant::now();
    loop {
        let found = browser.find("textbox", "Title").await?.prop("value").await?.unwrap_or_default();
        if found == title {
            return Ok(());
        }
        ensure!(start.elapsed() < PATIENCE, "the film is called {found:?} and not {title:?}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

/// Once everything is kept, the page opens without a network, in this tab and in others, and all of it works.
pub(crate) async fn everything_without_a_network(browser: &mut Browser) -> Result<()> {
    wait_in_menu(browser, READY).await?;
    browser.screenshot("offline-ready").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    browser.click("button", "Done").await?;
    browser.go_offline().await?;
    browser.reload().await?;
    let medium = browser.first_heading().await?;
    browser.click("button", "tight").await?;
    let tight = browser.first_heading().await?;
    ensure!(tight != medium && tight.contains("eye height"), "{medium} became {tight}");
    wait_for_a_picture(browser).await?;
    browser.click("button", "Story").await?;
    browser.click("button", "Look at an invented one").await?;
    browser.find("textbox", "Title").await?;
    call_it(browser, "Far from any mast").await?;
    browser.reload().await?;
    find_called(browser, "Far from any mast").await?;
    browser.click("button", "Light").await?;
    browser.wait_for_text("Low sun and glow").await?;
    // The menu knows by now that there is something to keep.
    browser.click("button", "Menu").await?;
    browser.wait_for_text("your films").await?;
    browser.screenshot("offline-menu").await?;
    browser.click("button", "Done").await?;
    let first = browser.driver().window().await?;
    let second = browser.driver().new_tab().await?;
    browser.driver().switch_to_window(second).await?;
    browser.open("?from=a-link#anywhere").await?;
    let again = browser.first_heading().await?;
    ensure!(again == tight, "{tight} became {again} in another tab");
    browser.click("button", "Kit").await?;
    browser.wait_for_text("Lenses").await?;
    browser.driver().close_window().await?;
    browser.driver().switch_to_window(first).await?;
    browser.go_online().await
}

/// A copy of the page as built, in this journey's folder.
fn next_version(browser: &Browser, name: &str) -> Result<PathBuf> {
    let folder = browser.folder().join(name);
    copy_page(&folder)?;
    Ok(folder)
}

/// Gives the page of a folder another title, by which it is known.
fn retitle(folder: &Path, title: &str) -> Result<()> {
    let page = folder.join("index.html");
    let text = fs::read_to_string(&page)?;
    let named = text.replace("<title>Tapemark</title>", &format!("<title>{title}</title>"));
    ensure!(named != text, "the page has another title");
    Ok(fs::write(page, named)?)
}

/// Asks for the newest version, and says what became of it.
async fn look_for_a_version(browser: &Browser) -> Result<String> {
    let look = "return (async () => {
        const registration = await navigator.serviceWorker.getRegistration();
        await registration.update();
        const found = registration.installing ?? registration.waiting;
        while (found?.state === 'installing') await new Promise(done => { found.onstatechange = done; });
        return found?.state ?? 'none';
    })()";
    Ok(browser.script(look).await?.as_str().unwrap_or_default().to_owned())
}

/// One that arrives in part is passed over; a whole one waits until it is asked for, and takes away nothing that was done.
pub(crate) async fn a_new_version_waits(browser: &mut Browser) -> Result<()> {
    wait_in_menu(browser, READY).await?;
    browser.click("button", "Done").await?;
    let broken = next_version(browser, "broken-version")?;
    retitle(&broken, "Tapemark in part")?;
    list_files(&broken)?;
    fs::write(broken.join("index.html"), "<title>Tapemark of another day</title>")?;
    browser.serve(&broken)?;
    let outcome = look_for_a_version(browser).await?;
    ensure!(outcome == "redundant", "a version with a file of another is {outcome}");
    browser.reload().await?;
    ensure!(browser.driver().title().await? == "Tapemark", "half a version is in use");

    let whole = next_version(browser, "whole-version")?;
    retitle(&whole, "Tapemark anew")?;
    list_files(&whole)?;
    // What has not changed is not fetched again, so it can be missing.
    fs::remove_file(whole.join("sun/sun_almanac_bg.wasm"))?;
    browser.serve(&whole)?;
    let first = browser.driver().window().await?;
    let second = browser.driver().new_tab().await?;
    browser.driver().switch_to_window(second.clone()).await?;
    browser.open("").await?;
    // A browser looks for a new version by itself when a page is opened.
    wait_for_one_in_menu(browser, &[READY, NEW]).await?;
    browser.click("button", "Done").await?;
    browser.script("window.isOpen = true; return true").await?;
    browser.driver().switch_to_window(first).await?;
    browser.click("button", "Story").await?;
    browser.click("button", "Start a film").await?;
    let outcome = look_for_a_version(browser).await?;
    ensure!(outcome == "installed", "the new version is {outcome}");
    wait_in_menu(browser, NEW).await?;
    browser.screenshot("offline-new-version").await?;
    browser.click("button", "Done").await?;
    // Whoever goes over in the middle of a sentence keeps it.
    browser.fill("textbox", "Title", "Kept over a new version").await?;
    ensure!(browser.driver().title().await? == "Tapemark", "the new version did not wait");
    browser.click("button", "Menu").await?;
    browser.click("button", "Use it now").await?;
    let start = Instant::now();
    while browser.driver().title().await? != "Tapemark anew" {
        ensure!(start.elapsed() < PATIENCE, "the new version is not in use");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    find_called(browser, "Kept over a new version").await?;
    wait_in_menu(browser, READY).await?;
    browser.click("button", "Done").await?;
    let caches = browser.script("return caches.keys().then(names => names.length)").await?;
    ensure!(caches == 1, "{caches} versions are kept");

    browser.driver().switch_to_window(second).await?;
    ensure!(browser.script("return window.isOpen").await? == true, "the other tab was loaded anew");
    wait_in_menu(browser, "Another tab has gone over to a new version.").await
}
