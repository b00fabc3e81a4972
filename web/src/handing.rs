//! A film handed over: files that are made on a tap, saved one after the other, and told of in words.

use std::time::Duration;

use film::{HandedFile, listed};
use js_sys::{Array, Uint8Array};
use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use web_sys::{Blob, BlobPropertyBag};

use crate::download;
use crate::waiting::wait;
use crate::widgets::live;

/// How long the browser has for one file before it is given the next: chosen, as some take only the last of those that come at
/// once.
const BETWEEN: Duration = Duration::from_millis(250);
/// How long what is being done has to be seen before it is done: chosen as two frames.
const TO_BE_SEEN: Duration = Duration::from_millis(34);

/// How handing over goes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Handing {
    state: RwSignal<State>,
}

/// What became of the last tap.
#[derive(Debug, Clone, PartialEq, Eq)]
enum State {
    /// There was none.
    Idle,
    /// The files are being made.
    Making,
    /// The browser has these.
    Handed(Vec<String>),
    /// Why it has not.
    Failed(String),
}

impl Handing {
    pub(crate) fn new() -> Self {
        Self { state: RwSignal::new(State::Idle) }
    }

    /// Makes files and has the browser save them; a tap while others are being made does nothing.
    pub(crate) fn hand(self, make: impl FnOnce() -> Result<Vec<HandedFile>, String> + 'static) {
        if self.state.with_untracked(|state| *state == State::Making) {
            return;
        }
        self.state.set(State::Making);
        spawn_local(async move {
            wait(TO_BE_SEEN).await;
            let state = match make() {
                Ok(files) => saved(files).await,
                Err(why) => State::Failed(why),
            };
            // The screen may be left by now, and its signals with it.
            self.state.try_set(state);
        });
    }

    fn is_problem(self) -> bool {
        self.state.with(|state| matches!(state, State::Failed(_)))
    }
}

impl State {
    fn words(&self) -> String {
        match self {
            Self::Idle => String::new(),
            Self::Making => say!("Making it…").to_owned(),
            Self::Handed(names) => match names.as_slice() {
                [] => say!("There is nothing to hand over.").to_owned(),
                [one] => say!("{one} went to the browser, to be saved."),
                several => say!(
                    "{} went to the browser, to be saved. It may ask whether it may save several.",
                    listed(several)
                ),
            },
            Self::Failed(why) => say!("Not handed over: {why}."),
        }
    }
}

/// What became of the last tap, in words.
#[component]
pub(crate) fn HandingTold(handing: Handing) -> impl IntoView {
    let told = live(move || handing.state.with(State::words));
    view! { <p role="status" class:problem=move || handing.is_problem()>{told}</p> }
}

/// Gives files to the browser, one after the other.
async fn saved(files: Vec<HandedFile>) -> State {
    let mut names = Vec::new();
    for file in files {
        if !names.is_empty() {
            wait(BETWEEN).await;
        }
        let HandedFile { name, bytes } = file;
        if let Err(error) = blob(&name, &bytes).and_then(|blob| download::save(&name, &blob)) {
            leptos::logging::error!("{name} could not be saved: {error:?}");
            return State::Failed(say!("the browser did not take {name}"));
        }
        names.push(name);
    }
    State::Handed(names)
}

fn blob(name: &str, bytes: &[u8]) -> Result<Blob, wasm_bindgen::JsValue> {
    let options = BlobPropertyBag::new();
    options.set_type(media_type(name));
    Blob::new_with_u8_array_sequence_and_options(&Array::of1(&Uint8Array::from(bytes)), &options)
}

/// What kind of file it is by its name, so that a browser puts no other ending to it.
fn media_type(name: &str) -> &'static str {
    match name.rsplit('.').next() {
        Some("csv") => "text/csv",
        Some("ics") => "text/calendar",
        Some("png") => "image/png",
        Some("json") => "application/json",
        // Timelines and framing lists are JSON too, but a browser may add that ending to a name that has another.
        Some(_) | None => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_told_by_their_names() {
        let told =
            |names: &[&str]| State::Handed(names.iter().map(|name| (*name).to_owned()).collect()).words();
        assert_eq!(told(&["a.otio"]), "a.otio went to the browser, to be saved.");
        assert!(told(&["a.csv", "b.csv", "c.csv"]).starts_with("a.csv, b.csv and c.csv went to the browser"));
        assert_eq!(told(&[]), "There is nothing to hand over.");
        let why = film::ExportError::NoDate.to_string();
        assert_eq!(
            State::Failed(why).words(),
            "Not handed over: a calendar needs a date, and the day has none."
        );
    }

    #[test]
    fn no_browser_is_told_that_a_timeline_is_json() {
        assert_eq!(media_type("film.otio"), "application/octet-stream");
        assert_eq!(media_type("film-day-1.ics"), "text/calendar");
    }
}
