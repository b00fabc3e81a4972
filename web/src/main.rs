//! The page: Set-up and Kit, drawn on canvases, computed by the core in the same wasm module.
//!
//! One [`session::Session`] holds what the user wants; everything else on the screen is derived from it by memos.
#![expect(unreachable_pub, reason = "the component macro makes the props of private components public")]

mod app;
mod canvas;
mod draw;
mod kit;
mod scene;
mod session;
mod setup;
mod storage;
mod widgets;

fn main() {
    leptos::mount::mount_to_body(app::App);
}
