//! What a shot asks of the day that it is made on: where the sun is wanted, whether there is one chance, how long it takes.

use film::{ActionKind, SunWish};
use language::say;
use leptos::prelude::*;

use super::Editing;
use crate::widgets::{Choice, Choices, NumberField};

/// How long a shot may take on the set, in minutes, as films hold it.
const ON_SET_MIN: (f64, f64) = (0.1, 600.0);

/// Sun, chance and minutes.
#[component]
pub(super) fn OnSet(editing: Editing) -> impl IntoView {
    let sun = Signal::derive(move || editing.read(|shot| shot.sun, SunWish::Anywhere));
    let action = Signal::derive(move || editing.read(|shot| shot.action_kind, ActionKind::Repeatable));
    let on_set_min = Signal::derive(move || editing.read(|shot| shot.on_set_min, None));
    let set_minutes = move |minutes: Option<f64>| {
        editing.change(say!("Change how long it takes on the set"), &|shot| shot.on_set_min = minutes);
    };
    view! {
        <Choices
            legend=say!("Where the sun is wanted")
            choices=SunWish::ALL.map(|sun| Choice::new(sun, sun.name()))
            chosen=sun
            choose=move |sun: SunWish| editing.change(say!("Change where the sun is wanted"), &|shot| shot.sun = sun)
        />
        <Choices
            legend=say!("Its action")
            choices=[
                Choice::new(ActionKind::Repeatable, say!("can be done again")),
                Choice::new(ActionKind::OneChance, say!("one chance")),
            ]
            chosen=action
            choose=move |kind: ActionKind| {
                editing.change(say!("Change whether it can be done again"), &|shot| shot.action_kind = kind);
            }
        />
        <NumberField
            label=say!("Minutes on the set")
            hint=say!("Empty: as shots usually take.")
            unit="min"
            range=ON_SET_MIN
            value=on_set_min
            set=set_minutes
        />
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;

    /// The demo's first shot with so many minutes, written and read again.
    fn kept(minutes: f64) -> Option<f64> {
        let mut film = film::demo_film();
        let id = film.scenes[0].shots[0].id;
        let mut shot = film::Shot::clone(&film.scenes[0].shots[0]);
        shot.on_set_min = Some(minutes);
        film.apply(film::Command::SetShot(Arc::new(shot))).expect("a shot of the film");
        let opened = film::open_film(film::write_film(&film).as_bytes()).expect("its own file");
        opened.film.scenes[0].shot(id)?.on_set_min
    }

    #[test]
    fn every_limit_is_the_files() {
        assert_eq!(kept(ON_SET_MIN.0), Some(ON_SET_MIN.0));
        assert_eq!(kept(ON_SET_MIN.1), Some(ON_SET_MIN.1));
        assert_ne!(kept(ON_SET_MIN.1 + 1.0), Some(ON_SET_MIN.1 + 1.0));
    }
}
