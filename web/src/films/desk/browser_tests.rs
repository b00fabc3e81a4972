//! The desk in a browser, with films.

use std::sync::Arc;

use film::{Command, Film, FilmFacts, Scene, SceneBlocking, SceneId};
use leptos::prelude::*;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

use super::Desk;
use crate::films::lock::{Claim, claim};
use crate::films::open_film::Saving;

wasm_bindgen_test_configure!(run_in_browser);

fn empty_film() -> Film {
    let kit = film::kits()[0].to_kit().expect("a preset");
    Film::empty(Arc::new(kit), film::frame_shapes()[0].1)
}

fn film(desk: Desk) -> Film {
    desk.film.get_untracked().expect("open")
}

fn called(desk: Desk, title: &str) -> Command {
    Command::SetFacts(Arc::new(FilmFacts { title: title.to_owned(), ..FilmFacts::clone(&film(desk).facts) }))
}

/// Tests of one page share its desk, so they are one test.
#[wasm_bindgen_test]
async fn a_film_is_edited_put_away_opened_and_undone() {
    let desk = Desk::here();
    desk.create(empty_film()).await;
    assert_eq!(desk.problems.get_untracked(), Vec::<String>::new());
    let id = desk.open_id.get_untracked().expect("open");
    let start = js_sys::Date::now();
    for number in 0..200 {
        desk.change("Title", None, called(desk, &number.to_string())).expect("applies");
        desk.end_gesture();
    }
    let scene: SceneId = desk.fresh();
    let scene = Arc::new(Scene::empty(scene, SceneBlocking::default()));
    desk.change("Add a scene", None, Command::InsertScene { at: 0, scene }).expect("applies");
    assert_eq!(desk.saving.get_untracked(), Saving::Saving);
    assert_eq!(desk.settle().await, Ok(()));
    let lasted_ms = js_sys::Date::now() - start;
    wasm_bindgen_test::console_log!("201 edits were kept within {lasted_ms} ms");
    assert_eq!(desk.saving.get_untracked(), Saving::Saved);
    let left = film(desk);
    desk.close();
    assert_eq!((desk.film.get_untracked(), desk.undo_name()), (None, None));
    desk.list().await;
    assert!(desk.kept.with_untracked(|kept| kept.iter().any(|card| card.id == id && card.title == "199")));
    desk.open(id).await;
    assert_eq!(desk.problems.get_untracked(), Vec::<String>::new());
    assert_eq!(film(desk), left);
    assert_eq!(desk.undo_name().as_deref(), Some("Add a scene"));
    let mut undone = 0;
    while desk.undo_name().is_some() {
        desk.undo();
        undone += 1;
    }
    assert_eq!((undone, film(desk)), (201, empty_film()));
    assert_eq!(desk.settle().await, Ok(()));
    desk.close();
    desk.open_last().await;
    assert_eq!((film(desk), desk.redo_name().as_deref()), (empty_film(), Some("Title")));
    desk.redo();
    assert_eq!(film(desk).facts.title, "0");

    // A file comes as a film of its own.
    let text = desk.export().expect("open");
    assert_eq!(desk.import(text.as_bytes()).await, Ok(()));
    assert_eq!(desk.problems.get_untracked(), Vec::<String>::new());
    let copy = desk.open_id.get_untracked().expect("open");
    assert_ne!(copy, id);
    assert_eq!(film(desk).facts.title, "0");
    let refused = desk.import(b"no film").await.expect_err("no film");
    assert!(refused.contains("not a Tapemark film"), "{refused}");
    assert_eq!(desk.problems.get_untracked(), Vec::<String>::new());
    desk.remove(copy).await;
    assert_eq!(
        (desk.film.get_untracked(), desk.kept.with_untracked(|kept| kept.iter().any(|card| card.id == copy))),
        (None, false)
    );

    // As another tab would have it.
    let other = claim(&format!("tapemark.film.{id}")).await;
    assert!(matches!(other, Claim::Here(_)), "{other:?}");
    desk.open(id).await;
    assert!(desk.problems.with_untracked(|problems| problems[0].contains("open in another tab")));
    desk.change("Title", None, called(desk, "here only")).expect("applies");
    assert_eq!(film(desk).facts.title, "here only");
    assert!(matches!(desk.saving.get_untracked(), Saving::NotKept(_)));
    desk.create_copy().await;
    assert_eq!((film(desk).facts.title.as_str(), desk.saving.get_untracked()), ("here only", Saving::Saved));
    drop(other);
    desk.open(id).await;
    assert_eq!(film(desk).facts.title, "0");
    desk.remove(id).await;
}
