//! What plays, over the whole screen: the picture, and what moves it.

use std::sync::Arc;

use language::say;
use leptos::ev::KeyboardEvent;
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{HtmlButtonElement, HtmlInputElement};

use crate::pictures::{Look, PictureCanvas, Pictures, Rank, Standing, wants_less_motion};
use crate::session::Session;
use crate::story::play::beside::Beside;
use crate::story::play::player::Player;
use crate::story::play::running_order::{RunningOrder, Shows};
use crate::story::play::scrubber::Scrubber;
use crate::story::play::words;
use crate::widgets::{live, when};

/// The picture, its words and its controls; plays at once unless less motion is asked for.
#[component]
pub(super) fn Showing(
    session: Session,
    /// What plays.
    order: Arc<RunningOrder>,
    /// Closes it.
    done: Callback<()>,
) -> impl IntoView {
    let pictures = Pictures::here();
    let player = Player::new(order);
    let body = NodeRef::<html::Div>::new();
    let is_still = wants_less_motion();
    // In the next frame the canvas is in the page, and has its width.
    request_animation_frame(move || {
        if let Some(body) = body.try_get_untracked().flatten() {
            // The keys are heard here, wherever the focus goes from.
            let focused = body.focus();
            debug_assert!(focused.is_ok(), "an element that takes focus: {focused:?}");
            if !is_still {
                player.play(pictures);
            }
        }
    });
    let press = move |event: KeyboardEvent| {
        if event.alt_key() || event.ctrl_key() || event.meta_key() {
            return;
        }
        // A button that has the focus is pressed by the space bar, and a scrubber moved by the arrows.
        let on = event.target();
        let on_button = on.as_ref().is_some_and(JsCast::has_type::<HtmlButtonElement>);
        let on_scrubber = on.as_ref().is_some_and(JsCast::has_type::<HtmlInputElement>);
        match event.key().as_str() {
            " " if !is_still && !on_button => player.toggle(pictures),
            "ArrowLeft" if !on_scrubber => {
                player.step(-1);
            }
            "ArrowRight" if !on_scrubber => {
                player.step(1);
            }
            _ => return,
        }
        event.prevent_default();
    };
    let aspect = player.order().film().facts.aspect.to_f64();
    view! {
        <div node_ref=body class="play-body" class:tall={aspect < 1.0} tabindex="-1" style:--aspect=aspect.to_string() on:keydown=press>
            {when(move || !player.is_beside(), move || {
                let toggle = move || if !is_still { player.toggle(pictures) };
                view! { <Screen player toggle=Callback::new(move |()| toggle()) /> }.into_any()
            })}
            {when(move || player.is_beside(), move || view! { <Beside session player /> }.into_any())}
            <div class="play-controls">
                <Scrubber player />
                <Words player />
                <Buttons player is_still done />
            </div>
        </div>
    }
}

/// The picture, as large as fits. Played pictures lie over the one at rest; a card lies over both.
#[component]
fn Screen(player: Player, toggle: Callback<()>) -> impl IntoView {
    let order = player.order();
    let aspect = order.film().facts.aspect.to_f64();
    let shows = Signal::derive(move || {
        player.rests_at_s();
    });
    let look = Signal::derive(move || {
        let stage = player.order().stage(player.rests_at_s())?;
        Some(Look::of(&stage, aspect))
    });
    let standing = player.standing();
    let card = Memo::new(move |_| {
        let order = player.order();
        let turn = order.turn_at(player.at_s()).filter(|turn| turn.shows == Shows::Nothing)?;
        Some(words::no_picture(&order, turn))
    });
    let is_late = move || standing.get() == Standing::Waiting;
    view! {
        <div class="play-stage">
            // A hand's shortcut for the button below, which says what it does.
            <div class="play-frame" class:late=is_late on:click=move |_| toggle.run(())>
                <PictureCanvas rank=Rank::Large shows look standing class="play-picture" />
                <canvas node_ref=player.screen() class="play-screen" class:on=move || player.is_on_screen() aria-hidden="true"></canvas>
                {move || card.get().map(|words| view! { <p class="play-card">{words}</p> })}
            </div>
            <Trouble standing />
        </div>
    }
}

/// What is shown, in words: told as it changes while it rests, and silent while it plays.
#[component]
fn Words(player: Player) -> impl IntoView {
    let due = Memo::new(move |_| player.order().due(player.at_s()));
    let words = live(move || {
        let order = player.order();
        if player.is_beside() {
            return due
                .get()
                .and_then(|_| words::which_cut(&order, untrack(|| player.at_s())))
                .unwrap_or_default();
        }
        let turn = due.get().and_then(|at| order.turns().get(at));
        turn.map_or_else(String::new, |turn| words::entry(&order, turn))
    });
    let is_playing = Memo::new(move |_| player.is_playing());
    view! {
        <p class="play-words" role="status" aria-live=move || if is_playing.get() { "off" } else { "polite" }>
            {words}
        </p>
    }
}

/// Play and pause, one entry back and on, two beside each other, done.
#[component]
fn Buttons(
    player: Player,
    /// Whether nothing may move by itself.
    is_still: bool,
    done: Callback<()>,
) -> impl IntoView {
    let pictures = Pictures::here();
    let has_two = player.order().turns().len() > 1;
    let is_playing = Memo::new(move |_| player.is_playing());
    let is_beside = Memo::new(move |_| player.is_beside());
    let step = move |by: isize, entry: &'static str, cut: &'static str, key: &'static str| {
        let can = Memo::new(move |_| player.can_step(by));
        view! {
            <button
                type="button"
                aria-keyshortcuts=key
                // Not disabled, which would take the focus away from whoever steps with it.
                aria-disabled=live(move || (!can.get()).to_string())
                on:click=move |_| {
                    player.step(by);
                }
            >
                {live(move || if is_beside.get() { cut } else { entry }.to_owned())}
            </button>
        }
    };
    let play = if is_still {
        view! { <span class="quiet play-still">{say!("Less motion is asked for: step, or move it by hand.")}</span> }
            .into_any()
    } else {
        view! {
            <button type="button" class="play-toggle" aria-keyshortcuts="Space" on:click=move |_| player.toggle(pictures)>
                {live(move || if is_playing.get() { say!("Pause") } else { say!("Play") }.to_owned())}
            </button>
        }
        .into_any()
    };
    view! {
        <div class="play-buttons" role="toolbar" aria-label=say!("What plays")>
            {play}
            {step(-1, say!("Previous"), say!("Previous cut"), "ArrowLeft")}
            {step(1, say!("Next"), say!("Next cut"), "ArrowRight")}
            <button
                type="button"
                class="play-two"
                aria-pressed=live(move || is_beside.get().to_string())
                disabled=!has_two
                on:click=move |_| player.set_beside(!is_beside.get_untracked())
            >
                {say!("Two side by side")}
            </button>
            <button type="button" class="play-done" on:click=move |_| done.run(())>{say!("Done")}</button>
        </div>
    }
}

/// What is the matter if there is no picture, and what to do about it.
#[component]
fn Trouble(standing: RwSignal<Standing>) -> impl IntoView {
    let pictures = Pictures::here();
    let why = Memo::new(move |_| match standing.get() {
        Standing::Failed(why) => Some(why),
        Standing::Waiting | Standing::Refining | Standing::Finished => None,
    });
    view! {
        {when(move || why.with(Option::is_some), move || view! {
            <div class="play-trouble" role="alert">
                <p>{live(move || say!("There is no picture of this: {}.", why.get().unwrap_or_default()))}</p>
                <button type="button" on:click=move |_| pictures.retry()>{say!("Try again")}</button>
            </div>
        }.into_any())}
    }
}
