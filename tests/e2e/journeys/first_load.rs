//! The page opens for the first time.

use anyhow::{Result, ensure};
use checks::Browser;

/// The page fills the screen's width without scrolling sideways, and names itself to those who do not see it.
pub(crate) async fn page_opens(browser: &mut Browser) -> Result<()> {
    let title = browser.driver().title().await?;
    ensure!(title.contains("Tapemark"), "the page is titled \"{title}\"");
    ensure!(!browser.labels("heading").await?.is_empty(), "the page has no heading");
    let overhang = browser
        .script(
            "const { scrollWidth, clientWidth } = document.documentElement; return scrollWidth - clientWidth",
        )
        .await?;
    ensure!(overhang == 0, "the page is {overhang} pixels wider than the screen");
    browser.screenshot("first-load").await?;
    Ok(())
}
