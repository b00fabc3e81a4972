//! Makes one journey, and fails it for what the page does badly on the way.

use anyhow::{Context as _, Result, anyhow, ensure};
use serde_json::json;

use crate::browser::Browser;
use crate::chromium::{ChromeDriver, Screen};
use crate::page_server::PageServer;

/// Opens the page on a screen and makes a journey through it.
///
/// The page has a server and a browser profile of its own, so journeys neither see each other's storage nor wait for each
/// other.
///
/// # Errors
/// When the journey fails, and then also saves a picture of the page as it was; when the page wrote an error to the
/// console; when it made a request to another host.
pub async fn journey(
    screen: Screen,
    name: &str,
    steps: impl AsyncFnOnce(&mut Browser) -> Result<()>,
) -> Result<()> {
    travel(screen, name, "", steps).await
}

/// Pictures keep their grain, unless somebody chooses otherwise.
const GRAINY: &str = "try { localStorage['tapemark.settings'] ??= '{\"grain\":\"Coarse\"}'; } catch { /* nothing is kept here */ }";

/// The same where pictures may keep their grain: finer ones keep the cores from all else.
///
/// # Errors
/// As of [`journey`].
pub async fn grainy_journey(
    screen: Screen,
    name: &str,
    steps: impl AsyncFnOnce(&mut Browser) -> Result<()>,
) -> Result<()> {
    travel(screen, name, GRAINY, steps).await
}

async fn travel(
    screen: Screen,
    name: &str,
    before_each_page: &str,
    steps: impl AsyncFnOnce(&mut Browser) -> Result<()>,
) -> Result<()> {
    let server = PageServer::start()?;
    let chrome_driver = ChromeDriver::start()?;
    let folder = tempfile::tempdir()?;
    let driver = chrome_driver.open(screen).await.context("Chromium cannot be started")?;
    let mut browser = Browser::new(driver, server, screen, folder);
    let mut outcome = make(&mut browser, before_each_page, steps).await;
    if outcome.is_err() {
        let picture = browser.screenshot(&format!("failed-{name}")).await;
        let place = picture.map_or_else(|error| error.to_string(), |path| path.display().to_string());
        outcome = outcome.with_context(|| format!("{name} failed; the page as it was then: {place}"));
    }
    // In any case, or Chromium would stay behind.
    browser.quit().await?;
    outcome
}

async fn make(
    browser: &mut Browser,
    before_each_page: &str,
    steps: impl AsyncFnOnce(&mut Browser) -> Result<()>,
) -> Result<()> {
    let before = json!({ "source": before_each_page });
    browser.driver().cdp().send_raw("Page.addScriptToEvaluateOnNewDocument", before).await?;
    browser.open("").await?;
    let outcome = steps(browser).await;
    let complaints = browser.complaints().await?;
    let complaints =
        if complaints.is_empty() { Ok(()) } else { Err(anyhow!("the console says: {complaints:#?}")) };
    match (outcome, complaints) {
        // An error on the console is often why a step failed, so both are told.
        (Err(error), Err(complaints)) => return Err(error.context(complaints)),
        (outcome, complaints) => outcome.and(complaints)?,
    }
    let strangers = browser.requests_to_other_hosts().await?;
    ensure!(strangers.is_empty(), "the page asked other hosts: {strangers:?}");
    Ok(())
}
