//! A box to tick.

use leptos::prelude::*;

/// A box to tick, with what it says.
#[component]
pub(crate) fn Tick(
    /// What it says if ticked.
    #[prop(into)]
    words: Signal<String>,
    /// Whether it is.
    #[prop(into)]
    is_on: Signal<bool>,
    /// Ticks it, or takes the tick away.
    #[prop(into)]
    set: Callback<bool>,
) -> impl IntoView {
    view! {
        <label class="check">
            <input type="checkbox" prop:checked=is_on on:change:target=move |event| set.run(event.target().checked()) />
            <span>{words}</span>
        </label>
    }
}
