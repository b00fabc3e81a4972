//! Whether what was done to the film is kept; and while it is not, the film as a file, at hand.

use language::say;
use leptos::prelude::*;

use crate::films::{Desk, Saving};
use crate::handing::{Handing, HandingTold};
use crate::story::film_sheet::film_file;
use crate::widgets::{live, when};

/// What is said of it, with the button that a person needs then.
#[component]
pub(crate) fn Saved(desk: Desk) -> impl IntoView {
    let words = live(move || desk.saving.get().words());
    let handing = Handing::new();
    view! {
        <span class="quiet" role="status">{words}</span>
        {when(move || !desk.saving.with(Saving::is_kept), move || view! {
            <button type="button" on:click=move |_| handing.hand(move || film_file(desk))>
                {say!("Save the film as a file")}
            </button>
            <HandingTold handing />
        }.into_any())}
    }
}
