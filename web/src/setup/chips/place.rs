//! What the place allows: how far the background is, and how much room there is to step back.

use leptos::html;
use leptos::prelude::*;

use crate::session::Session;
use crate::widgets::{LengthField, Sheet};

/// What the place allows.
#[component]
pub(crate) fn PlaceSheet(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let plan = session.plan;
    let unit = Signal::derive(move || session.unit());
    let has_wall = move || plan.with(|plan| plan.shot.room_m.is_some());
    view! {
        <Sheet node title="Place">
            <LengthField
                label="Background behind them"
                range=(0.0, 100_000.0)
                unit
                value=Signal::derive(move || plan.with(|plan| plan.shot.background_behind_subject_m))
                set=move |metres| plan.update(|plan| plan.shot.background_behind_subject_m = metres)
            />
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=has_wall
                    on:change:target=move |event| {
                        let on = event.target().checked();
                        plan.update(|plan| plan.shot.room_m = on.then_some(3.0));
                    }
                />
                "Something ends the room behind the phone"
            </label>
            <Show when=has_wall>
                <LengthField
                    label="Room to step back from them"
                    range=(0.1, 1000.0)
                    unit
                    value=Signal::derive(move || plan.with(|plan| plan.shot.room_m.unwrap_or(3.0)))
                    set=move |metres| plan.update(|plan| plan.shot.room_m = Some(metres))
                />
            </Show>
        </Sheet>
    }
}
