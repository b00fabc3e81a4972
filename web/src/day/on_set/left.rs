//! How much of its light a setup has left.

use film::{DayPlan, Daylights, ShootingDay, ShotId, clock as shown};
use language::say;
use leptos::prelude::Get as _;

use crate::day::clock::Clock;
use crate::day::hand::Hand;
use crate::day::words::span;

/// How much light there is left for a setup, in words; nothing where no light is known.
pub(super) fn told(hand: Hand, shot: ShotId, now: &Clock) -> Option<String> {
    let daylights = hand.shooting().daylights.get();
    hand.read(|_, day, plan| {
        let ends_min = ends_min(plan, &daylights, shot, planned_min(plan, shot))?;
        Some(words(ends_min, now.minute_on(day).map(f64::from), day))
    })
    .flatten()
}

/// When a setup is planned; where it has no place in the order, when the rest begins.
pub(super) fn planned_min(plan: &DayPlan, shot: ShotId) -> f64 {
    plan.placed(shot).map_or(plan.problem.call_min, |placed| placed.starts_min)
}

/// When its light ends: the light that it wants, else the light to see by, which in the north lasts beyond midnight.
fn ends_min(plan: &DayPlan, daylights: &Daylights, shot: ShotId, at_min: f64) -> Option<f64> {
    let setup = plan.setup_of(shot)?;
    if let Some(wanted) = &setup.wanted {
        return wanted.iter().find(|span| span.to_min >= at_min).map(|span| span.to_min);
    }
    let daylight = daylights.get(&setup.scene.facts.place?)?;
    daylight.light_ends_min(at_min)
}

fn words(ends_min: f64, now_min: Option<f64>, day: &ShootingDay) -> String {
    let until = say!("light until {}", shown(ends_min));
    let Some(now_min) = now_min else { return until };
    // Before the call nobody waits for the light yet.
    if now_min < f64::from(day.hours.from_min()) {
        return until;
    }
    match ends_min - now_min {
        left if left >= 0.5 => say!("{until}, {} left", span(left)),
        _ => say!("its light went at {}", shown(ends_min)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn light_that_is_left_is_counted_only_on_the_day_and_after_the_call() {
        let day = film::demo_film().days[0].clone();
        let from = f64::from(day.hours.from_min());
        assert_eq!(words(1120.0, None, &day), "light until 18:40");
        assert_eq!(words(1120.0, Some(from - 30.0), &day), "light until 18:40");
        assert_eq!(words(1120.0, Some(1050.0), &day), "light until 18:40, 1 h 10 min left");
        assert_eq!(words(1120.0, Some(1121.0), &day), "its light went at 18:40");
    }
}
