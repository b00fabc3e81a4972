//! What the page speaks, and how it writes numbers: settled before anything is shown, and a constant from then on.
//!
//! English stands in the code; another language's texts are a file that is fetched by those who want it. Each module of the
//! page has a memory of its own, so what the page has settled is handed on to the others as they are loaded.

use std::cell::RefCell;

use language::{ClockFace, DecimalMark, Spoken, Tongue};
use serde::{Deserialize, Serialize};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::session::Settings;

// A decimal mark belongs to a language, the clock and the foot to where somebody is.
#[wasm_bindgen(inline_js = r#"
const is_known = (tag) => {
  try {
    return Intl.getCanonicalLocales(tag).length;
  } catch {
    return false;
  }
};
// Not every browser says one, and not every one that is said is a language's.
export const tongues = () => [...(navigator.languages ?? []), navigator.language, "en"].filter((tag) => tag && is_known(tag));
export const mark = (tag) => Intl.NumberFormat(tongues().find((one) => one.startsWith(tag)) ?? tag).format(0.5)[1];
export const hours = () => (Intl.DateTimeFormat(tongues()[0], { hour: "numeric" }).resolvedOptions().hour12 ? 12 : 24);
export const has_feet = () => ["US", "LR", "MM"].includes(new Intl.Locale(tongues()[0]).region);
export const write_hours = (hours) => (document.documentElement.dataset.hours = hours);
export async function words_of(tag) {
  const answer = await fetch(new URL(`words/${tag}.json`, document.baseURI));
  const words = await answer.json();
  document.documentElement.lang = tag;
  for (const node of document.querySelectorAll("[data-said]")) node.textContent = words[node.textContent];
  return Object.entries(words).flat();
}
"#)]
extern "C" {
    fn tongues() -> Vec<String>;
    fn mark(tag: &str) -> char;
    fn hours() -> u8;
    fn has_feet() -> bool;
    /// For style sheets, as a time with its half of the day is wider.
    fn write_hours(hours: u8);
    #[wasm_bindgen(catch)]
    async fn words_of(tag: &str) -> Result<JsValue, JsValue>;
}

/// What somebody wants to hear and read; as the browser has it where they did not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Wish {
    pub(crate) tongue: Option<Tongue>,
    pub(crate) mark: Option<DecimalMark>,
    pub(crate) face: Option<ClockFace>,
}

thread_local! {
    /// What was settled, as other modules take it.
    static SETTLED: RefCell<JsValue> = const { RefCell::new(JsValue::UNDEFINED) };
}

/// Settles what is spoken, and then goes on; at once where nothing has to be fetched for it.
pub(crate) fn settle(then: impl FnOnce() + 'static) {
    let wish = Settings::as_left().wish;
    let tongue = wish.tongue.unwrap_or_else(tongue_of_browser);
    if tongue == Tongue::English {
        speak(wish, tongue, &js_sys::Array::new());
        return then();
    }
    spawn_local(async move {
        let words = words_of(tongue.tag()).await.map(JsCast::unchecked_into);
        match words {
            Ok(words) => speak(wish, tongue, &words),
            Err(error) => {
                leptos::logging::warn!("the words could not be fetched: {error:?}");
                speak(wish, Tongue::English, &js_sys::Array::new());
            }
        }
        then();
    });
}

/// What the page has settled, as the arguments of another module's `speak`.
pub(crate) fn settled() -> JsValue {
    SETTLED.with_borrow(Clone::clone)
}

/// Whether distances are in feet where the browser's user lives.
pub(crate) fn feet_are_usual() -> bool {
    cfg!(target_arch = "wasm32") && has_feet()
}

fn speak(wish: Wish, tongue: Tongue, words: &js_sys::Array) {
    let mark = wish.mark.map_or_else(|| mark(tongue.tag()), DecimalMark::sign);
    let hours = wish.face.map_or_else(hours, ClockFace::hours);
    write_hours(hours);
    speak_so(tongue.tag(), words, mark, hours);
}

/// Speaks from now on as another module of the page has settled it.
pub fn speak_so(tag: &str, words: &js_sys::Array, mark: char, hours: u8) {
    let sign = js_sys::JsString::from(mark.to_string());
    SETTLED.set(js_sys::Array::of4(&tag.into(), words, &sign, &hours.into()).into());
    let words = words.iter().filter_map(|word| word.as_string()).collect();
    language::speak(Spoken::handed_on(tag, words, mark, hours));
}

/// The first language that the browser's user reads and the program speaks.
fn tongue_of_browser() -> Tongue {
    tongues().iter().find_map(|tag| Tongue::of(tag)).unwrap_or_default()
}
