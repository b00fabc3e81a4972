//! Story: a film from top to bottom like a page, its scenes with their shots and their cut.
//!
//! Everything on it is made from `desk.film`; every change is a command at the desk, with its name in plain words.

mod back;
mod cast;
mod cut_entry;
mod draft;
mod explanations;
mod facts;
mod film_sheet;
mod findings;
mod first;
mod floor;
mod head;
mod link;
mod moving;
mod near;
mod number_choices;
mod passing;
mod play;
mod saved;
mod scene_view;
mod shot_row;
mod shot_sheet;
mod shots;
mod start;
mod strip;
pub(crate) mod words;

pub(crate) use back::UndoRedo;
#[cfg(test)]
pub(crate) use explanations::EXPLANATIONS;
pub(crate) use facts::{LIGHT_EV, LightNames};
pub(crate) use film_sheet::brightness;
pub(crate) use floor::FloorInSun;
pub(crate) use link::{OfShotBar, keep_in_step, keep_kit_in_step, open_in_setup};
pub(crate) use near::WhenNear;
pub(crate) use saved::Saved;
pub(crate) use shots::take_up;
pub(crate) use start::{Problems, Start};
pub(crate) use strip::{depends, look};

use film::{Scene, SceneId};
use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::part::Part;
use crate::pictures::Pictures;
use crate::session::Session;

/// The Story screen.
#[component]
pub(crate) fn StoryScreen(session: Session) -> impl IntoView {
    Pictures::provide(session);
    let desk = Desk::here();
    let has_film = Memo::new(move |_| desk.film.with(Option::is_some));
    view! {
        <link rel="stylesheet" href="story/story.css" />
        <link rel="stylesheet" href="story/floor.css" />
        <link rel="stylesheet" href="story/explained.css" />
        <div class="story">
            <passing::Arrived desk />
            {move || {
                if has_film.get() {
                    view! { <FilmPage session desk /> }.into_any()
                } else {
                    view! { <Start session desk /> }.into_any()
                }
            }}
        </div>
    }
}

/// The film that is open.
#[component]
fn FilmPage(session: Session, desk: Desk) -> impl IntoView {
    let scenes: Memo<Vec<SceneId>> = Memo::new(move |_| {
        desk.film.with(|film| {
            let scenes = film.as_ref().map(|film| film.scenes.iter().map(|scene| scene.id));
            scenes.map(Iterator::collect).unwrap_or_default()
        })
    });
    let add = move |_| {
        let at = scenes.with_untracked(Vec::len);
        tell(desk, first::add_scene(desk, at));
    };
    view! {
        <head::Head session desk />
        <cast::CastRow session desk />
        <For each=move || scenes.get() key=|id| *id children=move |id| view! { <scene_view::SceneView session desk id /> } />
        <p>
            <button type="button" on:click=add>{say!("Add a scene")}</button>
        </p>
        <findings::StoryLacks desk />
    }
}

/// A scene that is shown, for all that shows parts of it: one look into the film for each edit, and not one for each part.
#[derive(Clone, Copy)]
struct ShownScene(SceneId, Memo<Option<Part<Scene>>>);

/// The scene of that id, as long as it is there; told anew only when it is another.
fn scene_of(desk: Desk, id: SceneId) -> Memo<Option<Part<Scene>>> {
    match use_context::<ShownScene>() {
        Some(ShownScene(shown, scene)) if shown == id => scene,
        Some(_) | None => {
            Memo::new(move |_| desk.film.with(|film| film.as_ref()?.scene(id).cloned().map(Part)))
        }
    }
}

/// Says what could not be done, where an edit was refused: the film is as it was.
pub(crate) fn tell<Done>(desk: Desk, outcome: Result<Done, film::EditError>) {
    if let Some(error) = outcome.err() {
        desk.problems.set(vec![say!("That could not be done: {error}.")]);
    }
}
