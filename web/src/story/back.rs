//! Undo and redo of the film, each with the name of what it takes back or does again.

use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::widgets::live;

/// The two buttons.
#[component]
pub(crate) fn UndoRedo(desk: Desk) -> impl IntoView {
    let undo = Memo::new(move |_| desk.undo_name());
    let redo = Memo::new(move |_| desk.redo_name());
    view! {
        {button(say!("Undo"), undo, Callback::new(move |()| desk.undo()))}
        {button(say!("Redo"), redo, Callback::new(move |()| desk.redo()))}
    }
}

fn button(verb: &'static str, name: Memo<Option<String>>, press: Callback<()>) -> AnyView {
    let named = live(move || name.get().map_or_else(|| verb.to_owned(), |name| format!("{verb}: {name}")));
    view! {
        <button
            type="button"
            aria-label=named
            title=named
            disabled=move || name.get().is_none()
            on:click=move |_| press.run(())
        >
            {verb}
        </button>
    }
    .into_any()
}
