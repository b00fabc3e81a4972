//! The tick list before the first take.

use film::ShotId;
use language::say;
use leptos::prelude::*;

use super::card::{Card, Step};
use crate::continuity;
use crate::day::hand::Hand;
use crate::widgets::{Tick, held, live};

/// The list; once all of it is ticked, or a take was made, it folds.
#[component]
pub(super) fn Ready(hand: Hand, shot: ShotId, card: Memo<Card>) -> impl IntoView {
    let Some(film) = hand.desk.open_film() else { return ().into_any() };
    let ticked = RwSignal::new(continuity::ticked(film, shot.number()));
    let steps = Memo::new(move |_| card.with(|card| card.steps.clone()));
    let left = Memo::new(move |_| {
        steps.with(|steps| {
            ticked.with(|ticked| steps.iter().filter(|step| !ticked.contains(&step.key)).count())
        })
    });
    let has_takes =
        Memo::new(move |_| hand.read(|film, _, _| film.takes_of(shot).next().is_some()).unwrap_or(false));
    let tick = move |key: &str, is_on: bool| {
        ticked.update(|ticked| {
            ticked.retain(|one| one != key);
            if is_on {
                ticked.push(key.to_owned());
            }
        });
        continuity::keep_ticked(film, shot.number(), ticked.get_untracked());
    };
    let summary = live(move || match left.get() {
        0 => say!("Before the first take: all ticked").to_owned(),
        left => say!("Before the first take: {left} to tick"),
    });
    let rows = move || {
        let row = |Step { key, words }: Step| {
            let is_on = {
                let key = key.clone();
                Signal::derive(move || ticked.with(|ticked| ticked.contains(&key)))
            };
            let words = held(&words);
            let set = move |is_on| tick(&key, is_on);
            view! { <li><Tick words is_on set /></li> }
        };
        steps.get().into_iter().map(row).collect_view()
    };
    let is_open = untrack(|| left.get() > 0 && !has_takes.get());
    view! {
        <details class="fold set-ready" open=is_open>
            <summary>{summary}</summary>
            <ul>{rows}</ul>
        </details>
    }
    .into_any()
}
