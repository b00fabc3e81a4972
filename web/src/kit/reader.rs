//! The second wasm module, which reads photos and clips: loaded when the first file comes, and never for anyone else.

use film::PhotoFacts;
use language::say;
use wasm_bindgen::prelude::*;

use crate::speech::settled;

#[wasm_bindgen(inline_js = r#"
let reader;
export async function read_in_page(file, settled, unloaded) {
  // Beside the page, not beside this snippet: bindings are moved into a folder of their own.
  reader ??= import(new URL("files/files_reader.js", document.baseURI).href)
    .then(async (module) => { await module.default(); module.speak(...settled); return module; });
  let loaded;
  try {
    loaded = await reader;
  } catch (error) {
    reader = undefined;
    throw new Error(unloaded);
  }
  return loaded.read_file(file);
}
"#)]
extern "C" {
    #[wasm_bindgen(catch)]
    async fn read_in_page(file: &web_sys::File, settled: JsValue, unloaded: &str)
    -> Result<JsValue, JsValue>;
}

/// The facts of a photo or a clip; nothing leaves the page.
///
/// # Errors
/// In words: not a photo or clip in a known form, broken, or the reader could not be loaded.
pub(crate) async fn read_facts(file: &web_sys::File) -> Result<PhotoFacts, String> {
    let unloaded = say!("the reader of files could not be loaded; go online once and try again");
    let facts = read_in_page(file, settled(), unloaded).await.map_err(|error| words(&error))?;
    serde_wasm_bindgen::from_value(facts).map_err(|error| error.to_string())
}

/// The message of whatever was thrown.
pub(super) fn words(error: &JsValue) -> String {
    error.dyn_ref::<js_sys::Error>().map_or_else(
        || error.as_string().unwrap_or_else(|| say!("it cannot be read").to_owned()),
        |error| String::from(error.message()),
    )
}
