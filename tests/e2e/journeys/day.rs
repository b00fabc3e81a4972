//! A day's order of work: seen, pinned, worked off, run late, cut short, by hand and by keys.

use std::time::{Duration, Instant};

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use thirtyfour::prelude::*;

/// Opens the invented film, and its day.
async fn open_day(browser: &Browser) -> Result<()> {
    browser.click("button", "Story").await?;
    browser.click("button", "Look at an invented one").await?;
    browser.find("textbox", "Title").await?;
    browser.click("button", "Day").await?;
    wait_for_light(browser).await
}

/// Waits until the day is in order, and its light is looked up: until then the order is another.
async fn wait_for_light(browser: &Browser) -> Result<()> {
    wait_for_order(browser, "no order", |order| !order.is_empty()).await?;
    let start = Instant::now();
    while browser.text().await?.contains("The light of the day is not known yet") {
        ensure!(start.elapsed() < Duration::from_secs(15), "the light was not looked up");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    Ok(())
}

/// How many cards say that something does not fit.
async fn misfits(browser: &Browser) -> Result<u64> {
    let count = browser.script("return document.querySelectorAll('.day-misfit').length").await?;
    count.as_u64().context("a count")
}

/// The numbers of the setups, in the order of work.
async fn order(browser: &Browser) -> Result<Vec<String>> {
    let numbers =
        "return [...document.querySelectorAll('.day-setup .day-number')].map((one) => one.textContent)";
    Ok(serde_json::from_value(browser.script(numbers).await?)?)
}

/// Waits until the order is as it should be.
async fn wait_for_order(
    browser: &Browser,
    what: &str,
    is_so: impl Fn(&[String]) -> bool,
) -> Result<Vec<String>> {
    let start = Instant::now();
    loop {
        let order = order(browser).await?;
        if is_so(&order) {
            return Ok(order);
        }
        ensure!(start.elapsed() < Duration::from_secs(15), "{what}: {order:?}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

/// The answer at the top.
async fn sentence(browser: &Browser) -> Result<String> {
    let said = browser.script("return document.querySelector('.day .sentence')?.textContent ?? ''").await?;
    Ok(said.as_str().unwrap_or_default().to_owned())
}

/// The minute of the day after those words in the sentence.
fn minute_after(sentence: &str, words: &str) -> Result<u32> {
    let (_, rest) = sentence.split_once(words).with_context(|| format!("no {words:?} in {sentence:?}"))?;
    let clock = rest.get(..5).with_context(|| format!("no time after {words:?} in {sentence:?}"))?;
    let (hours, minutes) = clock.split_once(':').with_context(|| format!("{clock:?} is no time"))?;
    Ok(hours.parse::<u32>()? * 60 + minutes.parse::<u32>()?)
}

/// Nothing is cut off sideways, and no row reaches over the page's edge.
async fn nothing_is_cut_off(browser: &Browser) -> Result<()> {
    let over = browser.script("return document.documentElement.scrollWidth - innerWidth").await?;
    ensure!(over.as_i64().is_some_and(|px| px <= 0), "the page is {over} px too wide");
    let wide = "return [...document.querySelectorAll('.day-setup, .day-setup *, .day-pause, .day-part, .day-part button')]
        .filter((one) => {
            const box = one.getBoundingClientRect();
            return box.width > 0 && (box.right > innerWidth + 0.5 || box.left < -0.5);
        }).map((one) => one.outerHTML.slice(0, 120))";
    let wide: Vec<String> = serde_json::from_value(browser.script(wide).await?)?;
    ensure!(wide.is_empty(), "cut off: {}", wide.join("\n"));
    Ok(())
}

/// The targets that a finger has to meet are large enough.
async fn targets_are_large(browser: &Browser) -> Result<()> {
    let small = "return [...document.querySelectorAll('.day button')].map((one) => [one, one.getBoundingClientRect()])
        .filter(([, box]) => box.width > 0 && (box.height < 47.5 || box.width < 47.5))
        .map(([one, box]) => `${one.getAttribute('aria-label') ?? one.textContent}: ${box.width} x ${box.height}`)";
    let small: Vec<String> = serde_json::from_value(browser.script(small).await?)?;
    ensure!(small.is_empty(), "too small: {small:?}");
    Ok(())
}

/// Sets a field for times, as a picker would.
async fn set_time(browser: &Browser, label: &str, time: &str) -> Result<()> {
    let set = format!(
        "const field = [...document.querySelectorAll('input[type=time]')]
            .find((one) => one.closest('label')?.textContent.trim() === '{label}');
        if (!field) return false;
        field.value = '{time}';
        field.dispatchEvent(new Event('change', {{ bubbles: true }}));
        return true"
    );
    let start = Instant::now();
    while browser.script(&set).await? != true {
        ensure!(start.elapsed() < Duration::from_secs(10), "there is no time called {label}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    Ok(())
}

/// The day of the invented film has an order that ends before its wrap; a film that has no day gets one by one tap.
pub(crate) async fn a_day_is_put_in_order(browser: &mut Browser) -> Result<()> {
    open_day(browser).await?;
    let told = sentence(browser).await?;
    ensure!(told.starts_with("Saturday, "), "{told}");
    let done = minute_after(&told, "done by ")?;
    ensure!(done < 19 * 60 && done > 9 * 60, "{told}");
    browser.wait_for_text("before the wrap at 19:00").await?;
    browser.wait_for_text("Set up, 10 min").await?;
    browser.wait_for_text("because ").await?;
    nothing_is_cut_off(browser).await?;
    targets_are_large(browser).await?;
    browser.screenshot("day").await?;

    browser.click("button", "Story").await?;
    browser.click("button", "Film and files").await?;
    browser.click("button", "Put this film away").await?;
    browser.click("button", "Start a film").await?;
    browser.find("textbox", "Title").await?;
    browser.click("button", "Add a shot").await?;
    browser.click("button", "Done").await?;
    browser.click("button", "Day").await?;
    browser.click("button", "Plan a day").await?;
    browser.wait_for_text("Day 1, 1 setup from 09:00").await?;
    Ok(())
}

/// A setup is moved down: it stays there over a reload, and goes back when that is undone.
pub(crate) async fn a_setup_is_pinned(browser: &mut Browser) -> Result<()> {
    open_day(browser).await?;
    let before = order(browser).await?;
    let first = before.first().context("an order")?.clone();
    browser.click("button", &format!("{first} later")).await?;
    let moved = wait_for_order(browser, "it did not move", |order| order.get(1) == Some(&first)).await?;
    browser.find("button", &format!("Unpin {first}")).await?;
    browser.wait_for_text("because you put it here").await?;
    browser.wait_for_text("Saved on this device").await?;
    browser.reload().await?;
    browser.click("button", "Day").await?;
    wait_for_light(browser).await?;
    wait_for_order(browser, "it is somewhere else after a reload", |order| order == moved).await?;
    browser.click("button", &format!("Undo: Move {first}")).await?;
    wait_for_order(browser, "it cannot be taken back", |order| order == before).await?;

    // By hand: the first row is dragged over the second one.
    let handle = browser.find("button", &format!("Move {first}. Arrow keys, or drag.")).await?;
    let height =
        "const rows = [...document.querySelectorAll('.day-setup')].map((row) => row.getBoundingClientRect());
        return Math.ceil(rows[1].top + rows[1].height / 2 - rows[0].top - rows[0].height / 2) + 12";
    let height = browser.script(height).await?.as_i64().unwrap_or(220);
    browser.drag(&handle, 0, i32::try_from(height)?).await?;
    wait_for_order(browser, "it was not dragged", |order| order.get(1) == Some(&first)).await?;
    nothing_is_cut_off(browser).await?;
    Ok(())
}

/// Two setups are in the can and it is half an hour later than planned: the rest is planned from then.
pub(crate) async fn the_day_runs_late(browser: &mut Browser) -> Result<()> {
    open_day(browser).await?;
    let before = order(browser).await?;
    for number in before.iter().take(2) {
        browser.click("button", &format!("{number} in the can")).await?;
        wait_for_order(browser, "it is still to do", |order| !order.contains(number)).await?;
    }
    browser.wait_for_text("2 in the can").await?;
    let on_time = sentence(browser).await?;
    let (from, done) = (minute_after(&on_time, " from ")?, minute_after(&on_time, "done by ")?);
    browser.click("button", "+30 min").await?;
    browser.wait_for_text("30 min later than planned").await?;
    let late = sentence(browser).await?;
    ensure!(minute_after(&late, " from ")? == from + 30, "{on_time} became {late}");
    ensure!(minute_after(&late, "done by ")? >= done, "{on_time} became {late}");
    browser.screenshot("day-late").await?;
    browser.click("button", "As planned again").await?;
    let start = Instant::now();
    while sentence(browser).await? != on_time {
        ensure!(start.elapsed() < Duration::from_secs(10), "{}", sentence(browser).await?);
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    Ok(())
}

/// The day is cut short, so that not all fits; one of the offered ways helps, and can be taken back.
pub(crate) async fn what_does_not_fit_is_mended(browser: &mut Browser) -> Result<()> {
    open_day(browser).await?;
    let whole = order(browser).await?;
    browser.click("button", "Call and wrap: 09:00 to 19:00").await?;
    set_time(browser, "Wrap", "10:30").await?;
    browser.click("button", "Done").await?;
    browser.wait_for_text("What does not fit").await?;
    let before = misfits(browser).await?;
    ensure!(before > 0, "everything fits into an hour and a half");
    nothing_is_cut_off(browser).await?;
    browser.screenshot("day-short").await?;
    let way = browser
        .script(
            "const button = [...document.querySelectorAll('.day-way button')]
            .find((one) => one.textContent.startsWith('Wrap at') || one.textContent.startsWith('Take'));
        button?.click();
        return button?.textContent ?? ''",
        )
        .await?;
    let way = way.as_str().unwrap_or_default();
    ensure!(!way.is_empty(), "nothing is offered");
    wait_for_misfits(browser, way, |now| now < before).await?;
    browser.click("button", &format!("Undo: {way}")).await?;
    wait_for_misfits(browser, "taking it back", |now| now == before).await?;
    browser.click("button", "Undo: Change the wrap").await?;
    wait_for_order(browser, "it cannot be taken back", |order| order == whole).await?;
    // A wrap that is earlier on the clock than the call is on the next day, and is said to be.
    browser.click("button", "Call and wrap: 09:00 to 19:00").await?;
    set_time(browser, "Wrap", "03:00").await?;
    browser.wait_for_text("The wrap is at 03:00, next day: 18 h after the call.").await?;
    browser.click("button", "Done").await?;
    browser.find("button", "Call and wrap: 09:00 to 03:00, next day").await?;
    Ok(())
}

async fn wait_for_misfits(browser: &Browser, what: &str, is_so: impl Fn(u64) -> bool) -> Result<()> {
    let start = Instant::now();
    while !is_so(misfits(browser).await?) {
        ensure!(start.elapsed() < Duration::from_secs(10), "{what:?} did not help");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    Ok(())
}

/// Moves the focus to what has that label, by the Tab key alone.
async fn tab_to(browser: &Browser, label: &str) -> Result<()> {
    const MOST: u32 = 400;
    let focused = "const one = document.activeElement;
        return one?.getAttribute('aria-label') ?? one?.textContent ?? ''";
    for _ in 0..MOST {
        if browser.script(focused).await? == label {
            return Ok(());
        }
        browser.press(Key::Tab + "").await?;
    }
    anyhow::bail!("the Tab key never comes to {label:?}")
}

/// Everything is done by keys: a setup moved, pinned, put in the can, and all of it taken back.
pub(crate) async fn a_day_by_keys(browser: &mut Browser) -> Result<()> {
    open_day(browser).await?;
    let before = order(browser).await?;
    let first = before.first().context("an order")?.clone();
    let third = before.get(2).context("three setups")?.clone();
    tab_to(browser, &format!("Move {first}. Arrow keys, or drag.")).await?;
    browser.press(Key::Down + "").await?;
    wait_for_order(browser, "the arrow key does not move it", |order| order.get(1) == Some(&first)).await?;
    browser.press(Key::Down + "").await?;
    wait_for_order(browser, "the focus was lost", |order| order.get(2) == Some(&first)).await?;
    browser.click("button", &format!("Undo: Move {first}")).await?;
    browser.click("button", &format!("Undo: Move {first}")).await?;
    wait_for_order(browser, "it cannot be taken back", |order| order == before).await?;
    tab_to(browser, &format!("Pin {third} here")).await?;
    browser.press(" ").await?;
    browser.find("button", &format!("Unpin {third}")).await?;
    let main = "return document.querySelector('.day-setup .day-main').getAttribute('aria-label')";
    let main = browser.script(main).await?;
    tab_back_to(browser, main.as_str().unwrap_or_default()).await?;
    browser.press(Key::Enter + "").await?;
    // On a laptop there is a setup beside the order from the start, so the button alone would say nothing of the key.
    let opened = "return document.activeElement?.getAttribute('aria-expanded')";
    let start = Instant::now();
    while browser.script(opened).await? != "true" {
        ensure!(start.elapsed() < Duration::from_secs(10), "the Enter key does not open {main}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    browser.find("button", "Set it up").await?;
    tab_to(browser, &format!("{first} in the can")).await?;
    browser.press(Key::Enter + "").await?;
    wait_for_order(browser, "it is not in the can", |order| !order.contains(&first)).await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    Ok(())
}

/// The same backwards.
async fn tab_back_to(browser: &Browser, label: &str) -> Result<()> {
    const MOST: u32 = 100;
    let focused = "return document.activeElement?.getAttribute('aria-label') ?? ''";
    for _ in 0..MOST {
        if browser.script(focused).await? == label {
            return Ok(());
        }
        let chain = browser.driver().action_chain().key_down(Key::Shift).send_keys(Key::Tab + "");
        chain.key_up(Key::Shift).perform().await?;
    }
    anyhow::bail!("the Tab key never comes back to {label:?}")
}

/// Nothing on the screen stands in anybody's way, in its sheets neither.
pub(crate) async fn no_barriers(browser: &mut Browser) -> Result<()> {
    open_day(browser).await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    for chip in ["Day: ", "Breaks: ", "Weather: ", "Times of the work: ", "Shots of the day: "] {
        let button = browser.find_containing("button", chip).await?;
        button.scroll_into_view().await?;
        button.click().await?;
        browser.find("button", "Done").await?;
        let barriers = browser.barriers().await?;
        ensure!(barriers.is_empty(), "{chip}: {}", barriers.join("\n"));
        nothing_is_cut_off(browser).await?;
        browser.click("button", "Done").await?;
    }
    Ok(())
}
