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

use leptos::prelude::*;

use crate::kit::fold::Fold;
use crate::session::Session;

pub(in crate::kit) use lens::MeasureLens;

/// The section that measures adapters: their squeeze, and their corners.
#[component]
pub(super) fn MeasureAdapter(session: Session) -> impl IntoView {
    let has_adapters = Memo::new(move |_| session.kit.with(|kit| !kit.adapters.is_empty()));
    let content = move || {
        if has_adapters.get() {
            view! {
                <h3>"Its squeeze"</h3>
                <squeeze::MeasureSqueeze session />
                <h3>"Its corners"</h3>
                <corners::MeasureCorners session />
            }
            .into_any()
        } else {
            view! { <p class="quiet">"The kit has no adapter yet: add one above."</p> }.into_any()
        }
    };
    view! {
        <Fold title="Measure an adapter">
            <link rel="stylesheet" href="kit/measure.css" />
            {content}
        </Fold>
    }
}
