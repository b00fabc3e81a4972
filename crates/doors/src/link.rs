//! Films from links.

use film::{film_link, open_link};

use crate::film_file::{comes_back, is_same};
use crate::has_words;

/// What stands after a link's `#`, or a whole link.
pub(crate) fn link(bytes: &[u8]) {
    let linked = match open_link(&String::from_utf8_lossy(bytes)) {
        Ok(linked) => linked,
        Err(refusal) => return has_words(refusal),
    };
    linked.opened.problems.iter().for_each(has_words);
    comes_back(&linked.opened.film);
    let again = match film_link(&linked.opened.film, linked.contents) {
        Ok(text) => open_link(&text).expect("a link that was written"),
        Err(refusal) => return has_words(refusal),
    };
    assert_eq!(again.contents, linked.contents);
    assert_eq!(again.opened.problems, []);
    // Names and places that the tag does not speak of were left out.
    if linked.contents.names && linked.contents.coordinates {
        is_same(&again.opened.film, &linked.opened.film);
    }
}
