//! On the set: takes are logged, a setup is given up or picked up, and what was agreed and what stays the same is kept.

use std::time::{Duration, Instant};

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use serde_json::Value;
use thirtyfour::prelude::*;

use crate::drawn::png;

/// How wide and high the photo is that is kept, px.
const PHOTO_PX: (u32, u32) = (48, 32);

/// Opens the invented film, and a view of its day.
pub(crate) async fn open_view(browser: &Browser, view: &str) -> Result<()> {
    browser.click("button", "Story").await?;
    browser.click("button", "Look at an invented one").await?;
    browser.find("textbox", "Title").await?;
    browser.click("button", "Day").await?;
    browser.wait_for_text("done by").await?;
    browser.click("button", view).await
}

/// Waits until a script of the page answers as it should, and hands the answer back.
pub(crate) async fn wait_until(
    browser: &Browser,
    what: &str,
    script: &str,
    is_so: impl Fn(&Value) -> bool,
) -> Result<Value> {
    let start = Instant::now();
    loop {
        let answer = browser.script(script).await?;
        if is_so(&answer) {
            return Ok(answer);
        }
        ensure!(start.elapsed() < Duration::from_secs(15), "{what}: {answer}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

/// Loads the page anew, and goes to the set again.
async fn come_back(browser: &Browser) -> Result<()> {
    browser.wait_for_text("Saved on this device").await?;
    browser.reload().await?;
    browser.click("button", "Day").await?;
    browser.click("button", "On the set").await?;
    browser.find("button", "In the can").await?;
    Ok(())
}

/// What the setup that is shown is called.
async fn shown(browser: &Browser) -> Result<String> {
    let title = "return document.querySelector('.set-title')?.textContent ?? ''";
    let title = wait_until(browser, "no setup is shown", title, |title| title != "").await?;
    Ok(title.as_str().unwrap_or_default().to_owned())
}

/// Waits until another setup than that is shown.
async fn wait_for_another(browser: &Browser, than: &str) -> Result<String> {
    let title = "return document.querySelector('.set-title')?.textContent ?? ''";
    let is_another = |title: &Value| title != "" && title != than;
    let title = wait_until(browser, "the same setup is still shown", title, is_another).await?;
    Ok(title.as_str().unwrap_or_default().to_owned())
}

/// Waits until it says how many setups are left.
async fn wait_for_left(browser: &Browser, left: u64) -> Result<()> {
    let place = "return document.querySelector('.set-where strong')?.textContent ?? ''";
    let says = format!("of {left} left");
    let is_so = |place: &Value| place.as_str().is_some_and(|place| place.ends_with(&says));
    wait_until(browser, &format!("not {left} are left"), place, is_so).await?;
    Ok(())
}

/// How many setups are left, as it says.
async fn left(browser: &Browser) -> Result<u64> {
    let place = "return document.querySelector('.set-where strong')?.textContent ?? ''";
    let place = wait_until(browser, "nothing is left", place, |place| place != "").await?;
    let place = place.as_str().unwrap_or_default();
    let words = place.strip_suffix(" left").with_context(|| place.to_owned())?;
    Ok(words.rsplit(' ').next().unwrap_or_default().parse()?)
}

/// The takes as they are listed: what each is called, and what is said of it.
async fn takes(browser: &Browser, what: &str, is_so: impl Fn(&[[String; 2]]) -> bool) -> Result<()> {
    let list = "return [...document.querySelectorAll('.set-take summary')]
        .map((row) => [row.querySelector('strong').textContent, row.querySelector('span').textContent])";
    let read = |list: &Value| serde_json::from_value::<Vec<[String; 2]>>(list.clone()).unwrap_or_default();
    wait_until(browser, what, list, |list| is_so(&read(list))).await?;
    Ok(())
}

/// The steps before the first take that are ticked.
async fn ticked(browser: &Browser) -> Result<Vec<String>> {
    let ticked = "return [...document.querySelectorAll('.set-ready label')]
        .filter((one) => one.querySelector('input').checked).map((one) => one.textContent)";
    Ok(serde_json::from_value(browser.script(ticked).await?)?)
}

/// Presses a button in the page, and prints how long it takes until a take more is listed.
#[expect(clippy::print_stdout, reason = "it says what it measured")]
async fn log_and_time(browser: &Browser, button: &str) -> Result<()> {
    let script = format!(
        "return new Promise((done) => {{
            const set = document.querySelector('.set');
            const count = () => set.querySelectorAll('.set-take').length;
            const button = [...set.querySelectorAll('.set-bar button')].find((one) => one.textContent === '{button}');
            const before = count();
            let start = 0;
            const watch = new MutationObserver(() => {{
                if (count() > before) {{
                    watch.disconnect();
                    done(performance.now() - start);
                }}
            }});
            watch.observe(set, {{ childList: true, subtree: true }});
            start = performance.now();
            button.click();
        }})"
    );
    let took_ms = browser.script(&script).await?.as_f64().context("a time")?;
    println!("a take is listed {took_ms:.1} ms after {button:?}");
    Ok(())
}

/// Two takes are logged, the better one is said more of, and all of it is there after a reload; then it is in the can.
pub(crate) async fn takes_are_logged(browser: &mut Browser) -> Result<()> {
    open_view(browser, "On the set").await?;
    let first = shown(browser).await?;
    let count = left(browser).await?;
    wait_for_left(browser, count).await?;
    let is_large = "const px = (one) => parseFloat(getComputedStyle(document.querySelector(one)).fontSize);
        return px('.set-title') > px('body') && px('.set-sentence') > px('body')";
    ensure!(browser.script(is_large).await? == true, "the setup is no larger than other text");

    // What only warns does not stand beside what hurts somebody or spoils the shot.
    let told = "return ['.set-cautions', '.set-warnings'].map((one) => document.querySelector(one)?.textContent ?? '')";
    let says =
        |told: &Value, at: usize, words: &str| told[at].as_str().is_some_and(|told| told.contains(words));
    let are_apart = |told: &Value| {
        says(told, 0, "A child is in it") && says(told, 1, "lamps may flicker") && !says(told, 0, "flicker")
    };
    wait_until(browser, "cautions and warnings are not apart", told, are_apart).await?;

    let steps = "return [...document.querySelectorAll('.set-ready label')].map((one) => one.textContent)";
    let steps: Vec<String> = serde_json::from_value(browser.script(steps).await?)?;
    ensure!(steps.len() > 2, "{steps:?}");
    for step in steps.iter().take(2) {
        browser.click("checkbox", step).await?;
    }
    browser.wait_for_text(&format!("Before the first take: {} to tick", steps.len() - 2)).await?;
    browser.screenshot("set").await?;

    log_and_time(browser, "Not good").await?;
    takes(
        browser,
        "it is not logged",
        |takes| matches!(takes, [[name, said]] if name == "Take 1" && said.starts_with("not good")),
    )
    .await?;
    let last = "return document.querySelector('.set-last')?.textContent ?? ''";
    let is_told = |last: &Value| last.as_str().is_some_and(|last| last.starts_with("Take 1, not good"));
    wait_until(browser, "the tap is not answered where it was", last, is_told).await?;
    browser.click("button", "Good").await?;
    takes(browser, "they are not in order", |takes| {
        matches!(takes, [[second, said], [first, _]]
            if second == "Take 2" && first == "Take 1" && said.starts_with("good"))
    })
    .await?;

    let second = browser.driver().find(By::XPath("//summary[strong[text()='Take 2']]")).await?;
    second.scroll_into_view().await?;
    second.click().await?;
    browser.fill("textbox", "Why", "the last word is swallowed").await?;
    browser.fill("textbox", "Clip", "C0042.MP4").await?;
    let is_kept = |takes: &[[String; 2]]| {
        let is_second =
            |said: &str| said.contains("the last word is swallowed") && said.contains("C0042.MP4");
        matches!(takes, [[second, said], [first, other]]
            if second == "Take 2" && is_second(said) && first == "Take 1" && other.starts_with("not good"))
    };
    takes(browser, "it does not say what was typed", is_kept).await?;
    come_back(browser).await?;
    ensure!(shown(browser).await? == first, "another setup is shown after a reload");
    takes(browser, "takes were lost", is_kept).await?;
    let ticked = ticked(browser).await?;
    ensure!(ticked.as_slice() == steps.get(..2).unwrap_or_default(), "{ticked:?} is ticked after a reload");

    log_and_time(browser, "Only log").await?;
    let undo = browser.find_containing("button", "Undo: Log take 3").await?;
    undo.scroll_into_view().await?;
    undo.click().await?;
    takes(browser, "the last one is not taken back", is_kept).await?;

    browser.click("button", "After").await?;
    let second = wait_for_another(browser, &first).await?;
    browser.click("button", "Before").await?;
    ensure!(wait_for_another(browser, &second).await? == first, "it does not go back");
    browser.click("button", "In the can").await?;
    wait_for_another(browser, &first).await?;
    wait_for_left(browser, count - 1).await?;
    browser.wait_for_text("No take yet").await?;

    // What is put in the can while it is looked at in the plan is not what the set shows next.
    let next = shown(browser).await?;
    browser.click("button", "Plan").await?;
    for part in [".day-setup.next .day-main", ".day-setup.next.chosen .day-done"] {
        let button = browser.driver().find(By::Css(part)).await?;
        button.scroll_into_view().await?;
        button.click().await?;
    }
    browser.wait_for_text("2 in the can").await?;
    browser.click("button", "On the set").await?;
    wait_for_another(browser, &next).await?;
    wait_for_left(browser, count - 2).await?;
    Ok(())
}

/// The slate that lies over the page; nothing while there is none.
const SLATE: &str = "const slate = document.querySelector('dialog.slate[open]');
    if (!slate) return '';
    const box = slate.getBoundingClientRect();
    const isFull = box.left <= 0 && box.top <= 0 && box.right >= innerWidth && box.bottom >= innerHeight;
    return `${slate.getAttribute('aria-label')}${isFull ? '' : `, only ${box.width} x ${box.height}`}`";

/// A slate is held before the lens; a setup is given up and taken up again; another go at one becomes a setup.
pub(crate) async fn a_setup_is_given_up(browser: &mut Browser) -> Result<()> {
    open_view(browser, "On the set").await?;
    let first = shown(browser).await?;
    let count = left(browser).await?;
    for put_away in ["Escape", "Done"] {
        browser.click("button", "Slate 1").await?;
        let slate = wait_until(browser, "there is no slate", SLATE, |slate| slate != "").await?;
        let slate = slate.as_str().unwrap_or_default();
        let (scene, rest) = slate.split_once(", shot ").context("no shot on the slate")?;
        ensure!(scene.starts_with("Slate: scene ") && rest.ends_with(", take 1"), "{slate}");
        if put_away == "Escape" {
            browser.screenshot("slate").await?;
            browser.press(Key::Escape + "").await?;
        } else {
            browser.click("button", "Done").await?;
        }
        let gone = format!("{put_away} does not put the slate away");
        wait_until(browser, &gone, SLATE, |slate| slate == "").await?;
    }

    browser.click("button", "Give it up").await?;
    let costs = "return document.querySelector('.set-costs')?.innerText ?? ''";
    let costs = wait_until(browser, "no cost is told", costs, |costs| costs != "").await?;
    let costs = costs.as_str().unwrap_or_default();
    let words = ["It is the only ", "Without it: ", "cuts as well without it."];
    ensure!(words.iter().any(|words| costs.contains(words)), "{costs}");
    ensure!(shown(browser).await? == first, "it was given up without being asked");
    browser.screenshot("set-give-up").await?;
    browser.click("button", "Give it up all the same").await?;
    wait_for_another(browser, &first).await?;
    wait_for_left(browser, count - 1).await?;
    browser.wait_for_text("1 given up").await?;
    let given_up = browser.driver().find(By::XPath("//summary[text()='1 given up']")).await?;
    given_up.scroll_into_view().await?;
    given_up.click().await?;
    let again = browser.find_containing("button", "Take up again: ").await?;
    again.scroll_into_view().await?;
    again.click().await?;
    wait_for_left(browser, count).await?;
    browser.wait_until_gone("given up").await?;

    let before = shown(browser).await?;
    browser.click("button", "Add a pick-up").await?;
    wait_for_another(browser, &before).await?;
    wait_for_left(browser, count + 1).await?;
    browser.wait_for_text("Pick-up").await?;
    Ok(())
}

/// A picture of two colours.
fn photo() -> Result<Vec<u8>> {
    let (width, height) = PHOTO_PX;
    png(width, height, |column, _row| if column < width / 2 { [200, 60, 20] } else { [20, 60, 200] })
}

/// How wide the photo is that is shown, px; 0 while there is none.
const PHOTO_SHOWN: &str = "return document.querySelector('img.set-photo')?.naturalWidth ?? 0";

/// A photo of what stays the same is kept for its setup, until it is removed; who agreed is kept, and the plan counts it.
pub(crate) async fn what_was_agreed_is_kept(browser: &mut Browser) -> Result<()> {
    open_view(browser, "Plan").await?;
    let chip = browser.find_containing("button", "Consent and sound: ").await?;
    let counted = chip.attr("aria-label").await?.unwrap_or_default();
    let of = counted.strip_prefix("Consent and sound: 0 of ").with_context(|| counted.clone())?;
    let of = of.strip_suffix(" agreed").context("how many there are")?;
    browser.click("button", "On the set").await?;
    shown(browser).await?;

    let labels = "return [...document.querySelectorAll('.set-agreed label')].map((one) => one.textContent)";
    let labels: Vec<String> = serde_json::from_value(browser.script(labels).await?)?;
    let with = |words: &str| {
        let found = labels.iter().find(|label| label.contains(words));
        found.cloned().with_context(|| format!("no {words:?} in {labels:?}"))
    };
    let boxes = [with("agreed")?, with("room tone recorded")?];
    for label in &boxes {
        browser.click("checkbox", label).await?;
    }
    let input = browser.driver().find(By::Css(".set-same input[type=file]")).await?;
    browser.give(&input, "same.png", &photo()?).await?;
    let is_whole = |width: &Value| width == PHOTO_PX.0;
    wait_until(browser, "the photo is not shown", PHOTO_SHOWN, is_whole).await?;

    come_back(browser).await?;
    wait_until(browser, "the photo was lost", PHOTO_SHOWN, is_whole).await?;
    for label in &boxes {
        let is_on = browser.find("checkbox", label).await?.prop("checked").await?;
        ensure!(is_on.as_deref() == Some("true"), "{label:?} is not ticked after a reload");
    }
    browser.screenshot("set-agreed").await?;
    browser.click("button", "Plan").await?;
    let says = if of == "1" { "all agreed".to_owned() } else { format!("1 of {of} agreed") };
    browser.find("button", &format!("Consent and sound: {says}")).await?;
    browser.click("button", "On the set").await?;
    wait_until(browser, "the photo is not shown again", PHOTO_SHOWN, is_whole).await?;
    browser.click("button", "Remove the photo").await?;
    wait_until(browser, "the photo is still shown", PHOTO_SHOWN, |width| width == 0).await?;
    browser.find_containing("button", "Undo: Tick room tone").await?;
    can_be_read_in_the_sun(browser).await?;

    // By now the photo would be shown, had it only been hidden.
    ensure!(browser.script(PHOTO_SHOWN).await? == 0, "the photo is back");
    come_back(browser).await?;
    tokio::time::sleep(Duration::from_millis(500)).await;
    ensure!(browser.script(PHOTO_SHOWN).await? == 0, "the photo is back after a reload");
    Ok(())
}

/// The contrast of every text of the set with what lies behind it, the least first.
const CONTRASTS: &str = "const context = Object.assign(document.createElement('canvas'), { width: 1, height: 1 })
        .getContext('2d', { willReadFrequently: true });
    // Whatever way the style writes a colour, a canvas knows it.
    const rgba = (colour) => {
        context.clearRect(0, 0, 1, 1);
        context.fillStyle = colour;
        context.fillRect(0, 0, 1, 1);
        const [r, g, b, a] = context.getImageData(0, 0, 1, 1).data;
        return [r, g, b, a / 255];
    };
    const over = ([r, g, b, a], [R, G, B]) => [r * a + R * (1 - a), g * a + G * (1 - a), b * a + B * (1 - a)];
    const behind = (one) => {
        if (!one) return [255, 255, 255];
        const colour = rgba(getComputedStyle(one).backgroundColor);
        return colour[3] === 1 ? colour.slice(0, 3) : over(colour, behind(one.parentElement));
    };
    const opacity = (one) => one ? Number(getComputedStyle(one).opacity) * opacity(one.parentElement) : 1;
    // Source: WCAG 2.2, relative luminance and contrast ratio.
    const luminance = (rgb) => {
        const [r, g, b] = rgb.map((one) => one / 255).map((one) => one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4);
        return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const contrast = (one) => {
        const back = behind(one);
        const [r, g, b, a] = rgba(getComputedStyle(one).color);
        const text = over([r, g, b, a * opacity(one)], back);
        const [dark, light] = [luminance(text), luminance(back)].sort((a, b) => a - b);
        return (light + 0.05) / (dark + 0.05);
    };
    const isText = (one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim()) || 'value' in one;
    return [...document.querySelectorAll('.set *, .day-views button')]
        .filter((one) => isText(one) && !one.matches(':disabled, .unseen, [type=checkbox]') && one.checkVisibility())
        .map((one) => [contrast(one), `${one.tagName}.${one.className}: ${one.textContent.slice(0, 60)}`])
        .sort(([a], [b]) => a - b)";

/// Outdoors all text stands out well, every button is found by a thumb, and nothing keeps anybody out.
async fn can_be_read_in_the_sun(browser: &Browser) -> Result<()> {
    const LEAST: f64 = 7.0;
    browser.click("button", "Menu").await?;
    browser.click("button", "sun").await?;
    browser.click("button", "Done").await?;
    browser.click("button", "Good").await?;
    browser.wait_for_text("1 take").await?;
    let contrasts: Vec<(f64, String)> = serde_json::from_value(browser.script(CONTRASTS).await?)?;
    ensure!(contrasts.len() > 20, "only {} texts are shown", contrasts.len());
    let faint: Vec<_> = contrasts.iter().filter(|(contrast, _)| *contrast < LEAST).collect();
    ensure!(faint.is_empty(), "faint: {faint:?}");
    let small = "return [...document.querySelectorAll('.set button, .set label.button, .set summary, .day-views button')]
        .map((one) => [one, one.getBoundingClientRect()])
        .filter(([, box]) => box.width > 0 && box.height < 47.5)
        .map(([one, box]) => `${one.textContent}: ${box.width} x ${box.height}`)";
    let small: Vec<String> = serde_json::from_value(browser.script(small).await?)?;
    ensure!(small.is_empty(), "too small: {small:?}");
    let over = browser.script("return document.documentElement.scrollWidth - innerWidth").await?;
    ensure!(over.as_i64().is_some_and(|px| px <= 0), "the page is {over} px too wide");
    browser.screenshot("set-in-the-sun").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));
    Ok(())
}
