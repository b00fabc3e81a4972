//! The device's clock, for what depends on how late it is.

use std::time::Duration;

use leptos::leptos_dom::helpers::set_interval_with_handle;
use leptos::prelude::*;

/// How often the clock is looked at: chosen, as it shows minutes.
const LOOKED_AT_EVERY: Duration = Duration::from_secs(10);

/// A day and a minute of it, as the device's clock shows them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Clock {
    /// As a film's file writes dates.
    pub(super) date: String,
    pub(super) minute: f64,
}

impl Clock {
    /// What it shows now.
    pub(super) fn now() -> Self {
        Self::at(&js_sys::Date::new_0())
    }

    /// What it shows at a moment.
    pub(super) fn at(moment: &js_sys::Date) -> Self {
        let date =
            format!("{:04}-{:02}-{:02}", moment.get_full_year(), moment.get_month() + 1, moment.get_date());
        Self { date, minute: f64::from(moment.get_hours()) * 60.0 + f64::from(moment.get_minutes()) }
    }
}

/// The device's clock, to the minute, as long as whoever asks is shown.
pub(super) fn clock() -> RwSignal<Clock> {
    let now = RwSignal::new(Clock::now());
    let look = move || {
        let seen = Clock::now();
        if now.try_get_untracked().is_some_and(|before| before != seen) {
            now.set(seen);
        }
    };
    // Without a timer it shows when the screen was opened.
    if let Ok(timer) = set_interval_with_handle(look, LOOKED_AT_EVERY) {
        on_cleanup(move || timer.clear());
    }
    now
}
