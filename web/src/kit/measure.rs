//! Measuring on a frame of the mode that will be shot: what a lens sees, what an adapter squeezes, and where it is dark.
//!
//! Pictures are decoded by the browser and stay on the device; what follows from them is the core's ([`requests::measure`],
//! [`optics::GreyFrame`]).

mod corners;
mod frame_entry;
mod frames;
mod intake;
mod lens;
mod shape;
mod squeeze;
mod squeeze_entry;

use film::{AdapterRecord, RecordError};
use language::say;
use leptos::prelude::*;

use crate::kit::fold::Fold;
use crate::kit::part::{keys, put};
use crate::session::Session;
use crate::story::words::sentence_of;
use squeeze_entry::adapter;

pub(in crate::kit) use lens::MeasureLens;

/// The section that measures adapters: their squeeze, and their corners.
#[component]
pub(super) fn MeasureAdapter(session: Session) -> impl IntoView {
    let has_adapters = Memo::new(move |_| session.kit.with(|kit| !kit.adapters.is_empty()));
    let content = move || {
        if has_adapters.get() {
            view! {
                <h3>{say!("Its squeeze")}</h3>
                <squeeze::MeasureSqueeze session />
                <h3>{say!("Its corners")}</h3>
                <corners::MeasureCorners session />
            }
            .into_any()
        } else {
            view! { <p class="quiet">{say!("The kit has no adapter yet: add one above.")}</p> }.into_any()
        }
    };
    view! {
        <Fold title=say!("Measure an adapter")>
            <link rel="stylesheet" href="kit/measure.css" />
            {content}
        </Fold>
    }
}

/// What became of what was kept.
fn outcome(kept: Result<String, RecordError>) -> AnyView {
    match kept {
        Ok(words) => view! { <p role="status">{words}</p> }.into_any(),
        Err(error) => {
            view! { <p class="problem" role="alert">{sentence_of(&error.to_string())}</p> }.into_any()
        }
    }
}

/// Changes the adapter of that name, if the kit still has it.
fn change_adapter(
    session: Session,
    name: &str,
    change: impl FnOnce(&AdapterRecord) -> AdapterRecord,
) -> Result<(), RecordError> {
    let changed = session.kit.with_untracked(|kit| {
        let before = adapter(kit, name).ok_or_else(|| RecordError::at("adapter", say!("is gone already")))?;
        let key = keys::<AdapterRecord>(kit).into_iter().find(|key| key.name == name);
        put(kit, key.as_ref(), change(before))
    });
    changed.map(|kit| session.kit.set(kit))
}
