//! Addresses of this page, to be passed on.

use leptos::prelude::document;

/// The address of the page itself, or of a file beside it, with something behind it.
pub(crate) fn address(file: Option<&str>, fragment: &str) -> String {
    let page = document().base_uri().ok().flatten().unwrap_or_default();
    let page = page.split(['#', '?']).next().unwrap_or_default();
    match file {
        None => format!("{page}#{fragment}"),
        Some(file) => {
            let folder = page.rsplit_once('/').map_or(page, |(folder, _)| folder);
            format!("{folder}/{file}#{fragment}")
        }
    }
}
