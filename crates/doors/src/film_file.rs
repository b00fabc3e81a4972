//! Films and photos of places from files.

use film::{Film, open_film, open_place_photo, write_film, write_place_photo};

use crate::has_words;

/// A film's file, of any version and in any state.
pub(crate) fn film(bytes: &[u8]) {
    match open_film(bytes) {
        Ok(opened) => {
            opened.problems.iter().for_each(has_words);
            comes_back(&opened.film);
        }
        Err(refusal) => has_words(refusal),
    }
}

/// A film that was let in is written, opens without a word, and is the same.
pub(crate) fn comes_back(film: &Film) {
    let text = write_film(film);
    let again = open_film(text.as_bytes()).expect("a film that was written");
    assert_eq!(again.problems, []);
    is_same(&again.film, film);
    assert_eq!(write_film(&again.film), text);
}

/// Two films are the same, or it is told where they differ.
pub(crate) fn is_same(one: &Film, other: &Film) {
    if one != other {
        let [one, other] = [one, other].map(|film| format!("{film:?}"));
        let at = one.bytes().zip(other.bytes()).take_while(|(one, other)| one == other).count();
        let near = |text: &str| {
            String::from_utf8_lossy(&text.as_bytes()[at.saturating_sub(200)..(at + 100).min(text.len())])
                .into_owned()
        };
        panic!("another film came back: {} and not {}", near(&one), near(&other));
    }
}

/// A photo of a place that is kept without its film.
pub(crate) fn place_photo(bytes: &[u8]) {
    let Some(photo) = open_place_photo(&String::from_utf8_lossy(bytes)) else { return };
    let text = write_place_photo(&photo);
    let again = open_place_photo(&text).expect("a photo that was written");
    assert_eq!(again, photo);
    assert_eq!(write_place_photo(&again), text);
}
