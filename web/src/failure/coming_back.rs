//! After a failure and a reload: back to where somebody was on the screen that the page has opened again.

use std::time::Duration;

use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::spawn_local;
use web_sys::{Element, HtmlElement};

use crate::waiting::wait;

/// How often to look, and how many times: chosen as long as a film on an old phone may take to be there.
const BETWEEN_LOOKS: Duration = Duration::from_millis(100);
const LOOKS: u32 = 60;

/// Finds the view, the scene and the shot that were seen when the page failed, if it did, and goes there.
pub fn come_back_to_it() {
    let Some(place) = place_left() else { return };
    let part = move |at: u32| place.get(at).as_string().filter(|words| !words.is_empty());
    spawn_local(async move {
        if let Some(view) = part(1) {
            press(&view).await;
        }
        for (at, what) in [(2, "section"), (3, "li")] {
            let Some(label) = part(at) else { continue };
            if let Some(found) = find(&format!("main {what}[aria-label=\"{}\"]", escaped(&label))).await {
                found.scroll_into_view();
            }
        }
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

/// Presses the button of the day's view of that name.
async fn press(view: &str) {
    for at in 1..=3 {
        let button = find(&format!(".day-views button:nth-child({at})")).await;
        let button = button.filter(|button| button.text_content().is_some_and(|name| name == view));
        if let Some(button) = button.and_then(|button| button.dyn_into::<HtmlElement>().ok()) {
            return button.click();
        }
    }
}

/// What a selector finds, once it is there.
async fn find(selector: &str) -> Option<Element> {
    for _ in 0..LOOKS {
        if let Some(found) = document().query_selector(selector).ok().flatten() {
            return Some(found);
        }
        wait(BETWEEN_LOOKS).await;
    }
    None
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
        assert_eq!(escaped(r#"Shot 1: "a\b""#), r#"Shot 1: \"a\\b\""#);
    }
}
