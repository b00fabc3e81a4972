//! One kit for another: asked before anything of the user's own goes, and undone with one tap.

use film::{KitRecord, counted};
use language::say;
use leptos::prelude::*;

use crate::session::Session;

/// The question before a kit is replaced, and the line that puts the old one back.
#[component]
pub(super) fn Exchange(
    session: Session,
    /// The kit that is offered; emptied when it was answered.
    offered: RwSignal<Option<KitRecord>>,
) -> impl IntoView {
    let before = RwSignal::new(None::<KitRecord>);
    let replace = move |_| {
        if let Some(kit) = offered.get_untracked() {
            before.set(Some(session.kit.get_untracked()));
            session.kit.set(kit);
            offered.set(None);
        }
    };
    // The two change places, so that what was done since is one tap away too.
    let bring_back = move |_| {
        if let Some(kit) = before.get_untracked() {
            before.set(Some(session.kit.get_untracked()));
            session.kit.set(kit);
        }
    };
    let question = move || {
        let words = offered.with(|offered| {
            offered
                .as_ref()
                .map(|new| session.kit.with(|old| say!("Replace {} by {}?", told(old), told(new))))
        })?;
        Some(view! {
            <div class="kit-question" role="alertdialog" aria-label=say!("Replace the kit")>
                <p>{words}</p>
                <div class="kit-buttons">
                    <button type="button" class="kit-do" on:click=replace>{say!("Replace")}</button>
                    <button type="button" on:click=move |_| offered.set(None)>{say!("Keep mine")}</button>
                </div>
            </div>
        })
    };
    let undo = move || {
        let name = before.with(|before| before.as_ref().map(|kit| kit.name.clone()))?;
        let name = name.map_or_else(|| say!("the kit").to_owned(), |name| film::kit_told(&name).to_owned());
        let label = say!("Put back {name}");
        Some(view! {
            <p class="kit-removed">
                <span>{say!("Replaced {name}.")}</span>
                <button type="button" aria-label=label on:click=bring_back>{say!("Put back")}</button>
            </p>
        })
    };
    view! {
        {question}
        <div role="status">{undo}</div>
    }
}

/// A kit by its name and what is in it.
pub(super) fn told(kit: &KitRecord) -> String {
    let parts = [
        (kit.lenses.len(), say!("lens"), say!("lenses")),
        (kit.recordings.len(), say!("mode"), say!("modes")),
        (kit.adapters.len(), say!("adapter"), say!("adapters")),
        (kit.filters.len(), say!("filter"), say!("filters")),
        (kit.views.len(), say!("checked view"), say!("checked views")),
    ];
    let parts = parts.into_iter().filter(|(count, ..)| *count > 0);
    let parts: Vec<_> = parts.map(|(count, one, several)| counted(count, one, several)).collect();
    format!("“{}” ({})", kit.name.as_deref().map_or(say!("kit"), film::kit_told), parts.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kit_is_told_by_what_is_in_it() {
        assert_eq!(
            told(&crate::session::first_kit()),
            "“Three lenses, large main sensor” (3 lenses, 3 modes, 3 adapters)"
        );
    }
}
