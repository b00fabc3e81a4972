//! A take is planned and played: moves, a focus pull, the shutter, larger cameras beside the phone, and a still.

use std::time::{Duration, Instant};

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

/// Asks the page again and again until the answer is true.
async fn wait_until(browser: &Browser, what: &str, question: &str) -> Result<()> {
    let start = Instant::now();
    while browser.script(&format!("return {question}")).await? != serde_json::Value::Bool(true) {
        ensure!(start.elapsed() < Duration::from_secs(20), "never came: {what}");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    Ok(())
}

/// The moment that the scrubber stands at, seconds.
const SCRUBBER: &str = "Number(document.querySelector('.play-bar input').value)";

/// A push in is planned, plays in its own time, is stopped, and any moment of it is shown by keys; it is kept.
pub(crate) async fn a_push_is_played(browser: &mut Browser) -> Result<()> {
    tap(browser, "Move").await?;
    browser.click("button", "push in").await?;
    browser.wait_for_text("a creep, 0.40 m/s").await?;
    browser.screenshot("moves-sheet").await?;
    tap(browser, "Done").await?;
    browser.wait_for_text("Push in, 5.0 s").await?;
    browser.wait_for_text("lectronic stabilisation takes").await?;
    browser.click("button", "Play").await?;
    wait_until(browser, "a played picture", "document.querySelector('.played.on')?.width > 100").await?;
    wait_until(browser, "the second second", &format!("{SCRUBBER} > 1")).await?;
    browser.screenshot("moves-playing").await?;
    browser.click("button", "Stop").await?;
    wait_until(browser, "rest", "document.querySelector('.played.on') === null").await?;
    let scrubber = browser.find("slider", "Moment of the take").await?;
    scrubber.focus().await?;
    scrubber.send_keys(Key::Home + "").await?;
    scrubber.send_keys(Key::Right + "").await?;
    browser.wait_for_text("0.1 s of 5.0 s").await?;
    scrubber.send_keys(Key::End + "").await?;
    browser.wait_for_text("5.0 s of 5.0 s").await?;
    browser.screenshot("moves-end").await?;
    browser.reload().await?;
    browser.wait_for_text("Push in, 5.0 s").await?;
    Ok(())
}

/// A pan that is too fast is told and mended with one tap; walking backwards is cautioned and mended too.
pub(crate) async fn a_take_is_mended(browser: &mut Browser) -> Result<()> {
    tap(browser, "Move").await?;
    browser.click("button", "pan left").await?;
    browser.wait_for_text("one frame width in seven seconds").await?;
    let faster = browser.find("button", "Turns: more").await?;
    for _ in 0..6 {
        faster.click().await?;
    }
    browser.screenshot("moves-pan").await?;
    tap(browser, "Done").await?;
    browser.wait_for_text("it can be looked at").await?;
    tap(browser, "As fast as it may: ").await?;
    browser.wait_until_gone("it can be looked at").await?;
    tap(browser, "Move").await?;
    browser.click("button", "follow, walking backwards").await?;
    browser.wait_for_text("a slow walk, 0.80 m/s").await?;
    tap(browser, "Done").await?;
    browser.wait_for_text("Whoever holds the phone walks backwards").await?;
    browser.screenshot("moves-backwards").await?;
    browser.click("button", "Follow alongside").await?;
    browser.wait_until_gone("walks backwards").await?;
    browser.screenshot("moves-alongside").await?;
    Ok(())
}

/// Focus is put on what is clicked on the floor plan, and pulled to what is chosen by name or stepped.
pub(crate) async fn focus_is_pulled(browser: &mut Browser) -> Result<()> {
    let before = browser.first_heading().await?;
    tap(browser, "Move").await?;
    let switch = browser.find_containing("checkbox", "Pull focus").await?;
    switch.click().await?;
    browser.wait_for_text("From the subject").await?;
    tap(browser, "the background").await?;
    browser.screenshot("moves-pull").await?;
    tap(browser, "Done").await?;
    browser.wait_for_text("Focus pulled to").await?;
    ensure!(browser.first_heading().await? == before, "a pull changed where the take begins");
    tap(browser, "Move").await?;
    tap(browser, "Click it in the frame").await?;
    browser.wait_for_text("Click what focus is pulled to").await?;
    let frame = browser.driver().find(By::Css("canvas.over")).await?;
    frame.scroll_into_view().await?;
    wait_until(browser, "a picture", "document.querySelector('.picture').dataset.samples > 0").await?;
    frame.click().await?;
    wait_until(browser, "the second mark", "document.querySelector('.mark-hint') === null").await?;
    browser.find("button", "Play").await?;
    Ok(())
}

/// Larger cameras stand beside the phone, with what it would need to be as soft.
pub(crate) async fn larger_cameras_are_compared(browser: &mut Browser) -> Result<()> {
    let fold = browser.driver().find(By::Css(".beside summary")).await?;
    fold.scroll_into_view().await?;
    fold.click().await?;
    browser.wait_for_text("Super 35").await?;
    browser.wait_for_text("For this blur the phone would need f/").await?;
    let slider = browser.find("slider", "The larger camera at").await?;
    slider.focus().await?;
    slider.send_keys(Key::End + "").await?;
    browser.wait_for_text("f/16").await?;
    // f/16 on a full frame is not beyond a phone.
    browser.wait_until_gone("impossible").await?;
    slider.send_keys(Key::Home + "").await?;
    browser.wait_for_text("impossible").await?;
    let drawn =
        "[...document.querySelectorAll('.beside-row canvas')].every(one => one.dataset.samples >= 12)";
    wait_until(browser, "three pictures", drawn).await?;
    browser.screenshot("beside").await?;
    Ok(())
}

/// A still is saved when its picture is finished, under a name that says what it is.
pub(crate) async fn a_still_is_saved(browser: &mut Browser) -> Result<()> {
    // What the page hands over is looked at on its way: a file on disk would belong to the browser.
    browser
        .script(
            "const make = HTMLCanvasElement.prototype.toBlob; window.stills = []; \
             HTMLCanvasElement.prototype.toBlob = function (then) { \
                 const [width, height] = [this.width, this.height]; \
                 make.call(this, blob => { window.stills.push([blob.type, blob.size, width, height]); then(blob); }); }; \
             const click = HTMLAnchorElement.prototype.click; \
             HTMLAnchorElement.prototype.click = function () { window.stills.push(this.download); }; return true",
        )
        .await?;
    for lines in ["the picture alone", "the picture with its lines"] {
        tap(browser, "Save still").await?;
        browser.click("button", lines).await?;
        browser.click("button", "Save").await?;
        browser.wait_for_text("Saved as tapemark-main").await?;
        browser.screenshot("still").await?;
        tap(browser, "Done").await?;
    }
    let told = browser.script("return JSON.stringify(window.stills)").await?.to_string();
    ensure!(told.contains("image/png") && told.contains("tapemark-main-medium.png"), "{told}");
    ensure!(told.contains("tapemark-main-medium-lines.png"), "{told}");
    Ok(())
}

/// No barrier to people who read the sheet by other means, and nothing runs over the screen's edge.
pub(crate) async fn no_barriers(browser: &mut Browser) -> Result<()> {
    tap(browser, "Move").await?;
    browser.click("button", "pan right").await?;
    browser.find_containing("checkbox", "Pull focus").await?.click().await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "on the sheet: {barriers:?}");
    tap(browser, "Done").await?;
    let fold = browser.driver().find(By::Css(".beside summary")).await?;
    fold.scroll_into_view().await?;
    fold.click().await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    let over = browser.script("return document.documentElement.scrollWidth - innerWidth").await?;
    ensure!(over.as_i64().unwrap_or(1) <= 0, "the page is {over} px too wide");
    let small = "[...document.querySelectorAll('.play-bar button, .play-bar input, .beside summary, .frame-bar button, .chip')] \
                 .filter(one => one.checkVisibility() && one.getBoundingClientRect().height < 44).map(one => one.outerHTML)";
    let small = browser.script(&format!("return {small}")).await?;
    ensure!(small.as_array().is_some_and(Vec::is_empty), "too small for a thumb: {small}");
    Ok(())
}
