//! Where the earth's north is on this floor: by steps, or typed as a compass says it.

use language::say;
use leptos::prelude::*;
use units::Angle;

use super::parts::button;
use crate::story::floor::FloorDesk;
use crate::story::floor::hand::TURN_KEY_DEG;
use crate::story::floor::north::north_in_words;
use crate::widgets::{NumberField, live, when};

/// The north, folded: its summary says where it is.
#[component]
pub(super) fn NorthFold(floor: FloorDesk) -> impl IntoView {
    let is_open = RwSignal::new(false);
    view! {
        <details class="fold" on:toggle:target=move |event| is_open.set(event.target().open())>
            <summary>{live(move || north_in_words(floor.north()))}</summary>
            {when(move || is_open.get(), move || view! { <NorthSteps floor /> }.into_any())}
        </details>
    }
}

/// Two turns, and the degrees.
#[component]
fn NorthSteps(floor: FloorDesk) -> impl IntoView {
    let turn = move |name: &'static str, by_deg: f64| {
        button(name, move || floor.change_north(&|north| north + Angle::from_deg(by_deg)))
    };
    let degrees = Signal::derive(move || Some(floor.north().to_deg().rem_euclid(360.0)));
    let set = move |degrees: Option<f64>| {
        floor.change_north(&|_| Angle::from_deg(degrees.unwrap_or(0.0)));
    };
    view! {
        <div class="steps">
            <p class="quiet">
                {say!(
                    "Turn the N on the plan until it points where a compass does: where the sun comes from follows from \
                     it."
                )}
            </p>
            <div class="floor-walk" role="group" aria-label=say!("Turn north by 15°")>
                {turn(say!("Turn north left"), -TURN_KEY_DEG)}
                {turn(say!("Turn north right"), TURN_KEY_DEG)}
            </div>
            <NumberField
                label=say!("North, clockwise from the plan's top")
                hint=say!("Empty: up the plan.")
                unit="°"
                range=(0.0, 360.0)
                value=degrees
                set=set
            />
        </div>
    }
}
