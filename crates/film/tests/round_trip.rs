//! What is written reads back as itself, and whatever is broken off a file, the rest opens.
#![expect(clippy::expect_used, reason = "a test that cannot build its film must fail")]

#[path = "generated/films.rs"]
mod films;

use film::{FilmRecord, OpenFilmError, Problem, open_film, write_film};
use proptest::prelude::*;

fn told(problems: &[Problem]) -> String {
    problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn a_film_that_is_written_opens_as_itself(film in films::film()) {
        let text = write_film(&film);
        let opened = open_film(text.as_bytes()).expect("as written");
        prop_assert_eq!(told(&opened.problems), "");
        prop_assert_eq!(write_film(&opened.film), text);
        prop_assert_eq!(opened.film, film);
    }

    #[test]
    fn a_snapshot_of_a_film_is_the_film(film in films::film()) {
        let record = FilmRecord::from(&film);
        let copy: FilmRecord =
            serde_json::from_value(serde_json::to_value(&record).expect("plain values")).expect("as written");
        prop_assert_eq!(&copy, &record);
        let (again, problems) = copy.to_film();
        prop_assert_eq!(told(&problems), "");
        prop_assert_eq!(again, film);
    }

    #[test]
    fn a_film_with_some_of_its_bytes_changed_is_opened_or_refused(
        film in films::film(),
        changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..20),
    ) {
        let mut bytes = write_film(&film).into_bytes();
        for (at, byte) in changes {
            *at.get_mut(&mut bytes) = byte;
        }
        if let Ok(opened) = open_film(&bytes) {
            // What was saved is a film: it is written and opens without a word.
            let again = open_film(write_film(&opened.film).as_bytes()).expect("as written");
            prop_assert_eq!(told(&again.problems), "");
            prop_assert_eq!(again.film, opened.film);
        }
    }

    #[test]
    fn any_bytes_are_opened_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let _answer = open_film(&bytes);
    }
}

#[test]
fn a_film_cut_off_at_any_byte_is_saved_once_its_kit_is_there() {
    // A short one: as many readings as it has bytes.
    let text = include_str!("../../../tests/films/valid/walker_turns.json");
    let kit = text.find("\"kit\": {").expect("a kit");
    let kit_starts = kit + "\"kit\": {".len();
    let mut shots_before = 0;
    for end in 0..text.len() {
        match open_film(&text.as_bytes()[..end]) {
            Ok(opened) => {
                let complete = end + 1 == text.len();
                assert_eq!(opened.problems.is_empty(), complete, "byte {end}: {}", told(&opened.problems));
                let shots = opened.film.scenes.iter().map(|scene| scene.shots.len()).sum();
                assert!(shots >= shots_before, "byte {end}: {shots} shots after {shots_before}");
                shots_before = shots;
            }
            Err(error) => assert!(end < kit_starts, "byte {end} of {}: {error}", text.len()),
        }
    }
    assert_eq!(shots_before, 4);
}

#[test]
fn what_a_newer_program_wrote_comes_back() {
    let text = r#"{"format_version": 1, "title": "t", "palette": {"warm": true}, "kit": {"lenses": []},
        "cast": [{"id": 1, "name": "Ida", "voice": "alto"}], "places": [{"id": 1, "name": "yard", "permit": 7}],
        "scenes": [{"id": 1, "title": "s", "weather": ["rain"],
            "shots": [{"id": 1, "of": {"one": 1}, "gimbal": "on loan"}]}]}"#;
    let opened = open_film(text.as_bytes()).expect("a film");
    assert_eq!(told(&opened.problems), "");
    let written = write_film(&opened.film);
    for field in
        ["\"warm\": true", "\"voice\": \"alto\"", "\"permit\": 7", "\"rain\"", "\"gimbal\": \"on loan\""]
    {
        assert!(written.contains(field), "{field} is not in {written}");
    }
    assert_eq!(open_film(written.as_bytes()).expect("a film").film, opened.film);
}

#[test]
fn a_file_that_is_no_film_is_refused_in_words() {
    let refused = |text: &str| open_film(text.as_bytes()).expect_err(text).to_string();
    assert_eq!(refused(r#"{"title": "t"}"#), "format_version is missing: a film file says 1 there");
    for version in ["\"one\"", "1.5", "-1", "0", "null"] {
        let text = format!(r#"{{"format_version": {version}, "title": "t"}}"#);
        assert_eq!(
            refused(&text),
            format!("format_version: {version} is not allowed: a whole number of 1 to 1")
        );
    }
    // A sign that JSON leaves as it is.
    let told = refused("{\"format_version\": \"one\u{7f}\", \"title\": \"t\"}");
    assert_eq!(told, "format_version: \"one \" is not allowed: a whole number of 1 to 1");
    assert_eq!(refused(r#"{"format_version": 1, "lenses": []}"#), OpenFilmError::KitInstead.to_string());
    assert_eq!(refused(r#"{"format_version": 1}"#), OpenFilmError::NotAFilm.to_string());
    assert_eq!(refused("[]"), OpenFilmError::NotJson.to_string());
}
