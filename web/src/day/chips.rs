//! What is said of a day, as chips: each opens what can be changed of it, in a sheet or beside the order.

mod breaks;
mod shots;
mod weather;
mod which_day;
mod work;

use std::collections::BTreeSet;

use film::{DayPlan, Film, PersonId, ShootingDay};
use language::{Number, say};
use leptos::html;
use leptos::prelude::*;

use super::hand::Hand;
use super::on_set::EverybodyAgreed;
use super::words;
use crate::shooting::{CallAndWrap, named_and_dated};
use crate::widgets::{Sheet, live, open, plain, when};

/// What can be changed of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Panel {
    Day,
    Hours,
    Breaks,
    Weather,
    Work,
    Shots,
    Agreed,
}

impl Panel {
    const ALL: [Self; 7] =
        [Self::Day, Self::Hours, Self::Breaks, Self::Weather, Self::Work, Self::Shots, Self::Agreed];

    /// What its chip is called for those who do not see what stands beside it.
    fn name(self) -> &'static str {
        match self {
            Self::Day => say!("Day"),
            Self::Hours => say!("Call and wrap"),
            Self::Breaks => say!("Breaks"),
            Self::Weather => say!("Weather"),
            Self::Work => say!("Times of the work"),
            Self::Shots => say!("Shots of the day"),
            Self::Agreed => say!("Consent and sound"),
        }
    }

    /// What its chip says.
    fn says(self, hand: Hand) -> String {
        let said = hand.read(|film, day, plan| match self {
            Self::Day => named_and_dated(film, day),
            Self::Hours => words::between(f64::from(day.hours.from_min()), f64::from(day.hours.to_min())),
            Self::Breaks => breaks(day),
            Self::Weather => language::text(day.weather.name()).to_owned(),
            Self::Work => {
                let work = &day.work;
                let (takes, rehearsal) = (Number(plain(work.takes)), words::span(work.rehearsal_min));
                if (work.takes - 1.0).abs() < 1e-9 {
                    say!("{takes} take, {rehearsal} rehearsal")
                } else {
                    say!("{takes} takes, {rehearsal} rehearsal")
                }
            }
            Self::Shots => {
                let of_day = plan.setups.len() + plan.unmade.len();
                let all: usize = film.scenes.iter().map(|scene| scene.shots.len()).sum();
                if of_day == all { say!("all {all} shots") } else { say!("{of_day} of {all} shots") }
            }
            Self::Agreed => {
                let (agreed, of) = agreed(film, plan);
                if agreed == of { say!("all agreed").to_owned() } else { say!("{agreed} of {of} agreed") }
            }
        });
        said.unwrap_or_default()
    }
}

/// How many of the people who are seen on the day have agreed to it, and how many there are.
fn agreed(film: &Film, plan: &DayPlan) -> (usize, usize) {
    let people: BTreeSet<PersonId> = plan.setups.iter().flat_map(|setup| &setup.people).copied().collect();
    let has_agreed = |who: &&PersonId| film.person(**who).is_some_and(|person| person.consent);
    (people.iter().filter(has_agreed).count(), people.len())
}

fn breaks(day: &ShootingDay) -> String {
    match day.breaks.as_slice() {
        [] => say!("no break").to_owned(),
        [one] => {
            say!("break {}", words::between(f64::from(one.from_min()), f64::from(one.to_min())))
        }
        several => say!("{} breaks", several.len()),
    }
}

/// The chips.
#[component]
pub(super) fn Chips(hand: Hand) -> impl IntoView {
    let sheet = NodeRef::<html::Dialog>::new();
    let chips = Panel::ALL.map(|panel| {
        let is_open = move || hand.panel.get() == Some(panel);
        let says = Memo::new(move |_| panel.says(hand));
        let press = move |_| {
            if hand.is_wide.get_untracked() {
                let was_open = hand.panel.get_untracked() == Some(panel);
                hand.panel.set((!was_open).then_some(panel));
            } else {
                hand.panel.set(Some(panel));
                open(sheet);
            }
        };
        view! {
            <button
                type="button"
                class="chip day-chip"
                class:open=move || is_open() && hand.is_wide.get()
                aria-label=live(move || format!("{}: {}", panel.name(), says.get()))
                aria-haspopup=move || (!hand.is_wide.get()).then_some("dialog")
                aria-expanded=move || hand.is_wide.get().then(|| is_open().to_string())
                on:click=press
            >
                {says}
            </button>
        }
    });
    view! {
        <div class="chips day-chips" role="group" aria-label=say!("The day")>{chips.collect_view()}</div>
        {when(move || hand.is_wide.get() && hand.panel.get().is_some(), move || view! {
            <section class="day-part day-panel" aria-label=say!("What of the day is changed")>
                <Contents hand />
                <p><button type="button" on:click=move |_| hand.panel.set(None)>{say!("Done")}</button></p>
            </section>
        }.into_any())}
        {when(move || !hand.is_wide.get(), move || view! {
            <Sheet node=sheet title=say!("The day of shooting")>
                <Contents hand />
            </Sheet>
        }.into_any())}
    }
}

/// What can be changed of what is open.
#[component]
fn Contents(hand: Hand) -> impl IntoView {
    move || {
        hand.panel.get().map(|panel| {
            let fields = match panel {
                Panel::Day => view! { <which_day::WhichDay hand /> }.into_any(),
                Panel::Hours => view! { <CallAndWrap shooting=hand.shooting() /> }.into_any(),
                Panel::Breaks => view! { <breaks::Breaks hand /> }.into_any(),
                Panel::Weather => view! { <weather::WeatherChoice hand /> }.into_any(),
                Panel::Work => view! { <work::Work hand /> }.into_any(),
                Panel::Shots => view! { <shots::ShotsOfDay hand /> }.into_any(),
                Panel::Agreed => view! { <EverybodyAgreed hand /> }.into_any(),
            };
            view! {
                <h3>{panel.name()}</h3>
                {fields}
            }
        })
    }
}
