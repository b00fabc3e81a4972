//! The hours that the bar shows, and where on it a minute is.

use film::{DaySpan, ShootingDay};

/// The hours from one end of the bar to the other, in minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hours {
    pub(super) from_min: f64,
    pub(super) to_min: f64,
}

/// An hour, and a day, in minutes.
const HOUR_MIN: f64 = 60.0;
const DAY_MIN: f64 = 24.0 * HOUR_MIN;
/// The hand goes by so many minutes: chosen, as a finger's breadth is more on a phone.
pub(super) const STEP_MIN: f64 = 5.0;
/// Words for hours stand no nearer to each other than this, units.
const HOUR_WORDS_PX: f64 = 44.0;

impl Hours {
    /// From an hour before the light or the call comes to an hour after light and wrap are over; the whole day where no light
    /// comes. `light` is when the day has light to see by, in order; none while that is not known. Past midnight it goes on with
    /// the work alone.
    pub(super) fn of(day: &ShootingDay, light: Option<&[DaySpan]>) -> Self {
        let (call, wrap) = (f64::from(day.hours.from_min()), f64::from(day.hours.to_min()));
        let over = wrap.max(DAY_MIN);
        let (comes, goes) = light.map_or((call, wrap), |spans| {
            let comes = spans.first().map_or(0.0, |first| first.from_min);
            let last = spans.iter().rfind(|span| span.from_min < over);
            (comes, last.map_or(DAY_MIN, |last| last.to_min.min(over)))
        });
        let from = ((call.min(comes) - HOUR_MIN) / HOUR_MIN).floor() * HOUR_MIN;
        let to = ((wrap.max(goes) + HOUR_MIN) / HOUR_MIN).ceil() * HOUR_MIN;
        let latest = if wrap > DAY_MIN { 2.0 * DAY_MIN } else { DAY_MIN };
        Self { from_min: from.max(0.0), to_min: to.min(latest) }
    }

    /// Where a minute is on a bar of that width.
    pub(super) fn x(self, minute: f64, width: f64) -> f64 {
        (minute - self.from_min) / self.length_min() * width
    }

    /// The minute under a point of the bar, on a step of the hand.
    pub(super) fn minute(self, x: f64, width: f64) -> f64 {
        let minute = self.from_min + x / width.max(1.0) * self.length_min();
        self.held((minute / STEP_MIN).round() * STEP_MIN)
    }

    /// The nearest minute that the bar shows.
    pub(super) fn held(self, minute: f64) -> f64 {
        minute.clamp(self.from_min, self.to_min)
    }

    /// Where the hand is after a key; none for keys that do not move it.
    pub(super) fn after_key(self, key: &str, minute: f64) -> Option<f64> {
        let to = match key {
            "ArrowLeft" | "ArrowDown" => minute - STEP_MIN,
            "ArrowRight" | "ArrowUp" => minute + STEP_MIN,
            "PageDown" => minute - HOUR_MIN,
            "PageUp" => minute + HOUR_MIN,
            "Home" => self.from_min,
            "End" => self.to_min,
            _ => return None,
        };
        Some(self.held(to))
    }

    /// The full hours on the bar, in minutes.
    pub(super) fn full_hours(self) -> impl Iterator<Item = f64> {
        let mut at = (self.from_min / HOUR_MIN).ceil() * HOUR_MIN;
        std::iter::from_fn(move || {
            let hour = at;
            at += HOUR_MIN;
            (hour <= self.to_min).then_some(hour)
        })
    }

    /// Whether an hour's words have room on a bar of that width.
    pub(super) fn is_told(self, hour: f64, width: f64) -> bool {
        let hour_px = HOUR_MIN / self.length_min() * width;
        let each = [1.0, 2.0, 3.0, 4.0, 6.0]
            .into_iter()
            .find(|each| each * hour_px >= HOUR_WORDS_PX)
            .unwrap_or(12.0);
        (hour / HOUR_MIN) % each < 0.5
    }

    fn length_min(self) -> f64 {
        (self.to_min - self.from_min).max(1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::DayId;

    fn day() -> ShootingDay {
        // Nine to five.
        ShootingDay::usual(DayId::new(1).expect("small"))
    }

    fn ends(light: Option<&[DaySpan]>) -> (f64, f64) {
        let hours = Hours::of(&day(), light);
        (hours.from_min, hours.to_min)
    }

    #[test]
    fn a_bar_reaches_an_hour_beyond_light_and_work() {
        assert_eq!(ends(None), (480.0, 1080.0));
        let light = |from_min, to_min| DaySpan { from_min, to_min };
        assert_eq!(ends(Some(&[light(285.0, 1345.0)])), (180.0, 1440.0));
        let beyond_midnight = [light(0.0, 42.0), light(170.0, 1440.0)];
        assert_eq!(ends(Some(&beyond_midnight)), (0.0, 1440.0));
        assert_eq!(ends(Some(&[])), (0.0, 1440.0), "no light comes");
    }

    #[test]
    fn a_bar_goes_on_past_midnight_with_the_work() {
        let mut night = day();
        night.hours = film::Hours::until(19 * 60, 3 * 60).expect("hours");
        let both = [(385.0, 1200.0), (1825.0, 2640.0)];
        let both = both.map(|(from_min, to_min)| DaySpan { from_min, to_min });
        let hours = Hours::of(&night, Some(&both));
        assert_eq!((hours.from_min, hours.to_min), (300.0, 1680.0));
    }

    #[test]
    fn the_hand_goes_in_steps_and_stays_on_the_bar() {
        let hours = Hours::of(&day(), None);
        assert!((hours.minute(hours.x(601.0, 358.0), 358.0) - 600.0).abs() < 1e-9, "a step");
        assert!((hours.minute(-40.0, 358.0) - 480.0).abs() < 1e-9, "its end");
        assert_eq!(hours.after_key("ArrowRight", 600.0), Some(605.0));
        assert_eq!(hours.after_key("PageDown", 500.0), Some(480.0));
        assert_eq!(hours.after_key("Tab", 600.0), None);
    }

    #[test]
    fn hours_are_told_where_they_have_room() {
        let whole = Hours { from_min: 0.0, to_min: 1440.0 };
        let told = |width: f64| whole.full_hours().filter(|hour| whole.is_told(*hour, width)).count();
        assert_eq!((told(358.0), told(1200.0)), (9, 25));
    }
}
