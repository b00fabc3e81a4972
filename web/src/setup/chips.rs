//! One chip for each thing a shot can ask for; each opens a sheet with its few choices.

mod adapter;
mod height;
mod place;
mod shape;
mod side;
mod who;

pub(crate) use adapter::AdapterSheet;
pub(crate) use height::HeightSheet;
pub(crate) use place::PlaceSheet;
pub(crate) use shape::ShapeSheet;
pub(crate) use side::SideSheet;
pub(crate) use who::WhoSheet;

use language::say;
use leptos::prelude::*;

use crate::later::{LaterSheet, Room};
use crate::session::Session;
use crate::setup::take::take_words;
use crate::setup::words;
use crate::turns::said_in_turn;
use crate::widgets::live;

/// The row of chips, and the place for their sheets.
#[component]
pub(crate) fn Chips(session: Session) -> impl IntoView {
    let asked = RwSignal::new(None);
    let plan = session.plan;
    let unit = move || session.unit();
    let adapter_name =
        move || plan.with(|plan| plan.adapter.clone().unwrap_or_else(|| say!("No adapter").to_owned()));
    let shape_name = move || {
        plan.with(|plan| {
            let shape = words::shape(plan.shot.delivery.aspect.0.to_f64());
            match plan.shot.delivery.protect_aspect {
                Some(second) => say!("{shape}, keeping {}", words::shape(second.0.to_f64())),
                None => shape,
            }
        })
    };
    let place_name = move || {
        plan.with(|plan| say!("Background {}", words::length(plan.shot.background_behind_subject_m, unit())))
    };
    view! {
        <div class="chips" role="group" aria-label=say!("What the shot asks for")>
            <Chip
                asked
                room=Room::Who
                what=say!("Who")
                text=Signal::derive(move || plan.with(|plan| words::who(&plan.shot, unit())))
            />
            <Chip
                asked
                room=Room::Height
                what=say!("Height and look")
                text=Signal::derive(move || plan.with(|plan| words::height(&plan.shot, unit())))
            />
            <Chip
                asked
                room=Room::Side
                what=say!("Side")
                text=Signal::derive(move || plan.with(|plan| words::across(plan.shot.across_share)))
            />
            <Chip asked room=Room::Shape what=say!("Frame shape") text=Signal::derive(shape_name) />
            <Chip asked room=Room::Adapter what=say!("Adapter") text=Signal::derive(adapter_name) />
            <Chip asked room=Room::Place what=say!("Place") text=Signal::derive(place_name) />
            <Chip
                asked
                room=Room::Move
                what=say!(in "what the phone does in a take", "Move")
                text=Signal::derive(move || plan.with(|plan| take_words(plan, unit())))
            />
        </div>
        <LaterSheet session asked />
    }
}

/// One chip: says what it holds, opens its sheet.
#[component]
fn Chip(
    asked: RwSignal<Option<Room>>,
    room: Room,
    what: &'static str,
    text: Signal<String>,
) -> impl IntoView {
    let said = said_in_turn(move || text.get());
    view! {
        <button
            type="button"
            class="chip"
            aria-haspopup="dialog"
            aria-label=live(move || format!("{what}: {}", said.get()))
            on:click=move |_| asked.set(Some(room))
        >
            {said}
        </button>
    }
}
