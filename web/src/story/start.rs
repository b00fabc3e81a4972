//! Where no film is open: a new one, the demo, one from a file, or one that is kept here.

use std::sync::Arc;

use film::Film;
use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::session::Session;
use crate::story::first::first_film;
use crate::story::words::seconds;
use crate::widgets::{FileButton, bytes_of};

/// The ways to begin.
#[component]
pub(crate) fn Start(session: Session, desk: Desk) -> impl IntoView {
    let begin = move |film: Film| {
        leptos::task::spawn_local(async move { desk.create(film).await });
    };
    let new_film = move |_| {
        let kit = session.owned.get_untracked();
        begin(first_film(Arc::clone(&kit), desk));
    };
    view! {
        <section class="story-start">
            <h1>{say!("Story")}</h1>
            <p>
                {say!(
                    "A film becomes scenes, a scene its shots, and every shot a place for the phone. Begin with a name \
                     and two people; the first shots are proposed for you."
                )}
            </p>
            <div class="story-start-ways">
                <button type="button" class="next" on:click=new_film>{say!("Start a film")}</button>
                <button type="button" on:click=move |_| begin(film::demo_film())>
                    {say!("Look at an invented one")}
                </button>
                <FromFile desk />
            </div>
            <KeptFilms desk />
            <Problems desk />
        </section>
    }
}

/// Which files may be a film's.
pub(super) const FILM_FILES: &str = ".json,application/json";

/// A film from a file.
#[component]
pub(super) fn FromFile(
    desk: Desk,
    /// What is done when it is open.
    #[prop(optional, into)]
    opened: Option<Callback<()>>,
) -> impl IntoView {
    let refused = RwSignal::new(None::<String>);
    let bring = move |file: web_sys::File| {
        refused.set(None);
        leptos::task::spawn_local(async move {
            let outcome = match bytes_of(&file).await {
                Ok(bytes) => desk.import(&bytes).await,
                Err(why) => Err(why.to_owned()),
            };
            if let Err(why) = outcome {
                refused.try_set(Some(refusal(&file, &why)));
            } else if let Some(opened) = opened {
                opened.try_run(());
            }
        });
    };
    view! {
        <FileButton words=say!("Open a file") accept=FILM_FILES bring />
        {refused_told(refused)}
    }
}

/// Why a file cannot be used, in words.
pub(super) fn refusal(file: &web_sys::File, why: &str) -> String {
    format!("{}: {why}.", file.name())
}

/// What was said of the file that was chosen last, beside the button that asked for it.
pub(super) fn refused_told(refused: RwSignal<Option<String>>) -> AnyView {
    let told = move || refused.get().map(|why| view! { <p class="problem" role="alert">{why}</p> });
    told.into_any()
}

/// The films that are kept here.
#[component]
pub(super) fn KeptFilms(desk: Desk) -> impl IntoView {
    leptos::task::spawn_local(async move { desk.list().await });
    let rows = move || {
        desk.kept.with(|kept| {
            let row = |card: &crate::films::FilmCard| {
                let (id, title) = (card.id, card.title.clone());
                let title = if title.is_empty() { say!("Without a title").to_owned() } else { title };
                let words = say!("{} shots, {}", card.shots, seconds(card.seconds));
                let is_open = desk.is_open(id);
                view! {
                    <li>
                        <button
                            type="button"
                            class="story-kept"
                            aria-current=is_open.then_some("true")
                            on:click=move |_| leptos::task::spawn_local(async move { desk.open(id).await })
                        >
                            <strong>{title.clone()}</strong>
                            <span class="quiet">{words}</span>
                        </button>
                        <Remove desk id title />
                    </li>
                }
            };
            kept.iter().map(row).collect_view()
        })
    };
    view! {
        <Show when=move || !desk.kept.with(Vec::is_empty)>
            <h2>{say!("Kept here")}</h2>
            <ul class="story-kept-list">{rows}</ul>
        </Show>
    }
}

/// Removes a film, after asking.
#[component]
fn Remove(desk: Desk, id: crate::films::FilmId, title: String) -> impl IntoView {
    let asks = RwSignal::new(false);
    let (ask, sure) = (say!("Remove {title}"), say!("Remove {title} for good"));
    view! {
        {move || if asks.get() {
            view! {
                <div class="story-remove" role="alert">
                    <p>{say!("Remove it with all that was ever done to it? No Undo brings it back.")}</p>
                    <button
                        type="button"
                        class="for-good"
                        aria-label=sure.clone()
                        on:click=move |_| leptos::task::spawn_local(async move { desk.remove(id).await })
                    >
                        {say!("Remove for good")}
                    </button>
                    <button type="button" on:click=move |_| asks.set(false)>{say!(in "a film", "Keep it")}</button>
                </div>
            }.into_any()
        } else {
            view! {
                <button type="button" class="plain" aria-label=ask.clone() on:click=move |_| asks.set(true)>
                    {say!("Remove")}
                </button>
            }.into_any()
        }}
    }
}

/// What was the matter with the film that was opened last.
#[component]
pub(crate) fn Problems(desk: Desk) -> impl IntoView {
    view! {
        <Show when=move || !desk.problems.with(Vec::is_empty)>
            <div class="story-problems" role="alert">
                <ul>
                    {move || desk.problems.get().into_iter().map(|problem| view! { <li>{problem}</li> }).collect_view()}
                </ul>
                <button type="button" on:click=move |_| desk.problems.set(Vec::new())>
                    {say!("I have read this")}
                </button>
            </div>
        </Show>
    }
}
