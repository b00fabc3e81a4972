//! A button that asks for a file.

use language::say;
use leptos::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::File;

/// A button that asks for a file.
#[component]
pub(crate) fn FileButton(
    /// What it says.
    #[prop(into)]
    words: Signal<String>,
    /// Which kinds of file, as an input has it.
    accept: &'static str,
    /// Which camera may take it at once, as an input has it.
    #[prop(optional)]
    capture: Option<&'static str>,
    /// Takes the file.
    #[prop(into)]
    bring: Callback<File>,
) -> impl IntoView {
    view! {
        <label class="button">
            <span>{words}</span>
            <input
                type="file"
                class="unseen"
                accept=accept
                capture=capture
                on:change:target=move |event| {
                    let input = event.target();
                    let file = input.files().and_then(|files| files.item(0));
                    // Emptied, so that choosing the same file again is news.
                    input.set_value("");
                    if let Some(file) = file {
                        bring.run(file);
                    }
                }
            />
        </label>
    }
}

/// What is in a file; in words why it cannot be had.
pub(crate) async fn bytes_of(file: &File) -> Result<Vec<u8>, &'static str> {
    match JsFuture::from(file.array_buffer()).await {
        Ok(buffer) => Ok(js_sys::Uint8Array::new(&buffer).to_vec()),
        Err(_) => Err(say!("could not be read; try it again")),
    }
}
