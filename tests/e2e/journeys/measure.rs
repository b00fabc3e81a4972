//! A lens measured on a frame: a picture with a board of known width is brought in, its ends are marked, and the kit counts
//! with the angle.

use anyhow::{Result, ensure};
use checks::Browser;
use thirtyfour::prelude::*;

use crate::drawn::png;

/// A frame of 1920 x 1080 px, dark with a bright board from one column to another: its ends are where it says.
fn frame_of_a_board(from_px: u32, to_px: u32) -> Result<Vec<u8>> {
    png(1920, 1080, |column, row| {
        let on_board = (from_px..to_px).contains(&column) && (300..780).contains(&row);
        if on_board { [220; 3] } else { [30; 3] }
    })
}

/// The section of that title, opened.
async fn section(browser: &Browser, title: &str) -> Result<WebElement> {
    let section =
        browser.driver().find(By::XPath(format!("//details[contains(summary, '{title}')]"))).await?;
    if section.attr("open").await?.is_none() {
        let summary = section.find(By::Tag("summary")).await?;
        summary.scroll_into_view().await?;
        summary.click().await?;
    }
    Ok(section)
}

/// Chooses a mark and moves it by keys: so many pixels to the right, tens with Shift.
async fn move_mark(section: &WebElement, name: &str, right_px: i32) -> Result<()> {
    let mark = section.find(By::XPath(format!(".//button[contains(., '{name}')]"))).await?;
    mark.scroll_into_view().await?;
    mark.click().await?;
    let way = if right_px < 0 { Key::Left } else { Key::Right };
    for _ in 0..right_px.abs() / 10 {
        mark.send_keys(Key::Shift + way.clone()).await?;
    }
    for _ in 0..right_px.abs() % 10 {
        mark.send_keys(way.clone() + "").await?;
    }
    Ok(())
}

/// A board of 0.90 m, from 560 to 1360 px, 1.2 m away: t = 1920 · 0.9 / (2 · 1.2 · 800) = 0.9, so 2 atan 0.9 = 83.97° across.
pub(crate) async fn a_lens_is_measured_on_a_frame(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Kit").await?;
    browser.wait_for_text("From photos or clips").await?;
    let measure = section(browser, "Measure from a frame").await?;
    let input = measure.find(By::Css("input[type=file]")).await?;
    browser.give(&input, "board.png", &frame_of_a_board(560, 1360)?).await?;
    browser.wait_for_text("Left end").await?;
    let distance = measure.find(By::XPath(".//label[contains(., 'Taped, lens to thing')]/..//input")).await?;
    distance.scroll_into_view().await?;
    distance.send_keys("1.2").await?;
    // The marks begin at a quarter and three quarters of the width: 480 and 1440 px.
    move_mark(&measure, "Left end", 80).await?;
    browser.wait_for_text("560, 540 px").await?;
    move_mark(&measure, "Right end", -80).await?;
    browser.wait_for_text("1360, 540 px").await?;
    browser.wait_for_text("Sees 84.0°").await?;
    browser.screenshot("kit-measured-frame").await?;
    // The same frame twice is two frames, and the list says what each says.
    click_within(&measure, "Add this frame").await?;
    browser.wait_for_text("Remove").await?;
    click_within(&measure, "Keep as this mode's view").await?;
    browser.wait_for_text("it counts everywhere now").await?;
    browser.wait_for_text("measured").await?;
    browser.screenshot("kit-measured").await?;
    Ok(())
}

async fn click_within(section: &WebElement, words: &str) -> Result<()> {
    let button = section.find(By::XPath(format!(".//button[contains(., \"{words}\")]"))).await?;
    button.scroll_into_view().await?;
    Ok(button.click().await?)
}

/// A photo has another shape than the mode, and so another view: it is refused in words, and nothing can be kept.
pub(crate) async fn a_photo_is_no_frame_of_the_mode(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Kit").await?;
    browser.wait_for_text("From photos or clips").await?;
    let measure = section(browser, "Measure from a frame").await?;
    // As tall as photos are: 1440 x 1080.
    let input = measure.find(By::Css("input[type=file]")).await?;
    browser.give(&input, "photo_shape.png", &png(1440, 1080, |_column, _row| [90; 3])?).await?;
    browser.wait_for_text("Left end").await?;
    browser.wait_for_text("because a photo has another view").await?;
    let keep = measure.find(By::XPath(".//button[contains(., \"Keep as this mode's view\")]")).await?;
    ensure!(!keep.is_enabled().await?, "a photo's view can be kept as the mode's");
    Ok(())
}
