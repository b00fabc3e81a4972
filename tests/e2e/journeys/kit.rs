//! The crew's own phone: photos become lenses, a lens is checked against a door, and Set-up follows.

use std::path::PathBuf;

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use thirtyfour::prelude::*;

use crate::set::wait_until;

/// A file that a registry package carries, fetched by the test command.
fn fixture(name: &str) -> Result<PathBuf> {
    let folder = std::env::var_os("TAPEMARK_FIXTURES")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../target/fixtures"), PathBuf::from);
    let file = folder.join(name);
    file.canonicalize().with_context(|| format!("{} is not there: run cargo xtask test once", file.display()))
}

/// Goes to the Kit screen and waits for its module.
async fn go_to_kit(browser: &Browser) -> Result<()> {
    browser.click("button", "Kit").await?;
    browser.wait_for_text("From photos or clips").await
}

/// Waits until what has the focus says this of itself.
async fn is_at(browser: &Browser, attribute: &str, value: &str) -> Result<()> {
    let script = format!("return document.activeElement?.getAttribute({attribute:?}) ?? ''");
    wait_until(browser, &format!("nothing with {attribute} {value} has the focus"), &script, |at| {
        at == value
    })
    .await?;
    Ok(())
}

/// Picks a file, as a person would from their gallery.
async fn pick(browser: &Browser, file: &str) -> Result<()> {
    let path = fixture(file)?;
    let path = path.to_str().context("the path is text")?;
    Ok(browser.driver().find(By::Css("input[type=file][multiple]")).await?.send_keys(path).await?)
}

/// A photo with its tags becomes a lens, and Set-up compares it.
pub(crate) async fn a_photo_becomes_a_lens(browser: &mut Browser) -> Result<()> {
    let typical = main_lens(browser).await?;
    go_to_kit(browser).await?;
    // Source: npm exif 0.6.0, test/test1.jpg: 4.28 mm, f/2.4, 35 mm-equivalent; its licence stands in the package.
    pick(browser, "npm/exif/test/test1.jpg").await?;
    browser.wait_for_text("4.28 mm").await?;
    browser.wait_for_text("f/2.4").await?;
    browser.screenshot("kit-photo").await?;
    browser.click("button", "Use this lens").await?;
    // It takes the place of the typical main lens, whose equivalent is nearest; from here on all is computed with it.
    browser.click("button", "Set-up").await?;
    let with_photo = main_lens(browser).await?;
    ensure!(typical != with_photo, "the main lens is compared as before: {with_photo}");
    browser.reload().await?;
    let after = main_lens(browser).await?;
    ensure!(after == with_photo, "after a reload {with_photo} became {after}");
    Ok(())
}

/// What the comparison says of the main lens.
async fn main_lens(browser: &Browser) -> Result<String> {
    browser.wait_for(".lens").await?;
    let buttons = browser.labels("button").await?;
    buttons.into_iter().find(|label| label.starts_with("main ")).context("no main lens is compared")
}

/// A lens that is typed in says which typical one makes way for it and what of that one it leaves empty, and gives it back.
pub(crate) async fn a_typed_lens_tells_whose_place_it_takes(browser: &mut Browser) -> Result<()> {
    go_to_kit(browser).await?;
    browser.click("button", "Type a lens in").await?;
    let fields = [("Name", "main"), ("Focal length", "6.8"), ("35 mm-equivalent", "24"), ("f-number", "1.8")];
    for (label, text) in fields {
        let field = browser.find("textbox", label).await?;
        field.scroll_into_view().await?;
        field.send_keys(text).await?;
        if label == "Name" {
            // What is missing is far above the button.
            browser.click("button", "Add lens").await?;
            is_at(browser, "aria-invalid", "true").await?;
        }
    }
    browser.wait_for_text("This takes the place of the main that the kit has.").await?;
    browser.wait_for_text("Focuses from; Zooms from the sensor's middle").await?;
    browser.click("button", "Take these over").await?;
    browser.wait_until_gone("known of that one").await?;
    browser.screenshot("kit-takes-place").await?;
    browser.click("button", "Add lens").await?;
    browser.wait_for_text("Replaced the earlier main.").await?;
    browser.wait_for_text("typed").await?;
    is_at(browser, "aria-label", "Put back main").await?;
    browser.click("button", "Put back main").await?;
    browser.wait_until_gone("Replaced the earlier main.").await?;
    // Where a card was stands the way back.
    browser.click("button", "Remove main").await?;
    is_at(browser, "aria-label", "Put back main").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    browser.click("button", "Put back main").await?;
    browser.find("button", "Remove main").await?;
    Ok(())
}

/// A photo that lost its tags says which, why, and what to do.
pub(crate) async fn a_stripped_photo_is_explained(browser: &mut Browser) -> Result<()> {
    go_to_kit(browser).await?;
    // Source: npm exif-parser 0.1.12, test/starfish.jpg: an f-number, but neither focal length nor equivalent.
    pick(browser, "npm/exif-parser/test/starfish.jpg").await?;
    browser.wait_for_text("focal length").await?;
    browser.wait_for_text("essenger").await?;
    browser.screenshot("kit-stripped").await?;
    Ok(())
}

/// A file that is no photo is refused in words, and the kit stays.
pub(crate) async fn a_file_that_is_no_photo_is_refused(browser: &mut Browser) -> Result<()> {
    go_to_kit(browser).await?;
    pick(browser, "npm/exif/package.json").await?;
    browser.wait_for_text("he file is no JPEG").await?;
    browser.wait_for_text("ultra-wide").await
}

/// A door of 0.90 m across the frame at a taped distance gives the mode's true view, and it replaces the worked-out one.
pub(crate) async fn a_lens_is_checked_against_a_door(browser: &mut Browser) -> Result<()> {
    go_to_kit(browser).await?;
    let check =
        browser.driver().find(By::XPath("//details[contains(., 'Check a lens in a minute')]")).await?;
    if check.attr("open").await?.is_none() {
        let summary = check.find(By::Tag("summary")).await?;
        summary.scroll_into_view().await?;
        summary.click().await?;
    }
    let distance = browser.find_containing("textbox", "From the lens to it").await?;
    distance.scroll_into_view().await?;
    // 2 atan(0.45 / 0.45) is a right angle: a hand calculation.
    distance.send_keys("0.45").await?;
    distance.send_keys(Key::Tab + "").await?;
    browser.wait_for_text("90").await?;
    browser.click("button", "Keep as this mode's view").await?;
    browser.wait_for_text("measured").await?;
    browser.screenshot("kit-checked").await?;
    Ok(())
}

/// No barrier to people who read the screen by other means.
pub(crate) async fn no_barriers(browser: &mut Browser) -> Result<()> {
    go_to_kit(browser).await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    browser.screenshot("kit").await?;
    Ok(())
}
