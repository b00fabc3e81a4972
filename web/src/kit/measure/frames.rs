//! The list of frames that count, each with what it says by itself.

use language::say;
use leptos::prelude::*;
use requests::MeasureAnswer;

use super::frame_entry::Frame;
use crate::kit::entry::{Entry, rounded};
use crate::session::Session;

/// The frames that were added, with a button each that takes one out.
#[component]
pub(super) fn FrameList(
    /// For lengths as the user reads them.
    session: Session,
    /// The lens and the mode that are chosen.
    entry: RwSignal<Entry>,
    /// The frames.
    frames: RwSignal<Vec<Frame>>,
    /// What is said by those of that lens and mode, in their order.
    answer: Signal<Option<MeasureAnswer>>,
) -> impl IntoView {
    let rows = move || {
        let said =
            answer.with(|answer| answer.as_ref().map(|answer| answer.frames.clone()).unwrap_or_default());
        let mut said = said.into_iter();
        let row = |(at, frame): (usize, Frame)| {
            let one = if entry.with(|entry| frame.counts(entry)) { said.next() } else { None };
            let angle = one.map(|one| rounded(one.horizontal_fov_deg, one.horizontal_fov_sd_deg));
            let angle = match angle {
                Some((value, Some(sd))) => format!(": {value}° ± {sd}°"),
                Some((value, None)) => format!(": {value}°"),
                None => say!(": of {} in {}, does not count here", frame.lens, frame.recording),
            };
            let distance = units::Length::from_m(frame.asked.distance_m).told(session.unit(), 2);
            let words = say!("{}, from {distance}{angle}", frame.file);
            let label = say!("Remove frame {}", at + 1);
            let remove = move |_| {
                frames.update(|frames| {
                    if at < frames.len() {
                        frames.remove(at);
                    }
                });
            };
            view! {
                <li>
                    <span>{words}</span>
                    <button type="button" class="plain" aria-label=label on:click=remove>{say!("Remove")}</button>
                </li>
            }
        };
        frames.get().into_iter().enumerate().map(row).collect_view()
    };
    view! { <ul class="measure-frames" aria-label=say!("Frames that count")>{rows}</ul> }
}
