//! The order as a list, and what is in the can already.

use film::ShotId;
use language::say;
use leptos::prelude::*;

use super::doing::mark_done;
use super::drag::Drag;
use super::hand::Hand;
use super::setup_row::SetupRow;
use super::timeline::{Pause, RowKey, keys};
use super::words;
use crate::story::words::capital;
use crate::widgets::{live, when};

/// The order of work.
#[component]
pub(super) fn OrderList(hand: Hand) -> impl IntoView {
    let keys = Memo::new(move |_| hand.rows.with(|rows| keys(rows)));
    let drag = RwSignal::new(None::<Drag>);
    view! {
        <section class="day-order-part" aria-labelledby="day-order">
            <h3 id="day-order" class="unseen">{say!("The order of work")}</h3>
            <InTheCan hand />
            <ol role="list" class="day-order" class:dragging=move || drag.with(Option::is_some) aria-labelledby="day-order">
                <For each=move || keys.get() key=RowKey::clone children=move |key| match key {
                    RowKey::Setup(shot) => view! { <SetupRow hand shot drag /> }.into_any(),
                    RowKey::Pause(pause, _) => pause_row(pause),
                } />
            </ol>
        </section>
    }
}

fn pause_row(pause: Pause) -> AnyView {
    let Pause { kind, at, words } = pause;
    view! {
        <li class=kind.class()>
            <span class="day-clock">{at}</span>
            <span>{capital(&words)}</span>
        </li>
    }
    .into_any()
}

/// What is in the can, folded away; each can come back.
#[component]
fn InTheCan(hand: Hand) -> impl IntoView {
    let done: Memo<Vec<(ShotId, String)>> = Memo::new(move |_| {
        hand.read(|film, day, plan| {
            let is_of_day = |shot: &&ShotId| plan.setups.iter().any(|setup| setup.shot.id == **shot);
            let shots = day.done.iter().filter(is_of_day);
            shots.map(|shot| (*shot, words::shot(film, *shot))).collect()
        })
        .unwrap_or_default()
    });
    let back = move |shot: ShotId| {
        if let Some(plan) = hand.shooting().plan.get_untracked() {
            let name = say!("{} not in the can", hand.number(shot));
            hand.change(&name, |day| mark_done(day, &plan, shot));
        }
    };
    let rows = move || {
        let row = |(shot, what): (ShotId, String)| {
            let name = say!("Not in the can: {what}");
            view! {
                <li>
                    <span>{capital(&what)}</span>
                    <button type="button" aria-label=name on:click=move |_| back(shot)>{say!("Not in the can")}</button>
                </li>
            }
        };
        done.get().into_iter().map(row).collect_view()
    };
    when(
        move || done.with(|done| !done.is_empty()),
        move || {
            view! {
                <details class="fold day-can">
                    <summary>{live(move || say!("{count} in the can", count = done.with(Vec::len)))}</summary>
                    <ol>{rows}</ol>
                </details>
            }
            .into_any()
        },
    )
}
