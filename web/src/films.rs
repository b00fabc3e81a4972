//! Films: edited through commands, undone and done again, and kept in the browser.
//!
//! ```text
//! Desk ──► History (film, steps, cursor) ──► Keeper (what is not kept yet) ──► Store (IndexedDB, memory)
//! ```
//! All of it is part of the later module and outlives its rooms.

#[cfg(test)]
#[cfg(target_arch = "wasm32")]
mod browser_tests;
#[cfg(test)]
#[cfg(not(target_arch = "wasm32"))]
mod crash_tests;
mod desk;
mod film_kept;
mod history;
mod indexed_db;
mod keeper;
mod kept;
mod lock;
#[cfg(test)]
#[cfg(not(target_arch = "wasm32"))]
mod memory;
mod open_film;
mod opening;
#[cfg(test)]
mod stand_in;
mod store;

pub(crate) use desk::{Desk, FilmCard, FilmId};
pub(crate) use open_film::Saving;
