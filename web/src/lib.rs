//! The page: Set-up and Kit, drawn on canvases, computed by the core in the same wasm module.
//!
//! One `session::Session` holds what the user wants; everything else on the screen is derived from it by memos.
//! The page is two modules made from this library: `web` opens with it, `kit` is loaded when somebody first goes to Kit,
//! so that nobody waits for forms before the first answer. `kit_door` is the door between the two, with both its sides.
#![expect(unreachable_pub, reason = "the component macro makes the props of private components public")]

mod app;
mod canvas;
mod download;
mod draw;
mod dressing;
mod kit;
mod kit_door;
mod pictures;
mod scene;
mod session;
mod setup;
mod storage;
mod widgets;

pub use kit_door::{close_kit, open_kit, set_kit_settings};

/// Opens the page in the document's body.
pub fn open_page() {
    leptos::mount::mount_to_body(app::App);
}
