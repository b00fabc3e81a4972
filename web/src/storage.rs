//! What the page keeps across reloads, behind a trait so that it can be tested without a browser.

use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::failure::has_failed;
use crate::json;

/// A place that keeps small texts by name.
pub(crate) trait Storage {
    /// The text kept under `key`.
    fn load(&self, key: &str) -> Option<String>;
    /// Keeps `text` under `key`; false if the place is full or denied.
    fn save(&self, key: &str, text: &str) -> bool;
}

/// The browser's own storage for this page.
#[derive(Debug, Clone, Copy)]
pub(crate) struct BrowserStorage;

impl Storage for BrowserStorage {
    fn load(&self, key: &str) -> Option<String> {
        local_storage()?.get_item(key).ok()?
    }

    fn save(&self, key: &str, text: &str) -> bool {
        !has_failed() && local_storage().is_some_and(|storage| storage.set_item(key, text).is_ok())
    }
}

/// Denied in some private windows, so it may be none.
fn local_storage() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok()?
}

/// Reads a value; nothing if there is none, or if it cannot be read.
pub(crate) fn load<Value: DeserializeOwned + Serialize>(storage: &impl Storage, key: &str) -> Option<Value> {
    load_if(storage, key, |_| true)
}

/// Reads a value that is of use; nothing if there is none, if it cannot be read, or if it is of no use.
///
/// What is passed over, in whole or in part, is set aside under another name before anything is written in its place: a
/// newer program, or somebody with patience, may still make sense of it.
pub(crate) fn load_if<Value: DeserializeOwned + Serialize>(
    storage: &impl Storage,
    key: &str,
    is_of_use: impl Fn(&Value) -> bool,
) -> Option<Value> {
    let text = storage.load(key)?;
    let value = json::read(&text).filter(is_of_use);
    let is_all_taken_on = value.as_ref().and_then(json::written).is_some_and(|again| again == text);
    if !is_all_taken_on && !storage.save(&format!("{key}.unreadable"), &text) {
        leptos::logging::warn!("not all that was kept as {key} can be read, and it could not be set aside");
    }
    value
}

/// Writes a value; false if it could not be kept.
pub(crate) fn save(storage: &impl Storage, key: &str, value: &impl Serialize) -> bool {
    json::written(value).is_some_and(|text| storage.save(key, &text))
}

#[cfg(test)]
mod tests {
    use std::cell::RefCell;
    use std::collections::BTreeMap;

    use super::*;

    /// A place in memory that can be full.
    #[derive(Default)]
    struct Memory {
        texts: RefCell<BTreeMap<String, String>>,
        is_full: bool,
    }

    impl Storage for Memory {
        fn load(&self, key: &str) -> Option<String> {
            self.texts.borrow().get(key).cloned()
        }

        fn save(&self, key: &str, text: &str) -> bool {
            if !self.is_full {
                self.texts.borrow_mut().insert(key.to_owned(), text.to_owned());
            }
            !self.is_full
        }
    }

    #[test]
    fn what_is_kept_is_there_again() {
        let memory = Memory::default();
        assert!(save(&memory, "numbers", &[1, 2]));
        assert_eq!(load::<Vec<u32>>(&memory, "numbers"), Some(vec![1, 2]));
    }

    #[test]
    fn what_cannot_be_read_is_set_aside() {
        let memory = Memory::default();
        assert!(memory.save("numbers", "[1, two]"));
        assert_eq!(load::<Vec<u32>>(&memory, "numbers"), None);
        assert!(save(&memory, "numbers", &[3]));
        assert_eq!(memory.load("numbers.unreadable"), Some("[1, two]".to_owned()));
    }

    #[test]
    fn what_is_read_in_part_is_set_aside_in_whole() {
        #[derive(serde::Serialize, serde::Deserialize)]
        struct Known {
            step_m: f64,
        }
        let memory = Memory::default();
        let kept = r#"{"step_m":0.75,"of_a_newer_page":true}"#;
        assert!(memory.save("settings", kept));
        assert!(load::<Known>(&memory, "settings").is_some_and(|known| known.step_m > 0.7));
        assert_eq!(memory.load("settings.unreadable").as_deref(), Some(kept));
    }

    #[test]
    fn a_full_place_says_so() {
        let memory = Memory { is_full: true, ..Memory::default() };
        assert!(!save(&memory, "numbers", &[1]));
    }
}
