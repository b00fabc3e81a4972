//! One chip for each thing a shot can ask for; each opens a sheet with its few choices.

mod adapter;
mod height;
mod place;
mod shape;
mod side;
mod who;

use std::sync::Arc;

use leptos::html;
use leptos::prelude::*;

use crate::scene::Scene;
use crate::session::Session;
use crate::setup::take::{MoveSheet, take_words};
use crate::setup::words;
use crate::widgets::{live, open};

/// The row of chips, and their sheets.
#[component]
pub(crate) fn Chips(session: Session, scene: Memo<Option<Arc<Scene>>>) -> impl IntoView {
    let sheets: [NodeRef<html::Dialog>; 7] = std::array::from_fn(|_| NodeRef::new());
    let [who, height, side, shape, adapter, place, movement] = sheets;
    let plan = session.plan;
    let unit = move || session.unit();
    let adapter_name =
        move || plan.with(|plan| plan.adapter.clone().unwrap_or_else(|| "No adapter".to_owned()));
    let shape_name = move || {
        plan.with(|plan| {
            let shape = words::shape(plan.shot.delivery.aspect.0.to_f64());
            match plan.shot.delivery.protect_aspect {
                Some(second) => format!("{shape}, keeping {}", words::shape(second.0.to_f64())),
                None => shape,
            }
        })
    };
    let place_name = move || {
        plan.with(|plan| {
            format!("Background {}", words::length(plan.shot.background_behind_subject_m, unit()))
        })
    };
    view! {
        <div class="chips" role="group" aria-label="What the shot asks for">
            <Chip sheet=who what="Who" text=Signal::derive(move || plan.with(|plan| words::who(&plan.shot, unit()))) />
            <Chip
                sheet=height
                what="Height and look"
                text=Signal::derive(move || plan.with(|plan| words::height(&plan.shot, unit())))
            />
            <Chip
                sheet=side
                what="Side"
                text=Signal::derive(move || plan.with(|plan| words::across(plan.shot.across_share)))
            />
            <Chip sheet=shape what="Frame shape" text=Signal::derive(shape_name) />
            <Chip sheet=adapter what="Adapter" text=Signal::derive(adapter_name) />
            <Chip sheet=place what="Place" text=Signal::derive(place_name) />
            <Chip
                sheet=movement
                what="Move"
                text=Signal::derive(move || plan.with(|plan| take_words(plan, unit())))
            />
        </div>
        <who::WhoSheet session node=who />
        <height::HeightSheet session node=height />
        <side::SideSheet session node=side />
        <shape::ShapeSheet session node=shape />
        <adapter::AdapterSheet session node=adapter />
        <place::PlaceSheet session node=place />
        <MoveSheet session scene node=movement />
    }
}

/// One chip: says what it holds, opens its sheet.
#[component]
fn Chip(sheet: NodeRef<html::Dialog>, what: &'static str, text: Signal<String>) -> impl IntoView {
    view! {
        <button
            type="button"
            class="chip"
            aria-haspopup="dialog"
            aria-label=live(move || format!("{what}: {}", text.get()))
            on:click=move |_| open(sheet)
        >
            {text}
        </button>
    }
}
