//! What the checks across crates share. For journeys through the page: a browser that shows it on a phone or a laptop, and
//! finds things as people find them, by role and label.

#[cfg(feature = "browser")]
mod accessibility;
#[cfg(feature = "browser")]
mod browser;
#[cfg(feature = "browser")]
mod chromium;
#[cfg(feature = "browser")]
mod figure;
#[cfg(feature = "browser")]
mod journey;
mod json;
#[cfg(feature = "browser")]
mod main_thread;
#[cfg(feature = "browser")]
mod page_server;
#[cfg(feature = "browser")]
mod visit;

#[cfg(feature = "browser")]
pub use browser::Browser;
#[cfg(feature = "browser")]
pub use chromium::Screen;
#[cfg(feature = "browser")]
pub use figure::{quantile, tell};
#[cfg(feature = "browser")]
pub use journey::{grainy_journey, journey};
pub use json::json_texts;
#[cfg(feature = "browser")]
pub use main_thread::{MainTask, main_tasks, recorded};
#[cfg(feature = "browser")]
pub use page_server::{compress_files, copy_page, list_files};
#[cfg(feature = "browser")]
pub use visit::{Slowness, first_visit, visit};
