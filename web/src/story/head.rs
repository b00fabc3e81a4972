//! The film's name and line, and what can be done with all of it.

use std::sync::Arc;

use film::{Command, EditError, FilmFacts};
use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::films::Desk;
use crate::session::Session;
use crate::story::back::UndoRedo;
use crate::story::explanations::LENGTH;
use crate::story::film_sheet::FilmSheet;
use crate::story::saved::Saved;
use crate::story::start::Problems;
use crate::story::words::seconds;
use crate::story::{play, tell};
use crate::widgets::{explained, live, open};

/// Changes what holds for all of the film.
pub(super) fn change_facts(
    desk: Desk,
    what: &str,
    change: impl FnOnce(&mut FilmFacts),
) -> Result<(), EditError> {
    let Some(facts) = desk.film.with_untracked(|film| film.as_ref().map(|film| Arc::clone(&film.facts)))
    else {
        return Ok(());
    };
    let mut facts = FilmFacts::clone(&facts);
    change(&mut facts);
    desk.change(what, None, Command::SetFacts(Arc::new(facts)))
}

/// A text of the film's facts.
fn text(desk: Desk, read: fn(&FilmFacts) -> &String) -> Signal<String> {
    live(move || {
        desk.film.with(|film| film.as_ref().map_or_else(String::new, |film| read(&film.facts).clone()))
    })
}

/// Title, line, undo and redo, play, and the sheet for the rest.
#[component]
pub(super) fn Head(session: Session, desk: Desk) -> impl IntoView {
    let sheet = NodeRef::<html::Dialog>::new();
    let length = live(move || {
        desk.film.with(|film| {
            film.as_ref().map_or_else(String::new, |film| {
                let shots: usize = film.scenes.iter().map(|scene| scene.shots.len()).sum();
                say!("{} in the cut, {shots} shots", seconds(film.cut_s()))
            })
        })
    });
    view! {
        <header class="story-head">
            <input
                type="text"
                class="story-title"
                aria-label=say!("Title")
                placeholder=say!("What is it called?")
                maxlength="200"
                prop:value=text(desk, |facts| &facts.title)
                on:input:target=move |event| {
                    let title = event.target().value();
                    tell(desk, change_facts(desk, say!("Change the title"), |facts| facts.title = title));
                }
            />
            <textarea
                class="story-line"
                rows="1"
                aria-label=say!("The story in one line")
                placeholder=say!("The story in one line: who wants what, and what is in the way?")
                maxlength="500"
                prop:value=text(desk, |facts| &facts.line)
                on:input:target=move |event| {
                    let line = event.target().value();
                    tell(desk, change_facts(desk, say!("Change the line"), |facts| facts.line = line));
                }
            ></textarea>
            <div class="story-tools" role="toolbar" aria-label=say!("The film")>
                <UndoRedo desk />
                <play::PlayFilm session desk />
                <button type="button" aria-haspopup="dialog" on:click=move |_| open(sheet)>
                    {say!("Film and files")}
                </button>
                <div class="quiet story-length">{explained(length, &LENGTH)}</div>
                <Saved desk />
            </div>
            <Problems desk />
            <FilmSheet session desk node=sheet />
        </header>
    }
}
