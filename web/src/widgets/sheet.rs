//! A sheet: from the bottom on a phone, in the middle on a laptop; the browser's own dialog, so that focus and Escape work.

use language::say;
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::JsValue;

/// What is done when a sheet has been closed, for those in whose context it is.
#[derive(Clone, Copy)]
pub(crate) struct SheetLeft(pub(crate) StoredValue<Box<dyn Fn()>, LocalStorage>);

/// A sheet with a title and a button that closes it.
#[component]
pub(crate) fn Sheet(
    /// The dialog, for whoever opens it.
    node: NodeRef<html::Dialog>,
    /// Its title.
    title: &'static str,
    /// What is done when it has been closed, beside what all sheets in this context do.
    #[prop(optional, into)]
    left: Option<Callback<()>>,
    /// What is on it.
    children: Children,
) -> impl IntoView {
    let all_left = use_context::<SheetLeft>();
    view! {
        <dialog
            node_ref=node
            class="sheet"
            aria-label=title
            on:close=move |_| {
                // The browser says it a moment later, when what asked for the sheet may be gone too.
                if let Some(left) = left {
                    left.try_run(());
                }
                if let Some(SheetLeft(left)) = all_left {
                    left.try_with_value(|left| left());
                }
            }
            // A tap beside the sheet lands on the dialog itself, one on the sheet on what is inside.
            on:click=move |event| {
                let dialog = node.get_untracked().map(JsValue::from);
                if event.target().map(JsValue::from) == dialog {
                    close(node);
                }
            }
        >
            <div class="sheet-body">
                <header>
                    <h2>{title}</h2>
                    <button type="button" class="plain" on:click=move |_| close(node)>{say!("Done")}</button>
                </header>
                {children()}
            </div>
        </dialog>
    }
}

/// Opens a sheet over the page.
pub(crate) fn open(node: NodeRef<html::Dialog>) {
    if let Some(dialog) = node.get_untracked()
        && !dialog.open()
        // Refused only for a dialog that is not in the page, where there is nothing to show.
        && let Err(error) = dialog.show_modal()
    {
        leptos::logging::warn!("a sheet could not be opened: {error:?}");
    }
}

/// Closes a sheet.
pub(crate) fn close(node: NodeRef<html::Dialog>) {
    if let Some(dialog) = node.get_untracked() {
        dialog.close();
    }
}
