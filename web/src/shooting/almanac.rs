//! The light of days, looked up in a wasm module of its own that has all time zones: loaded when a place and a date are known.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use film::Daylight;
use language::say;
use leptos::prelude::*;
use requests::{DaylightAnswer, DaylightRequest};
use serde::Serialize as _;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::json;

#[wasm_bindgen(inline_js = r#"
let almanac;
async function load() {
  // Beside the page, not beside this snippet: bindings are moved into a folder of their own.
  almanac ??= import(new URL("sun/sun_almanac.js", document.baseURI).href)
    .then(async (module) => { await module.default(); return module; });
  try {
    return await almanac;
  } catch (error) {
    almanac = undefined;
    // Whoever asked says it, in the language that is spoken.
    throw undefined;
  }
}
export async function daylight_in_page(request) {
  return (await load()).daylight(request);
}
export async function zones_in_page() {
  return (await load()).time_zones();
}
"#)]
extern "C" {
    #[wasm_bindgen(catch)]
    async fn daylight_in_page(request: JsValue) -> Result<JsValue, JsValue>;
    #[wasm_bindgen(catch)]
    async fn zones_in_page() -> Result<JsValue, JsValue>;
}

/// What has been found out about one day at one place.
#[derive(Clone)]
enum Entry {
    Asked,
    Known(Arc<Daylight>),
    Refused(String),
}

thread_local! {
    /// What has been looked up, for as long as the page is open.
    static ENTRIES: RefCell<BTreeMap<String, Entry>> = const { RefCell::new(BTreeMap::new()) };
}

/// A handle on what has been looked up; what is read from it is told again when more is known.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Almanac {
    news: RwSignal<u32>,
}

impl Almanac {
    pub(super) fn new() -> Self {
        Self { news: RwSignal::new(0) }
    }

    /// The light of a day at a place, if it is known; else it is looked up, and told when it is.
    pub(crate) fn daylight(self, request: &DaylightRequest) -> Option<Daylight> {
        self.news.track();
        match self.entry(request) {
            Entry::Known(daylight) => Some(Daylight::clone(&daylight)),
            Entry::Asked | Entry::Refused(_) => None,
        }
    }

    /// Why the light of a day at a place cannot be told, if that is known.
    pub(crate) fn refusal(self, request: &DaylightRequest) -> Option<String> {
        self.news.track();
        match self.entry(request) {
            Entry::Refused(why) => Some(why),
            Entry::Asked | Entry::Known(_) => None,
        }
    }

    /// Asks again for what was refused, as when there was no network.
    pub(crate) fn try_again(self) {
        ENTRIES.with_borrow_mut(|entries| entries.retain(|_, entry| !matches!(entry, Entry::Refused(_))));
        self.tell();
    }

    /// The names of all time zones.
    ///
    /// # Errors
    /// In words, if the module cannot be loaded.
    pub(crate) async fn time_zones() -> Result<Vec<String>, String> {
        let names = zones_in_page().await.map_err(|error| words(&error))?;
        serde_wasm_bindgen::from_value(names).map_err(|error| error.to_string())
    }

    fn entry(self, request: &DaylightRequest) -> Entry {
        // A request is text, numbers and a list, all of which can be written.
        let key = json::written(request).unwrap_or_default();
        if let Some(entry) = ENTRIES.with_borrow(|entries| entries.get(&key).cloned()) {
            return entry;
        }
        ENTRIES.with_borrow_mut(|entries| entries.insert(key.clone(), Entry::Asked));
        let request = request.clone();
        spawn_local(async move {
            let entry = match looked_up(&request).await {
                Ok(daylight) => Entry::Known(Arc::new(daylight)),
                Err(why) => Entry::Refused(why),
            };
            ENTRIES.with_borrow_mut(|entries| entries.insert(key, entry));
            self.tell();
        });
        Entry::Asked
    }

    /// Tells that there is more; the screen that asked may be gone.
    fn tell(self) {
        self.news.try_update(|news| *news = news.wrapping_add(1));
    }
}

async fn looked_up(request: &DaylightRequest) -> Result<Daylight, String> {
    let request = request.serialize(&serde_wasm_bindgen::Serializer::json_compatible());
    let answer = daylight_in_page(request.map_err(|error| error.to_string())?).await;
    let answer: DaylightAnswer = serde_wasm_bindgen::from_value(answer.map_err(|error| words(&error))?)
        .map_err(|error| error.to_string())?;
    answer.to_daylight().map_err(|error| error.to_string())
}

/// The message of whatever was thrown: nothing is, where the module could not be loaded.
fn words(error: &JsValue) -> String {
    if error.is_undefined() {
        return say!("the almanac could not be loaded; go online once and try again").to_owned();
    }
    error.dyn_ref::<js_sys::Error>().map_or_else(
        || error.as_string().unwrap_or_else(|| say!("the light of that day cannot be told").to_owned()),
        |error| String::from(error.message()),
    )
}
