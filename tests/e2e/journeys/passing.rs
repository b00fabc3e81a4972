//! A film is passed on as a link, comes back, and two copies are put together.

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use serde_json::json;

use crate::set::wait_until;

/// What the open film is called.
const TITLE: &str = "return document.querySelector('.story-title')?.value ?? ''";

/// What the page says of a film that came with a link; nothing while there is none.
const ARRIVED: &str = "return document.querySelector('.story-arrived')?.innerText ?? ''";

async fn wait_for_title(browser: &Browser, title: &str) -> Result<()> {
    wait_until(browser, "the film has another title", TITLE, |now| now == title).await?;
    Ok(())
}

/// Goes to an address, and to the story there.
async fn follow(browser: &Browser, link: &str) -> Result<String> {
    browser.driver().goto(link).await?;
    browser.find("button", "Story").await?;
    browser.click("button", "Story").await?;
    let said = wait_until(browser, "nothing came with the link", ARRIVED, |said| said != "").await?;
    Ok(said.as_str().unwrap_or_default().to_owned())
}

/// Nothing of the link is left, neither on the page nor in its address.
async fn wait_until_decided(browser: &Browser) -> Result<()> {
    wait_until(browser, "it still asks what becomes of the link", ARRIVED, |said| said == "").await?;
    ensure!(browser.script("return location.hash").await? == "", "the link is still in the address");
    Ok(())
}

async fn no_barriers(browser: &Browser, place: &str) -> Result<()> {
    // What is half under a sheet's own head while it scrolls would be taken for a small target.
    browser.script("document.querySelector('dialog.sheet[open]').scrollTop = 0; return true").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{place}: {}", barriers.join("\n"));
    Ok(())
}

/// The link with a letter in its middle changed.
fn damaged(link: &str) -> String {
    let middle = link.len() - link.len() / 4;
    let is_a = link.get(middle..=middle) == Some("A");
    let (before, after) =
        (link.get(..middle).unwrap_or_default(), link.get(middle + 1..).unwrap_or_default());
    format!("{before}{}{after}", if is_a { "B" } else { "A" })
}

/// A film goes out as a link and comes back: damaged, as another copy that is put together with mine, and as one of its own.
pub(crate) async fn a_film_goes_out_and_comes_back(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Story").await?;
    browser.click("button", "Look at an invented one").await?;
    let title = wait_until(browser, "no film is open", TITLE, |title| title != "").await?;
    let title = title.as_str().unwrap_or_default().to_owned();
    browser.click("button", "Film and files").await?;
    browser.click("button", "Make a link").await?;
    let field = browser.find("textbox", "The link").await?;
    let link = field.prop("value").await?.unwrap_or_default();
    ensure!(link.contains("#film=1.") && link.len() < 30_000, "{link}");
    let (_, fragment) = link.split_once('#').context("no film in the link")?;
    browser.wait_for_text(&format!("{} characters of the 30000", fragment.len())).await?;
    browser.screenshot("passing-link").await?;
    no_barriers(browser, "the link").await?;
    browser.click("button", "Done").await?;

    let said = follow(browser, &damaged(&link)).await?;
    ensure!(said.contains("damaged") || said.contains("changed on its way"), "{said}");
    browser.screenshot("passing-damaged").await?;
    browser.click("button", "Go on without it").await?;
    wait_until_decided(browser).await?;
    wait_for_title(browser, &title).await?;

    browser.fill("textbox", "Title", "What became of it").await?;
    browser.wait_for_text("Saved on this device").await?;
    let said = follow(browser, &link).await?;
    ensure!(said.contains(&format!("A film came with the link: {title}, ")), "{said}");
    ensure!(said.contains("It is another copy of the film that is open."), "{said}");
    two_copies_become_one(browser, &title).await?;

    // The page is loaded with the link in its address, as from a message.
    browser.driver().goto("about:blank").await?;
    follow(browser, &link).await?;
    // As soon as the film that was open is open again.
    browser.wait_for_text("It is another copy of the film that is open.").await?;
    browser.click("button", "Open it as a film of its own").await?;
    wait_until_decided(browser).await?;
    wait_for_title(browser, &title).await?;
    browser.wait_for_text("Person 1").await?;
    browser.wait_for_text("Saved on this device").await?;
    browser.reload().await?;
    browser.click("button", "Story").await?;
    wait_for_title(browser, &title).await
}

/// The older copy has another title: it stands beside mine, is taken over, and taking that back brings mine again.
async fn two_copies_become_one(browser: &Browser, older: &str) -> Result<()> {
    browser.click("button", "Put the two together").await?;
    let rows = "return [...document.querySelectorAll('dialog[open] .story-difference tbody tr')]
        .map((row) => [...row.cells].map((cell) => cell.textContent))";
    let rows = wait_until(browser, "nothing differs", rows, |rows| *rows != json!([])).await?;
    ensure!(rows == json!([["Title", "What became of it", older]]), "{rows}");
    let theirs = browser.find_containing("button", "Theirs: ").await?;
    theirs.scroll_into_view().await?;
    theirs.click().await?;
    let pressed =
        "return document.querySelector('dialog[open] button[aria-label^=\"Theirs: \"]').ariaPressed";
    wait_until(browser, "theirs is not taken", pressed, |pressed| pressed == "true").await?;
    browser.screenshot("passing-two-copies").await?;
    no_barriers(browser, "two copies").await?;
    browser.click("button", "Put them together").await?;
    wait_for_title(browser, older).await?;
    wait_until_decided(browser).await?;
    browser.click("button", "Undo: Put two copies together").await?;
    wait_for_title(browser, "What became of it").await?;
    browser.wait_for_text("Saved on this device").await
}
