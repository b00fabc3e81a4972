//! Draws the page's pictures in a worker: a wasm module of its own, so that drawing never keeps the page waiting.
//!
//! The page says what to draw (`requests::DrawingRequest`), and gets pixels back as they become good
//! (`requests::DrawingAnswer`). A worker draws in slices so short that it hears at once when the page changes its mind.

mod drawing;
mod easel;
mod post;

use wasm_bindgen::prelude::wasm_bindgen;

/// Starts to listen to the page; called once, when the module is there.
#[wasm_bindgen]
pub fn start() {
    post::open();
}
