//! What films, scenes, shots and kits hold beyond the first answer, set by label, found again after a reload.

use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use checks::Browser;
use thirtyfour::components::SelectElement;
use thirtyfour::prelude::*;

/// Types into a field in the place of what stands there, and leaves it.
async fn type_into(browser: &Browser, label: &str, text: &str) -> Result<()> {
    let field = browser.find("textbox", label).await?;
    field.scroll_into_view().await?;
    field.clear().await?;
    field.send_keys(text).await?;
    field.send_keys(Key::Tab + "").await?;
    Ok(())
}

/// Holds that a field says so.
async fn says(browser: &Browser, label: &str, expected: &str) -> Result<()> {
    let start = Instant::now();
    loop {
        let value = browser.find("textbox", label).await?.prop("value").await?.unwrap_or_default();
        if value == expected {
            return Ok(());
        }
        ensure!(start.elapsed() < Duration::from_secs(10), "{label} says {value:?} and not {expected:?}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

/// Holds that a choice is the one that is taken.
async fn is_taken(browser: &Browser, choice: &str) -> Result<()> {
    let start = Instant::now();
    loop {
        let pressed = browser.find("button", choice).await?.attr("aria-pressed").await?;
        if pressed.as_deref() == Some("true") {
            return Ok(());
        }
        ensure!(start.elapsed() < Duration::from_secs(10), "{choice} is not taken: {pressed:?}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

/// What stands in a list of which one is chosen.
async fn chosen(browser: &Browser, label: &str) -> Result<String> {
    let list = SelectElement::new(&browser.find("combobox", label).await?).await?;
    Ok(list.first_selected_option().await?.text().await?)
}

/// Chooses from a list.
async fn choose(browser: &Browser, label: &str, option: &str) -> Result<()> {
    let list = browser.find("combobox", label).await?;
    list.scroll_into_view().await?;
    Ok(SelectElement::new(&list).await?.select_by_exact_text(option).await?)
}

/// Opens the fold of which the summary contains some words, if it is closed.
async fn unfold(browser: &Browser, words: &str) -> Result<()> {
    let path = format!("//details[summary[contains(., \"{words}\")]]");
    let fold = browser.driver().query(By::XPath(path)).first().await?;
    if fold.attr("open").await?.is_none() {
        let summary = fold.find(By::Tag("summary")).await?;
        summary.scroll_into_view().await?;
        summary.click().await?;
    }
    Ok(())
}

/// Everything that a film's forms ask beyond its first shots is set, kept over a reload, and can be taken back.
pub(crate) async fn what_a_film_asks_is_kept(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Story").await?;
    browser.click("button", "Start a film").await?;
    browser.find("textbox", "Title").await?;

    browser.click("button", "Add a shot").await?;
    browser.click("button", "behind them").await?;
    browser.click("button", "one chance").await?;
    type_into(browser, "Minutes on the set", "soon").await?;
    browser.wait_for_text("“soon” is not a number").await?;
    says(browser, "Minutes on the set", "soon").await?;
    type_into(browser, "Minutes on the set", "12,5 min").await?;
    says(browser, "Minutes on the set", "12.5").await?;
    browser.screenshot("forms-shot").await?;
    browser.click("button", "Done").await?;

    browser.click("button", "Film and files").await?;
    browser.click("button", "29.97").await?;
    browser.click("button", "60 Hz").await?;
    browser.click("button", "Brightness: less").await?;
    browser.click("button", "Brightness: less").await?;
    browser.wait_for_text("1 1/3 stops darker").await?;
    browser.screenshot("forms-film").await?;
    browser.click("button", "Done").await?;

    browser.click("button", "Outside, day").await?;
    choose(browser, "How much light", "hazy sun, soft shadows: EV 14").await?;
    says(browser, "Or as a meter reads it, at ISO 100", "14").await?;
    type_into(browser, "Or as a meter reads it, at ISO 100", "26").await?;
    browser.wait_for_text("“26” is not allowed: -10 to 25 EV").await?;
    unfold(browser, "Or as the app shows it on auto").await?;
    type_into(browser, "Exposure time that it shows", "64").await?;
    browser.wait_for_text("could be 1/64 s or 64 s").await?;
    type_into(browser, "Exposure time that it shows", "1/64 s").await?;
    type_into(browser, "ISO that it shows", "400").await?;
    browser.wait_for_text("at ISO 100.").await?;
    browser.click("button", "Use this reading").await?;
    let reading = chosen(browser, "How much light").await?;
    ensure!(reading.starts_with("as it was read: EV "), "the light is {reading}");
    browser.wait_for_text("By setting they are off here").await?;
    browser.click("button", "lamps on").await?;
    browser.click("button", "5600 K, sun").await?;
    says(browser, "Or a white balance of your own", "5600").await?;
    type_into(browser, "Or a white balance of your own", "5000 K").await?;
    browser.screenshot("forms-scene").await?;
    browser.click("button", "Done").await?;

    unfold(browser, "North is up the plan").await?;
    browser.click("button", "Turn north right").await?;
    browser.wait_for_text("North is 15° clockwise").await?;
    browser.screenshot("forms-north").await?;
    browser.click("button", "Undo: Turn north").await?;
    browser.wait_for_text("North is up the plan").await?;
    browser.click("button", "Redo: Turn north").await?;
    browser.wait_for_text("North is 15° clockwise").await?;

    browser.wait_for_text("Saved on this device").await?;
    browser.reload().await?;
    browser.click("button", "Story").await?;
    browser.wait_for_text("North is 15° clockwise").await?;
    a_film_says_what_was_asked(browser, &reading).await
}

/// What was set is found again.
async fn a_film_says_what_was_asked(browser: &Browser, reading: &str) -> Result<()> {
    browser.click("button", "Edit shot 1").await?;
    is_taken(browser, "behind them").await?;
    is_taken(browser, "one chance").await?;
    says(browser, "Minutes on the set", "12.5").await?;
    browser.click("button", "Done").await?;
    browser.click("button", "Film and files").await?;
    is_taken(browser, "29.97").await?;
    is_taken(browser, "60 Hz").await?;
    browser.wait_for_text("1 1/3 stops darker").await?;
    browser.click("button", "Done").await?;
    browser.click("button", "Outside, day").await?;
    let light = chosen(browser, "How much light").await?;
    ensure!(light == reading, "the light was {reading} and is {light}");
    is_taken(browser, "lamps on").await?;
    says(browser, "Or a white balance of your own", "5000").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    Ok(())
}

/// Goes to the Kit screen and waits for its module.
async fn go_to_kit(browser: &Browser) -> Result<()> {
    browser.click("button", "Kit").await?;
    browser.wait_for_text("From photos or clips").await
}

/// What a lens closes to, the lowest ISOs, what a filter goes in front of and the app's exposure times are kept.
pub(crate) async fn what_a_kit_can_is_kept(browser: &mut Browser) -> Result<()> {
    go_to_kit(browser).await?;
    type_into(browser, "Exposure times it offers", "0.02 1/fast").await?;
    browser.wait_for_text("“1/fast” is not an exposure time").await?;
    says(browser, "Exposure times it offers", "0.02 1/fast").await?;
    type_into(browser, "Exposure times it offers", "0.02 1/24, 1/48 s").await?;
    says(browser, "Exposure times it offers", "1/24, 1/48, 1/50").await?;

    browser.click("button", "Edit main").await?;
    type_into(browser, "Closes to f/", "1").await?;
    browser.wait_for_text("1 (f-number) is not allowed").await?;
    type_into(browser, "Closes to f/", "4").await?;
    type_into(browser, "Lowest ISO", "34").await?;
    browser.screenshot("forms-lens").await?;
    browser.click("button", "Save lens").await?;
    browser.wait_for_text("f/4").await?;

    unfold(browser, "Recording modes").await?;
    browser.click("button", "Edit 4K").await?;
    type_into(browser, "Lowest ISO", "55").await?;
    browser.click("button", "Save mode").await?;

    unfold(browser, "Filters").await?;
    browser.click("button", "Add a filter").await?;
    type_into(browser, "Name", "ND8").await?;
    type_into(browser, "Takes", "3").await?;
    browser.click("checkbox", "It goes in front of every lens and adapter").await?;
    browser.click("checkbox", "main").await?;
    choose(browser, "It goes on top of others", "no").await?;
    browser.screenshot("forms-filter").await?;
    browser.click("button", "Add filter").await?;
    browser.wait_for_text("On top of others").await?;

    browser.reload().await?;
    go_to_kit(browser).await?;
    says(browser, "Exposure times it offers", "1/24, 1/48, 1/50").await?;
    browser.click("button", "Edit main").await?;
    says(browser, "Closes to f/", "4").await?;
    says(browser, "Lowest ISO", "34").await?;
    browser.click("button", "Cancel").await?;
    unfold(browser, "Recording modes").await?;
    browser.click("button", "Edit 4K").await?;
    says(browser, "Lowest ISO", "55").await?;
    browser.click("button", "Cancel").await?;
    unfold(browser, "Filters").await?;
    browser.click("button", "Edit ND8").await?;
    let everywhere = browser.find("checkbox", "It goes in front of every lens and adapter").await?;
    ensure!(
        everywhere.prop("checked").await?.as_deref() != Some("true"),
        "it goes in front of everything again"
    );
    let main = browser.find("checkbox", "main").await?;
    ensure!(
        main.prop("checked").await?.as_deref() == Some("true"),
        "it does not go in front of the main lens any more"
    );
    let on_others = chosen(browser, "It goes on top of others").await?;
    ensure!(on_others == "no", "on top of others: {on_others}");
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    Ok(())
}
