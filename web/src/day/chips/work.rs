//! How long the work takes: rehearsal, takes, and every change between setups, each with its usual value.

use film::WorkTimes;
use language::{Number, key, say};
use leptos::prelude::*;

use crate::day::explanations::CHANGES;
use crate::day::hand::Hand;
use crate::widgets::{NumberField, explained, live, plain, when};

/// One of the times.
#[derive(Clone, Copy)]
struct Time {
    name: &'static str,
    unit: &'static str,
    range: (f64, f64),
    read: fn(&mut WorkTimes) -> &mut f64,
}

/// Ten hours, as in the film's file: what takes longer is a day of its own.
const LONGEST_MIN: f64 = 600.0;

const fn minutes(name: &'static str, read: fn(&mut WorkTimes) -> &mut f64) -> Time {
    Time { name, unit: "min", range: (0.0, LONGEST_MIN), read }
}

/// What of them is counted and not timed.
const TAKES: &str = key!("takes");

const TIMES: [Time; 12] = [
    minutes(key!("Rehearsal"), |work| &mut work.rehearsal_min),
    Time { name: key!("Takes"), unit: TAKES, range: (1.0, 100.0), read: |work| &mut work.takes },
    minutes(key!("Between two takes"), |work| &mut work.reset_min),
    minutes(key!("Setting up first"), |work| &mut work.changes.setting_up_min),
    minutes(key!("Another place"), |work| &mut work.changes.place_min),
    minutes(key!("Another scene"), |work| &mut work.changes.scene_min),
    minutes(key!("Turning round"), |work| &mut work.changes.turn_min),
    minutes(key!("Another spot"), |work| &mut work.changes.spot_min),
    minutes(key!("Another lens"), |work| &mut work.changes.lens_min),
    minutes(key!("The adapter"), |work| &mut work.changes.adapter_min),
    minutes(key!("Filters"), |work| &mut work.changes.filters_min),
    minutes(key!("The gimbal"), |work| &mut work.changes.gimbal_min),
];

impl Time {
    fn of(self, mut work: WorkTimes) -> f64 {
        *(self.read)(&mut work)
    }

    fn usual(self) -> f64 {
        self.of(WorkTimes::USUAL)
    }
}

/// All of them.
#[component]
pub(super) fn Work(hand: Hand) -> impl IntoView {
    let is_usual = move || hand.of_day(|day| day.work == WorkTimes::USUAL).unwrap_or(true);
    view! {
        <p class="quiet">{say!("A shot that says in Story how long it takes on the set takes so long.")}</p>
        <div>{explained(say!("How changes are counted"), &CHANGES)}</div>
        <div class="day-work">{TIMES.map(|time| row(hand, time)).collect_view()}</div>
        {when(move || !is_usual(), move || {
            let reset = move |_| hand.change(say!("Take the usual times"), |day| day.work = WorkTimes::USUAL);
            view! { <p><button type="button" on:click=reset>{say!("All as usual")}</button></p> }.into_any()
        })}
    }
}

fn row(hand: Hand, time: Time) -> impl IntoView {
    let value = Signal::derive(move || hand.of_day(|day| time.of(day.work)));
    let name = language::text(time.name);
    let set = move |number: f64| {
        hand.change(&say!("Change a time: {name}"), |day| *(time.read)(&mut day.work) = number);
    };
    // An empty field asks for the usual.
    let typed = move |number: Option<f64>| set(number.unwrap_or_else(|| time.usual()));
    let label = say!("{name}, usually {}", Number(plain(time.usual())));
    let is_own = move || value.get().is_some_and(|value| (value - time.usual()).abs() > 1e-9);
    view! {
        <div class="day-work-row">
            <NumberField label unit=language::text(time.unit) range=time.range whole=time.unit == TAKES value set=typed />
            {when(is_own, move || view! {
                <button
                    type="button"
                    aria-label=live(move || say!("{name} as usual"))
                    on:click=move |_| set(time.usual())
                >
                    {say!("As usual")}
                </button>
            }.into_any())}
        </div>
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_time_is_another_part_of_the_work_and_its_usual_value_is_allowed() {
        let mut work = WorkTimes::USUAL;
        for (at, time) in (1_u8..).zip(TIMES) {
            assert!((time.range.0..=time.range.1).contains(&time.usual()), "{}", time.name);
            *(time.read)(&mut work) = 1000.0 + f64::from(at);
        }
        let seen: BTreeSet<u64> = TIMES.iter().map(|time| time.of(work).to_bits()).collect();
        assert_eq!(seen.len(), TIMES.len());
    }
}
