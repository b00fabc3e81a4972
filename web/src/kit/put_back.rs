//! The line that says what went, with the button that puts it back.

use language::say;
use leptos::html;
use leptos::prelude::*;

/// What went, and a button that takes the focus: whoever took it out sees the line, and is not left without a place.
#[component]
pub(super) fn PutBack(
    /// What went.
    #[prop(into)]
    words: String,
    /// What the button does, in full.
    #[prop(into)]
    label: String,
    /// Puts it back.
    #[prop(into)]
    back: Callback<()>,
) -> impl IntoView {
    let node = NodeRef::<html::Button>::new();
    Effect::new(move |_| {
        if let Some(button) = node.get() {
            // Refused only for what is not in the page any more.
            drop(button.focus());
        }
    });
    view! {
        <p class="kit-removed">
            <span>{words}</span>
            <button type="button" node_ref=node aria-label=label on:click=move |_| back.run(())>{say!("Put back")}</button>
        </p>
    }
}
