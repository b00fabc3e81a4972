//! A photo of the place stands behind the picture: its horizon is marked, its lens and the phone's height are said, and every
//! frame is seen before it.

use anyhow::{Result, ensure};
use checks::Browser;
use thirtyfour::prelude::*;

use crate::drawn::png;

/// A photo of 1200 x 900 px of nothing but a green sky over brown ground, whose horizon is that many rows from its top.
fn photo_of_a_plain(horizon_px: u32) -> Result<Vec<u8>> {
    png(1200, 900, |_column, row| if row < horizon_px { [20, 130, 90] } else { [120, 80, 40] })
}

/// Brings a file to the first button for photos.
async fn bring(browser: &Browser, name: &str, contents: &[u8]) -> Result<()> {
    let input = browser.driver().find(By::Css(".recce-photos input[type=file]")).await?;
    browser.give(&input, name, contents).await
}

/// Types over what a field has.
async fn retype(browser: &Browser, label: &str, text: &str) -> Result<()> {
    let field = browser.find("textbox", label).await?;
    field.scroll_into_view().await?;
    field.click().await?;
    field.send_keys(Key::Control + "a").await?;
    field.send_keys(text).await?;
    Ok(field.send_keys(Key::Tab + "").await?)
}

/// Chooses a mark and moves it up by keys.
async fn move_up(browser: &Browser, name: &str, pixels: u32) -> Result<()> {
    let mark = browser.driver().find(By::XPath(format!("//button[contains(., '{name}')]"))).await?;
    mark.scroll_into_view().await?;
    mark.click().await?;
    for _ in 0..pixels / 10 {
        mark.send_keys(Key::Shift + Key::Up.clone()).await?;
    }
    for _ in 0..pixels % 10 {
        mark.send_keys(Key::Up + "").await?;
    }
    Ok(())
}

/// The colour in the upper left corner of the large picture, once it has been drawn.
const CORNER: &str = "
    const canvas = document.querySelector('canvas.picture');
    if (!canvas?.dataset.samples) return null;
    return [...canvas.getContext('2d').getImageData(2, 2, 1, 1).data].slice(0, 3);";

async fn wait_for_corner(browser: &Browser, is_wanted: impl Fn(&[i64]) -> bool) -> Result<()> {
    let mut last = Vec::new();
    for _ in 0..60 {
        let told = browser.script(CORNER).await?;
        last = told
            .as_array()
            .map_or_else(Vec::new, |rgb| rgb.iter().filter_map(serde_json::Value::as_i64).collect());
        if last.len() == 3 && is_wanted(&last) {
            return Ok(());
        }
        tokio::time::sleep(std::time::Duration::from_millis(250)).await;
    }
    anyhow::bail!("the picture's corner is {last:?}")
}

/// 17.307 mm is half the width of a 4:3 photo on the diagonal of 36 x 24 mm, so its equivalent sees 90°: 600 px to the tangent.
/// A phone that looks down by 5° has its horizon 600 tan 5° = 52.5 px above the middle.
pub(crate) async fn a_photo_stands_behind(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Dress the set").await?;
    browser.wait_for_text("Or a photo of the real one").await?;
    bring(browser, "plain.png", &photo_of_a_plain(398)?).await?;
    browser.wait_for_text("does not say which lens took it").await?;
    retype(browser, "Its lens, as a 35 mm-equivalent", "17.31").await?;
    browser.wait_for_text("It sees 90.0° from side to side.").await?;
    retype(browser, "The phone's height m", "1.4").await?;
    move_up(browser, "Horizon, left", 52).await?;
    move_up(browser, "Horizon, right", 52).await?;
    browser.wait_for_text("398 px").await?;
    browser.wait_for_text("1.40 m ± 0.02 m above the floor and looked down by 5.0°").await?;
    browser.screenshot("recce-marked").await?;
    browser.click("button", "Keep this for the photo").await?;
    browser.click("button", "Done").await?;
    // The sky is the photo's own: green, and nothing of ours is.
    let is_photo =
        |rgb: &[i64]| (rgb[0] - 20).abs() < 12 && (rgb[1] - 130).abs() < 12 && (rgb[2] - 90).abs() < 12;
    wait_for_corner(browser, is_photo).await?;
    browser.screenshot("recce-behind").await?;
    browser.click("button", "The real place").await?;
    wait_for_corner(browser, |rgb| !is_photo(rgb)).await?;
    browser.click("button", "The real place").await?;
    wait_for_corner(browser, is_photo).await?;
    // It is kept over a reload, pixels and all.
    browser.reload().await?;
    wait_for_corner(browser, is_photo).await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    Ok(())
}

/// What is no picture is refused in words, and what was there stays.
pub(crate) async fn no_photo_is_told(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Dress the set").await?;
    browser.wait_for_text("Or a photo of the real one").await?;
    bring(browser, "no_photo.heic", b"this is no photo").await?;
    browser.wait_for_text("export the photo as JPEG").await?;
    Ok(())
}
