//! Shows a page that is not the program's own, in a browser that also draws in three dimensions.

use std::path::Path;

use anyhow::{Context as _, Result};
use serde_json::json;
use thirtyfour::WebDriver;

use crate::chromium::{ChromeDriver, Screen};
use crate::page_server::PageServer;

/// WebGL without a GPU, which Chromium has to be told to take.
const FLAGS: [&str; 2] = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"];

/// Serves a folder, opens its page in a browser and does something with it.
///
/// # Errors
/// When that cannot be done.
pub async fn visit(folder: &Path, steps: impl AsyncFnOnce(&WebDriver) -> Result<()>) -> Result<()> {
    let server = PageServer::start_with(folder)?;
    let chrome_driver = ChromeDriver::start()?;
    let driver =
        chrome_driver.open_with(Screen::LAPTOP, &FLAGS).await.context("Chromium cannot be started")?;
    look(driver, server.address(), steps).await
}

/// A link to the host and a processor that are slower than this machine's.
#[derive(Debug, Clone, Copy)]
pub struct Slowness {
    /// How much comes over the link.
    pub bytes_per_s: f64,
    /// How long there and back takes.
    pub round_trip_ms: f64,
    /// How many times slower the processor is made to seem.
    pub processor: u32,
}

/// The same on a phone that has never been there, over a slow link.
///
/// # Errors
/// When that cannot be done.
pub async fn first_visit(
    folder: &Path,
    slowness: Slowness,
    steps: impl AsyncFnOnce(&WebDriver) -> Result<()>,
) -> Result<()> {
    let server = PageServer::start_with(folder)?;
    let chrome_driver = ChromeDriver::start()?;
    let driver = chrome_driver.open(Screen::PHONE).await.context("Chromium cannot be started")?;
    let cdp = driver.cdp();
    let link = json!({
        "offline": false,
        "latency": slowness.round_trip_ms,
        "downloadThroughput": slowness.bytes_per_s,
        "uploadThroughput": slowness.bytes_per_s,
    });
    cdp.send_raw("Network.enable", json!({})).await?;
    cdp.send_raw("Network.emulateNetworkConditions", link).await?;
    cdp.send_raw("Emulation.setCPUThrottlingRate", json!({ "rate": slowness.processor })).await?;
    look(driver, server.address(), steps).await
}

/// Opens a page, does something with it, and ends the browser.
pub(crate) async fn look(
    driver: WebDriver,
    address: &str,
    steps: impl AsyncFnOnce(&WebDriver) -> Result<()>,
) -> Result<()> {
    let outcome = match driver.goto(address).await {
        Ok(()) => steps(&driver).await,
        Err(error) => Err(error.into()),
    };
    // In any case, or Chromium would stay behind.
    driver.quit().await?;
    outcome
}
