//! A film is begun, its shots are proposed, changed, cut, played and kept; files come and go.

use std::time::{Duration, Instant};

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use thirtyfour::prelude::*;

/// Opens the Story screen with a film: the demo, or a new one.
async fn open_film(browser: &Browser, way: &str) -> Result<()> {
    browser.click("button", "Story").await?;
    browser.click("button", way).await?;
    browser.find("textbox", "Title").await?;
    Ok(())
}

/// The words of each row of the first scene's list of shots.
async fn shots(browser: &Browser) -> Result<Vec<String>> {
    let list = browser
        .script(
            "const list = document.querySelector('.shots');
        return list ? [...list.querySelectorAll('.shot-words strong')].map(row => row.innerText) : []",
        )
        .await?;
    Ok(serde_json::from_value(list)?)
}

/// Waits until the list of shots is as it should be.
async fn wait_for_shots(
    browser: &Browser,
    what: &str,
    are: impl Fn(&[String]) -> bool,
) -> Result<Vec<String>> {
    let start = Instant::now();
    loop {
        let shots = shots(browser).await?;
        if are(&shots) {
            return Ok(shots);
        }
        ensure!(start.elapsed() < Duration::from_secs(15), "{what}: {shots:?}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

/// Presses the first button with that label, wherever it is on the page.
async fn tap(browser: &Browser, label: &str) -> Result<()> {
    let button = browser.find("button", label).await?;
    button.scroll_into_view().await?;
    button.click().await?;
    Ok(())
}

/// Waits until what was done is kept.
async fn wait_until_saved(browser: &Browser) -> Result<()> {
    browser.wait_for_text("Saved on this device").await
}

/// A shot is dragged past two others, slowly, and taken back as one thing that was done.
pub(crate) async fn a_shot_is_dragged(browser: &mut Browser) -> Result<()> {
    open_film(browser, "Look at an invented one").await?;
    let what = |rows: &[String]| -> Vec<String> {
        rows.iter().map(|row| row.trim_start_matches(|char: char| !char.is_alphabetic()).to_owned()).collect()
    };
    let before = what(&wait_for_shots(browser, "no shots", |shots| shots.len() >= 3).await?);
    let first = before.first().context("a shot")?;
    let handle =
        browser.find("button", &format!("Drag to move: Shot 1: {first}. Arrow keys do too.")).await?;
    let height = "const [one, , other] = document.querySelectorAll('.shots > li');
        return other.getBoundingClientRect().bottom - one.getBoundingClientRect().bottom";
    let down = browser.script(height).await?.as_f64().context("a height")?;
    #[expect(clippy::cast_possible_truncation, reason = "some hundred pixels")]
    browser.drag_slowly(&handle, 0, down as i32, Duration::from_millis(400)).await?;
    wait_for_shots(browser, "it was not dragged", |shots| what(shots).get(2) == Some(first)).await?;
    tap(browser, "Undo: Move a shot").await?;
    wait_for_shots(browser, "it was not taken back at once", |shots| what(shots) == before).await?;
    Ok(())
}

/// Two taps and a name: a film with three framed shots, still there after a reload, and taken back step by step.
pub(crate) async fn a_first_film(browser: &mut Browser) -> Result<()> {
    open_film(browser, "Start a film").await?;
    browser.fill("textbox", "Title", "Nobody at the bus stop").await?;
    tap(browser, "Propose shots").await?;
    browser.click("button", "Propose").await?;
    let drafted = wait_for_shots(browser, "no shots were proposed", |shots| shots.len() >= 3).await?;
    browser.wait_for_text("Everything here cuts together.").await?;
    browser.screenshot("story-first-film").await?;
    wait_until_saved(browser).await?;
    browser.reload().await?;
    browser.click("button", "Story").await?;
    let again = wait_for_shots(browser, "the shots are gone", |shots| !shots.is_empty()).await?;
    ensure!(again == drafted, "{drafted:?} became {again:?}");
    let title = browser.find("textbox", "Title").await?.prop("value").await?.unwrap_or_default();
    ensure!(title == "Nobody at the bus stop", "the title is {title:?}");
    tap(browser, "Undo: Propose shots").await?;
    wait_for_shots(browser, "the proposal is still there", <[String]>::is_empty).await?;
    tap(browser, "Redo: Propose shots").await?;
    wait_for_shots(browser, "the proposal did not come back", |shots| shots.len() == drafted.len()).await?;
    Ok(())
}

/// Opens the first scene's shot of that row in Set-up.
async fn set_it_up(browser: &Browser, row: usize) -> Result<()> {
    let button = "[...document.querySelectorAll('.shots .shot-buttons button')].filter(b => b.innerText === 'Set it up')";
    browser.script(&format!("{button}[{row}].click(); return true")).await?;
    browser.wait_for_text(&format!("Scene 1, shot {}", row + 1)).await
}

/// A shot of the demo is opened in Set-up, made tight there, and the list follows; undone in the story it is as before. The
/// set-up that was there first comes back.
pub(crate) async fn a_shot_is_set_up(browser: &mut Browser) -> Result<()> {
    open_film(browser, "Look at an invented one").await?;
    let before = wait_for_shots(browser, "no shots", |shots| !shots.is_empty()).await?;
    let row =
        before.iter().position(|words| words.contains("Chest up")).context("no chest up in the demo")?;
    set_it_up(browser, row).await?;
    browser.click("button", "tight").await?;
    browser.click("button", "Back to the story").await?;
    let after = wait_for_shots(browser, "the list does not follow", |shots| {
        shots.get(row).is_some_and(|words| words.contains("Tight"))
    })
    .await?;
    ensure!(after.len() == before.len(), "{after:?}");
    let label = format!("Undo: Change shot {}'s size", row + 1);
    tap(browser, &label).await?;
    wait_for_shots(browser, "it cannot be taken back", |shots| shots == before).await?;
    set_it_up(browser, row).await?;
    let names = "return [...document.querySelectorAll('.names button')].map(name => name.textContent)";
    let names: Vec<String> = serde_json::from_value(browser.script(names).await?)?;
    ensure!(!names.is_empty() && !names.contains(&"subject".to_owned()), "the cast has no names: {names:?}");
    browser.click("button", "Back to your own set-up").await?;
    browser.wait_until_gone("Back to the story").await?;
    let size = "return document.querySelector('.size[aria-pressed=true]').textContent";
    let size = browser.script(size).await?;
    ensure!(size == "medium", "the set-up of before did not come back: {size}");
    Ok(())
}

/// The second shot is given the first one's place: the cut is told, and mended by one tap.
pub(crate) async fn what_does_not_cut_is_mended(browser: &mut Browser) -> Result<()> {
    open_film(browser, "Start a film").await?;
    tap(browser, "Add a shot").await?;
    browser.click("button", "Done").await?;
    tap(browser, "Edit shot 1").await?;
    tap(browser, "Duplicate").await?;
    browser.click("button", "Done").await?;
    wait_for_shots(browser, "it was not duplicated", |shots| shots.len() == 2).await?;
    browser.wait_for_text("To mend it").await?;
    browser.screenshot("story-jump").await?;
    let mend = browser
        .script(
            "const card = [...document.querySelectorAll('.cut-finding.warns')]
            .find(card => card.innerText.startsWith('From 1 to 2'));
        const button = card?.querySelector('.cut-finding-doing button');
        button?.click();
        return button?.innerText ?? null",
        )
        .await?;
    ensure!(!mend.is_null(), "nothing mends it");
    let start = Instant::now();
    while browser.text().await?.contains("From 1 to 2") {
        ensure!(start.elapsed() < Duration::from_secs(10), "{mend} did not mend it");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    Ok(())
}

/// A finding is kept anyway, with its reason, and looked at again.
pub(crate) async fn a_finding_is_kept_anyway(browser: &mut Browser) -> Result<()> {
    open_film(browser, "Start a film").await?;
    tap(browser, "Add a shot").await?;
    browser.click("button", "Done").await?;
    tap(browser, "Edit shot 1").await?;
    tap(browser, "Duplicate").await?;
    browser.click("button", "Done").await?;
    browser.wait_for_text("To mend it").await?;
    browser.script("[...document.querySelectorAll('.cut-finding.warns button')].find(b => b.innerText === 'Keep anyway').click(); return true").await?;
    browser.fill("textbox", "Why it stays", "time passes").await?;
    tap(browser, "Keep it").await?;
    browser.wait_for_text("Kept anyway (1)").await?;
    wait_until_saved(browser).await?;
    browser.reload().await?;
    browser.click("button", "Story").await?;
    browser.wait_for_text("Kept anyway (1)").await?;
    Ok(())
}

/// The cut plays, stops, and steps by keys.
pub(crate) async fn a_cut_is_played(browser: &mut Browser) -> Result<()> {
    open_film(browser, "Look at an invented one").await?;
    wait_for_shots(browser, "no shots", |shots| !shots.is_empty()).await?;
    tap(browser, "Play the film").await?;
    browser.wait_for_text("Scene 1, shot 1").await?;
    // While it plays the next shot comes by itself.
    browser.click("button", "Pause").await?;
    browser.press(Key::Right + "").await?;
    browser.wait_for_text("Scene 1, shot 2").await?;
    browser.screenshot("story-play").await?;
    browser.press(Key::Escape + "").await?;
    browser.find("textbox", "Title").await?;
    Ok(())
}

/// What is no film is refused in words, and what is open stays.
pub(crate) async fn a_bad_file_is_refused(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Story").await?;
    browser.find("button", "Start a film").await?;
    let input = browser.driver().find(By::Css("input[type=file]")).await?;
    browser.give(&input, "notes.json", b"this is a shopping list").await?;
    let start = Instant::now();
    let told = loop {
        let told = browser.driver().find_all(By::Css(".story-start-ways .problem")).await?;
        if let Some(told) = told.first() {
            break told.text().await?;
        }
        ensure!(start.elapsed() < Duration::from_secs(10), "nothing is said");
        tokio::time::sleep(Duration::from_millis(100)).await;
    };
    ensure!(told == "notes.json: this is not a Tapemark film.", "{told}");
    // It is of that button, and goes on to no other screen.
    browser.click("button", "Light").await?;
    browser.wait_until_gone("notes.json").await?;
    browser.click("button", "Story").await?;
    browser.find("button", "Start a film").await?;

    // In the sheet of a film that is open it stands in the sheet, and what is saved is told there too.
    browser.click("button", "Start a film").await?;
    browser.find("textbox", "Title").await?;
    browser.click("button", "Film and files").await?;
    let input = browser.driver().find(By::Css("dialog[open] input[type=file]")).await?;
    browser.give(&input, "notes.json", b"this is a shopping list").await?;
    browser.wait_for_text("notes.json: this is not a Tapemark film.").await?;
    let place = browser.script("return !!document.querySelector('dialog[open] .problem')").await?;
    ensure!(place == true, "it is behind the sheet");
    tap(browser, "Save as a file").await?;
    browser.wait_for_text("went to the browser, to be saved.").await?;
    browser.click("button", "Done").await?;
    Ok(())
}

/// Nothing on the screen stands in anybody's way.
pub(crate) async fn no_barriers(browser: &mut Browser) -> Result<()> {
    open_film(browser, "Look at an invented one").await?;
    wait_for_shots(browser, "no shots", |shots| !shots.is_empty()).await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    Ok(())
}
