//! One shot is set up: sizes, lenses, heights, frame shapes, the floor plan, and what stays over a reload.

use anyhow::{Result, ensure};
use checks::Browser;
use thirtyfour::prelude::*;

/// Presses the button whose label contains `words`.
async fn tap(browser: &Browser, words: &str) -> Result<()> {
    let button = browser.find_containing("button", words).await?;
    button.scroll_into_view().await?;
    button.click().await?;
    Ok(())
}

/// Types into the field whose label contains `words`, and leaves it.
async fn type_into(browser: &Browser, words: &str, text: &str) -> Result<()> {
    let field = browser.find_containing("textbox", words).await?;
    field.clear().await?;
    field.send_keys(text).await?;
    field.send_keys(Key::Enter + "").await?;
    Ok(())
}

/// Size and lens change the sentence, and the page answered before anything was asked.
pub(crate) async fn a_shot_is_framed(browser: &mut Browser) -> Result<()> {
    let first = browser.first_heading().await?;
    ensure!(first.starts_with("Main lens") && first.contains("chest height"), "the page opens with: {first}");
    browser.screenshot("set-up").await?;
    browser.click("button", "tight").await?;
    let tight = browser.first_heading().await?;
    ensure!(tight.contains("eye height") && tight.contains("upper third"), "a tight shot: {tight}");
    tap(browser, "long").await?;
    let long = browser.first_heading().await?;
    ensure!(long.starts_with("Long lens"), "the long lens: {long}");
    browser.screenshot("set-up-tight-long").await?;
    Ok(())
}

/// The kit and the last setup are there again after a reload.
pub(crate) async fn the_last_setup_is_kept(browser: &mut Browser) -> Result<()> {
    browser.click("button", "wide").await?;
    tap(browser, "ultra-wide").await?;
    browser.wait_for_text("Ultra-wide lens, ").await?;
    let before = browser.first_heading().await?;
    browser.reload().await?;
    let after = browser.first_heading().await?;
    ensure!(before == after && before.starts_with("Ultra-wide"), "{before} became {after}");
    Ok(())
}

/// A framing that cannot be had from the ground is explained, and one tap mends it.
pub(crate) async fn what_cannot_be_framed_is_mended(browser: &mut Browser) -> Result<()> {
    browser.click("button", "tight").await?;
    tap(browser, "ultra-wide").await?;
    tap(browser, "Height and look").await?;
    // The sheet first: "ground" is in the name of the background's chip too.
    browser.wait_for_text("Done").await?;
    tap(browser, "ground").await?;
    tap(browser, "Done").await?;
    browser.wait_for_text("No distance gives this size").await?;
    browser.screenshot("set-up-no-framing").await?;
    tap(browser, "high").await?;
    browser.wait_until_gone("No distance gives this size").await?;
    browser.wait_for_text("back (").await
}

/// A height that is not one is refused in words, and the last good one stays.
pub(crate) async fn a_bad_height_is_refused_in_words(browser: &mut Browser) -> Result<()> {
    let before = browser.first_heading().await?;
    tap(browser, "Who").await?;
    type_into(browser, "How tall", "tall").await?;
    browser.wait_for_text("does not begin with a number").await?;
    type_into(browser, "How tall", "17").await?;
    browser.wait_for_text("“17” is not allowed: 0.40 m to 2.80 m").await?;
    tap(browser, "Done").await?;
    ensure!(browser.first_heading().await? == before, "a bad height changed the sentence");
    tap(browser, "Who").await?;
    type_into(browser, "How tall", "6'2\"").await?;
    tap(browser, "Done").await?;
    browser.wait_for_text("Adult 1.88 m").await?;
    Ok(())
}

/// With the background as far behind as the phone before them, they stand in the middle of the floor plan: dragging there
/// moves them, and the phone stays where it is.
pub(crate) async fn a_person_is_dragged_on_the_floor(browser: &mut Browser) -> Result<()> {
    tap(browser, "Place").await?;
    type_into(browser, "Background behind", "1.34").await?;
    tap(browser, "Done").await?;
    let plan = browser.find_containing("image", "Floor plan").await?;
    plan.scroll_into_view().await?;
    let before = plan.attr("aria-label").await?.unwrap_or_default();
    browser.drag(&plan, 24, 30).await?;
    browser.wait_for_text("The phone stays where you put it").await?;
    let after = plan.attr("aria-label").await?.unwrap_or_default();
    ensure!(before != after, "the floor plan still says: {after}");
    tap(browser, "Back to medium").await?;
    Ok(())
}

/// The adapter widens the frame, says what it costs, and comes off again.
pub(crate) async fn an_adapter_is_tried(browser: &mut Browser) -> Result<()> {
    tap(browser, "Adapter").await?;
    tap(browser, "1.33x clip-on").await?;
    tap(browser, "Done").await?;
    browser.wait_for_text("soft sideways even in focus").await?;
    browser.wait_for_text("stretched").await?;
    browser.screenshot("set-up-adapter").await?;
    tap(browser, "Take the adapter off").await?;
    browser.wait_for_text("captured").await?;
    Ok(())
}

/// Without a pointer: the sizes and the steps that stand for dragging are reached and worked by keys.
pub(crate) async fn everything_by_keys(browser: &mut Browser) -> Result<()> {
    let wide = browser.find("button", "wide").await?;
    wide.focus().await?;
    wide.send_keys(Key::Enter + "").await?;
    let first = browser.first_heading().await?;
    ensure!(first.contains("waist height"), "a wide shot: {first}");
    let fold = browser.driver().find(By::XPath("//summary[.='Move by steps']")).await?;
    fold.focus().await?;
    fold.send_keys(Key::Enter + "").await?;
    let distance = browser.find("slider", "Phone's distance").await?;
    distance.focus().await?;
    distance.send_keys(Key::Right + "").await?;
    browser.wait_for_text("The phone stays where you put it").await?;
    Ok(())
}

/// No barrier to people who read the page by other means, in each set of colours.
pub(crate) async fn no_barriers(browser: &mut Browser) -> Result<()> {
    for colours in ["paper", "studio", "sun"] {
        tap(browser, "Menu").await?;
        browser.click("button", colours).await?;
        tap(browser, "Done").await?;
        let barriers = browser.barriers().await?;
        ensure!(barriers.is_empty(), "in {colours}: {barriers:?}");
        browser.screenshot(&format!("set-up-{colours}")).await?;
    }
    Ok(())
}
