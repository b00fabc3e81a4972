//! The sheets, and the Story, Light, Day and Kit screens: a module of its own, loaded after the page has opened.

use wasm_bindgen::prelude::wasm_bindgen;

/// Nothing is shown until the page asks.
fn main() {
    page::watch_for_panics();
    page::begin_offline();
    page::come_back_to_it();
}

/// Speaks as the page does.
#[wasm_bindgen]
pub fn speak(tag: &str, words: &js_sys::Array, mark: char, hours: u8) {
    page::speak_so(tag, words, mark, hours);
}

/// Shows a room in `host` and says its number; `state` and what `told` is called with are the page's, as text; `left` is
/// called when a sheet has been closed.
#[wasm_bindgen]
pub fn open_room(
    room: &str,
    host: web_sys::HtmlElement,
    state: &str,
    told: js_sys::Function,
    left: js_sys::Function,
) -> u32 {
    page::open_room(room, host, state, told, left)
}

/// Tells a room what has changed on the page.
#[wasm_bindgen]
pub fn tell_room(number: u32, told: &str) {
    page::tell_room(number, told);
}

/// Takes a room away again.
#[wasm_bindgen]
pub fn close_room(number: u32) {
    page::close_room(number);
}

/// The pixels of a photo of a place, four bytes each, and its width; nothing if this device does not have it.
#[wasm_bindgen]
pub async fn photo_pixels(number: f64) -> wasm_bindgen::JsValue {
    page::photo_pixels(number).await
}
