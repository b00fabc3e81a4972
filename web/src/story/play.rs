//! Playing a scene's cut, or the film's: its pictures for their planned seconds, entry by entry, or two neighbours beside
//! each other.

mod beside;
mod player;
mod running_order;
mod scrubber;
mod showing;
mod words;

use std::sync::Arc;

use film::{Film, Scene, SceneId};
use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::films::Desk;
use crate::session::Session;
use crate::story::play::running_order::RunningOrder;
use crate::story::play::showing::Showing;
use crate::widgets::{close, open};

/// The button that plays a scene's cut.
#[component]
pub(super) fn PlayScene(session: Session, desk: Desk, id: SceneId) -> impl IntoView {
    view! { <Play session desk scenes=Signal::derive(move || vec![id]) name=say!("Play the cut") /> }
}

/// The button that plays the film.
#[component]
pub(super) fn PlayFilm(session: Session, desk: Desk) -> impl IntoView {
    let scenes = Signal::derive(move || {
        desk.film.with(|film| {
            let scenes = film.as_ref().map(|film| film.scenes.iter().map(|scene| scene.id).collect());
            scenes.unwrap_or_default()
        })
    });
    view! {
        // A film's page always has this button, so the scenes' own need no style of theirs.
        <link rel="stylesheet" href="story/play.css" />
        <Play session desk scenes name=say!("Play the film") />
    }
}

/// A button and what it opens.
#[component]
fn Play(
    session: Session,
    desk: Desk,
    /// The scenes to play, in their order.
    scenes: Signal<Vec<SceneId>>,
    /// What it says.
    name: &'static str,
) -> impl IntoView {
    let dialog = NodeRef::<html::Dialog>::new();
    // What plays is the film as it was when it began; nothing of this exists while nothing plays.
    let order = RwSignal::new(None::<Arc<RunningOrder>>);
    let is_empty = Memo::new(move |_| {
        desk.film.with(|film| {
            film.as_ref().is_none_or(|film| {
                scenes.with(|scenes| {
                    !scenes.iter().any(|id| film.scene(*id).is_some_and(|scene| scene.cut_s() > 0.0))
                })
            })
        })
    });
    let play = move |_| {
        let made = desk.film.with_untracked(|film| {
            let film = film.as_ref()?;
            let rehearse = |film: &Film, scene: &Scene, shot: &_| desk.rehearsal(film, scene, shot);
            Some(RunningOrder::of(film, &scenes.get_untracked(), rehearse))
        });
        if let Some(made) = made.filter(|order| !order.turns().is_empty()) {
            order.set(Some(Arc::new(made)));
            open(dialog);
        }
    };
    view! {
        <button type="button" aria-haspopup="dialog" disabled=move || is_empty.get() on:click=play>{name}</button>
        <dialog node_ref=dialog class="play" aria-label=name on:close=move |_| order.set(None)>
            {move || order.get().map(|order| {
                view! { <Showing session order done=Callback::new(move |()| close(dialog)) /> }
            })}
        </dialog>
    }
}
