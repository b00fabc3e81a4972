//! A browser that shows the page, with what journeys do in it.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use anyhow::{Context as _, Result, bail};
use serde_json::{Value, json};
use tempfile::TempDir;
use thirtyfour::common::print::{PrintPage, PrintParameters};
use thirtyfour::{TypingData, WebDriver, WebElement};

use crate::accessibility::{self, Thing};
use crate::chromium::Screen;
use crate::page_server::{PageServer, repository};

/// How long a person would wait for something to appear before calling the page broken.
const PATIENCE: Duration = Duration::from_secs(10);

/// How often to look again.
const PAUSE: Duration = Duration::from_millis(50);
/// Longer than a few frames take on a busy machine.
const SETTLING: Duration = Duration::from_millis(300);

/// A browser that shows the page.
#[derive(Debug)]
pub struct Browser {
    driver: WebDriver,
    server: PageServer,
    screen: Screen,
    folder: TempDir,
    /// Console errors of the journey so far.
    complaints: Vec<String>,
    offline: bool,
}

impl Browser {
    pub(crate) fn new(driver: WebDriver, server: PageServer, screen: Screen, folder: TempDir) -> Self {
        Self { driver, server, screen, folder, complaints: Vec::new(), offline: false }
    }

    /// The browser itself, for what has no word here.
    pub fn driver(&self) -> &WebDriver {
        &self.driver
    }

    /// A folder of this journey's own, gone after it: others run at the same time.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Opens the page at a fragment such as `#story`, and waits until it shows its main part.
    ///
    /// # Errors
    /// When no main part appears.
    pub async fn open(&self, fragment: &str) -> Result<()> {
        self.driver.goto(format!("{}{fragment}", self.server.address())).await?;
        self.wait_for_page().await
    }

    /// Opens a file of the ES module's folder or of the page by its path, such as `core/tapemark_core.js`.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn open_path(&self, path: &str) -> Result<()> {
        Ok(self.driver.goto(format!("{}{path}", self.server.address())).await?)
    }

    /// Loads the page anew, as after closing it and coming back.
    ///
    /// # Errors
    /// When no main part appears.
    pub async fn reload(&self) -> Result<()> {
        self.driver.refresh().await?;
        self.wait_for_page().await
    }

    /// The one thing on the page with this role and label, as a screen reader would announce them.
    ///
    /// # Errors
    /// When none appears in time, or several have that label.
    pub async fn find(&self, role: &str, label: &str) -> Result<WebElement> {
        self.find_where(role, &format!("labelled \"{label}\""), |name| name == label).await
    }

    /// The one thing on the page with this role whose label contains some words.
    ///
    /// # Errors
    /// When none appears in time, or several have such a label.
    pub async fn find_containing(&self, role: &str, words: &str) -> Result<WebElement> {
        self.find_where(role, &format!("with \"{words}\" in its label"), |name| name.contains(words)).await
    }

    /// The labels of everything on the page with this role, in order.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn labels(&self, role: &str) -> Result<Vec<String>> {
        Ok(accessibility::things(&self.driver, role).await?.into_iter().map(|thing| thing.label).collect())
    }

    /// Scrolls to what has this role and label, and clicks it, or on a screen that is touched taps it.
    ///
    /// # Errors
    /// When it is not there, or something lies over it.
    pub async fn click(&self, role: &str, label: &str) -> Result<()> {
        let thing = self.find(role, label).await?;
        // To the middle of the screen: at its edges the page's own bar may lie over it.
        thing.scroll_into_view().await?;
        thing.click().await.with_context(|| format!("{role} \"{label}\" cannot be clicked"))
    }

    /// Presses the first thing that a CSS selector finds and whose words begin so, wherever it is on the page.
    ///
    /// # Errors
    /// When there is none in time.
    pub async fn press_first(&self, selector: &str, words: &str) -> Result<()> {
        let script = format!(
            "const said = (one) => (one.getAttribute('aria-label') ?? one.textContent).trim();
            const one = [...document.querySelectorAll({selector:?})]
                .find((one) => one.checkVisibility() && said(one).startsWith({words:?}));
            one?.click();
            return Boolean(one)"
        );
        self.wait_until_true(&format!("there is no {selector} {words:?}"), &script).await
    }

    /// Waits until a CSS selector finds something.
    ///
    /// # Errors
    /// When it does not in time.
    pub async fn wait_for(&self, selector: &str) -> Result<()> {
        let script = format!("return Boolean(document.querySelector({selector:?}))");
        self.wait_until_true(&format!("there is no {selector}"), &script).await
    }

    async fn wait_until_true(&self, otherwise: &str, script: &str) -> Result<()> {
        let start = Instant::now();
        while self.script(script).await? != true {
            if start.elapsed() > PATIENCE {
                bail!("{otherwise}; the page says: {}", self.text().await?);
            }
            tokio::time::sleep(PAUSE).await;
        }
        Ok(())
    }

    /// Replaces what stands in a field.
    ///
    /// # Errors
    /// When it is not there or cannot be written in.
    pub async fn fill(&self, role: &str, label: &str, text: &str) -> Result<()> {
        let field = self.find(role, label).await?;
        field.clear().await?;
        Ok(field.send_keys(text).await?)
    }

    /// Gives a file to the button that asks for one, as a person would choose it.
    ///
    /// # Errors
    /// When the file cannot be written, or the button takes none.
    pub async fn give(&self, input: &WebElement, name: &str, contents: &[u8]) -> Result<()> {
        let path = self.folder().join(name);
        fs::write(&path, contents)?;
        Ok(input.send_keys(path.to_str().context("the path is text")?).await?)
    }

    /// Types on the keyboard, wherever the focus is.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn press(&self, keys: impl Into<TypingData>) -> Result<()> {
        Ok(self.driver.action_chain().send_keys(keys).perform().await?)
    }

    /// Drags from the middle of a thing, by so many CSS pixels, with a finger where the screen is touched.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn drag(&self, thing: &WebElement, right: i32, down: i32) -> Result<()> {
        self.drag_slowly(thing, right, down, Duration::ZERO).await
    }

    /// Drags as [`Self::drag`] does, with a rest after each of its eight steps.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn drag_slowly(&self, thing: &WebElement, right: i32, down: i32, rest: Duration) -> Result<()> {
        thing.scroll_into_view().await?;
        // Pointers are placed in the window, whereas the driver's own rectangles are placed in the document.
        let middle = "const { x, y, width, height } = arguments[0].getBoundingClientRect();
            return [x + width / 2, y + height / 2];";
        let (x, y): (f64, f64) = self.driver.execute(middle, vec![thing.to_json()?]).await?.convert()?;
        // Several steps, because a single jump is not how anybody drags.
        let steps = 8;
        let place = |step: i32| {
            let share = f64::from(step) / f64::from(steps);
            (x + f64::from(right) * share, y + f64::from(down) * share)
        };
        self.pointer(PointerStep::Down, place(0)).await?;
        for step in 1..=steps {
            self.pointer(PointerStep::Move, place(step)).await?;
            tokio::time::sleep(rest).await;
        }
        self.pointer(PointerStep::Up, place(steps)).await
    }

    /// All text that the page shows.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn text(&self) -> Result<String> {
        let text = self.script("return document.body.innerText").await?;
        Ok(as_read(text.as_str().unwrap_or_default()))
    }

    /// What the page's first heading says, once it says the same twice: what follows from a deed comes a few frames later.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn first_heading(&self) -> Result<String> {
        let mut before = None;
        loop {
            let said = self.labels("heading").await?.into_iter().next().unwrap_or_default();
            if before.as_ref() == Some(&said) {
                return Ok(said);
            }
            before = Some(said);
            tokio::time::sleep(SETTLING).await;
        }
    }

    /// Waits until the page shows some text.
    ///
    /// # Errors
    /// When it does not in time.
    pub async fn wait_for_text(&self, text: &str) -> Result<()> {
        let start = Instant::now();
        while !self.text().await?.contains(text) {
            if start.elapsed() > PATIENCE {
                bail!("the page does not say \"{text}\" but: {}", self.text().await?);
            }
            tokio::time::sleep(PAUSE).await;
        }
        Ok(())
    }

    /// Waits until the page no longer shows some text.
    ///
    /// # Errors
    /// When it goes on showing it.
    pub async fn wait_until_gone(&self, text: &str) -> Result<()> {
        let start = Instant::now();
        while self.text().await?.contains(text) {
            if start.elapsed() > PATIENCE {
                bail!("the page still says \"{text}\": {}", self.text().await?);
            }
            tokio::time::sleep(PAUSE).await;
        }
        Ok(())
    }

    /// Runs the body of a JavaScript function in the page, and hands back what it returns.
    ///
    /// # Errors
    /// When it throws.
    pub async fn script(&self, body: &str) -> Result<Value> {
        let mut told = self.driver.execute(body, Vec::new()).await?.json().clone();
        if let Value::String(text) = &mut told {
            *text = as_read(text);
        }
        Ok(told)
    }

    /// Saves what the screen shows, and hands back where.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub async fn screenshot(&self, name: &str) -> Result<PathBuf> {
        let folder = repository().join("target/screenshots");
        fs::create_dir_all(&folder)?;
        let path = folder.join(format!("{name}-{}.png", self.screen.name));
        self.driver.screenshot(&path).await?;
        Ok(path)
    }

    /// Saves what the page is on paper, A4, and hands back where.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub async fn print(&self, name: &str) -> Result<PathBuf> {
        let folder = repository().join("target/screenshots");
        fs::create_dir_all(&folder)?;
        let path = folder.join(format!("{name}-{}.pdf", self.screen.name));
        let page = PrintPage { width: 21.0, height: 29.7 };
        let parameters = PrintParameters { page, ..PrintParameters::default() };
        fs::write(&path, self.driver.print_page(parameters).await?)?;
        Ok(path)
    }

    /// Makes the processor so many times slower, as on an old phone.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn slow_down(&self, times: u32) -> Result<()> {
        self.driver.cdp().send_raw("Emulation.setCPUThrottlingRate", json!({ "rate": times })).await?;
        Ok(())
    }

    /// Stops the server. Failed requests are no complaints until [`Browser::go_online`].
    ///
    /// # Errors
    /// When the server cannot be stopped.
    pub async fn go_offline(&mut self) -> Result<()> {
        self.read_console().await?;
        self.offline = true;
        self.server.stop()
    }

    /// Starts the server again at the same address.
    ///
    /// # Errors
    /// When it cannot be started.
    pub async fn go_online(&mut self) -> Result<()> {
        self.read_console().await?;
        self.offline = false;
        self.server.restart()
    }

    /// Serves a folder in the place of what was served before: a new version has come out.
    ///
    /// # Errors
    /// When it cannot be served.
    pub fn serve(&mut self, folder: &Path) -> Result<()> {
        self.server.serve(folder)
    }

    /// What keeps some people from using the page as it is now, by the rules of WCAG 2.2 AA.
    ///
    /// # Errors
    /// When axe-core is not installed; `cargo xtask test` installs it.
    pub async fn barriers(&self) -> Result<Vec<String>> {
        let path = repository().join("target/tools/node/node_modules/axe-core/axe.min.js");
        let axe = fs::read_to_string(path).context("axe-core is not installed: run cargo xtask test once")?;
        self.driver.execute(axe, Vec::new()).await?;
        let run = "const done = arguments[0];
            const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
            axe.run({ runOnly: { type: 'tag', values: tags } }).then(({ violations }) => done(violations.map(
                ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ html }) => html).join(' ')}`,
            )), (error) => done([String(error)]));";
        Ok(self.driver.execute_async(run, Vec::new()).await?.convert()?)
    }

    /// What the page has asked of hosts other than its own.
    ///
    /// # Errors
    /// When the browser cannot be reached.
    pub async fn requests_to_other_hosts(&self) -> Result<Vec<String>> {
        let names = "return performance.getEntriesByType('resource').map(({ name }) => name)";
        let names: Vec<String> = self.driver.execute(names, Vec::new()).await?.convert()?;
        let own = |name: &String| {
            let inner = name.strip_prefix("blob:").unwrap_or(name);
            inner.starts_with(self.server.address()) || inner.starts_with("data:")
        };
        Ok(names.into_iter().filter(|name| !own(name)).collect())
    }

    /// Every error that the page has written to the console.
    pub(crate) async fn complaints(&mut self) -> Result<Vec<String>> {
        self.read_console().await?;
        Ok(self.complaints.clone())
    }

    pub(crate) async fn quit(self) -> Result<()> {
        Ok(self.driver.quit().await?)
    }

    async fn wait_for_page(&self) -> Result<()> {
        let start = Instant::now();
        while accessibility::things(&self.driver, "main").await?.is_empty() {
            if start.elapsed() > PATIENCE {
                bail!("the page shows no main part; it says: {}", self.text().await?);
            }
            tokio::time::sleep(PAUSE).await;
        }
        Ok(())
    }

    async fn find_where(
        &self,
        role: &str,
        wanted: &str,
        matches: impl Fn(&str) -> bool,
    ) -> Result<WebElement> {
        let start = Instant::now();
        loop {
            let things = accessibility::things(&self.driver, role).await?;
            let found: Vec<&Thing> = things.iter().filter(|thing| matches(&thing.label)).collect();
            match found.as_slice() {
                [thing] => match thing.element(&self.driver).await {
                    Ok(element) => return Ok(element),
                    // The page may have replaced it since; then the next look finds the new one.
                    Err(error) if start.elapsed() > PATIENCE => return Err(error),
                    Err(_) => {}
                },
                found if start.elapsed() > PATIENCE => {
                    let labels: Vec<&str> = things.iter().map(|thing| thing.label.as_str()).collect();
                    bail!("{} things of role {role} are {wanted}, among {labels:?}", found.len());
                }
                _ => {}
            }
            tokio::time::sleep(PAUSE).await;
        }
    }

    async fn pointer(&self, step: PointerStep, (x, y): (f64, f64)) -> Result<()> {
        let cdp = self.driver.cdp();
        if self.screen.touch {
            let points = if step == PointerStep::Up { json!([]) } else { json!([{ "x": x, "y": y }]) };
            let event = json!({ "type": step.touch_event(), "touchPoints": points });
            cdp.send_raw("Input.dispatchTouchEvent", event).await?;
        } else {
            let buttons = i32::from(step != PointerStep::Up);
            let event = json!({
                "type": step.mouse_event(), "x": x, "y": y, "button": "left", "buttons": buttons, "clickCount": 1,
            });
            cdp.send_raw("Input.dispatchMouseEvent", event).await?;
        }
        Ok(())
    }

    /// Moves the console's new errors to the complaints.
    async fn read_console(&mut self) -> Result<()> {
        for entry in self.driver.browser_log().await? {
            let expected = self.offline && entry.source.as_deref() == Some("network");
            if entry.level == "SEVERE" && !expected {
                self.complaints.push(entry.message);
            }
        }
        Ok(())
    }
}

/// A text as people read it: where its lines may end they do not see.
pub(crate) fn as_read(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

/// A part of a drag.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum PointerStep {
    Down,
    Move,
    Up,
}

impl PointerStep {
    fn touch_event(self) -> &'static str {
        match self {
            Self::Down => "touchStart",
            Self::Move => "touchMove",
            Self::Up => "touchEnd",
        }
    }

    fn mouse_event(self) -> &'static str {
        match self {
            Self::Down => "mousePressed",
            Self::Move => "mouseMoved",
            Self::Up => "mouseReleased",
        }
    }
}
