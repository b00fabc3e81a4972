//! The device's clock, for what depends on how late it is.

use std::time::Duration;

use film::ShootingDay;
use leptos::leptos_dom::helpers::set_interval_with_handle;
use leptos::prelude::*;

use super::doing::whole_minute;
use crate::shooting::DAY_MIN;

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

    /// Which minute of a day of shooting it shows: past midnight that of the night, unless it is still the day's own date.
    pub(super) fn minute_of(&self, day: &ShootingDay) -> u16 {
        let shown = whole_minute(self.minute);
        let is_its_date = day.date.is_some_and(|date| date.to_string() == self.date);
        if is_its_date { shown } else { day.hours.minute_at(shown) }
    }

    /// The same while it is the day's date, or the night after it; else none.
    pub(super) fn minute_on(&self, day: &ShootingDay) -> Option<u16> {
        let minute = self.minute_of(day);
        let date = if minute < DAY_MIN { day.date? } else { day.date?.tomorrow().ok()? };
        (date.to_string() == self.date).then_some(minute)
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

#[cfg(test)]
mod tests {
    use film::{DayId, Hours};

    use super::*;

    fn on(date: &str, minute: f64) -> Clock {
        Clock { date: date.to_owned(), minute }
    }

    #[test]
    fn half_past_midnight_is_of_the_night_that_is_shot() {
        let mut night = ShootingDay::usual(DayId::new(1).expect("small"));
        night.hours = Hours::until(19 * 60, 3 * 60).expect("hours");
        assert_eq!(on("2026-09-13", 30.0).minute_of(&night), 1470, "without a date");
        assert_eq!(on("2026-09-13", 30.0).minute_on(&night), None, "without a date");
        night.date = "2026-09-12".parse().ok();
        let minute_on = |date, minute| on(date, minute).minute_on(&night);
        assert_eq!(minute_on("2026-09-12", 1230.0), Some(1230));
        assert_eq!(minute_on("2026-09-13", 30.0), Some(1470));
        assert_eq!(minute_on("2026-09-12", 30.0), Some(30), "long before the call");
        assert_eq!(minute_on("2026-09-13", 1200.0), None, "the evening after");
    }
}
