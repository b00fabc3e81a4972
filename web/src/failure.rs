//! When the program stops: what was done is written in the last moment, and the page says what happened.
//!
//! A panic ends its module at once, and whatever is called of it afterwards finds it half-way. So before the end everybody
//! is told (`pagehide`, which writes what is not kept, and `panicked`, for those who can do more), and from then on that
//! module writes nothing. What shows the panel is a script, because no module may be able to: its words are in
//! `index.html`. A trap that is no panic (no memory left, no end to calls) reaches the script alone.

mod coming_back;

pub use coming_back::come_back_to_it;

use std::panic::PanicHookInfo;
use std::sync::atomic::{AtomicBool, Ordering};

use wasm_bindgen::prelude::*;

// Where somebody is stays with the entry of the tab's history, which browsers that keep nothing have too.
#[wasm_bindgen(inline_js = r#"
const near = (what) => [...document.querySelectorAll(`main ${what}[aria-label]`)]
  .findLast((node) => node.offsetHeight && node.getBoundingClientRect().top < innerHeight / 2)?.ariaLabel;
const door = () => [...document.querySelectorAll(".door")].findIndex((one) => one.ariaCurrent);
const text = (what) => document.querySelector(what)?.textContent;
let said, pressed;
addEventListener("click", ({ target }) => {
  if (!target.closest("dialog")) pressed = target.closest("button");
}, true);
// What opens the sheet that is open, and does nothing else: what adds something opens its sheet too.
const opener = () => {
  const sheet = document.querySelector("dialog[open]");
  return sheet && (pressed?.ariaHasPopup ? pressed : sheet.parentNode.querySelector(".chosen [aria-haspopup]"));
};
self.panicked = (line) => {
  said = line;
  for (const name of ["pagehide", "panicked"]) dispatchEvent(new Event(name));
};
const fail = (event) => {
  const error = event.error ?? event.reason;
  if (!/RuntimeError|RangeError|InternalError/.test(error?.name)) return;
  event.preventDefault();
  console.warn(error);
  const panel = document.getElementById("failed");
  if (panel.open) return;
  const opens = opener();
  const seen = opens
    ? [opens.closest("main section[aria-label]")?.ariaLabel, null, opens.ariaLabel ?? opens.textContent]
    : [near("section"), near("li")];
  // From where it fails again it is left.
  const place = history.state ? null : [door(), text(".day-views [aria-pressed=true]"), ...seen];
  panel.querySelector("button").onclick = () => {
    history.replaceState(place, "");
    location.reload();
  };
  panel.oncancel = (event) => event.preventDefault();
  panel.querySelector("textarea").value = said ?? `${error.message} ${/\w+\.wasm\S*/.exec(error.stack)}`;
  panel.querySelector("[hidden]").hidden = said;
  panel.showModal();
};
addEventListener("error", fail);
addEventListener("unhandledrejection", fail);
export function come_back() {
  document.querySelectorAll(".door")[history.state?.[0]]?.click();
}
export function open_anew() {
  history.replaceState([door()], "");
  location.reload();
}
"#)]
extern "C" {
    /// Opens the screen that was shown when the page failed.
    pub(crate) fn come_back();
    /// Opens the page anew on the screen that is shown.
    pub(crate) fn open_anew();
}

#[wasm_bindgen]
extern "C" {
    /// Set by the script above, for every module of the page.
    fn panicked(line: &str);
}

static HAS_FAILED: AtomicBool = AtomicBool::new(false);

/// Has everything written that is not kept before a panic ends this module.
pub fn watch_for_panics() {
    std::panic::set_hook(Box::new(|info: &PanicHookInfo<'_>| {
        let (file, line) = info.location().map_or(("", 0), |place| (place.file(), place.line()));
        panicked(&technical_line(info.payload_as_str().unwrap_or_default(), file, line));
        HAS_FAILED.store(true, Ordering::Relaxed);
    }));
}

/// Whether this module has panicked, so that what it knows may be half of something.
pub(crate) fn has_failed() -> bool {
    HAS_FAILED.load(Ordering::Relaxed)
}

/// What tells whoever mends it where to look, and nothing of what anybody wrote: messages quote that behind marks.
fn technical_line(message: &str, file: &str, line: u32) -> String {
    let message = message.split(['`', '"', '\n']).next().unwrap_or_default();
    // Where the builder keeps other people's crates is nobody's business; a page for others is built without it.
    let below = if cfg!(debug_assertions) { file.split_once("/registry/src/") } else { None };
    let file = below.map_or(file, |(_, below)| below);
    [message.trim_end(), " (", file, ":", &line.to_string(), ")"].concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_says_what_and_where() {
        let said =
            technical_line("index out of bounds: the len is 3 but the index is 7", "web/src/scene.rs", 12);
        assert_eq!(said, "index out of bounds: the len is 3 but the index is 7 (web/src/scene.rs:12)");
    }

    #[test]
    fn nobodys_words_and_folders_are_in_the_line() {
        let message = "end byte index 3 is not a char boundary; it is inside 'é' of `Zoé leaves`";
        let said = technical_line(message, "/home/zoe/.cargo/registry/src/index-1/leptos-0.8/src/lib.rs", 4);
        assert!(!said.contains("leaves") && !said.contains("zoe"), "{said}");
        assert!(said.ends_with("(index-1/leptos-0.8/src/lib.rs:4)"), "{said}");
        let said = technical_line("called `Result::unwrap()` on an `Err` value: \"Zoé\"", "a.rs", 1);
        assert_eq!(said, "called (a.rs:1)");
    }
}
