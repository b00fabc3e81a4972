//! In another language, with its numbers and clocks: by choice and by the browser's own.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use anyhow::{Context as _, Result, ensure};
use checks::{Browser, json_texts};
use serde_json::json;

use crate::everyone::{is_whole, size};

const CATALOGUE: &str = include_str!("../../../presets/words/nl.json");
const STILL_ENGLISH: &str = include_str!("language/still_english.js");
/// What somebody has written, which stays as it is: the invented film, and what the typical phone's parts are called.
const FILM: &str = include_str!("../../../presets/films/demo.json");
const PARTS: [&str; 4] = ["ultra-wide", "main", "long", "4K upright"];
const ALL_TICKED: &str = "Before the first take: all ticked";

static DUTCH: LazyLock<BTreeMap<String, String>> =
    LazyLock::new(|| serde_json::from_str(CATALOGUE).unwrap_or_default());

/// The Dutch text for an English one.
fn dutch(english: &str) -> Result<&'static str> {
    let text = DUTCH.get(english).with_context(|| format!("{english:?} is no text of the catalogue"))?;
    Ok(text)
}

/// What somebody has written, the longest first; what has no space may be a word of the program too.
fn written() -> Result<Vec<String>> {
    let mut written = Vec::from(PARTS.map(str::to_owned));
    written.extend(json_texts(&serde_json::from_str(FILM)?));
    written.retain(|text| text.contains([' ', '-']) || PARTS.contains(&text.as_str()));
    written.sort_by_key(|text| std::cmp::Reverse(text.len()));
    Ok(written)
}

/// Looks for English on what is shown, and for what does not fit where the words are longer.
async fn look(browser: &Browser, place: &str, english: &mut BTreeSet<String>) -> Result<()> {
    let script =
        format!("const CATALOGUE = {CATALOGUE}; const WRITTEN = {}; {STILL_ENGLISH}", json!(written()?));
    let found: Vec<String> = serde_json::from_value(browser.script(&script).await?)?;
    english.extend(found.into_iter().map(|text| format!("{place}: {text}")));
    browser.screenshot(&format!("language-{place}")).await?;
    size(browser, 320, 700, 16).await?;
    is_whole(browser, &format!("{place} in Dutch, 320 px wide")).await?;
    size(browser, 390, 844, 16).await?;
    is_whole(browser, &format!("{place} in Dutch")).await
}

/// Presses what is called so in English, by its Dutch name.
async fn press(browser: &Browser, selector: &str, english: &str) -> Result<()> {
    browser.press_first(selector, dutch(english)?).await
}

/// The language is chosen in the menu, and every screen speaks it.
pub(crate) async fn another_language_is_chosen(browser: &mut Browser) -> Result<()> {
    browser.wait_for(".lens").await?;
    browser.press_first(".bar button", "Kit").await?;
    browser.wait_for(".kit-card").await?;
    browser.press_first(".bar button", "Menu").await?;
    browser.wait_for("dialog[open]").await?;
    browser.press_first(".choice", "Nederlands").await?;
    browser.wait_for("html[lang=nl]").await?;
    browser.wait_for_text(dutch("Set-up")?).await?;
    // It opens anew on the screen on which it was chosen.
    browser.wait_for(".kit-card").await?;

    let mut english = BTreeSet::new();
    look(browser, "Kit", &mut english).await?;
    press(browser, ".bar button", "Set-up").await?;
    browser.wait_for(".lens").await?;
    look(browser, "Set-up", &mut english).await?;
    let text = browser.text().await?;
    ensure!(text.contains(" m)") && !has_a_length_with_a_point(&text), "numbers have points: {text}");
    for chip in [1, 2, 3] {
        browser.press_first(&format!(".chip:nth-of-type({chip})"), "").await?;
        browser.wait_for("dialog[open]").await?;
        look(browser, &format!("chip {chip}"), &mut english).await?;
        browser.script("document.querySelector('dialog[open]').close(); return true").await?;
    }
    press(browser, ".bar button", "Story").await?;
    browser.wait_for(".story-start").await?;
    look(browser, "Story without a film", &mut english).await?;
    press(browser, "button", "Look at an invented one").await?;
    browser.wait_for(".shot").await?;
    look(browser, "Story", &mut english).await?;
    press(browser, "button", "Film and files").await?;
    browser.wait_for("dialog[open]").await?;
    look(browser, "Film and files", &mut english).await?;
    browser.script("document.querySelector('dialog[open]').close(); return true").await?;
    press(browser, ".bar button", "Light").await?;
    browser.press_first(".light-row button", "").await?;
    look(browser, "Light", &mut english).await?;
    press(browser, ".bar button", "Day").await?;
    browser.wait_for(".day-setup").await?;
    look(browser, "Day", &mut english).await?;
    press(browser, ".day-views button", "On the set").await?;
    browser.wait_for(".set-title").await?;
    look(browser, "On the set", &mut english).await?;
    browser.script("document.querySelectorAll('.set-ready input').forEach((box) => box.click())").await?;
    browser.wait_for_text(dutch(ALL_TICKED)?).await?;
    press(browser, ".day-views button", "On paper").await?;
    browser.wait_for(".day-sheets .paper").await?;
    look(browser, "On paper", &mut english).await?;
    press(browser, ".bar button", "Learn").await?;
    browser.wait_for(".lesson-says").await?;
    look(browser, "Learn", &mut english).await?;
    ensure!(english.is_empty(), "still English: {english:#?}");

    press(browser, ".bar button", "Menu").await?;
    browser.wait_for("dialog[open]").await?;
    look(browser, "Menu", &mut english).await?;
    browser.press_first(".choice", "2:05 pm").await?;
    press(browser, ".bar button", "Day").await?;
    browser.wait_for_text(" am").await?;
    browser.press_first(".bar button", dutch("Menu")?).await?;
    browser.press_first(".choice", "English").await?;
    browser.wait_for("html[lang=en]").await?;
    browser.wait_for_text("Set-up").await?;
    // What was ticked in the other language, numbers and all, is ticked.
    browser.press_first(".bar button", "Day").await?;
    browser.press_first(".day-views button", "On the set").await?;
    browser.wait_for_text(ALL_TICKED).await
}

/// Whether a length has a decimal point.
fn has_a_length_with_a_point(text: &str) -> bool {
    text.split_whitespace().collect::<Vec<_>>().windows(2).any(|pair| {
        pair[1].trim_end_matches([',', '.', ')', ';']) == "m" && pair[0].trim_start_matches('(').contains('.')
    })
}
