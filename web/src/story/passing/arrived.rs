//! A film that came in a link: put together with the one that is open, or opened as one of its own.

use film::{LinkedFilm, Merge, OpenedFilm, open_link};
use language::say;
use leptos::prelude::*;
use wasm_bindgen::JsValue;

use super::merging::MergeSheet;
use crate::films::Desk;
use crate::widgets::{live, when};

/// What stands behind the page's address.
fn fragment() -> Option<String> {
    let hash = window().location().hash().ok()?;
    let fragment = hash.strip_prefix('#')?;
    fragment.starts_with("film=").then(|| fragment.to_owned())
}

/// Takes the film out of the page's address, so that a reload does not bring it again.
fn clear_fragment() {
    let page = document().base_uri().ok().flatten().unwrap_or_default();
    let page = page.split('#').next().unwrap_or_default().to_owned();
    let cleared = window()
        .history()
        .and_then(|history| history.replace_state_with_url(&JsValue::NULL, "", Some(&page)));
    if let Err(error) = cleared {
        leptos::logging::warn!("the link stays in the address: {error:?}");
    }
}

/// The film in the page's address, for as long as nobody has decided what becomes of it.
#[component]
pub(in crate::story) fn Arrived(desk: Desk) -> impl IntoView {
    let found = RwSignal::new(fragment());
    let listening = window_event_listener_untyped("hashchange", move |_| found.set(fragment()));
    on_cleanup(move || listening.remove());
    let one = move || {
        found.get().map(|fragment| match open_link(&fragment) {
            Ok(LinkedFilm { opened, .. }) => view! { <Decide desk opened found /> }.into_any(),
            Err(error) => view! {
                <section class="story-arrived" role="alert">
                    <p class="problem">{crate::story::words::sentence_of(&error.to_string())}</p>
                    <p><button type="button" on:click=move |_| put_away(found)>{say!("Go on without it")}</button></p>
                </section>
            }
            .into_any(),
        })
    };
    view! { {one} }
}

fn put_away(found: RwSignal<Option<String>>) {
    clear_fragment();
    found.set(None);
}

#[component]
fn Decide(desk: Desk, opened: OpenedFilm, found: RwSignal<Option<String>>) -> impl IntoView {
    let theirs = StoredValue::new(opened);
    let is_copy = Memo::new(move |_| {
        desk.film.with(|mine| {
            let merge = mine.as_ref().map(|mine| theirs.with_value(|theirs| Merge::of(mine, &theirs.film)));
            merge.is_some_and(|merge| merge.is_of_one_film())
        })
    });
    let is_merged = RwSignal::new(false);
    let (title, shots) = theirs.with_value(|OpenedFilm { film, .. }| {
        let shots: usize = film.scenes.iter().map(|scene| scene.shots.len()).sum();
        (film.facts.called().to_owned(), shots)
    });
    let has_mine = Memo::new(move |_| desk.film.with(Option::is_some));
    let told = live(move || {
        let told = match (has_mine.get(), is_copy.get()) {
            (false, _) => {
                say!("No film is open. If it is a copy of one of yours, open that one first; this waits.")
            }
            (true, true) => say!("It is another copy of the film that is open."),
            (true, false) => say!(
                "It is no copy of the film that is open. If it is one of another film of yours, open that one \
                 first; this waits."
            ),
        };
        told.to_owned()
    });
    let open_it = move |_| {
        let OpenedFilm { film, problems } = theirs.get_value();
        put_away(found);
        leptos::task::spawn_local(async move {
            desk.create(film).await;
            desk.problems.update(|told| told.extend(problems.iter().map(ToString::to_string)));
        });
    };
    view! {
        <section class="story-arrived" aria-labelledby="story-arrived">
            <h2 id="story-arrived">{say!("A film came with the link: {title}, {shots} shots")}</h2>
            <p>{told}</p>
            <div class="story-start-ways">
                {when(move || is_copy.get(), move || view! {
                    <button type="button" class="next" on:click=move |_| is_merged.set(true)>
                        {say!("Put the two together")}
                    </button>
                }.into_any())}
                <button type="button" class:next=move || !is_copy.get() on:click=open_it>
                    {say!("Open it as a film of its own")}
                </button>
                <button type="button" on:click=move |_| put_away(found)>{say!("Go on without it")}</button>
            </div>
            {when(move || is_merged.get(), move || view! {
                <MergeSheet desk theirs done=move |is_done| {
                    is_merged.set(false);
                    if is_done {
                        put_away(found);
                    }
                } />
            }.into_any())}
        </section>
    }
}
