//! A day on paper: its pictures are drawn, its sheets chosen, and only they are printed.

use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use checks::Browser;
use serde_json::json;

use crate::set::{open_view, wait_until};

/// How long all pictures of a day may take without a graphics card, beside other journeys.
const PATIENCE: Duration = Duration::from_mins(1);

/// Which sheets there are.
const SHEETS: &str =
    "return [...document.querySelectorAll('.day-sheets > .paper')].map((one) => one.className)";

/// The shots of the shot list, in their order.
const LISTED: &str = "return [...document.querySelectorAll('.paper-shot-list tbody tr')]
    .map((row) => row.cells[0].textContent.trim()).filter((words) => words)";

/// Waits until there are these sheets, and no other.
async fn wait_for_sheets(browser: &Browser, wanted: &[&str]) -> Result<()> {
    let wanted = json!(wanted.iter().map(|sheet| format!("paper paper-{sheet}")).collect::<Vec<_>>());
    wait_until(browser, &format!("not {wanted}"), SHEETS, |sheets| *sheets == wanted).await?;
    Ok(())
}

/// The sheets of the invented film's day are drawn and chosen; then the browser is asked to print nothing but them.
#[expect(clippy::print_stdout, reason = "it says what it measured")]
pub(crate) async fn a_day_is_printed(browser: &mut Browser) -> Result<()> {
    open_view(browser, "Plan").await?;
    let start = Instant::now();
    browser.click("button", "On paper").await?;
    let is_ready = "const print = [...document.querySelectorAll('.day-paper button')].find((one) => one.textContent === 'Print');
        return print ? !print.disabled : false";
    while browser.script(is_ready).await? != true {
        ensure!(start.elapsed() < PATIENCE, "the pictures are not drawn: {}", browser.text().await?);
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    println!("the pictures of a day on paper take {:.1} s", start.elapsed().as_secs_f64());
    wait_for_sheets(browser, &["call-sheet", "shot-list", "cards", "plans"]).await?;
    browser.wait_for_text("Print, or save as PDF").await?;
    let heading =
        browser.script("return document.querySelector('.paper-call-sheet h1')?.textContent ?? ''").await?;
    ensure!(heading == film::demo_film().facts.title, "the call sheet is of {heading}");
    let undrawn = "const pictures = [...document.querySelectorAll('.paper-shot-list img, .paper-cards img')];
        return pictures.length < 4 ? 'there are few'
            : pictures.filter((one) => !one.complete || one.naturalWidth < 100).map((one) => one.alt).join()";
    wait_until(browser, "pictures are missing", undrawn, |undrawn| undrawn == "").await?;
    browser.screenshot("paper").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{}", barriers.join("\n"));

    let of_work = browser.script(LISTED).await?;
    browser.click("button", "story order").await?;
    wait_until(browser, "the order is the same", LISTED, |listed| *listed != of_work).await?;
    browser.click("button", "order of work").await?;
    wait_until(browser, "the order does not come back", LISTED, |listed| *listed == of_work).await?;
    browser.click("checkbox", "A card for each setup").await?;
    wait_for_sheets(browser, &["call-sheet", "shot-list", "plans"]).await?;
    browser.click("checkbox", "Call sheet").await?;
    wait_for_sheets(browser, &["shot-list", "plans"]).await?;
    browser.click("checkbox", "Call sheet").await?;
    wait_for_sheets(browser, &["call-sheet", "shot-list", "plans"]).await?;

    // The browser's own print would wait for somebody.
    browser.script("window.printed = 0; window.print = () => { window.printed += 1; }; return true").await?;
    browser.click("button", "Print").await?;
    wait_until(browser, "nothing is printed", "return window.printed", |printed| *printed == 1).await?;
    let cdp = browser.driver().cdp();
    cdp.send_raw("Emulation.setEmulatedMedia", json!({ "media": "print" })).await?;
    let printed = "return [...document.querySelectorAll('main *, nav *, header *')]
        .filter((one) => one.checkVisibility() && !one.closest('.day-sheets') && !one.querySelector('.day-sheets'))
        .filter((one) => one.innerText?.trim())
        .map((one) => one.outerHTML.slice(0, 120))";
    let printed: Vec<String> = serde_json::from_value(browser.script(printed).await?)?;
    let sheets = browser
        .script("return document.querySelector('.paper-call-sheet').getBoundingClientRect().height > 0")
        .await?;
    cdp.send_raw("Emulation.setEmulatedMedia", json!({ "media": "" })).await?;
    ensure!(printed.is_empty(), "beside the sheets this is printed: {}", printed.join("\n"));
    ensure!(sheets == true, "the sheets are not printed");
    Ok(())
}
