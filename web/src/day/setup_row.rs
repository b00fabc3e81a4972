//! A setup in the order: when, what, on what, why, and what can be done with it.

use film::ShotId;
use language::say;
use leptos::prelude::*;

use super::detail::Detail;
use super::doing::mark_done;
use super::drag::{Drag, DragHandle};
use super::hand::{Hand, focus_later};
use super::pins::{Places, unpin};
use super::timeline::{Row, SetupRow as Words};
use crate::part::Part;
use crate::pictures::{PictureCanvas, Rank, Standing};
use crate::story::{WhenNear, depends, look};
use crate::widgets::{live, when};

/// What a setup's row says now; nothing once it is out of the order.
pub(super) fn said(hand: Hand, shot: ShotId) -> Memo<Option<Words>> {
    Memo::new(move |_| {
        hand.rows.with(|rows| {
            rows.iter().find_map(|row| match row {
                Row::Setup(setup) if setup.shot == shot => Some(Words::clone(setup)),
                Row::Setup(_) | Row::Pause(_) => None,
            })
        })
    })
}

/// A text of a row.
fn text(said: Memo<Option<Words>>, read: fn(&Words) -> String) -> Signal<String> {
    live(move || said.with(|said| said.as_ref().map(read).unwrap_or_default()))
}

/// Puts a setup at that place of the order, as one step.
pub(super) fn put(hand: Hand, shot: ShotId, to: usize) {
    let Some(places) = hand.read_once(|_, _, plan| Places::of(plan)) else { return };
    hand.change(&say!("Move {}", hand.number(shot)), |day| places.put(day, shot, to));
}

/// Moves a setup by so many places, and keeps the focus on the button that did it.
pub(super) fn step(hand: Hand, shot: ShotId, by: isize, focus: &str) {
    let Some(places) = hand.read_once(|_, _, plan| Places::of(plan)) else { return };
    let Some(to) = places.place_of(shot).and_then(|at| at.checked_add_signed(by)) else { return };
    if to >= places.count() {
        return;
    }
    put(hand, shot, to);
    // At either end the button that came here has nothing more to do.
    let focus = match focus {
        "day-up" if to == 0 => "day-down",
        "day-down" if to + 1 == places.count() => "day-up",
        focus => focus,
    };
    focus_later(format!("{focus}-{shot}"));
}

/// The row.
#[component]
pub(super) fn SetupRow(hand: Hand, shot: ShotId, drag: RwSignal<Option<Drag>>) -> impl IntoView {
    let said = said(hand, shot);
    let is_chosen = Memo::new(move |_| hand.chosen.get() == Some(shot));
    let is_next = Memo::new(move |_| said.with(|said| said.as_ref().is_some_and(|said| said.at == 0)));
    let at = move || said.with(|said| said.as_ref().map(|said| said.at));
    let is_dragged = move || drag.with(|drag| drag.as_ref().is_some_and(|drag| drag.shot == shot));
    let lands_before = move || drag.with(|drag| drag.as_ref().is_some_and(|drag| drag.lands_before(at())));
    let lands_after = move || drag.with(|drag| drag.as_ref().is_some_and(|drag| drag.lands_after(at())));
    let moved = move || {
        let by = drag.with(|drag| drag.as_ref().filter(|drag| drag.shot == shot).map(|drag| drag.by_px));
        by.map_or_else(String::new, |by| format!("translateY({by:.0}px)"))
    };
    let title = text(said, Words::spoken);
    view! {
        <li
            class="day-setup"
            class:next=move || is_next.get()
            class:chosen=move || is_chosen.get()
            class:dragged=is_dragged
            class:lands-before=lands_before
            class:lands-after=lands_after
            style:transform=moved
        >
            <Main hand shot said title is_chosen />
            {when(move || said.with(|said| said.as_ref().is_some_and(|said| said.late.is_some())), move || {
                let late = text(said, |said| {
                    said.late.as_ref().map_or_else(String::new, |late| say!("Too late here: {late}."))
                });
                view! { <p class="problem day-late">{late}</p> }.into_any()
            })}
            <Actions hand shot said drag />
            {when(move || is_chosen.get() && !hand.is_wide.get(), move || view! { <Detail hand shot /> }.into_any())}
        </li>
    }
}

/// What the row says, as one button that opens the rest.
#[component]
fn Main(
    hand: Hand,
    shot: ShotId,
    said: Memo<Option<Words>>,
    title: Signal<String>,
    is_chosen: Memo<bool>,
) -> impl IntoView {
    let toggle =
        move |_| hand.chosen.update(|chosen| *chosen = if *chosen == Some(shot) { None } else { Some(shot) });
    let place = text(said, |said| said.place.clone().unwrap_or_default());
    let more = text(said, |said| match said.reasons.len() {
        0 => String::new(),
        1 => format!(" ({})", say!("1 more reason")),
        more => format!(" ({})", say!("{more} more reasons")),
    });
    view! {
        <button
            type="button"
            class="day-main"
            id=format!("day-main-{shot}")
            aria-label=title
            aria-expanded=live(move || is_chosen.get().to_string())
            on:click=toggle
        >
            <span class="day-clock" aria-hidden="true">
                <strong>{text(said, |said| said.from.clone())}</strong>
                <span>{text(said, |said| said.to.clone())}</span>
            </span>
            <Picture hand shot />
            <span class="day-words">
                <strong>
                    <span class="day-number">{text(said, |said| said.number.clone())}</span>
                    " "
                    {text(said, |said| said.what.clone())}
                </strong>
                <span>{text(said, |said| said.rig.clone())}</span>
                {when(move || !place.with(String::is_empty), move || {
                    view! { <span>{live(move || say!("At {}", place.get()))}</span> }.into_any()
                })}
            </span>
            <span class="day-more">
                <span class="day-why">{text(said, |said| said.reason.clone())}<span class="quiet">{more}</span></span>
                <span class="day-marks">
                    {when(move || said.with(|said| said.as_ref().is_some_and(|said| !said.is_must_have)), || {
                        view! { <span class="day-mark">{say!("nice to have")}</span> }.into_any()
                    })}
                    {when(move || said.with(|said| said.as_ref().is_some_and(|said| said.is_must_have)), || {
                        view! { <span class="day-mark must">{say!("must have")}</span> }.into_any()
                    })}
                    {when(move || said.with(|said| said.as_ref().is_some_and(|said| said.is_pinned)), || {
                        view! { <span class="day-mark pinned">{say!("pinned")}</span> }.into_any()
                    })}
                </span>
            </span>
        </button>
    }
}

/// The setup's picture, once it is near.
#[component]
pub(super) fn Picture(hand: Hand, shot: ShotId) -> impl IntoView {
    let desk = hand.desk;
    let picture = ViewFn::from(move || {
        let scene_id = desk.film.with_untracked(|film| Some(film.as_ref()?.shot(shot)?.0.id));
        let scene =
            Memo::new(move |_| desk.film.with(|film| Some(Part(film.as_ref()?.shot(shot)?.0.clone()))));
        let one = Memo::new(move |_| desk.film.with(|film| Some(Part(film.as_ref()?.shot(shot)?.1.clone()))));
        let shows = depends(desk, scene, Signal::derive(move || one.get()));
        let look = Signal::derive(move || look(desk, scene_id?, shot, 0.0));
        let standing = RwSignal::new(Standing::Waiting);
        view! { <PictureCanvas rank=Rank::Small shows look standing class="day-picture" /> }.into_any()
    });
    view! { <WhenNear class="day-frame" content=picture /> }
}

/// In the can, earlier, later, pinned or not, dragged.
#[component]
fn Actions(
    hand: Hand,
    shot: ShotId,
    said: Memo<Option<Words>>,
    drag: RwSignal<Option<Drag>>,
) -> impl IntoView {
    let number = move || said.with(|said| said.as_ref().map(|said| said.number.clone()).unwrap_or_default());
    let is_pinned = move || said.with(|said| said.as_ref().is_some_and(|said| said.is_pinned));
    let is_first = move || said.with(|said| said.as_ref().is_none_or(|said| said.at == 0));
    let is_last = move || said.with(|said| said.as_ref().is_none_or(|said| said.at + 1 == said.of));
    let done = move |_| {
        let Some(plan) = hand.shooting().plan.get_untracked() else { return };
        // The row goes; the one that is next then has the focus.
        let next = hand.read_once(|_, _, plan| plan.shots_in_order().find(|one| *one != shot));
        hand.change(&say!("{} in the can", hand.number(shot)), |day| mark_done(day, &plan, shot));
        // What is in the can makes room for what comes next, on the set too.
        if hand.chosen.get_untracked() == Some(shot) {
            hand.chosen.set(None);
        }
        if let Some(next) = next.flatten() {
            focus_later(format!("day-done-{next}"));
        }
    };
    let pin = move |_| {
        let Some(places) = hand.read_once(|_, _, plan| Places::of(plan)) else { return };
        let (number, at) = (hand.number(shot), places.place_of(shot));
        if untrack(is_pinned) {
            hand.change(&say!("Unpin {number}"), |day| unpin(day, shot));
        } else if let Some(at) = at {
            hand.change(&say!("Pin {number}"), |day| places.put(day, shot, at));
        }
        focus_later(format!("day-pin-{shot}"));
    };
    view! {
        <div class="day-actions">
            <button
                type="button"
                class="day-done"
                id=format!("day-done-{shot}")
                aria-label=live(move || say!("{} in the can", number()))
                on:click=done
            >
                {say!("In the can")}
            </button>
            <button
                type="button"
                class="day-step"
                id=format!("day-up-{shot}")
                aria-label=live(move || say!("{} earlier", number()))
                title=say!("Earlier")
                disabled=is_first
                on:click=move |_| step(hand, shot, -1, "day-up")
            >
                <span aria-hidden="true">"↑"</span>
            </button>
            <button
                type="button"
                class="day-step"
                id=format!("day-down-{shot}")
                aria-label=live(move || say!("{} later", number()))
                title=say!("Later")
                disabled=is_last
                on:click=move |_| step(hand, shot, 1, "day-down")
            >
                <span aria-hidden="true">"↓"</span>
            </button>
            <button
                type="button"
                id=format!("day-pin-{shot}")
                aria-label=live(move || {
                    let number = number();
                    if is_pinned() { say!("Unpin {number}") } else { say!("Pin {number} here") }
                })
                on:click=pin
            >
                {live(move || if is_pinned() { say!("Unpin") } else { say!("Pin") }.to_owned())}
            </button>
            <DragHandle hand shot name=live(number) drag />
        </div>
    }
}
