//! For everyone: every screen in three sets of colours, narrow, in large letters, from right to left and in longer words; and
//! the whole job by keys alone.

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use serde_json::{Value, json};
use thirtyfour::prelude::*;

use crate::set::wait_until;

/// What is cut off, lies beyond the window or has another text over it, by what it says.
const CUT: &str = include_str!("everyone/cut_off.js");

/// Makes every text two fifths longer, as translations are; and back again.
const LONGER: &str = "
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
        const node = walker.currentNode;
        const words = node.data.trim();
        if (!words || node.parentElement.closest('option, script')) continue;
        node.journeyWas = node.data;
        const more = 'åéî wörds ärë løng '.repeat(40).slice(0, Math.ceil(words.length * 0.4)).trim();
        node.data = `${node.data.trimEnd()} ${more}`;
        node.journeyIs = node.data;
    }
    return true";
const AS_BEFORE: &str = "
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
        const node = walker.currentNode;
        if (node.journeyIs !== undefined && node.data === node.journeyIs) node.data = node.journeyWas;
    }
    return true";

/// What has no contrast in colours that were just put on; axe-core is there by then.
const CONTRAST: &str = "const done = arguments[0];
    axe.run({ runOnly: { type: 'rule', values: ['color-contrast'] } }).then(({ violations }) => done(violations.flatMap(
        ({ nodes }) => nodes.map(({ html }) => html),
    )), (error) => done([String(error)]));";

/// Which reading order and motion nobody should meet.
const ORDER_AND_MOTION: &str = "
    const found = [...document.querySelectorAll('[tabindex]')].filter((one) => one.tabIndex > 0).map((one) => one.outerHTML);
    const longest = (times) => Math.max(...times.split(',').map((time) => parseFloat(time) * (time.includes('ms') ? 1 : 1000)));
    for (const one of document.querySelectorAll('body *')) {
        const { transitionDuration, animationDuration, animationName } = getComputedStyle(one);
        if (longest(transitionDuration) > 10 || (animationName !== 'none' && longest(animationDuration) > 10)) {
            found.push(`moves: ${one.tagName}.${one.className}`);
        }
    }
    return found";

pub(crate) async fn size(browser: &Browser, width: u32, height: u32, letters_px: u32) -> Result<()> {
    let cdp = browser.driver().cdp();
    let metrics = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
    cdp.send_raw("Emulation.setDeviceMetricsOverride", metrics).await?;
    // As a person sets it in their browser: sizes by the letter and by the window both follow.
    let sizes = json!({ "fontSizes": { "standard": letters_px, "fixed": letters_px } });
    cdp.send_raw("Page.setFontSizes", sizes).await?;
    Ok(())
}

pub(crate) async fn is_whole(browser: &Browser, place: &str) -> Result<()> {
    let cut: Vec<String> = serde_json::from_value(browser.script(CUT).await?)?;
    if !cut.is_empty() {
        browser.screenshot("everyone-cut-off").await?;
    }
    ensure!(cut.is_empty(), "{place}: {}", cut.join("\n"));
    Ok(())
}

/// Looks at what is shown in every way, and leaves it as it was.
async fn look(browser: &Browser, place: &str) -> Result<()> {
    let theme = |colours: &str| format!("document.documentElement.dataset.theme = {colours:?}; return true");
    browser.script(&theme("paper")).await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{place}: {}", barriers.join("\n"));
    for colours in ["studio", "sun"] {
        browser.script(&theme(colours)).await?;
        let faint: Vec<String> = browser.driver().execute_async(CONTRAST, Vec::new()).await?.convert()?;
        ensure!(faint.is_empty(), "{place} in {colours}: {}", faint.join("\n"));
    }
    browser.script(&theme("paper")).await?;
    let strange = browser.script(ORDER_AND_MOTION).await?;
    ensure!(strange == json!([]), "{place}: {strange}");
    let direction = |way: &str| format!("document.documentElement.dir = {way:?}; return true");
    size(browser, 320, 700, 16).await?;
    is_whole(browser, &format!("{place}, 320 px wide")).await?;
    size(browser, 390, 844, 32).await?;
    is_whole(browser, &format!("{place} in letters of twice the size")).await?;
    size(browser, 390, 844, 16).await?;
    browser.script(&direction("rtl")).await?;
    is_whole(browser, &format!("{place} from right to left")).await?;
    browser.script(&direction("ltr")).await?;
    browser.script(LONGER).await?;
    is_whole(browser, &format!("{place} in longer words")).await?;
    size(browser, 1440, 900, 16).await?;
    is_whole(browser, &format!("{place} in longer words on a laptop")).await?;
    browser.script(AS_BEFORE).await?;
    browser.script(&direction("rtl")).await?;
    is_whole(browser, &format!("{place} from right to left on a laptop")).await?;
    browser.script(&direction("ltr")).await?;
    Ok(())
}

async fn unfold(browser: &Browser) -> Result<()> {
    let open = "document.querySelectorAll('main details, dialog[open] details').forEach((one) => { one.open = true; });
        return true";
    browser.script(open).await?;
    Ok(())
}

/// Opens a sheet, looks at it, and puts it away.
async fn look_at_sheet(browser: &Browser, selector: &str, words: &str) -> Result<()> {
    browser.press_first(selector, words).await?;
    browser.wait_for("dialog[open]").await?;
    look(browser, &format!("the sheet of {selector} {words}")).await?;
    browser.script("document.querySelector('dialog[open]').close(); return true").await?;
    Ok(())
}

/// Every screen and its sheets, one after the other in one visit.
pub(crate) async fn every_screen(browser: &mut Browser) -> Result<()> {
    let calm = json!({ "features": [{ "name": "prefers-reduced-motion", "value": "reduce" }] });
    browser.driver().cdp().send_raw("Emulation.setEmulatedMedia", calm).await?;
    browser.wait_for(".lens").await?;
    browser.wait_for(".figure").await?;
    size(browser, 1440, 900, 16).await?;
    let scrolls = "return [...document.querySelectorAll('.setup > section')]
        .filter((one) => one.scrollHeight > one.clientHeight).map((one) => one.className)";
    wait_until(browser, "Set-up scrolls on a laptop", scrolls, |found| *found == json!([])).await?;
    unfold(browser).await?;
    look(browser, "Set-up").await?;
    for (selector, words) in [(".chip", "Who"), (".chip", "Height"), (".bar button", "Menu")] {
        look_at_sheet(browser, selector, words).await?;
    }
    browser.press_first("button", "Dress the set").await?;
    browser.wait_for("dialog[open]").await?;
    look(browser, "the sheet of what stands on the set").await?;
    // It says that it was closed when the screen that asked for it is gone already.
    let at_once = "document.querySelector('dialog[open]').close();
        [...document.querySelectorAll('.bar button')].find(({ textContent }) => textContent === 'Story').click();
        return true";
    browser.script(at_once).await?;
    browser.wait_for(".story-start").await?;
    look(browser, "Story without a film").await?;
    browser.press_first("button", "Look at an invented one").await?;
    browser.wait_for(".shot").await?;
    look(browser, "Story").await?;
    for (selector, words) in [("button", "Film and files"), ("button", "Edit shot 1"), (".scene-heading", "")]
    {
        look_at_sheet(browser, selector, words).await?;
    }
    browser.press_first(".bar button", "Light").await?;
    browser.press_first(".light-row button", "").await?;
    unfold(browser).await?;
    look(browser, "Light").await?;
    browser.press_first(".bar button", "Day").await?;
    browser.wait_for(".day-setup").await?;
    look(browser, "Day").await?;
    browser.press_first(".day-views button", "On the set").await?;
    browser.wait_for(".set-title").await?;
    look(browser, "on the set").await?;
    browser.press_first(".day-views button", "On paper").await?;
    browser.wait_for(".day-sheets .paper").await?;
    look(browser, "on paper").await?;
    browser.press_first(".bar button", "Learn").await?;
    browser.wait_for(".lesson-says").await?;
    look(browser, "Learn").await?;
    browser.press_first(".bar button", "Kit").await?;
    browser.wait_for(".kit-card").await?;
    unfold(browser).await?;
    look(browser, "Kit").await
}

/// What has the focus: what it is called, and whether that is seen.
const FOCUSED: &str = "
    const one = document.activeElement;
    // An input that is not seen lies within a label that shows its focus, and a picture may draw its own.
    const isSeen = [one, one.parentElement].some((one) => {
        const { outlineStyle, outlineWidth } = getComputedStyle(one);
        return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
    });
    return [(one.getAttribute('aria-label') ?? one.textContent).trim(), isSeen || one === document.body]";

/// Goes by the Tab key to what is called so or begins so.
async fn tab_to(browser: &Browser, words: &str) -> Result<()> {
    const MOST: u32 = 300;
    for _ in 0..MOST {
        browser.press(Key::Tab + "").await?;
        let focused: (String, bool) = serde_json::from_value(browser.script(FOCUSED).await?)?;
        ensure!(focused.1, "nobody sees that {:?} has the focus", focused.0);
        if focused.0.starts_with(words) {
            return Ok(());
        }
    }
    anyhow::bail!("the Tab key does not come to {words:?}")
}

async fn enter(browser: &Browser, words: &str) -> Result<()> {
    tab_to(browser, words).await?;
    browser.press(Key::Enter + "").await
}

/// A lens, a figure, a film, a setup of it, a take, and the sheets: by Tab and Enter alone.
pub(crate) async fn the_whole_job_by_keys(browser: &mut Browser) -> Result<()> {
    browser.wait_for(".lens").await?;
    enter(browser, "long").await?;
    let sentence = "return document.querySelector('.sentence').textContent";
    let is_long = |said: &Value| said.as_str().is_some_and(|said| said.starts_with("Long lens"));
    wait_until(browser, "the lens is another", sentence, is_long).await?;
    enter(browser, "Distance").await?;
    browser.wait_for(".figure[open]").await?;
    enter(browser, "Story").await?;
    browser.wait_for(".story-start").await?;
    enter(browser, "Look at an invented one").await?;
    browser.wait_for(".shot").await?;
    enter(browser, "Set it up").await?;
    browser.wait_for(".of-shot").await?;
    enter(browser, "tight").await?;
    enter(browser, "Back to the story").await?;
    browser.wait_for(".shot").await?;
    enter(browser, "Day").await?;
    browser.wait_for(".day-setup").await?;
    enter(browser, "On the set").await?;
    browser.wait_for(".set-title").await?;
    enter(browser, "Good").await?;
    browser.wait_for(".set-take").await?;
    enter(browser, "On paper").await?;
    browser.wait_for(".day-sheets .paper").await?;
    let sheets = browser.script("return document.querySelectorAll('.day-sheets > .paper').length").await?;
    ensure!(sheets.as_u64().context("a count")? > 0, "nothing is on paper");
    Ok(())
}
