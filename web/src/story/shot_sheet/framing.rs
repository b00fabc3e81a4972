//! How much of them, from which side and how high, on which lens.

use film::{LensChoice, Shot};
use language::{Number, key, say};
use leptos::prelude::*;
use staging::{Landmark, Look, PhoneHeight, ShotSize, Stand};
use units::Angle;

use super::Editing;
use crate::story::words::not_in_kit;
use crate::widgets::{Choice, Choices, own_option};

/// Sides from which somebody can be seen, counted clockwise from where they face.
const SIDES: [(i32, &str); 8] = [
    (0, key!("the front")),
    (40, key!("half right")),
    (90, key!("their right")),
    (140, key!("half behind, right")),
    (180, key!("behind")),
    (-140, key!("half behind, left")),
    (-90, key!("their left")),
    (-40, key!("half left")),
];

/// Heights that are offered.
const HEIGHTS: [(PhoneHeight, &str); 7] = [
    (PhoneHeight::BySize, key!("by the size")),
    (PhoneHeight::At(Landmark::Eyes), key!("eyes")),
    (PhoneHeight::At(Landmark::Chest), key!("chest")),
    (PhoneHeight::At(Landmark::Waist), key!("waist")),
    (PhoneHeight::At(Landmark::Knee), key!("knee")),
    (PhoneHeight::Ground, key!("the ground")),
    (PhoneHeight::Overhead, key!("overhead")),
];

/// Size, side, height, place across the frame, lens and adapter.
#[component]
pub(super) fn Framing(editing: Editing) -> impl IntoView {
    let size = Signal::derive(move || editing.read(|shot| shot.size, ShotSize::Medium));
    let choose_size = move |size: ShotSize| {
        editing.change(say!("Change the size"), &|shot| {
            shot.size = size;
            shot.stand = Stand::ForSize;
        });
    };
    let sizes = || {
        let sizes = ShotSize::ALL.into_iter().filter(|size| *size != ShotSize::Insert);
        sizes.map(|size| Choice::new(size, language::text(size.name()))).collect::<Vec<_>>()
    };
    let heights: Vec<_> = HEIGHTS
        .iter()
        .enumerate()
        .map(|(at, (_, name))| Choice::new(Some(at), language::text(name)))
        .collect();
    let choose_height = move |at: Option<usize>| {
        if let Some((height, _)) = at.and_then(|at| HEIGHTS.get(at)) {
            editing.change(say!("Change the height"), &|shot| {
                shot.height = *height;
                shot.look = Look::Aimed;
            });
        }
    };
    let choose_third = move |third: Option<u8>| {
        let share = match third {
            Some(0) => 1.0 / 3.0,
            Some(2) => 2.0 / 3.0,
            Some(_) | None => 0.5,
        };
        editing.change(say!("Change where they stand in the frame"), &|shot| shot.across = share);
    };
    let is_object = Memo::new(move |_| editing.read(|shot| shot.of.subject().is_none(), false));
    let height = Signal::derive(move || {
        let height = editing.read(|shot| shot.height, PhoneHeight::BySize);
        HEIGHTS.iter().position(|(one, _)| *one == height)
    });
    let across = Signal::derive(move || thirds(editing.read(|shot| shot.across, 0.5)));
    view! {
        <Show when=move || !is_object.get()>
            <Choices
                legend=say!("How much of them")
                choices=sizes()
                chosen=size
                choose=choose_size
            />
        </Show>
        <Sides editing />
        <Choices
            legend=say!("How high the phone is")
            choices=heights
            chosen=height
            choose=choose_height
        />
        <Choices
            legend=say!("Where across the frame")
            choices=[
                Choice::new(Some(0), say!("left third")),
                Choice::new(Some(1), say!("middle")),
                Choice::new(Some(2), say!("right third")),
            ]
            chosen=across
            choose=choose_third
        />
        <Lens editing />
    }
}

/// The third that a share of the frame's width is on; none between them.
fn thirds(share: f64) -> Option<u8> {
    let near = |line: f64| (share - line).abs() < 0.02;
    if near(1.0 / 3.0) {
        Some(0)
    } else if near(0.5) {
        Some(1)
    } else if near(2.0 / 3.0) {
        Some(2)
    } else {
        None
    }
}

/// From which side, counted from where the one in focus faces, or from the plan's top where nobody is.
#[component]
fn Sides(editing: Editing) -> impl IntoView {
    let facing = editing.faces();
    let chosen = Signal::derive(move || {
        let off = editing.read(|shot| shot.side.to_deg(), 0.0) - facing.get().map_or(0.0, Angle::to_deg);
        let turned = |degrees: i32| {
            let apart = (off - f64::from(degrees)).rem_euclid(360.0);
            apart.min(360.0 - apart)
        };
        SIDES.iter().map(|(degrees, _)| *degrees).find(|degrees| turned(*degrees) <= 20.0)
    });
    let choose = move |degrees: Option<i32>| {
        let Some(degrees) = degrees else { return };
        let faces = facing.get_untracked().map_or(0.0, Angle::to_deg);
        let side = Angle::from_deg((faces + f64::from(degrees)).rem_euclid(360.0));
        editing.change(say!("Change the side"), &|shot| shot.side = side);
    };
    let sides = SIDES.map(|(degrees, name)| Choice::new(Some(degrees), language::text(name)));
    view! { <Choices legend=say!("From which side") choices=sides chosen=chosen choose=choose /> }
}

/// The lens, its zoom, and the adapter.
#[component]
fn Lens(editing: Editing) -> impl IntoView {
    let kit = editing.kit;
    let lenses = move || {
        let kit = kit.get();
        let each = kit.lenses.iter().flat_map(|lens| {
            let zooms = std::iter::once(1.0).chain(lens.in_sensor_zooms.iter().copied());
            zooms.map(|zoom| (lens.name.clone(), zoom)).collect::<Vec<_>>()
        });
        each.collect::<Vec<_>>()
    };
    let chosen = move || {
        editing.read(
            |shot: &Shot| match &shot.lens {
                LensChoice::Auto => None,
                LensChoice::Fixed { name, in_sensor_zoom } => Some((name.clone(), *in_sensor_zoom)),
            },
            None,
        )
    };
    let is_chosen = move |one: &Option<(String, f64)>| match (one, &chosen()) {
        (None, None) => true,
        (Some(one), Some(taken)) => is_lens(one, taken),
        (Some(_), None) | (None, Some(_)) => false,
    };
    let lens_gone = move || {
        let chosen = chosen().filter(|one| !lenses().iter().any(|lens| is_lens(lens, one)))?;
        Some(not_in_kit(&lens_name(&chosen)))
    };
    let options = move || {
        let all = std::iter::once(None).chain(lenses().into_iter().map(Some)).enumerate();
        let option = |(at, one): (usize, Option<(String, f64)>)| {
            let words = one.as_ref().map_or_else(|| say!("chosen for you").to_owned(), lens_name);
            view! { <option value=at.to_string() prop:selected=is_chosen(&one)>{words}</option> }
        };
        all.map(option).collect_view()
    };
    let choose = move |at: usize| {
        let lens = match at.checked_sub(1).and_then(|at| lenses().into_iter().nth(at)) {
            None => LensChoice::Auto,
            Some((name, in_sensor_zoom)) => LensChoice::Fixed { name, in_sensor_zoom },
        };
        editing.change(say!("Change the lens"), &|shot| shot.lens = lens.clone());
    };
    let adapters = move || {
        let names = kit.get().adapters.iter().map(|adapter| adapter.name.clone()).collect::<Vec<_>>();
        let option = |name: String| {
            let value = name.clone();
            let selected = editing.read(|shot| shot.adapter.as_ref() == Some(&value), false);
            view! { <option value=value prop:selected=selected>{name}</option> }
        };
        names.into_iter().map(option).collect_view()
    };
    let adapter_gone = move || {
        let name = editing.read(|shot| shot.adapter.clone(), None)?;
        let is_there = kit.get().adapters.iter().any(|adapter| adapter.name == name);
        (!is_there).then(|| not_in_kit(&name))
    };
    view! {
        <label class="field">
            <span>{say!("Lens")}</span>
            <select on:change:target=move |event| choose(event.target().value().parse().unwrap_or(0))>
                {options}
                {own_option(lens_gone)}
            </select>
        </label>
        <label class="field">
            <span>{say!("Adapter")}</span>
            <select on:change:target=move |event| {
                let name = Some(event.target().value()).filter(|name| !name.is_empty());
                editing.change(say!("Change the adapter"), &|shot| shot.adapter.clone_from(&name));
            }>
                <option value="">{say!("none")}</option>
                {adapters}
                {own_option(adapter_gone)}
            </select>
        </label>
    }
}

/// What a lens with its zoom is called.
fn lens_name((name, zoom): &(String, f64)) -> String {
    if *zoom > 1.0 { format!("{name} {}x", Number(*zoom)) } else { name.clone() }
}

/// Whether a lens with its zoom is that one.
fn is_lens((name, zoom): &(String, f64), (other, at): &(String, f64)) -> bool {
    name == other && (zoom - at).abs() < 1e-9
}
