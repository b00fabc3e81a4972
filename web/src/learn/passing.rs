//! A lesson passed on: as a link, as a frame in somebody's own page, on paper.

use film::lesson_link;
use language::say;
use leptos::prelude::*;

use super::Learning;
use crate::address::address;
use crate::widgets::{CopyField, Tick, live};

/// The ways to pass a lesson on.
#[component]
pub(super) fn Passing(learning: Learning) -> impl IntoView {
    let with_kit = RwSignal::new(false);
    let fragment = move || {
        let kit = with_kit.get().then(|| learning.kit.get());
        learning.state.with(|state| lesson_link(state, kit.as_deref()))
    };
    let link = live(move || address(None, &fragment()));
    let frame = live(move || {
        let title = learning.state.with(|state| state.lesson.title());
        format!(
            "<iframe src=\"{}\" title=\"{title}\" width=\"640\" height=\"560\" loading=\"lazy\"></iframe>",
            address(Some("frame.html"), &fragment())
        )
    });
    let print = move |_| {
        // Refused only where a browser cannot print, which it then says itself.
        drop(window().print());
    };
    view! {
        <details class="fold learn-passing">
            <summary>{say!("Pass this lesson on")}</summary>
            <p class="quiet">
                {say!("A link opens the lesson just as it stands here, on the phone of whoever opens it.")}
            </p>
            <Tick
                words=say!("on my phone instead, so that all see the same")
                is_on=with_kit
                set=move |is_on| with_kit.set(is_on)
            />
            <CopyField label=say!("The link") text=link />
            <p class="quiet">{say!("Or as a frame in your own page: the picture and its handles, nothing else.")}</p>
            <CopyField label=say!("The frame") text=frame />
            <p>
                <button type="button" on:click=print>{say!("Print it as a handout")}</button>
            </p>
        </details>
    }
}
