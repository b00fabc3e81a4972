//! Whether an adapter is on, and which.

use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::session::Session;
use crate::widgets::{Sheet, live};

/// Whether an adapter is on, and which.
#[component]
pub(crate) fn AdapterSheet(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let plan = session.plan;
    let choice = move |name: Option<String>, text: String, words: String| {
        let (pressed, choose) = (name.clone(), name);
        view! {
            <button
                type="button"
                class="size-choice"
                aria-pressed=live(move || plan.with(|plan| plan.adapter == pressed).to_string())
                on:click=move |_| plan.update(|plan| plan.adapter.clone_from(&choose))
            >
                <strong>{text}</strong>
                <span class="quiet">{words}</span>
            </button>
        }
    };
    let adapters = move || {
        let kit = session.owned.get();
        let rows = kit.adapters.iter().map(|adapter| {
            let squeeze = adapter.squeeze().to_f64();
            let focusing = if adapter.adapter.focusing {
                say!("focuses: ovals stand upright, the subject is sharp")
            } else {
                say!("cannot focus: near subjects stay soft sideways")
            };
            let words = say!(
                "sees {:.0} % more across, takes {:.1} stops; {focusing}",
                (squeeze - 1.0) * 100.0,
                adapter.adapter.light_loss.to_f64()
            );
            choice(Some(adapter.name.clone()), adapter.name.clone(), words)
        });
        rows.collect_view()
    };
    view! {
        <Sheet node title=say!("Adapter")>
            <div class="size-choices">
                {choice(None, say!("No adapter").to_owned(), say!("the phone's own lens").to_owned())}
                {adapters}
            </div>
            <p class="quiet">{say!("Add or change adapters in Kit.")}</p>
        </Sheet>
    }
}
