//! What keeps a page's main thread busy, as the browser itself records it.

use anyhow::{Context as _, Result};
use serde_json::Value;
use thirtyfour::WebDriver;

use crate::chromium::{ChromeDriver, Screen};
use crate::page_server::PageServer;
use crate::visit::look;

/// One task of a page's main thread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MainTask {
    /// How long it took.
    pub ms: f64,
    /// How much of that the browser spent on style, layout and paint, and on handing the frame over.
    pub of_browser_ms: f64,
}

/// What the browser calls a task, and what it does in one by itself.
const TASK: &str = "RunTask";
const OF_BROWSER: [&str; 6] = ["UpdateLayoutTree", "Layout", "PrePaint", "Paint", "Layerize", "Commit"];

/// Opens the page in a browser that records what it does, and does something with it.
///
/// # Errors
/// When that cannot be done.
pub async fn recorded(screen: Screen, steps: impl AsyncFnOnce(&WebDriver) -> Result<()>) -> Result<()> {
    let server = PageServer::start()?;
    let chrome_driver = ChromeDriver::start()?;
    let driver = chrome_driver.open_recording(screen).await.context("Chromium cannot be started")?;
    look(driver, server.address(), steps).await
}

/// The tasks between two `console.timeStamp`s, `from` and `until`. They can be asked for once: then the record ends.
///
/// # Errors
/// When the browser has recorded no such stamps.
pub async fn main_tasks(driver: &WebDriver, from: &str, until: &str) -> Result<Vec<MainTask>> {
    let log = driver.get_log("performance").await?;
    let events: Vec<Event> = log.iter().filter_map(|entry| Event::read(&entry.message)).collect();
    let stamp = |name: &str| {
        let found = events.iter().find(|event| event.name == "TimeStamp" && event.message == name);
        found.with_context(|| format!("the browser has recorded no \"{name}\""))
    };
    let (from, until) = (stamp(from)?, stamp(until)?);
    let of_page: Vec<&Event> = events
        .iter()
        .filter(|event| event.thread == from.thread && (from.at_us..until.at_us).contains(&event.at_us))
        .collect();
    let tasks = of_page.iter().filter(|event| event.name == TASK).map(|task| {
        let within = of_page.iter().filter(|event| {
            OF_BROWSER.contains(&event.name.as_str())
                && (task.at_us..task.at_us + task.lasts_us).contains(&event.at_us)
        });
        MainTask {
            ms: task.lasts_us / 1000.0,
            of_browser_ms: within.map(|event| event.lasts_us).sum::<f64>() / 1000.0,
        }
    });
    Ok(tasks.collect())
}

/// Something that the browser has recorded.
struct Event {
    name: String,
    /// What a stamp says.
    message: String,
    /// Process and thread.
    thread: (Option<i64>, Option<i64>),
    at_us: f64,
    lasts_us: f64,
}

impl Event {
    fn read(entry: &str) -> Option<Self> {
        let entry: Value = serde_json::from_str(entry).ok()?;
        let event = &entry["message"]["params"];
        Some(Self {
            name: event["name"].as_str()?.to_owned(),
            message: event["args"]["data"]["message"].as_str().unwrap_or_default().to_owned(),
            thread: (event["pid"].as_i64(), event["tid"].as_i64()),
            at_us: event["ts"].as_f64()?,
            lasts_us: event["dur"].as_f64().unwrap_or(0.0),
        })
    }
}
