//! Small parts of the panel: buttons, a list to choose from, and what moves and turns the chosen one.

use glam::DVec2;
use language::say;
use leptos::prelude::*;

use crate::story::floor::FloorDesk;
use crate::story::floor::hand::{MOVE_M, TURN_KEY_DEG};
use crate::widgets::{live, when};

/// A button that does one thing.
pub(super) fn button(name: &'static str, press: impl Fn() + 'static) -> AnyView {
    pressed(live(move || name.to_owned()), Box::new(press))
}

/// The same with a name that changes.
pub(super) fn pressed(name: Signal<String>, press: Box<dyn Fn()>) -> AnyView {
    view! { <button type="button" on:click=move |_| press()>{name}</button> }.into_any()
}

/// A name that is chosen by a tap.
pub(super) fn toggle(name: String, is_chosen: Signal<bool>, press: impl Fn() + 'static) -> AnyView {
    chip(name, is_chosen, Box::new(press))
}

fn chip(name: String, is_chosen: Signal<bool>, press: Box<dyn Fn()>) -> AnyView {
    view! {
        <button
            type="button"
            class="toggle"
            aria-pressed=live(move || is_chosen.get().to_string())
            on:click=move |_| press()
        >
            {name}
        </button>
    }
    .into_any()
}

/// A list of names of which one is chosen; each is known by a number.
pub(super) fn list(
    label: &'static str,
    names: Memo<Vec<(u64, String)>>,
    chosen: Signal<Option<u64>>,
    choose: Callback<u64>,
) -> AnyView {
    let options = move || {
        let options = names.get().into_iter().map(|(key, name)| {
            view! { <option value=key.to_string() prop:selected=move || chosen.get() == Some(key)>{name}</option> }
        });
        options.collect_view()
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <select on:change:target=move |event| {
                if let Ok(key) = event.target().value().parse() {
                    choose.run(key);
                }
            }>{options}</select>
        </label>
    }
    .into_any()
}

/// The seconds of a scene that a slider offers: as long as most scenes of short films last, and on beyond what is said now.
pub(super) fn seconds_range(now_s: f64) -> (f64, f64) {
    const USUAL_S: f64 = 90.0;
    const BEYOND_S: f64 = 30.0;
    (0.0, USUAL_S.max(libm::ceil(now_s) + BEYOND_S))
}

/// What moves the chosen one by steps, and turns it if it can be turned.
#[component]
pub(super) fn MoveButtons(floor: FloorDesk) -> impl IntoView {
    let nudge = move |name: &'static str, way: DVec2| {
        button(name, move || {
            if let Some(chosen) = untrack(|| floor.chosen()) {
                floor.nudge(chosen, way * MOVE_M);
            }
        })
    };
    let turn = move |name: &'static str, by_deg: f64| {
        button(name, move || {
            if let Some(chosen) = untrack(|| floor.chosen()) {
                floor.turn(chosen, by_deg);
            }
        })
    };
    let can_move = move || {
        let chosen = floor.chosen();
        let place = floor.of_shown(|shown| chosen?.place(&shown.scene.blocking, shown.seconds));
        place.flatten().is_some()
    };
    let can_turn = move || {
        let chosen = floor.chosen();
        let facing =
            floor.of_shown(|shown| chosen?.facing(&shown.film, &shown.scene.blocking, shown.seconds));
        facing.flatten().is_some()
    };
    let what = live(move || {
        let chosen = floor.chosen();
        let name = floor.of_shown(|shown| Some(chosen?.name(&shown.film, &shown.scene.blocking)));
        say!("Move {} by 10 cm on the plan", name.flatten().unwrap_or_default())
    });
    when(can_move, move || {
        view! {
            <div class="floor-moves" role="group" aria-label=what>
                {nudge(say!("Left"), DVec2::NEG_X)}
                {nudge(say!("Up"), DVec2::Y)}
                {nudge(say!("Down"), DVec2::NEG_Y)}
                {nudge(say!("Right"), DVec2::X)}
                {when(can_turn, move || {
                    view! {
                        {turn(say!("Turn left"), -TURN_KEY_DEG)}
                        {turn(say!("Turn right"), TURN_KEY_DEG)}
                    }
                    .into_any()
                })}
            </div>
        }
        .into_any()
    })
}
