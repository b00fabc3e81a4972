//! Handing files to the browser to save.

use leptos::prelude::document;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{Blob, HtmlAnchorElement, Url};

/// Has the browser save a file.
pub(crate) fn save(name: &str, file: &Blob) -> Result<(), JsValue> {
    let address = Url::create_object_url_with_blob(file)?;
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&address);
    link.set_download(name);
    link.click();
    Url::revoke_object_url(&address)
}

/// A name that every file system takes, from words that may be anything.
pub(crate) fn plain_name(words: &[&str]) -> String {
    // Letters beyond ASCII stay as they are: to know them takes tables, and file systems take them all.
    let between = |letter: char| letter.is_ascii() && !letter.is_ascii_alphanumeric();
    let words = words.iter().flat_map(|words| words.split(between));
    let words: Vec<_> = words.filter(|word| !word.is_empty()).map(str::to_ascii_lowercase).collect();
    words.join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_plain() {
        assert_eq!(
            plain_name(&["tapemark", "Main 2x (mine)", "chest up", ""]),
            "tapemark-main-2x-mine-chest-up"
        );
    }
}
