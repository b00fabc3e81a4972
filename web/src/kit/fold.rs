//! A section that folds, so that the screen stays short.

use leptos::prelude::*;

use crate::widgets::is_wide;

/// A section under a title that opens and closes it.
#[component]
pub(super) fn Fold(
    /// Its title.
    title: &'static str,
    /// How many things are in it, if they are counted.
    #[prop(optional)]
    count: Signal<Option<usize>>,
    /// Whether it is open from the start where there is room beside the lenses.
    #[prop(optional)]
    wide_open: bool,
    /// What is in it.
    children: Children,
) -> impl IntoView {
    view! {
        <details class="fold kit-section" open=wide_open && is_wide()>
            <summary>
                <h2>
                    {title}
                    {move || count.get().map(|count| view! { <span class="quiet">{format!(" {count}")}</span> })}
                </h2>
            </summary>
            {children()}
        </details>
    }
}
