//! The same framing on larger cameras, beside the phone's own picture.

mod cameras;

pub(crate) use cameras::LargerCameras;

use language::say;
use leptos::prelude::*;

use crate::later::{LaterRoom, Room};
use crate::session::Session;
use crate::widgets::when;

/// The same framing on larger cameras, fetched and drawn only while it is open.
#[component]
pub(crate) fn BesideLarger(session: Session) -> impl IntoView {
    let is_open = RwSignal::new(false);
    view! {
        <details
            class="fold beside"
            on:toggle:target=move |event| is_open.set(event.target().open())
        >
            <summary>{say!("Beside a larger camera")}</summary>
            {when(move || is_open.get(), move || {
                view! { <LaterRoom session room=Room::LargerCameras left=|()| {} /> }.into_any()
            })}
        </details>
    }
}
