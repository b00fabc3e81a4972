//! Values as JSON text.
//!
//! In the browser its own reader and writer do the work: of `serde_json` the page would carry a table of every power of ten.

pub(crate) use way::{read, written};

#[cfg(target_arch = "wasm32")]
mod way {
    use serde::Serialize;
    use serde::de::DeserializeOwned;
    use serde_wasm_bindgen::Serializer;

    /// The value as text; none if it has no such text: names of a map's entries must be text.
    pub(crate) fn written(value: &impl Serialize) -> Option<String> {
        let value = value.serialize(&Serializer::json_compatible()).ok()?;
        js_sys::JSON::stringify(&value).ok()?.as_string()
    }

    /// The value that a text says; none if it says no such value. Fields that the value does not have are passed over.
    pub(crate) fn read<Value: DeserializeOwned>(text: &str) -> Option<Value> {
        serde_wasm_bindgen::from_value(js_sys::JSON::parse(text).ok()?).ok()
    }
}

/// The same for tests, which run without a browser.
#[cfg(not(target_arch = "wasm32"))]
mod way {
    use serde::Serialize;
    use serde::de::DeserializeOwned;

    pub(crate) fn written(value: &impl Serialize) -> Option<String> {
        serde_json::to_string(value).ok()
    }

    pub(crate) fn read<Value: DeserializeOwned>(text: &str) -> Option<Value> {
        serde_json::from_str(text).ok()
    }
}

#[cfg(all(test, target_arch = "wasm32"))]
mod browser_tests {
    use wasm_bindgen_test::{wasm_bindgen_test as test, wasm_bindgen_test_configure};

    use super::*;
    use crate::presets;
    use crate::session::{Plan, Settings};

    wasm_bindgen_test_configure!(run_in_browser);

    #[test]
    fn the_browser_reads_what_it_wrote() {
        let (plan, settings) = (Plan::first(), Settings::default());
        assert_eq!(written(&plan).and_then(|text| read(&text)), Some(plan));
        assert_eq!(written(&settings).and_then(|text| read(&text)), Some(settings));
    }

    #[test]
    fn the_browser_reads_presets_as_the_core_does() {
        assert_eq!(presets::first_kit(), film::kits().swap_remove(0));
        assert_eq!(presets::adapters(), film::adapters());
    }

    #[test]
    fn the_browser_writes_what_the_core_reads() {
        let plan = Plan::first();
        let text = written(&plan).expect("a text");
        assert_eq!(serde_json::from_str::<Plan>(&text).expect("a plan"), plan);
        let text = serde_json::to_string(&plan).expect("a text");
        assert_eq!(read::<Plan>(&text), Some(plan), "a plan that an earlier page kept");
    }
}
