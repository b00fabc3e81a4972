//! The exposure times that the camera app offers.

use film::KitRecord;
use language::say;
use leptos::prelude::*;
use optics::ExposureTime;

use crate::exposure_text::{parse_times, told_times};
use crate::kit::part::usable;
use crate::session::Session;
use crate::story::words::sentence_of;
use crate::widgets::{TypedField, live};

/// The list, as text.
#[component]
pub(super) fn ExposureTimes(session: Session) -> impl IntoView {
    let shown = live(move || session.kit.with(told));
    let take = move |text: String| {
        let kit = session.kit.with_untracked(|kit| with_times(kit, &text))?;
        session.kit.set(kit);
        Ok(())
    };
    view! {
        <TypedField
            label=say!("Exposure times it offers")
            hint=say!("such as 1/24, 1/48, 1/50, 1/60; empty if it takes any")
            shown
            take
        />
    }
}

/// A kit's times in the page's spelling.
fn told(kit: &KitRecord) -> String {
    let times = kit.exposure_times_s.iter().filter_map(|seconds| ExposureTime::from_s(*seconds).ok());
    told_times(&times.collect::<Vec<_>>())
}

/// The kit with the times that a text says. Times that it has already keep all their digits.
fn with_times(kit: &KitRecord, text: &str) -> Result<KitRecord, String> {
    if text.trim() == told(kit) {
        return Ok(kit.clone());
    }
    let exposure_times_s =
        parse_times(text).map_err(|why| sentence_of(&why))?.into_iter().map(ExposureTime::to_s);
    let kit = KitRecord { exposure_times_s: exposure_times_s.collect(), ..kit.clone() };
    usable(kit).map_err(|error| sentence_of(&error.message))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kit_with(text: &str) -> Result<KitRecord, String> {
        with_times(&crate::session::first_kit(), text)
    }

    #[test]
    fn a_kit_keeps_the_times_that_were_typed() {
        let kit = kit_with("0.02 1/48").expect("two times");
        assert_eq!(told(&kit), "1/48, 1/50");
        let text = serde_json::to_string(&kit).expect("a kit is text");
        let again: KitRecord = serde_json::from_str(&text).expect("its own text");
        assert_eq!(again, kit);
        assert_eq!(with_times(&kit, " ").expect("none").exposure_times_s, Vec::<f64>::new());
    }

    #[test]
    fn untouched_times_keep_all_their_digits() {
        let kit = KitRecord { exposure_times_s: vec![0.020_833_333], ..crate::session::first_kit() };
        assert_eq!(with_times(&kit, &told(&kit)), Ok(kit));
    }

    #[test]
    fn a_bad_time_is_named_and_the_kit_left_alone() {
        let error = kit_with("1/24, 1/fast").expect_err("no time");
        assert!(error.starts_with("“1/fast” is not an exposure time"), "{error}");
        let many: Vec<_> = (2..2000).map(|under| format!("1/{under}")).collect();
        assert!(kit_with(&many.join(" ")).is_err(), "more than a kit holds");
    }
}
