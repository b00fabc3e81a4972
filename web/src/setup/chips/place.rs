//! What the place allows: how far the background is, and how much room there is to step back.

use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::session::Session;
use crate::widgets::{LengthField, Sheet, Tick};

/// The room behind the phone where nothing is said, metres: chosen, as that of a living room.
const USUAL_ROOM_M: f64 = 3.0;

/// What the place allows.
#[component]
pub(crate) fn PlaceSheet(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let plan = session.plan;
    let unit = Signal::derive(move || session.unit());
    let has_wall = move || plan.with(|plan| plan.shot.room_m.is_some());
    view! {
        <Sheet node title=say!("Place")>
            <LengthField
                label=say!("Background behind them")
                range=(0.0, 100_000.0)
                unit
                value=Signal::derive(move || plan.with(|plan| plan.shot.background_behind_subject_m))
                set=move |metres| plan.update(|plan| plan.shot.background_behind_subject_m = metres)
            />
            <Tick
                words=say!("Something ends the room behind the phone")
                is_on=Signal::derive(has_wall)
                set=move |is_on: bool| plan.update(|plan| plan.shot.room_m = is_on.then_some(USUAL_ROOM_M))
            />
            <Show when=has_wall>
                <LengthField
                    label=say!("Room to step back from them")
                    range=(0.1, 1000.0)
                    unit
                    value=Signal::derive(move || plan.with(|plan| plan.shot.room_m.unwrap_or(USUAL_ROOM_M)))
                    set=move |metres| plan.update(|plan| plan.shot.room_m = Some(metres))
                />
            </Show>
        </Sheet>
    }
}
