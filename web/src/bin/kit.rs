//! The Kit screen as a module of its own, loaded when somebody first goes there.

use wasm_bindgen::prelude::wasm_bindgen;

/// Nothing happens until the page asks.
fn main() {}

/// Shows the Kit screen in `host`; `state` and what `changed` is called with are the page's, as text.
#[wasm_bindgen]
pub fn open_kit(host: web_sys::HtmlElement, state: &str, changed: js_sys::Function) {
    page::open_kit(host, state, changed);
}

/// Takes on the page's settings while the screen is open.
#[wasm_bindgen]
pub fn set_kit_settings(settings: &str) {
    page::set_kit_settings(settings);
}

/// Takes the Kit screen away again.
#[wasm_bindgen]
pub fn close_kit() {
    page::close_kit();
}
