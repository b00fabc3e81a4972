//! Changes of a film from its journal.

use film::{CommandRecord, demo_film, open_film, write_film};

use crate::film_file::{comes_back, is_same};
use crate::has_words;

/// One step of a journal, and what it does to a film.
pub(crate) fn journal(bytes: &[u8]) {
    let Ok(record) = serde_json::from_slice::<CommandRecord>(bytes) else { return };
    let command = match record.to_command() {
        Ok(command) => command,
        Err(refusal) => return has_words(refusal),
    };
    let written = CommandRecord::from(&command);
    let text = serde_json::to_string(&written).expect("records can be written");
    let again: CommandRecord = serde_json::from_str(&text).expect("a command that was written");
    assert_eq!(again, written);
    assert_eq!(again.to_command().expect("a command that was written"), command);

    let before = demo_film();
    let mut film = before.clone();
    match film.apply(command) {
        Ok(inverse) => {
            // A shot may name a beat that is gone; a file says nothing of it, and then it is none.
            let opened = open_film(write_film(&film).as_bytes()).expect("a film that was changed");
            assert_eq!(opened.problems, []);
            comes_back(&opened.film);
            film.apply(inverse).expect("the inverse of a change that was made");
        }
        Err(refusal) => has_words(refusal),
    }
    is_same(&film, &before);
}
