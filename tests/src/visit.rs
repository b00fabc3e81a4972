//! Shows a page that is not the program's own, in a browser that also draws in three dimensions.

use std::path::Path;

use anyhow::{Context as _, Result};
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
