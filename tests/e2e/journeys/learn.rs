//! Lessons: played, passed on as a link and as a frame, set as a task, handed in and read.

use std::time::Duration;

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use thirtyfour::prelude::*;

const TITLES: [&str; 8] = [
    "Why the background stays sharp",
    "The same picture on a larger camera",
    "Walk, don't zoom",
    "How much of a person",
    "What widescreen costs",
    "How long the shutter is open",
    "Two people and the line",
    "Depth without blur",
];

/// What the lesson says, in one line.
async fn says(browser: &Browser) -> Result<String> {
    Ok(browser.driver().find(By::Css(".lesson-says")).await?.text().await?)
}

/// Waits until every picture of the lesson shows something.
async fn wait_for_pictures(browser: &Browser) -> Result<()> {
    const DRAWN: &str = "
        const all = [...document.querySelectorAll('.lesson-picture canvas')];
        return all.length > 0 && all.every((canvas) => canvas.dataset.samples);";
    for _ in 0..80 {
        if browser.script(DRAWN).await? == true {
            return Ok(());
        }
        tokio::time::sleep(Duration::from_millis(250)).await;
    }
    anyhow::bail!("a lesson has no picture")
}

/// Opens a fold by its summary.
async fn unfold(browser: &Browser, summary: &str) -> Result<()> {
    let summary = browser.driver().find(By::XPath(format!("//summary[contains(., '{summary}')]"))).await?;
    summary.scroll_into_view().await?;
    Ok(summary.click().await?)
}

/// What stands in a field that is there to be copied.
async fn copied(browser: &Browser, label: &str) -> Result<String> {
    let field = browser.driver().find(By::Css(format!("input[aria-label=\"{label}\"]"))).await?;
    field.prop("value").await?.context("a text")
}

/// Goes to what stands after the `#` of an address of this page.
async fn go_to(browser: &Browser, address: &str) -> Result<()> {
    let (_, fragment) = address.split_once('#').context("a link")?;
    browser.script(&format!("location.hash = {fragment:?}; return null;")).await?;
    Ok(())
}

/// Every lesson shows its pictures and says something with a number in it, the first answers to its handle, and the last to
/// the Menu's unit for lengths.
pub(crate) async fn lessons_are_played(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Learn").await?;
    for (at, title) in TITLES.iter().enumerate() {
        browser.wait_for_text(title).await?;
        wait_for_pictures(browser).await?;
        let said = says(browser).await?;
        ensure!(said.chars().any(|letter| letter.is_ascii_digit()), "{title} says no number: {said}");
        browser.screenshot(&format!("learn-{}", at + 1)).await?;
        let barriers = browser.barriers().await?;
        ensure!(barriers.is_empty(), "{title}: {barriers:?}");
        if at == 0 {
            let handle = browser.find("slider", "From the phone to the person").await?;
            handle.send_keys(Key::Home + "").await?;
            let nearer = says(browser).await?;
            ensure!(nearer != said, "nothing is said of a phone that is nearer");
        }
        if at + 1 < TITLES.len() {
            browser.click("button", "Next lesson").await?;
        }
    }
    ensure!(says(browser).await?.contains("Leaves 0.50 m from the lens"), "{}", says(browser).await?);
    browser.press_first(".bar button", "Menu").await?;
    browser.click("button", "feet").await?;
    browser.click("button", "Done").await?;
    browser.wait_for_text("Leaves 1'8\" from the lens").await?;
    // The next screen begins at its top, however far down this one was left.
    browser.script("scrollTo(0, document.documentElement.scrollHeight); return true").await?;
    browser.click("button", "Set-up").await?;
    let at_top = "return scrollY === 0 && !!document.querySelector('.setup-shot .sentence')";
    crate::set::wait_until(browser, "Set-up is not shown from its top", at_top, |is_so| *is_so == true)
        .await?;
    Ok(())
}

/// A task is set, met by a learner who moves the handles, handed in, and read with another answer that is damaged.
pub(crate) async fn a_task_is_set_and_handed_in(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Learn").await?;
    browser.wait_for_text(TITLES[0]).await?;
    unfold(browser, "Set a task").await?;
    let value = browser.find_containing("textbox", "How much").await?;
    value.scroll_into_view().await?;
    value.send_keys("8 px").await?;
    value.send_keys(Key::Tab + "").await?;
    browser.wait_for_text("Keep it: with it you read the answers").await?;
    // What is no number sets no task, and what was there before it neither.
    value.send_keys("x").await?;
    value.send_keys(Key::Tab + "").await?;
    browser.wait_until_gone("Keep it: with it you read the answers").await?;
    value.send_keys(Key::Backspace + "").await?;
    value.send_keys(Key::Tab + "").await?;
    browser.wait_for_text("Keep it: with it you read the answers").await?;
    let task = copied(browser, "The task's link").await?;
    go_to(browser, &task).await?;
    browser.wait_for_text("at least 8 px").await?;
    browser.wait_for_text("short.").await?;
    // As near as the handle goes and as far behind: as soft as this phone gets.
    browser.find("slider", "From the phone to the person").await?.send_keys(Key::Home + "").await?;
    browser.find("slider", "From the person to the background").await?.send_keys(Key::End + "").await?;
    browser.wait_for_text("Met, with").await?;
    browser.screenshot("learn-task-met").await?;
    unfold(browser, "Hand it in").await?;
    let name = browser.find_containing("textbox", "Your name").await?;
    name.send_keys("Ada").await?;
    name.send_keys(Key::Tab + "").await?;
    browser.wait_for_text("Save it as a file").await?;
    let answer = copied(browser, "Your answer").await?;
    unfold(browser, "Read a class").await?;
    let paste = browser.find_containing("textbox", "Or paste them").await?;
    paste.scroll_into_view().await?;
    paste.send_keys(format!("{answer}\nanswer=1.soft.figure=nothing")).await?;
    browser.wait_for_text("1 of 1 met it.").await?;
    browser.wait_for_text("Ada").await?;
    browser.screenshot("learn-class").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    Ok(())
}

/// The same lesson in a frame of its own: the picture and the handles, and nothing else.
pub(crate) async fn a_lesson_stands_in_a_frame(browser: &mut Browser) -> Result<()> {
    browser.open_path("frame.html#learn=1.soft.distance=0.5&behind=20").await?;
    wait_for_pictures(browser).await?;
    browser.wait_for_text("From the phone to the person").await?;
    let text = browser.text().await?;
    ensure!(!text.contains("Set-up") && !text.contains("Pass this lesson on"), "the frame says {text}");
    browser.screenshot("learn-frame").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    browser.open_path("frame.html#learn=1.nothing").await?;
    browser.wait_for_text("lesson").await?;
    Ok(())
}

/// A link that somebody typed wrong says what is wrong, and the lesson stays.
pub(crate) async fn a_bad_link_is_told(browser: &mut Browser) -> Result<()> {
    browser.click("button", "Learn").await?;
    browser.wait_for_text(TITLES[0]).await?;
    browser.script("location.hash = 'learn=1.soft.distance=far'; return null;").await?;
    browser.wait_for_text("is not a number").await?;
    let problem = browser.driver().find(By::Css(".learn .problem")).await?.text().await?;
    ensure!(problem.contains("Distance: `far` is not a number"), "{problem}");
    browser.wait_for_text(TITLES[0]).await?;
    // A lens of somebody else's phone: the lesson is seen all the same.
    browser.script("location.hash = 'learn=1.soft.distance=1&lens=periscope'; return null;").await?;
    browser.wait_for_text("a lens called periscope, which this phone has not").await?;
    ensure!(says(browser).await?.contains("1.0 m"), "{}", says(browser).await?);
    Ok(())
}
