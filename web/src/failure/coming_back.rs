//! After a failure and a reload: back to where somebody was on the screen that the page has opened again.

use std::time::Duration;

use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::spawn_local;
use web_sys::HtmlElement;

use crate::waiting::wait;

#[wasm_bindgen(inline_js = r#"
export const button_named = (within, name) =>
  [...document.querySelectorAll(`${within} button`)].find((one) => (one.ariaLabel ?? one.textContent) === name);
"#)]
extern "C" {
    /// The button of that name in what a selector finds, called as whoever put the place down called it.
    fn button_named(within: &str, name: &str) -> Option<HtmlElement>;
}

/// How often to look, and how many times: chosen as long as a film on an old phone may take to be there.
const BETWEEN_LOOKS: Duration = Duration::from_millis(100);
const LOOKS: u32 = 60;
/// What fails again when it is shown again has done so by then: chosen as many frames of an old phone.
const TO_FAIL_AGAIN: Duration = Duration::from_secs(1);

/// Finds the view, the scene and the shot that were seen when the page failed, or the sheet that was open, and goes there.
pub fn come_back_to_it() {
    let Some(place) = place_left() else { return };
    let part = move |at: u32| place.get(at).as_string().filter(|words| !words.is_empty());
    spawn_local(async move {
        if let Some(view) = part(1) {
            press(".day-views", &view).await;
        }
        for (at, what) in [(2, "section"), (3, "li")] {
            let Some(label) = part(at) else { continue };
            let selector = labelled(what, &label);
            if let Some(found) = find(|| document().query_selector(&selector).ok().flatten()).await {
                found.scroll_into_view();
            }
        }
        if let Some(opener) = part(4) {
            let within = part(2).map_or_else(|| "body".to_owned(), |label| labelled("section", &label));
            press(&within, &opener).await;
        }
        wait(TO_FAIL_AGAIN).await;
        // From here on it is a page like any other.
        let forgotten = window().history().and_then(|history| history.replace_state(&JsValue::NULL, ""));
        if let Err(error) = forgotten {
            leptos::logging::warn!("the place is not forgotten: {error:?}");
        }
    });
}

/// Where somebody was, as the script has put it down.
fn place_left() -> Option<js_sys::Array> {
    window().history().ok()?.state().ok()?.dyn_into().ok()
}

/// Presses the button of that name in what a selector finds.
async fn press(within: &str, name: &str) {
    if let Some(button) = find(|| button_named(within, name)).await {
        button.scroll_into_view();
        button.click();
    }
}

/// What is looked for, once it is there.
async fn find<Found>(look: impl Fn() -> Option<Found>) -> Option<Found> {
    for _ in 0..LOOKS {
        if let Some(found) = look() {
            return Some(found);
        }
        wait(BETWEEN_LOOKS).await;
    }
    None
}

/// The selector of an element of that label in the page's main part.
fn labelled(element: &str, label: &str) -> String {
    format!("main {element}[aria-label=\"{}\"]", escaped(label))
}

/// A text within the quotes of a selector.
fn escaped(label: &str) -> String {
    label.replace('\\', "\\\\").replace('"', "\\\"")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_stays_within_its_quotes() {
        let selector = labelled("li", r#"Shot 1: "a\b""#);
        assert_eq!(selector, r#"main li[aria-label="Shot 1: \"a\\b\""]"#);
    }
}
