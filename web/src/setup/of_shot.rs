//! Where Set-up says which shot of a film it shows, if it shows one.

use leptos::prelude::*;

use crate::later::{LaterRoom, Room};
use crate::session::{Screen, Session};

/// The place for it, which is empty while the plan is nobody's.
#[component]
pub(crate) fn OfShotPlace(session: Session) -> impl IntoView {
    let is_of_shot = Memo::new(move |_| session.plan.with(|plan| plan.of.is_some()));
    view! {
        <Show when=move || is_of_shot.get()>
            <LaterRoom session room=Room::OfShot left=move |()| session.screen.set(Screen::Story) />
        </Show>
    }
}
