//! Merged films as they are written, and films that no link can hold.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::Arc;

use film::{Film, LinkContents, Merge, Shot, demo_film, open_film, open_link, write_film};

/// A folder of its own, with mine and theirs in it.
fn folder(name: &str, theirs: &Film) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("merge").join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("an earlier run's folder goes");
    }
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join("mine.json"), write_film(&demo_film())).expect("written");
    fs::write(folder.join("theirs.json"), write_film(theirs)).expect("written");
    folder
}

fn run(folder: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tapemark"));
    command.current_dir(folder).args(arguments).output().expect("the program starts")
}

fn written(folder: &Path) -> Film {
    open_film(&fs::read(folder.join("out.json")).expect("a file")).expect("a film").film
}

/// The demo film with its first shot longer and its second scene gone.
fn theirs() -> Film {
    let mut film = demo_film();
    let shot = Shot { planned_s: 11.5, ..Shot::clone(&film.scenes[0].shots[0]) };
    film.apply(film::Command::SetShot(Arc::new(shot))).expect("it is there");
    film.apply(film::Command::RemoveScene(film.scenes[1].id)).expect("it is there");
    film
}

#[test]
fn what_differs_is_mine_in_what_is_written_unless_theirs_is_asked_for() {
    let folder = folder("written", &theirs());
    let output = run(&folder, &["merge", "mine.json", "theirs.json", "--out", "out.json"]);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert_eq!(written(&folder), demo_film());
    let told = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(told.ends_with("out.json: written, with mine where both differ\n"), "{told}");
    let output = run(&folder, &["merge", "mine.json", "theirs.json", "--theirs", "--out", "out.json"]);
    assert_eq!(output.status.code(), Some(2), "a file that is there was overwritten: {output:?}");
    assert_eq!(written(&folder), demo_film());
    let all = ["merge", "mine.json", "theirs.json", "--theirs", "--out", "out.json", "--force"];
    let output = run(&folder, &all);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let merge = Merge::of(&written(&folder), &theirs());
    assert!(merge.is_empty() && merge.only_mine() > 0, "{merge:?}");
}

#[test]
fn a_film_that_cannot_be_written_is_told() {
    let folder = folder("unwritable", &theirs());
    let output = run(&folder, &["merge", "mine.json", "theirs.json", "--out", "nowhere/out.json"]);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert!(String::from_utf8_lossy(&output.stderr).contains("cannot be written"), "{output:?}");
    assert!(output.stdout.is_empty(), "{output:?}");
}

#[test]
fn a_link_that_is_printed_opens_as_the_film() {
    let folder = folder("link", &theirs());
    let output = run(&folder, &["link", "theirs.json", "--names", "--coordinates"]);
    assert!(output.status.success(), "{output:?}");
    let linked = open_link(&String::from_utf8_lossy(&output.stdout)).expect("as printed");
    assert_eq!(linked.contents, LinkContents { names: true, coordinates: true });
    assert_eq!(linked.opened.film, theirs());
}

/// A text that hardly compresses.
fn dense(factor: u32) -> String {
    (0_u32..1_900).map(|at| at.wrapping_mul(factor).to_string()).collect()
}

#[test]
fn a_film_that_no_link_can_hold_is_offered_as_a_file() {
    let mut film = demo_film();
    for (at, factor) in (0..film.scenes.len()).zip([2_654_435_761, 2_246_822_519, 3_266_489_917]) {
        let scene = &film.scenes[at];
        let (happens, changes) = (dense(factor), dense(factor - 2));
        let facts = film::SceneFacts { happens, changes, ..film::SceneFacts::clone(&scene.facts) };
        let command = film::Command::SetSceneFacts { scene: scene.id, facts: Arc::new(facts) };
        film.apply(command).expect("it is there");
    }
    let folder = folder("too_long", &film);
    let output = run(&folder, &["link", "theirs.json"]);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(told.contains("pass the film as a file") && told.lines().count() == 1, "{told}");
    assert!(output.stdout.is_empty(), "{output:?}");
}
