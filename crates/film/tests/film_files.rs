//! Films in `tests/films`: the valid ones open without a word and are written as they are, the broken ones open as far as
//! they can, and what is said of them is kept beside them.
//!
//! `BLESS=1` writes both anew, to be read before they are kept.
#![expect(clippy::expect_used, reason = "a test that cannot read its files must fail")]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

use film::{ShotOf, open_film, write_film};
use staging::Support;
use units::Length;

/// The films of a folder in the order of their names.
fn films(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/films").join(folder);
    let mut films: Vec<PathBuf> = fs::read_dir(folder)
        .expect("a folder of films")
        .map(|entry| entry.expect("a file").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "json"))
        .collect();
    films.sort();
    films
}

#[test]
fn every_valid_film_opens_without_problems_and_is_written_as_it_is() {
    let films = films("valid");
    assert!(films.len() >= 6, "only {} films were found", films.len());
    for path in films {
        let text = fs::read_to_string(&path).expect("text");
        let opened = open_film(text.as_bytes()).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        assert!(opened.problems.is_empty(), "{}: {:?}", path.display(), opened.problems);
        let written = write_film(&opened.film);
        if env::var_os("BLESS").is_some() {
            fs::write(&path, &written).expect("written");
            continue;
        }
        let lines = text.lines().zip(written.lines()).enumerate();
        for (at, (found, written)) in lines {
            assert_eq!(found, written, "{}, line {}", path.display(), at + 1);
        }
        assert_eq!(text.len(), written.len(), "{}", path.display());
    }
}

/// What opening a file says: how much of it there is, and everything that was wrong.
fn told(bytes: &[u8]) -> String {
    let opened = match open_film(bytes) {
        Ok(opened) => opened,
        Err(error) => return format!("refused: {error}\n"),
    };
    let film = &opened.film;
    let shots: usize = film.scenes.iter().map(|scene| scene.shots.len()).sum();
    let entries: usize = film.scenes.iter().map(|scene| scene.cut.len()).sum();
    let mut told = format!(
        "opened: \"{}\", {} people, {} places, {} scenes, {shots} shots, {entries} entries\n",
        film.facts.title,
        film.cast.len(),
        film.places.len(),
        film.scenes.len(),
    );
    for problem in &opened.problems {
        writeln!(told, "{problem}").expect("text takes lines");
    }
    told
}

#[test]
fn every_broken_film_is_told_as_expected() {
    let films = films("broken");
    assert!(films.len() >= 8, "only {} films were found", films.len());
    for path in films {
        let told = told(&fs::read(&path).expect("bytes"));
        let expected = path.with_extension("problems.txt");
        if env::var_os("BLESS").is_some() {
            fs::write(&expected, &told).expect("written");
        }
        assert_eq!(fs::read_to_string(&expected).unwrap_or_default(), told, "{}", path.display());
        assert!(!told.ends_with("entries\n"), "{}: nothing was wrong", path.display());
    }
}

#[test]
fn the_demo_film_opens_without_problems_and_is_complete() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../presets/films/demo.json");
    let text = fs::read_to_string(&path).expect("the demo film");
    let opened = open_film(text.as_bytes()).expect("a film");
    assert!(opened.problems.is_empty(), "{:?}", opened.problems);
    assert_eq!(opened.film, film::demo_film());
    if env::var_os("BLESS").is_some() {
        fs::write(&path, write_film(&opened.film)).expect("written");
    }
    let film = &opened.film;
    let shots: Vec<_> = film.scenes.iter().flat_map(|scene| &scene.shots).collect();
    assert_eq!((film.cast.len(), film.places.len(), film.scenes.len()), (3, 2, 3));
    assert!((12..=16).contains(&shots.len()), "{} shots", shots.len());
    for scene in &film.scenes {
        for shot in &scene.shots {
            assert!(scene.cut.iter().any(|entry| entry.shot == shot.id), "shot {} is in no cut", shot.id);
            let rehearsal = film::Rehearsal::of(film, scene, shot);
            let outcome = rehearsal.unwrap_or_else(|error| panic!("shot {}: {error:?}", shot.id));
            assert!(outcome.result().outcome.is_ok(), "shot {}: {:?}", shot.id, outcome.result().outcome);
        }
    }
}

/// A film of one shot of a thing, with that beside its place.
fn of_a_thing(beside: &str) -> String {
    format!(
        r#"{{"format_version": 1, "kit": {{"lenses": []}}, "scenes": [{{"id": 1, "shots": [{{"id": 1,
            "of": {{"object": {{"name": "hat", "size_m": 0.3, "x_m": 0, "y_m": 0{beside}}}}}}}]}}]}}"#
    )
}

#[test]
fn a_thing_of_which_no_height_is_said_is_on_a_table_and_stays_unsaid() {
    let supports = [
        ("", Support::Table),
        (r#", "above_floor_m": 0"#, Support::GROUND),
        (r#", "above_floor_m": 0.75"#, Support::At(Length::from_m(0.75))),
    ];
    for (beside, expected) in supports {
        let opened = open_film(of_a_thing(beside).as_bytes()).expect("a film");
        assert!(opened.problems.is_empty(), "{beside}: {:?}", opened.problems);
        let ShotOf::Object { support, .. } = &opened.film.scenes[0].shots[0].of else { panic!("no thing") };
        assert_eq!(*support, expected, "{beside}");
        let written = write_film(&opened.film);
        assert_eq!(written.contains("above_floor_m"), !beside.is_empty(), "{written}");
        assert_eq!(open_film(written.as_bytes()).expect("a film"), opened, "{beside}");
    }
}

#[test]
fn a_thing_higher_than_any_is_on_a_table() {
    let told = told(of_a_thing(r#", "above_floor_m": 60"#).as_bytes());
    let path = "scenes[0].shots[0].of.object.above_floor_m";
    assert!(told.ends_with(&format!("{path}: 60 m is not allowed: 0 to 50 m; it was left out\n")), "{told}");
}
