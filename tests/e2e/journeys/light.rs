//! The light of a film's day: its weather, its hours, its sky where there is none, and light without any film.

use std::time::{Duration, Instant};

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use thirtyfour::components::SelectElement;
use thirtyfour::prelude::*;

/// How long a person waits for an answer that is on its way.
const PATIENCE: Duration = Duration::from_secs(10);

/// Opens the Light screen with the invented film, and waits for the sky of its day.
pub(super) async fn open_invented(browser: &Browser) -> Result<()> {
    browser.click("button", "Light").await?;
    browser.click("button", "Look at an invented one").await?;
    browser.wait_for_text("Low sun and glow").await
}

/// What the slider of the day says.
pub(super) async fn under_the_hand(browser: &Browser) -> Result<String> {
    let slider = browser.find("slider", "Time of day").await?;
    Ok(slider.attr("aria-valuetext").await?.unwrap_or_default())
}

/// Waits until something that is told is another than before, and tells it.
async fn changed(browser: &Browser, script: &str, before: &str) -> Result<String> {
    let start = Instant::now();
    loop {
        let now = browser.script(script).await?.as_str().unwrap_or_default().to_owned();
        if !now.is_empty() && now != before {
            return Ok(now);
        }
        ensure!(start.elapsed() < PATIENCE, "it still says {now:?}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

/// Chooses the setup of that number.
async fn choose(browser: &Browser, number: &str) -> Result<()> {
    let row = browser.find_containing("button", &format!("{number} ")).await?;
    row.scroll_into_view().await?;
    row.click().await?;
    browser.wait_for_text(&format!("Shot {number} at ")).await
}

/// The ND of the setup that is chosen.
const ND: &str = "return document.querySelector('.light-row.chosen .light-row-nd')?.innerText ?? ''";

/// Overcast takes so much light that another ND is put on; the day can be planned with it, or not.
pub(crate) async fn the_weather_turns(browser: &mut Browser) -> Result<()> {
    open_invented(browser).await?;
    choose(browser, "2.1").await?;
    let in_sun = changed(browser, ND, "").await?;
    ensure!(in_sun.contains("ND"), "a garden in the sun needs ND, and has {in_sun:?}");
    browser.click("button", "rain").await?;
    let in_rain = changed(browser, ND, &in_sun).await?;
    browser.wait_for_text("Rain in place of sun").await?;
    browser
        .script("document.querySelectorAll('.light-turned details').forEach(fold => { fold.open = true; }); return true")
        .await?;
    browser.wait_for_text("less light").await?;
    browser.screenshot("light-rain").await?;
    browser.click("button", "Back to sun").await?;
    let back = changed(browser, ND, &in_rain).await?;
    ensure!(back == in_sun, "{in_sun} became {back}");
    browser.click("button", "fog").await?;
    browser.click("button", "Plan the day with fog").await?;
    let undo = browser.find("button", "Undo: Change the day's weather").await?;
    undo.scroll_into_view().await?;
    undo.click().await?;
    let again = changed(browser, ND, "").await?;
    ensure!(again == in_sun, "undone, it is {again}");
    Ok(())
}

/// A figure's label opens by Enter on what stands behind it, and closes by Escape where it was opened.
async fn a_figure_is_explained_by_keys(browser: &Browser) -> Result<()> {
    let label = browser.find("button", "Sun: what it means").await?;
    label.scroll_into_view().await?;
    label.send_keys(Key::Enter + "").await?;
    let open = "return document.querySelector(':popover-open')?.innerText ?? ''";
    let said = changed(browser, open, "").await?;
    for part in ["clockwise from north", "Computed: ", "Source: Solar Position Algorithm"] {
        ensure!(said.contains(part), "{part:?} is not in {said:?}");
    }
    browser.screenshot("light-explained").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    browser.press(Key::Escape + "").await?;
    let is_back =
        "return !document.querySelector(':popover-open') && document.activeElement.className === 'explained'";
    ensure!(browser.script(is_back).await? == true, "it is open still, or the focus has gone");
    Ok(())
}

/// The hand goes through the day by keys and by buttons, and what the sky gives follows.
pub(crate) async fn the_hand_goes_by_keys(browser: &mut Browser) -> Result<()> {
    open_invented(browser).await?;
    choose(browser, "2.1").await?;
    let planned = under_the_hand(browser).await?;
    ensure!(planned.contains("sun ") && planned.contains("in shade"), "the sky says {planned:?}");
    let slider = browser.find("slider", "Time of day").await?;
    slider.scroll_into_view().await?;
    slider.send_keys(Key::Home + "").await?;
    let night = under_the_hand(browser).await?;
    ensure!(night.contains("down"), "at the start of the bar it is {night:?}");
    slider.send_keys(Key::PageUp + "").await?;
    let hours_on = under_the_hand(browser).await?;
    ensure!(hours_on != night, "the page key did not move the hand from {night:?}");
    slider.send_keys(Key::Right + "").await?;
    let later = under_the_hand(browser).await?;
    ensure!(later != hours_on, "the arrow key did not move the hand from {hours_on:?}");
    browser.click("button", "15 minutes later").await?;
    let on = under_the_hand(browser).await?;
    ensure!(on != later, "the button did not move it from {later:?}");
    let back = browser.find_containing("button", "As planned").await?;
    back.scroll_into_view().await?;
    back.click().await?;
    let again = under_the_hand(browser).await?;
    ensure!(again == planned, "{planned:?} became {again:?}");
    browser.screenshot("light-day").await?;
    a_figure_is_explained_by_keys(browser).await
}

/// A finger or a mouse drags the hand, and the sentence follows.
pub(crate) async fn the_hand_is_dragged(browser: &mut Browser) -> Result<()> {
    open_invented(browser).await?;
    choose(browser, "2.1").await?;
    let sentence = "return document.querySelector('h1.sentence')?.innerText ?? ''";
    let before = changed(browser, sentence, "").await?;
    let slider = browser.find("slider", "Time of day").await?;
    browser.drag(&slider, 90, 0).await?;
    let after = changed(browser, sentence, &before).await?;
    ensure!(after.starts_with("Shot 2.1 at "), "{after}");
    Ok(())
}

/// Where lamps flicker, one tap gives the film a shutter under which they do not, and the setup is set to it.
async fn lamps_stop_flickering(browser: &Browser) -> Result<()> {
    choose(browser, "1.2").await?;
    browser.wait_for_text("lamps may flicker").await?;
    let steady = browser.find_containing("button", "Set the film's shutter to 1/50 s").await?;
    steady.scroll_into_view().await?;
    steady.click().await?;
    browser.wait_for_text("Set the shutter to 1/50 s").await?;
    browser.wait_until_gone("Set the film's shutter to").await?;
    Ok(())
}

/// A setup unfolds: how to set it, when its light holds, its figures, what is held over its scene.
pub(crate) async fn a_setup_is_set(browser: &mut Browser) -> Result<()> {
    open_invented(browser).await?;
    lamps_stop_flickering(browser).await?;
    choose(browser, "3.4").await?;
    browser.wait_for_text("How to set it").await?;
    browser.wait_for_text("Set the shutter to").await?;
    browser.wait_for_text("Its light ").await?;
    for folded in ["Figures of light and movement", "Held over the scene"] {
        let opened = browser
            .script(&format!(
                "const fold = [...document.querySelectorAll('summary')].find(one => one.innerText.startsWith('{folded}'));
                fold?.click(); return !!fold"
            ))
            .await?;
        ensure!(opened == true, "nothing is folded under {folded}");
    }
    browser.wait_for_text("Fastest pan").await?;
    browser.wait_for_text("White balance").await?;
    browser.find_containing("image", "Floor plan with the phone and the sun").await?;
    browser.screenshot("light-setup").await?;
    Ok(())
}

/// Without any film, Set-up's shot has its ND in a light that is chosen.
pub(crate) async fn light_without_a_film(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Light").await?;
    browser.wait_for_text("Light for the set-up").await?;
    let sentence = "return document.querySelector('.light-card .sentence')?.innerText ?? ''";
    let in_sun = changed(browser, sentence, "").await?;
    ensure!(in_sun.contains("EV 15.0") && in_sun.contains("bright"), "{in_sun}");
    let list = browser.find("combobox", "How much light").await?;
    list.scroll_into_view().await?;
    SelectElement::new(&list).await?.select_by_partial_text("room with lamps at night").await?;
    let in_room = changed(browser, sentence, &in_sun).await?;
    ensure!(in_room.contains("dark"), "{in_room}");
    let count = browser.labels("button").await?.iter().filter(|label| *label == "Start a film").count();
    ensure!(count == 1, "{count} ways to start a film");
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    Ok(())
}

/// Nothing on the screen stands in anybody's way, its sheets and its table included.
pub(crate) async fn no_barriers(browser: &mut Browser) -> Result<()> {
    open_invented(browser).await?;
    choose(browser, "2.1").await?;
    browser
        .script(
            "document.querySelectorAll('.light details').forEach(fold => { fold.open = true; }); return true",
        )
        .await?;
    browser.wait_for_text("sunrise over a level horizon").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    for (sheet, words) in [("Day", "What it is called"), ("Place", "Latitude")] {
        let chip = browser.driver().find_all(By::Css(".light-chips .chip")).await?;
        let chip = chip.get(usize::from(sheet == "Place")).context("no chip")?;
        chip.scroll_into_view().await?;
        chip.click().await?;
        browser.wait_for_text(words).await?;
        browser.screenshot(&format!("light-{}", sheet.to_lowercase())).await?;
        let barriers = browser.barriers().await?;
        ensure!(barriers.is_empty(), "{sheet}: {}", barriers.join("\n"));
        browser.click("button", "Done").await?;
    }
    Ok(())
}
