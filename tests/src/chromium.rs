//! Starts Chromium with a screen of a given size.

use std::io::{BufRead as _, BufReader};
use std::process::{Child, ChildStdout, Command, Stdio};

use anyhow::{Context as _, Result, bail};
use serde_json::json;
use thirtyfour::{
    ChromeCapabilities, ChromiumLikeCapabilities as _, DesiredCapabilities, LoggingPrefsLogLevel, WebDriver,
};

/// What the page is looked at on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Screen {
    /// What to call it in names of files and in messages.
    pub name: &'static str,
    /// In CSS pixels.
    pub width: u32,
    /// In CSS pixels.
    pub height: u32,
    /// Whether it is touched, with browser behaviour of a mobile device.
    pub touch: bool,
}

impl Screen {
    /// A phone held upright.
    pub const PHONE: Self = Self { name: "phone", width: 390, height: 844, touch: true };
    /// A tablet held upright.
    pub const TABLET: Self = Self { name: "tablet", width: 768, height: 1024, touch: true };
    /// A laptop.
    pub const LAPTOP: Self = Self { name: "laptop", width: 1440, height: 900, touch: false };
}

/// Without a window, without a sandbox (containers run as root), and without requests of Chromium's own.
const FLAGS: [&str; 14] = [
    "--headless=new",
    "--no-sandbox",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
    // Metres, decimal points and clocks of 24 hours, wherever the tests run.
    "--accept-lang=en-GB",
    // No other host is there: whatever asks one, in a worker or before a reload too, fails and says so on the console.
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
    // Two browsers at once on two cores: a page that takes itself for hidden, or waits for a software GPU, stops drawing.
    "--disable-gpu",
    "--disable-background-timer-throttling",
    "--disable-backgrounding-occluded-windows",
    "--disable-renderer-backgrounding",
];

/// The program through which Chromium is driven.
#[derive(Debug)]
pub(crate) struct ChromeDriver {
    process: Child,
    /// Kept so that the driver never writes to a closed pipe.
    output: BufReader<ChildStdout>,
    port: u16,
}

impl ChromeDriver {
    /// Starts the driver on a port that the system picks, which it does not get if somebody else was given the same one for
    /// the other kind of address a moment before.
    pub(crate) fn start() -> Result<Self> {
        Self::start_once().or_else(|_| Self::start_once())
    }

    fn start_once() -> Result<Self> {
        let mut command = Command::new("chromedriver");
        command.arg("--port=0").stdout(Stdio::piped()).stderr(Stdio::null());
        let mut process = command.spawn().context("chromedriver cannot be started: is it installed?")?;
        let output = process.stdout.take().context("chromedriver has no output")?;
        let mut driver = Self { process, output: BufReader::new(output), port: 0 };
        driver.port = driver.read_port()?;
        Ok(driver)
    }

    /// Opens a browser with a fresh profile.
    pub(crate) async fn open(&self, screen: Screen) -> Result<WebDriver> {
        self.open_with(screen, &[]).await
    }

    /// Opens a browser with a fresh profile that records what keeps its main thread busy.
    pub(crate) async fn open_recording(&self, screen: Screen) -> Result<WebDriver> {
        let mut capabilities = capabilities(screen, &[])?;
        capabilities.set_logging_prefs("performance", LoggingPrefsLogLevel::All)?;
        let recorded = json!({
            "enableNetwork": false,
            "enablePage": false,
            "traceCategories": "devtools.timeline,disabled-by-default-devtools.timeline",
        });
        capabilities.add_experimental_option("perfLoggingPrefs", recorded)?;
        self.open_as(screen, capabilities).await
    }

    /// Opens a browser with a fresh profile and more flags than usual.
    pub(crate) async fn open_with(&self, screen: Screen, more: &[&str]) -> Result<WebDriver> {
        self.open_as(screen, capabilities(screen, more)?).await
    }

    async fn open_as(&self, screen: Screen, capabilities: ChromeCapabilities) -> Result<WebDriver> {
        let Screen { width, height, touch, .. } = screen;
        let driver = WebDriver::new(format!("http://127.0.0.1:{}", self.port), capabilities).await?;
        if !touch {
            // A window's size would count its frame and bars.
            let metrics =
                json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
            driver.cdp().send_raw("Emulation.setDeviceMetricsOverride", metrics).await?;
        }
        Ok(driver)
    }

    /// Reads where the driver listens, which it says in its first lines.
    fn read_port(&mut self) -> Result<u16> {
        let mut line = String::new();
        while self.output.read_line(&mut line)? > 0 {
            if let Some((_, port)) = line.rsplit_once("on port ") {
                let digits = port.trim_end().trim_end_matches('.');
                if line.contains("successfully") {
                    return digits.parse().with_context(|| format!("chromedriver listens on \"{digits}\""));
                }
            }
            line.clear();
        }
        bail!("chromedriver ended before it listened")
    }
}

/// What a browser with such a screen is asked for.
fn capabilities(screen: Screen, more: &[&str]) -> Result<ChromeCapabilities> {
    let mut capabilities = DesiredCapabilities::chrome();
    for flag in FLAGS.iter().chain(more) {
        capabilities.add_arg(flag)?;
    }
    capabilities.set_browser_log_level(LoggingPrefsLogLevel::All)?;
    let Screen { width, height, touch, .. } = screen;
    if touch {
        let metrics =
            json!({ "width": width, "height": height, "pixelRatio": 2.0, "touch": true, "mobile": true });
        capabilities.add_experimental_option("mobileEmulation", json!({ "deviceMetrics": metrics }))?;
    }
    Ok(capabilities)
}

impl Drop for ChromeDriver {
    fn drop(&mut self) {
        // Nothing is left to do about a process that has ended by itself.
        drop(self.process.kill().and_then(|()| self.process.wait()));
    }
}
