//! A text to be copied: by a button, or by hand where the browser lets no button.

use language::say;
use leptos::prelude::*;
use wasm_bindgen_futures::JsFuture;

use super::live;

/// A text to be copied, with a button.
#[component]
pub(crate) fn CopyField(
    /// What it is.
    label: &'static str,
    /// The text.
    #[prop(into)]
    text: Signal<String>,
) -> impl IntoView {
    // What was copied: once the text is another, it is not.
    let copied = RwSignal::new(None::<String>);
    let copy = move |_| {
        let text = text.get_untracked();
        leptos::task::spawn_local(async move {
            let copying = window().navigator().clipboard().write_text(&text);
            if JsFuture::from(copying).await.is_ok() {
                copied.try_set(Some(text));
            }
        });
    };
    let is_copied = move || copied.with(|copied| copied.as_ref() == Some(&text.get()));
    view! {
        <div class="copy-field">
            <input type="text" readonly aria-label=label prop:value=text on:focus:target=|event| event.target().select() />
            <button type="button" on:click=copy>
                {live(move || if is_copied() { say!("Copied") } else { say!("Copy it") }.to_owned())}
            </button>
        </div>
    }
}
