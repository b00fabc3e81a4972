//! The same shot on every lens, as a row of small frames.

use std::sync::Arc;

use film::Comparison;
use language::say;
use leptos::prelude::*;

use crate::part::Part;
use crate::pictures::{Look, PictureCanvas, Rank, Standing};
use crate::session::{Plan, Session, Sort, lens_name};
use crate::setup::words;
use crate::turns::in_turn;
use crate::widgets::live;

/// A row's place in the kit: its lens, and its zoom as bits, which can be compared and hashed.
type Key = (usize, u64);

fn key(row: &Comparison) -> Key {
    (row.lens, row.in_sensor_zoom.to_bits())
}

/// The shot on every lens, as the row shows it.
#[derive(Debug)]
struct Shown {
    plan: Plan,
    rows: Vec<Comparison>,
}

/// By what the lenses are sorted.
#[component]
pub(crate) fn LensSort(session: Session) -> impl IntoView {
    let sort = move || session.plan.with(|plan| plan.sort);
    let options = Sort::ALL.map(|one| {
        view! { <option value=one.name() selected=move || sort() == one>{one.name()}</option> }
    });
    let choose_sort = move |name: String| {
        if let Some(chosen) = Sort::ALL.into_iter().find(|sort| sort.name() == name) {
            session.plan.update(|plan| plan.sort = chosen);
        }
    };
    view! {
        <label class="lens-sort">
            <span>{say!("Lenses, sorted by ")}</span>
            <select on:change:target=move |event| choose_sort(event.target().value())>{options.collect_view()}</select>
        </label>
    }
}

/// The row of lenses, sorted by what the user cares about.
#[component]
pub(crate) fn LensRow(session: Session) -> impl IntoView {
    let shown = in_turn(move || {
        let plan = session.plan.get();
        let rows = plan.shown_rows(&session.owned.get(), &session.rows.get());
        Part(Arc::new(Shown { plan, rows }))
    });
    view! {
        <ul class="lens-row">
            <For each={move || shown.get().rows.iter().map(key).collect::<Vec<Key>>()} key=|key| *key let:key>
                <LensCard session shown key />
            </For>
        </ul>
    }
}

/// One lens: its small frame, the distance, and why it will not do.
#[component]
fn LensCard(session: Session, shown: Memo<Part<Shown>>, key: Key) -> impl IntoView {
    let row =
        Memo::new(move |_| shown.with(|shown| shown.rows.iter().find(|row| self::key(row) == key).cloned()));
    let look = Signal::derive(move || {
        let row = row.get()?;
        let (shot, setup) = (row.result.shot, row.result.outcome.ok()?);
        let stage = shown.with(|shown| shown.plan.stage(&shot, &setup, &shown.plan.blocking(&shot)));
        Some(Look::of(&stage, setup.frame.aspect()))
    });
    let name = Memo::new(move |_| {
        row.with(|row| row.as_ref().map_or_else(String::new, |row| lens_name(&session.owned.get(), row)))
    });
    let distance = move || {
        row.with(|row| {
            let setup = row.as_ref()?.result.outcome.ok()?;
            Some(words::length(setup.distance.to_m(), session.unit()))
        })
    };
    let steps = move || {
        row.with(|row| Some(film::steps(row.as_ref()?.result.outcome.ok()?.distance, session.step())))
    };
    let chosen = Memo::new(move |_| {
        session.chosen.with(|chosen| chosen.as_ref().is_some_and(|chosen| self::key(chosen) == key))
    });
    let will_do = move || row.with(|row| row.as_ref().is_some_and(|row| row.result.will_do()));
    let reason = move || {
        row.with(|row| row.as_ref().and_then(|row| row.result.worst()).map(film::SetupFinding::brief))
    };
    let take = move |_| {
        if let Some(lens) = session.owned.get_untracked().lenses.get(key.0) {
            session.plan.update(|plan| {
                plan.lens.clone_from(&lens.name);
                plan.zoom = f64::from_bits(key.1);
            });
        }
    };
    // What the look is made from, and not the look, which is made only when it is wanted.
    let shows = Signal::derive(move || shown.track());
    let standing = RwSignal::new(Standing::Waiting);
    view! {
        <li>
            <button
                type="button"
                class="lens"
                class:wont=move || !will_do()
                aria-pressed=live(move || chosen.get().to_string())
                on:click=take
            >
                <span class="lens-frame" aria-hidden="true">
                    <PictureCanvas rank=Rank::Small shows look standing class="thumb" />
                </span>
                <span class="lens-name">{name}</span>
                <span class="lens-distance">
                    {live(move || distance().unwrap_or_else(|| "—".to_owned()))}
                    <span class="quiet">{live(move || steps().unwrap_or_default())}</span>
                </span>
                <span class="lens-reason">{live(move || reason().unwrap_or_default().to_owned())}</span>
            </button>
        </li>
    }
}
