//! What the checks across crates share. For journeys through the page: a browser that shows it on a phone or a laptop, and
//! finds things as people find them, by role and label.

#[cfg(feature = "driver")]
mod accessibility;
#[cfg(feature = "driver")]
mod browser;
#[cfg(feature = "driver")]
mod chromium;
#[cfg(feature = "driver")]
mod figure;
#[cfg(feature = "driver")]
mod journey;
mod json;
#[cfg(feature = "driver")]
mod main_thread;
#[cfg(feature = "driver")]
mod page_server;
#[cfg(feature = "driver")]
mod visit;

#[cfg(feature = "driver")]
pub use browser::Browser;
#[cfg(feature = "driver")]
pub use chromium::Screen;
#[cfg(feature = "driver")]
pub use figure::{quantile, tell};
#[cfg(feature = "driver")]
pub use journey::{grainy_journey, journey};
pub use json::json_texts;
#[cfg(feature = "driver")]
pub use main_thread::{MainTask, main_tasks, recorded};
#[cfg(feature = "driver")]
pub use page_server::{compress_files, copy_page, list_files};
#[cfg(feature = "driver")]
pub use visit::{Slowness, first_visit, visit};
