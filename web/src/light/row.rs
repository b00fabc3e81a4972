//! One setup in the list: what it is, what the camera is set to, its ND, what is left over, and what is the matter.

use film::{Film, Severity, ShotId};
use language::say;
use leptos::html;
use leptos::prelude::*;

use super::detail::Detail;
use super::light_desk::LightDesk;
use super::lit::Lit;
use super::words;
use crate::widgets::{live, when};

/// What a row says.
#[derive(Debug, Clone, PartialEq, Default)]
struct RowWords {
    what: String,
    settings: String,
    filters: String,
    outcome: String,
    sun: String,
    trouble: String,
    fails: bool,
    time: String,
}

/// A setup that is chosen by a tap.
#[component]
pub(super) fn SetupRow(light: LightDesk, shot: ShotId) -> impl IntoView {
    let said = Memo::new(move |_| row_words(light, shot).unwrap_or_default());
    let part = move |read: fn(&RowWords) -> &String| live(move || said.with(|said| read(said).clone()));
    let is_chosen = move || light.chosen().get() == Some(shot);
    let node = NodeRef::<html::Li>::new();
    let choose = move |_| {
        light.choose(shot);
        if !light.is_wide().get_untracked() {
            // After what was unfolded above has folded.
            request_animation_frame(move || {
                if let Some(row) = node.try_get_untracked().flatten() {
                    row.scroll_into_view();
                }
            });
        }
    };
    view! {
        <li class="light-row" class:chosen=is_chosen node_ref=node>
            <button
                type="button"
                aria-pressed=live(move || is_chosen().to_string())
                on:click=choose
            >
                <span class="light-row-what">
                    <strong>{part(|said| &said.what)}</strong>
                    <span class="quiet light-row-time">{part(|said| &said.time)}</span>
                </span>
                <span class="light-row-set">{part(|said| &said.settings)}</span>
                <span class="light-row-nd">{part(|said| &said.filters)}</span>
                <span class="quiet">{part(|said| &said.outcome)}</span>
                <span class="quiet light-row-sun">{part(|said| &said.sun)}</span>
                <span class="light-row-trouble" class:fails=move || said.with(|said| said.fails)>
                    {part(|said| &said.trouble)}
                </span>
            </button>
            {when(move || light.is_unfolded(shot), move || view! { <Detail light /> }.into_any())}
        </li>
    }
}

fn row_words(light: LightDesk, shot: ShotId) -> Option<RowWords> {
    let lights = light.lights().get();
    let lit = lights.iter().find(|lit| lit.shot == shot)?;
    let is_done = light.day().with(|day| day.as_ref().is_some_and(|day| day.done.contains(&shot)));
    let minute = (!is_done || light.is_moved()).then_some(lit.minute);
    let time = time(minute, is_done);
    light.desk().film.with(|film| Some(told(film.as_ref()?, lit, time)))
}

/// When a setup is looked at; none for one that is in the can: it is not planned any more, and nobody says when it was shot.
fn time(minute: Option<f64>, is_done: bool) -> String {
    match minute.map(film::clock) {
        Some(time) if is_done => say!("{time}, in the can"),
        Some(time) => time,
        None => say!("In the can").to_owned(),
    }
}

fn told(film: &Film, lit: &Lit, time: String) -> RowWords {
    let trouble = words::trouble(lit);
    let what = film.shot(lit.shot).map_or_else(String::new, |(_, shot)| words::shot(film, shot));
    let set = lit.light.as_ref();
    RowWords {
        what,
        settings: set.map_or_else(|| say!("its lens is gone").to_owned(), words::settings),
        filters: set.map_or_else(String::new, words::filters),
        outcome: set.map_or_else(String::new, words::outcome),
        sun: lit.sun.map_or_else(String::new, |sun| sun.side.name().to_owned()),
        trouble: trouble.map_or_else(String::new, |(_, words)| words.to_owned()),
        fails: trouble.is_some_and(|(severity, _)| severity == Severity::Fails),
        time,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_in_the_can_is_told_with_a_time_only_where_the_hand_is() {
        assert_eq!(time(Some(600.0), false), "10:00");
        assert_eq!(time(None, true), "In the can");
        assert_eq!(time(Some(840.0), true), "14:00, in the can");
    }
}
