//! Films in `tests/films`: the valid ones open without a word and are written as they are, the broken ones open as far as
//! they can, and what is said of them is kept beside them.
//!
//! `BLESS=1` writes both anew, to be read before they are kept.
#![expect(clippy::expect_used, reason = "a test that cannot read its files must fail")]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

use film::{open_film, write_film};

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
