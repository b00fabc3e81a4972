//! The Kit screen: what the crew owns, where each value comes from, and how to make it their own.
//!
//! Every change is a whole kit that the core can compute with, put in the place of the last one; what cannot be used stays in
//! its form with the reason beside it.

mod adapters;
mod check;
mod displaced;
mod entry;
mod exchange;
mod explanations;
mod exposure_times;
mod filters;
mod fold;
mod form;
mod lens_entry;
mod lens_figures;
mod lens_form;
mod lenses;
mod measure;
mod part;
mod part_list;
mod phone;
mod photo_lens;
mod photos;
mod put_back;
mod reader;
mod recordings;
mod transfer;
mod view_entry;
mod view_words;

#[cfg(test)]
pub(crate) use explanations::EXPLANATIONS;
pub(crate) use reader::read_facts;

use language::say;
use leptos::prelude::*;

use crate::session::Session;

/// The Kit screen.
#[component]
pub(crate) fn KitScreen(session: Session) -> impl IntoView {
    view! {
        <link rel="stylesheet" href="kit/kit.css" />
        <link rel="stylesheet" href="story/explained.css" />
        <div class="kit">
            <h1>{say!("Kit")}</h1>
            <div class="kit-column">
                <phone::Phone session />
                <lenses::Lenses session />
                <phone::CameraAppPart session />
            </div>
            <div class="kit-column">
                <check::CheckLens session />
                <measure::MeasureLens session />
                <recordings::Recordings session />
                <adapters::Adapters session />
                <measure::MeasureAdapter session />
                <filters::Filters session />
                <transfer::Transfer session />
            </div>
        </div>
    }
}
