//! Texts from files and links stay texts: a film whose every text is an injection is opened, walked through, printed, sent as a
//! link and put together with another copy, and nothing of it runs, asks a host or becomes an element.

#[path = "../../inert/texts.rs"]
mod texts;

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use film::{LinkContents, film_link, open_film};
use serde_json::{Value, json};
use thirtyfour::prelude::*;

use crate::set::wait_until;
use texts::{full_film, injections, with_texts};

/// Notes what the policy stops, in every document from its beginning.
const LISTEN: &str = "addEventListener('securitypolicyviolation', (event) => {
    (window.journeyViolations ??= []).push(`${event.violatedDirective} ${event.blockedURI}`);
})";

/// What is on the page that no text may have brought there.
const STRANGE: &str = "
    const found = [];
    if (window.__canary !== undefined) found.push('a text ran as a script');
    found.push(...(window.journeyViolations ?? []));
    const strange = 'script, iframe, frame, object, embed, base, portal, math, marquee, style, plaintext, xmp, template, meta, area, foreignObject, use, animate';
    for (const one of document.body.querySelectorAll(strange)) found.push(one.outerHTML.slice(0, 120));
    const own = (address) => new URL(address, location).origin === location.origin || /^(blob|data:image\\/png|data:,)/.test(address);
    for (const one of document.querySelectorAll('*')) {
        for (const { name, value } of one.attributes) {
            if (name.startsWith('on') || name === 'srcdoc') found.push(`${one.tagName} has ${name}`);
            if (/^(href|src|action|formaction|data|ping|xlink:href|poster)$/.test(name) && !own(value)) {
                found.push(`${one.tagName} leads to ${value.slice(0, 80)}`);
            }
        }
    }
    return found";

async fn nothing_ran(browser: &Browser, place: &str) -> Result<()> {
    let found = browser.script(STRANGE).await?;
    ensure!(found == json!([]), "{place}: {found}");
    let strangers = browser.requests_to_other_hosts().await?;
    ensure!(strangers.is_empty(), "{place}: {strangers:?}");
    Ok(())
}

/// A film of three scenes with the list's texts in turn, from one on.
fn film_from(first: usize) -> Value {
    let all = injections();
    let mut file = full_film(3, 4);
    let mut at = first;
    with_texts(&mut file, &mut |_, number| {
        // What a thing is called by is one text wherever it is.
        let place = number.map_or_else(
            || {
                at += 1;
                at
            },
            |number| first + number * 17,
        );
        let text = all.get(place % all.len()).map_or("", |one| &one.text);
        number.map_or_else(|| text.to_owned(), |number| format!("{text} {number}"))
    });
    file
}

/// Presses the first thing that is seen and that a selector finds.
async fn press(browser: &Browser, selector: &str) -> Result<()> {
    let script = format!(
        "const one = [...document.querySelectorAll({selector:?})].find((one) => one.checkVisibility());
        one?.click();
        return Boolean(one)"
    );
    wait_until(browser, &format!("there is no {selector}"), &script, |pressed| *pressed == true).await?;
    Ok(())
}

/// Opens everything that folds, and looks.
async fn look(browser: &Browser, place: &str) -> Result<()> {
    browser
        .script("document.querySelectorAll('details').forEach((one) => { one.open = true; }); return true")
        .await?;
    nothing_ran(browser, place).await
}

/// Looks at a sheet, and puts it away.
async fn look_at_sheet(browser: &Browser, place: &str) -> Result<()> {
    let is_open = "return Boolean(document.querySelector('dialog[open]'))";
    wait_until(browser, &format!("{place} does not open"), is_open, |open| *open == true).await?;
    look(browser, place).await?;
    browser.script("document.querySelector('dialog[open]').close(); return true").await?;
    Ok(())
}

/// A film of injections in, through all screens, out as a link and in again.
pub(crate) async fn texts_are_inert(browser: &mut Browser) -> Result<()> {
    let cdp = browser.driver().cdp();
    cdp.send_raw("Page.addScriptToEvaluateOnNewDocument", json!({ "source": LISTEN })).await?;
    browser.reload().await?;
    // Each text of the list is in one of the films.
    for (at, first) in [0, 140].into_iter().enumerate() {
        browser.click("button", "Story").await?;
        if at > 0 {
            browser.click("button", "Film and files").await?;
            browser.click("button", "Put this film away").await?;
        }
        browser.find("button", "Start a film").await?;
        let input = browser.driver().find(By::Css(".story-start input[type=file]")).await?;
        browser.give(&input, &format!("film-{at}.json"), film_from(first).to_string().as_bytes()).await?;
        let shots = "return document.querySelectorAll('.shot').length";
        wait_until(browser, "the film is not opened", shots, |count| count.as_u64() > Some(3)).await?;
        walk(browser).await?;
    }
    come_back_by_link(browser).await
}

async fn walk(browser: &Browser) -> Result<()> {
    look(browser, "Story").await?;
    browser.screenshot("inert-story").await?;
    for (sheet, place) in [
        (".shot-buttons button", "a shot"),
        (".story-cast button", "somebody"),
        (".scene-heading", "a scene"),
    ] {
        press(browser, sheet).await?;
        // The first button of a shot may lead to Set-up.
        if browser.script("return Boolean(document.querySelector('.of-shot'))").await? == true {
            wait_until(browser, "no lenses", "return document.querySelectorAll('.lens').length", |count| {
                *count != 0
            })
            .await?;
            look(browser, "Set-up").await?;
            browser.click("button", "Story").await?;
        } else {
            look_at_sheet(browser, place).await?;
        }
    }
    browser.click("button", "Set-up").await?;
    look(browser, "Set-up").await?;
    browser.click("button", "Light").await?;
    press(browser, ".light-row button").await?;
    look(browser, "Light").await?;
    browser.click("button", "Day").await?;
    browser.click("button", "Plan").await?;
    press(browser, ".day-main").await?;
    look(browser, "Day").await?;
    browser.click("button", "On the set").await?;
    let title = "return document.querySelector('.set-title')?.textContent ?? ''";
    wait_until(browser, "no setup", title, |title| title != "").await?;
    look(browser, "on the set").await?;
    browser.click("button", "On paper").await?;
    let sheets = "return document.querySelectorAll('.day-sheets > .paper').length";
    wait_until(browser, "no sheets", sheets, |count| *count == 4).await?;
    look(browser, "on paper").await?;
    browser.screenshot("inert-paper").await?;
    browser.click("button", "Kit").await?;
    browser.wait_for_text("From photos or clips").await?;
    look(browser, "Kit").await?;
    browser.click("button", "Learn").await?;
    look(browser, "Learn").await
}

/// What the page says of a film that came with a link; nothing while there is none.
const ARRIVED: &str = "return document.querySelector('.story-arrived')?.innerText ?? ''";

/// A copy of the film with other texts comes as a link, is put beside the one that is open, and is taken over.
async fn come_back_by_link(browser: &Browser) -> Result<()> {
    let opened = open_film(film_from(139).to_string().as_bytes()).context("the film opens")?;
    let everything = LinkContents { names: true, coordinates: true };
    let link = film_link(&opened.film, everything).context("the film is short enough for a link")?;
    browser.script(&format!("location.hash = {link:?}; return true")).await?;
    browser.click("button", "Story").await?;
    wait_until(browser, "nothing came with the link", ARRIVED, |said| said != "").await?;
    nothing_ran(browser, "a link").await?;
    browser.click("button", "Put the two together").await?;
    let rows = "return document.querySelectorAll('dialog[open] .story-difference tbody tr').length";
    wait_until(browser, "nothing differs", rows, |count| count.as_u64() > Some(10)).await?;
    nothing_ran(browser, "two copies").await?;
    browser.screenshot("inert-merge").await?;
    browser.click("button", "Put them together").await?;
    wait_until(browser, "they are not put together", ARRIVED, |said| said == "").await?;
    nothing_ran(browser, "put together").await
}
