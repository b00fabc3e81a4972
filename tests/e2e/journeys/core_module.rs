//! The core as an ES module, loaded by a page that is not ours.

use anyhow::{Result, ensure};
use checks::Browser;
use thirtyfour::prelude::*;

/// `setup` and `compare` answer plain objects, and a wrong object gives an error that names the field.
pub(crate) async fn a_page_asks_the_core(browser: &mut Browser) -> Result<()> {
    let answer = browser
        .script(
            r#"return (async () => {
                const core = await import("/core/tapemark_core.js");
                await core.default();
                const shot = {
                    lens: {focal_length_mm: 6.86, f_number: 1.78, sensor_width_mm: 9.8, sensor_height_mm: 7.3},
                    recording: {width_px: 3840, height_px: 2160},
                    adapter: {squeeze: 1.33, focusing: false},
                    delivery: {aspect: 2.39},
                    subject: {stature_m: 1.70},
                    shot_size: "medium", camera_height_m: 1.2, background_behind_subject_m: 10.0,
                };
                const one = core.setup(shot);
                const all = core.compare({lenses: [shot.lens]}, shot, "least_distance");
                let refused = "";
                try { core.setup({...shot, delivery: {aspect: 2.39, shape: "wide"}}); }
                catch (error) { refused = error.message; }
                return [one.delivered_width_px, one.delivered_height_px, one.distance_m, all.lenses.length, refused];
            })()"#,
        )
        .await?;
    ensure!(answer[0] == 5107 && answer[1] == 2136, "delivered {answer}");
    ensure!(answer[2].as_f64().is_some_and(|distance| (0.5..2.0).contains(&distance)), "distance {answer}");
    ensure!(answer[3] == 2, "bare and with the adapter: {answer}");
    ensure!(
        answer[4].as_str().is_some_and(|message| message.contains("delivery.shape")),
        "refused with {answer}"
    );
    Ok(())
}

/// The page that comes with the module shows what it computes, and what is wrong with a field by its path.
pub(crate) async fn a_page_of_ones_own_shows_blur_and_exposure(browser: &mut Browser) -> Result<()> {
    browser.open_path("core/own_page.html").await?;
    // `Navy1993`, page 1-26, and `Cipa2019`, annex C, worked out by hand:
    // c = |6 - 1| · 0.0068² / (1.8 · 6 · (1 - 0.0068)) on 9.6 mm for 3840 px: 8.62 px. EV 15 at f/1.8, 1/48 s and ISO 50:
    // 15 + log2(50 / 100) - log2(1.8² · 48) = 6.72 stops.
    retype(browser, "Focus at, m", "1").await?;
    retype(browser, "Background at, m", "6").await?;
    browser.wait_for_text("a disc of 8.6 px, 0.22 % of the picture's width").await?;
    browser
        .wait_for_text("6.7 stops too much light. Take filters of 1 and 6 stops: 0.3 stops too dark then")
        .await?;
    browser.screenshot("own-page").await?;
    retype(browser, "Background at, m", "0").await?;
    browser.wait_for_text("background_m").await?;
    retype(browser, "Light, EV at ISO 100", "99").await?;
    browser.wait_for_text("scene_ev100").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    Ok(())
}

async fn retype(browser: &Browser, label: &str, text: &str) -> Result<()> {
    let field = browser.driver().find(By::XPath(format!("//label[contains(., '{label}')]/input"))).await?;
    field.clear().await?;
    Ok(field.send_keys(text).await?)
}
