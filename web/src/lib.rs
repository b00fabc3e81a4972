//! The page: Set-up and Kit, drawn on canvases, computed by the core in the same wasm module.
//!
//! One `session::Session` holds what the user wants; everything else on the screen is derived from it by memos.
//! The page is two modules made from this library: `web` opens with it, `later` holds what opens on a tap and the Kit
//! screen, so that nobody waits for forms before the first answer. `later` is also the door between the two.
#![expect(unreachable_pub, reason = "the component macro makes the props of private components public")]

mod address;
mod app;
mod behind;
mod blobs;
mod canvas;
mod continuity;
mod day;
mod download;
mod draw;
mod dressing;
mod exposure_text;
mod failure;
mod films;
mod handing;
mod json;
mod kit;
mod lasting;
mod later;
mod learn;
mod light;
mod marks;
mod menu;
mod offline;
mod part;
mod pictures;
mod pointing;
mod presets;
mod recce;
mod scene;
mod session;
mod setup;
mod shooting;
mod speech;
mod storage;
mod story;
mod taking_in;
mod turns;
mod waiting;
mod widgets;

pub use failure::{come_back_to_it, watch_for_panics};
pub use later::{close_room, open_room, tell_room};
pub use learn::open_frame;
pub use offline::begin_offline;
pub use recce::photo_pixels;
pub use speech::speak_so;

/// Opens the page in the document's body.
pub fn open_page() {
    watch_for_panics();
    speech::settle(|| {
        leptos::mount::mount_to_body(app::App);
        failure::come_back();
    });
}
