//! A film goes into a link and comes out of it as it was.
#![expect(clippy::expect_used, reason = "a test that cannot build its film must fail")]

#[path = "generated/films.rs"]
mod films;

use std::fs;
use std::path::Path;

use film::{Film, LinkContents, film_link, open_film, open_link};
use proptest::prelude::*;

const ALL: LinkContents = LinkContents { names: true, coordinates: true };

fn through_a_link(film: &Film) -> Film {
    let linked = open_link(&film_link(film, ALL).expect("it is short")).expect("as written");
    assert_eq!(linked.opened.problems, []);
    assert_eq!(linked.contents, ALL);
    linked.opened.film
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn any_film_comes_through_a_link_unchanged(film in films::film()) {
        prop_assert_eq!(through_a_link(&film), film);
    }

    #[test]
    fn without_names_and_coordinates_all_else_comes_through(film in films::film()) {
        let text = film_link(&film, LinkContents::default()).expect("it is short");
        let mut other = open_link(&text).expect("as written").opened.film;
        let stands_in = |(at, person): (usize, &film::CastMember)| person.name == format!("Person {}", at + 1);
        prop_assert!(other.cast.iter().enumerate().all(stands_in));
        prop_assert!(other.places.iter().all(|place| place.spot.is_none()));
        let cast = other.cast.iter().zip(film.cast.iter());
        other.cast = cast.map(|(one, was)| film::CastMember { name: was.name.clone(), ..one.clone() }).collect();
        let places = other.places.iter().zip(film.places.iter());
        other.places = places.map(|(one, was)| film::Place { spot: was.spot.clone(), ..one.clone() }).collect();
        prop_assert_eq!(other, film);
    }

    #[test]
    fn any_text_is_opened_or_refused(text in "(film=1n?c?\\.)?[A-Za-z0-9_#%. -]{0,80}") {
        let _answer = open_link(&text);
    }
}

#[test]
fn films_that_people_wrote_come_through_a_link_unchanged() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/films/valid");
    let files = fs::read_dir(folder).expect("a folder").map(|file| file.expect("a file").path());
    let files: Vec<_> =
        files.filter(|path| path.extension().is_some_and(|ending| ending == "json")).collect();
    assert!(files.len() >= 6, "only {} films were found", files.len());
    for path in files {
        let film = open_film(&fs::read(&path).expect("bytes")).expect("a film").film;
        assert_eq!(through_a_link(&film), film, "{}", path.display());
    }
}
