//! Measures how long it takes from a tap, a drag or a key to the next painted frame, on every screen with the invented film
//! and at a quarter of this machine's speed: run it as `cargo xtask bench`. It tells and cannot fail for being slow.
//!
//! The browser makes the events, as it makes those of a hand; each is timed from when the browser made it, so that waiting
//! behind other work counts, until the frame after it has been handed over.

use std::collections::BTreeMap;
use std::time::Duration;

use anyhow::{Context as _, Result, bail};
use checks::{Browser, Screen, journey, quantile, tell};
use clap::Parser;
use serde_json::{Value, json};

/// What to measure.
#[derive(Debug, Parser)]
struct Options {
    /// Only this screen, such as `Set-up`, beside Story.
    #[arg(long)]
    only: Option<String>,
    /// Tell how long the main thread's processor works for a deed and what follows it, at its own speed: that can be compared
    /// on a busy machine too.
    #[arg(long)]
    work: bool,
}

/// How many times slower the processor is made to seem.
const SLOWER: u32 = 4;
/// How many deeds of each screen are timed at least.
const DEEDS: usize = 40;
/// How long a hand rests between two of them.
const REST: Duration = Duration::from_millis(250);
/// How long what a deed asks for may be on its way.
const PATIENCE: u32 = 40;

/// Notes of each event how long it took until the frame after it was handed over, and finds what a hand goes for.
const WATCH: &str = r#"
    window.took = [];
    for (const kind of ["pointerdown", "pointermove", "pointerup", "click", "keydown", "input", "change"]) {
        addEventListener(kind, ({ timeStamp }) => requestAnimationFrame(() => {
            const { port1, port2 } = new MessageChannel();
            port1.onmessage = () => window.took.push(performance.now() - timeStamp);
            port2.postMessage(null);
        }), { capture: true, passive: true });
    }
    window.middleOf = (css, words, turn) => {
        const all = [...document.querySelectorAll(css)].filter((one) => {
            const said = (one.getAttribute("aria-label") ?? one.textContent).trim();
            return one.getClientRects().length && !one.disabled && (!words || said.startsWith(words));
        });
        const one = all[turn % all.length];
        if (!one) return null;
        one.scrollIntoView({ block: "center", behavior: "instant" });
        const { x, y, width, height } = one.getBoundingClientRect();
        return [x + width / 2, y + height / 2];
    };
"#;

/// What is done to a thing.
#[derive(Debug, Clone, Copy)]
enum Doing {
    Tap,
    /// By so many pixels, in steps.
    Drag(i32, i32),
    /// Taps it, so that it has the focus, and then presses this key.
    Key(&'static str),
}

/// Something that a person does on a screen.
#[derive(Debug, Clone, Copy)]
struct Deed {
    name: &'static str,
    doing: Doing,
    /// Which things can be meant, and how their label begins; each time the next of them.
    css: &'static str,
    words: &'static str,
}

const fn tap(name: &'static str, css: &'static str, words: &'static str) -> Deed {
    Deed { name, doing: Doing::Tap, css, words }
}

const fn drag(name: &'static str, css: &'static str, right: i32, down: i32) -> Deed {
    Deed { name, doing: Doing::Drag(right, down), css, words: "" }
}

const fn key(name: &'static str, key: &'static str, css: &'static str, words: &'static str) -> Deed {
    Deed { name, doing: Doing::Key(key), css, words }
}

/// A screen, the taps that lead to it, and what is done there again and again.
struct Place {
    name: &'static str,
    way: &'static [Deed],
    deeds: &'static [Deed],
}

const DOOR: &str = "nav button";

const PLACES: [Place; 8] = [
    Place {
        name: "Set-up",
        way: &[],
        deeds: &[
            tap("a size", ".size", ""),
            tap("a lens", ".lens", ""),
            drag("the floor plan dragged", "canvas.plan", 24, 30),
            drag("the floor plan dragged", "canvas.plan", -24, -30),
            tap("a chip's sheet opens", ".chip", ""),
            tap("it closes", "dialog[open] button", "Done"),
        ],
    },
    Place {
        name: "Story",
        way: &[tap("", DOOR, "Story"), tap("", "button", "Look at an invented one")],
        deeds: &[
            tap("a shot opens", ".shot-main", ""),
            tap("a second more", "dialog[open] button, .story button", "Planned: more"),
            tap("it closes", "dialog[open] button, .story button", "Done"),
            tap("an entry of the cut", ".strip-entry", ""),
            key("a letter of the title", "x", ".story-title", ""),
        ],
    },
    Place {
        name: "Light",
        way: &[tap("", DOOR, "Light")],
        deeds: &[
            tap("a setup", ".light-row", ""),
            drag("the hand of the day", ".light-bar", 60, 0),
            tap("the weather", ".light-weathers button", ""),
            tap("15 minutes later", "button", "15 minutes later"),
        ],
    },
    Place {
        name: "Day",
        way: &[tap("", DOOR, "Day")],
        deeds: &[
            tap("a setup", ".day-main", ""),
            tap("ten minutes late", "button", "+10 min"),
            tap("a setup moved", ".day-setup button[aria-label$=later]", ""),
            tap("as planned again", "button", "As planned again"),
        ],
    },
    Place {
        name: "On the set",
        way: &[tap("", DOOR, "Day"), tap("", "button", "On the set")],
        deeds: &[
            tap("the next setup", ".set button", "After"),
            tap("a tick", ".set-ready input", ""),
            tap("a take", ".set-bar button", "Only log"),
            tap("undone", "button", "Undo"),
            tap("the one before", ".set button", "Before"),
        ],
    },
    Place {
        name: "Learn",
        way: &[tap("", DOOR, "Learn")],
        deeds: &[
            key("a handle by a key", "ArrowRight", ".lesson input[type=range]", ""),
            drag("a handle dragged", ".lesson input[type=range]", 60, 0),
            tap("the next lesson", "button", "Next lesson"),
            tap("the one before", ".learn-which button", "Back"),
        ],
    },
    Place {
        name: "Kit",
        way: &[tap("", DOOR, "Kit")],
        deeds: &[
            tap("a part unfolds", ".kit summary", ""),
            tap("a field", ".kit input:not([type=file])", ""),
            key("a figure typed", "5", ".kit input[inputmode]", ""),
        ],
    },
    Place {
        name: "From screen to screen",
        way: &[],
        deeds: &[
            tap("to Story", DOOR, "Story"),
            tap("to Set-up", DOOR, "Set-up"),
            tap("to Light", DOOR, "Light"),
            tap("to Day", DOOR, "Day"),
            tap("to Kit", DOOR, "Kit"),
            tap("to Learn", DOOR, "Learn"),
        ],
    },
];

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let options = Options::parse();
    for screen in [Screen::PHONE, Screen::LAPTOP] {
        journey(screen, "interaction-speed", async |browser| {
            if options.work {
                let cdp = browser.driver().cdp();
                cdp.send_raw("Performance.enable", json!({ "timeDomain": "threadTicks" })).await?;
            } else {
                browser.slow_down(SLOWER).await?;
            }
            browser.script(WATCH).await?;
            // The later module comes two seconds after the page.
            tokio::time::sleep(Duration::from_secs(6)).await;
            for place in &PLACES {
                // The way to the film leads through Story.
                let is_asked = options.only.as_ref().is_none_or(|only| place.name == only);
                if is_asked || place.name == "Story" {
                    measure(browser, screen, place, &options).await?;
                }
            }
            Ok(())
        })
        .await?;
    }
    Ok(())
}

/// Does what is done on a screen until there are enough times, and tells them.
async fn measure(browser: &Browser, screen: Screen, place: &Place, options: &Options) -> Result<()> {
    for deed in place.way {
        timed(browser, screen, deed, 0).await?;
        tokio::time::sleep(REST * 12).await;
    }
    let mut times = Vec::new();
    let mut by_deed: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for turn in 0.. {
        if times.len() >= DEEDS {
            break;
        }
        for deed in place.deeds {
            let before = if options.work { worked_ms(browser).await? } else { 0.0 };
            let mut ms = timed(browser, screen, deed, turn).await?;
            if options.work {
                ms = worked_ms(browser).await? - before;
            }
            times.push(ms);
            by_deed.entry(deed.name).or_default().push(ms);
            tokio::time::sleep(REST).await;
        }
    }
    times.sort_by(f64::total_cmp);
    for (column, share) in [("p50", 0.5), ("p95", 0.95), ("worst", 1.0)] {
        tell("Interactions", place.name, &format!("{} {column}", screen.name), quantile(&times, share), "ms");
    }
    for (name, mut times) in by_deed {
        times.sort_by(f64::total_cmp);
        let row = format!("{}: {name}", place.name);
        for (column, share) in [("p50", 0.5), ("worst", 1.0)] {
            tell(
                "Interactions one by one",
                &row,
                &format!("{} {column}", screen.name),
                quantile(&times, share),
                "ms",
            );
        }
    }
    Ok(())
}

/// The longest that any event of a deed took, milliseconds.
async fn timed(browser: &Browser, screen: Screen, deed: &Deed, turn: usize) -> Result<f64> {
    let (x, y) = middle(browser, deed, turn).await?;
    browser.script("window.took.length = 0").await?;
    let hand = Hand { browser, screen };
    match deed.doing {
        Doing::Tap => hand.tap(x, y).await?,
        Doing::Drag(right, down) => hand.drag(x, y, f64::from(right), f64::from(down)).await?,
        Doing::Key(key) => {
            hand.tap(x, y).await?;
            tokio::time::sleep(REST).await;
            browser.script("window.took.length = 0").await?;
            hand.press(key).await?;
        }
    }
    // Until nothing more comes: what the last event caused is painted then.
    let mut last = Vec::new();
    for _ in 0..PATIENCE {
        tokio::time::sleep(REST / 2).await;
        let took: Vec<f64> = serde_json::from_value(browser.script("return window.took").await?)?;
        if !took.is_empty() && took.len() == last.len() {
            return Ok(took.into_iter().fold(0.0, f64::max));
        }
        last = took;
    }
    bail!("nothing was painted after {deed:?}")
}

/// How long the main thread's tasks have taken of its processor so far, milliseconds.
async fn worked_ms(browser: &Browser) -> Result<f64> {
    let metrics = browser.driver().cdp().send_raw("Performance.getMetrics", json!({})).await?;
    let found =
        metrics["metrics"].as_array().and_then(|all| all.iter().find(|one| one["name"] == "TaskDuration"));
    Ok(found.and_then(|one| one["value"].as_f64()).context("the browser tells no TaskDuration")? * 1000.0)
}

/// Where the thing is that a deed is done to, once it is there.
async fn middle(browser: &Browser, deed: &Deed, turn: usize) -> Result<(f64, f64)> {
    let ask = format!("return window.middleOf({}, {}, {turn})", json!(deed.css), json!(deed.words));
    for _ in 0..PATIENCE {
        if let Some([x, y]) = browser.script(&ask).await?.as_array().map(Vec::as_slice) {
            return Ok((x.as_f64().unwrap_or_default(), y.as_f64().unwrap_or_default()));
        }
        tokio::time::sleep(REST).await;
    }
    bail!("there is nothing for {deed:?}; the page says: {}", browser.text().await?)
}

/// A finger on a screen that is touched, or else a mouse.
struct Hand<'a> {
    browser: &'a Browser,
    screen: Screen,
}

impl Hand<'_> {
    async fn tap(&self, x: f64, y: f64) -> Result<()> {
        self.point("Start", "Pressed", x, y).await?;
        self.point("End", "Released", x, y).await
    }

    async fn drag(&self, x: f64, y: f64, right: f64, down: f64) -> Result<()> {
        self.point("Start", "Pressed", x, y).await?;
        for step in 1..=8 {
            let share = f64::from(step) / 8.0;
            self.point("Move", "Moved", x + right * share, y + down * share).await?;
        }
        self.point("End", "Released", x + right, y + down).await
    }

    async fn press(&self, key: &str) -> Result<()> {
        let text = if key.len() == 1 { key } else { "" };
        let code = if key == "ArrowRight" { 39 } else { 0 };
        for kind in ["keyDown", "keyUp"] {
            let mut event = json!({ "type": kind, "key": key, "windowsVirtualKeyCode": code });
            if kind == "keyDown" && !text.is_empty() {
                event["text"] = json!(text);
            }
            self.send("Input.dispatchKeyEvent", event).await?;
        }
        Ok(())
    }

    async fn point(&self, touch: &str, mouse: &str, x: f64, y: f64) -> Result<()> {
        if self.screen.touch {
            let points = if touch == "End" { json!([]) } else { json!([{ "x": x, "y": y }]) };
            self.send(
                "Input.dispatchTouchEvent",
                json!({ "type": format!("touch{touch}"), "touchPoints": points }),
            )
            .await
        } else {
            let buttons = i32::from(mouse != "Released");
            let event = json!({
                "type": format!("mouse{mouse}"), "x": x, "y": y, "button": "left", "buttons": buttons, "clickCount": 1,
            });
            self.send("Input.dispatchMouseEvent", event).await
        }
    }

    async fn send(&self, what: &str, event: Value) -> Result<()> {
        self.browser.driver().cdp().send_raw(what, event).await?;
        Ok(())
    }
}
