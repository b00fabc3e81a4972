//! What can still be done for the open film when the program ends: where the browser does not keep it, it is handed over.

use js_sys::Array;
use language::say;
use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{Blob, HtmlAnchorElement, Url};

use super::Desk;
use super::place::Place;
use crate::download::plain_name;

impl Desk {
    /// Puts a film that is not kept into the panel that says that the page has stopped, as a file.
    ///
    /// Another module has ended, or this one is about to; so it asks nothing of signals and tells nobody.
    pub(super) fn rescue() {
        let film = Place::with_open(|open| (!open.saving().is_kept()).then(|| open.history.film().clone()));
        let Some(film) = film.flatten() else { return };
        let name = format!("{}.json", plain_name(&["tapemark", &film.facts.title]));
        if let Err(error) = offer(&name, &film::write_film(&film)) {
            leptos::logging::warn!("the film could not be handed over: {error:?}");
        }
    }
}

fn offer(name: &str, text: &str) -> Result<(), JsValue> {
    let Some(words) = document().query_selector("#failed p")? else { return Ok(()) };
    words.set_text_content(Some(
        say!("Something went wrong in the program, and this browser does not keep the film that is open. Save it as a \
              file now, and open that file when the page is there again."),
    ));
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    let file = Blob::new_with_str_sequence(&Array::of1(&text.into()))?;
    link.set_href(&Url::create_object_url_with_blob(&file)?);
    link.set_download(name);
    link.set_text_content(Some(say!("Save the film as a file")));
    words.after_with_node_1(&link)
}
