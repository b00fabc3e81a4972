//! What the page keeps across reloads, behind a trait so that it can be tested without a browser.

use serde::Serialize;
use serde::de::DeserializeOwned;

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
        local_storage().is_some_and(|storage| storage.set_item(key, text).is_ok())
    }
}

/// Denied in some private windows, so it may be none.
fn local_storage() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok()?
}

/// Reads a value; nothing if there is none or it was written by a program that named things otherwise.
pub(crate) fn load<Value: DeserializeOwned>(storage: &impl Storage, key: &str) -> Option<Value> {
    serde_json::from_str(&storage.load(key)?).ok()
}

/// Writes a value; false if it could not be kept.
pub(crate) fn save(storage: &impl Storage, key: &str, value: &impl Serialize) -> bool {
    serde_json::to_string(value).is_ok_and(|text| storage.save(key, &text))
}
