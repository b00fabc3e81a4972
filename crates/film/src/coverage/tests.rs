//! Small scenes to draft, and what their drafts are asked.

mod any_scene;
mod once_more;
mod unlike;
mod usual_scenes;

use std::sync::Arc;

use glam::DVec2;
use optics::Aspect;
use staging::{Age, Colour, PieceKind, Posture, SetPiece};
use units::{Angle, Length};

use super::cutting::broken;
use super::ground::Ground;
use super::{CoverageWish, Draft, Pace, draft};
use crate::cut_view::EntryView;
use crate::film::{CastMember, Film, Place};
use crate::id::{BeatId, FreshIds, PersonId, PlaceId, SceneId};
use crate::kit::Kit;
use crate::preset::kits;
use crate::rehearsal::{Rehearsal, Rehearsals};
use crate::scene::{Scene, SceneFacts, Setting};
use crate::scene_blocking::{Beat, Faces, LineWish, Mark, SceneBlocking, Way};
use crate::unknown::Unknown;

fn person(number: u64) -> PersonId {
    PersonId::new(number).expect("small")
}

fn scene_id() -> SceneId {
    SceneId::new(1).expect("small")
}

fn mark(number: u64, (x, y): (f64, f64), faces: Faces) -> Mark {
    Mark { who: person(number), place: DVec2::new(x, y), faces, posture: Posture::Standing, way: None }
}

fn towards(degrees: f64) -> Faces {
    Faces::Towards(Angle::from_deg(degrees))
}

fn piece(kind: PieceKind, (x, y): (f64, f64), facing_deg: f64) -> SetPiece {
    SetPiece { kind, place: DVec2::new(x, y), facing: Angle::from_deg(facing_deg), size: kind.usual_size() }
}

/// A preset kit that is left with so many lenses.
fn kit(lenses: usize) -> Kit {
    let mut kit = kits().iter().find_map(|record| record.to_kit().ok()).expect("a kit");
    kit.lenses.truncate(lenses);
    kit
}

/// A film of one scene, with Mira, Jo, Ali and Sam to be in it.
fn film(lenses: usize, blocking: SceneBlocking, facts: SceneFacts) -> Film {
    let member = |(number, name, stature): (u64, &str, f64)| CastMember {
        id: person(number),
        name: name.to_owned(),
        stature: Length::from_m(stature),
        age: Age::Adult,
        clothes: Colour([0.4; 3]),
        hours: None,
        consent: false,
        unknown: Unknown::default(),
    };
    let cast = [(1, "Mira", 1.66), (2, "Jo", 1.82), (3, "Ali", 1.74), (4, "Sam", 1.58)].map(member);
    let aspect = Aspect::new(2.39).expect("a shape");
    let mut film = Film::empty(Arc::new(kit(lenses)), aspect);
    film.cast = Arc::from(cast);
    let kitchen = Place::new(PlaceId::new(1).expect("small"), "Kitchen");
    film.places = Arc::from([kitchen]);
    let mut scene = Scene::empty(scene_id(), blocking);
    scene.facts = Arc::new(facts);
    film.scenes.push(Arc::new(scene));
    film
}

fn inside() -> SceneFacts {
    SceneFacts { setting: Setting::Inside, place: PlaceId::new(1), ..SceneFacts::default() }
}

fn two_at_a_table() -> SceneBlocking {
    let seated = |mark: Mark| Mark { posture: Posture::Seated, ..mark };
    SceneBlocking {
        marks: vec![
            seated(mark(1, (0.0, 0.0), Faces::At(person(2)))),
            seated(mark(2, (1.4, 0.0), Faces::At(person(1)))),
        ],
        pieces: vec![piece(PieceKind::Table, (0.7, 0.0), 0.0), piece(PieceKind::Wall, (0.7, 2.0), 180.0)],
        ..SceneBlocking::default()
    }
}

fn one_still() -> SceneBlocking {
    SceneBlocking { marks: vec![mark(1, (0.0, 0.0), towards(90.0))], ..SceneBlocking::default() }
}

fn walker_round_a_corner() -> SceneBlocking {
    let way = Way {
        corners: vec![DVec2::new(0.0, 14.0), DVec2::new(10.0, 14.0)],
        pace: Length::from_m(1.4),
        starts_s: 0.0,
    };
    let beat = |number: u64, what: &str, starts_s: f64| Beat {
        id: BeatId::new(number).expect("small"),
        what: what.to_owned(),
        starts_s,
        line: LineWish::Auto,
    };
    SceneBlocking {
        marks: vec![Mark { way: Some(way), ..mark(1, (0.0, 0.0), towards(0.0)) }],
        beats: vec![beat(1, "she hurries", 0.0), beat(2, "she finds the door", 11.0)],
        ..SceneBlocking::default()
    }
}

fn three() -> SceneBlocking {
    SceneBlocking {
        marks: vec![
            mark(1, (0.0, 0.0), Faces::At(person(2))),
            mark(2, (1.8, 0.3), Faces::At(person(1))),
            mark(3, (0.9, 1.6), Faces::At(person(1))),
        ],
        ..SceneBlocking::default()
    }
}

fn nobody() -> SceneBlocking {
    let pieces = vec![piece(PieceKind::Bench, (0.0, 0.0), 0.0), piece(PieceKind::Table, (2.0, 1.0), 90.0)];
    SceneBlocking { pieces, ..SceneBlocking::default() }
}

/// The scenes that a crew of friends shoots, each with how many lenses their phone has.
fn usual_scenes() -> Vec<(&'static str, Film)> {
    let small = SceneFacts { room: Some(Length::from_m(2.0)), ..inside() };
    vec![
        ("two at a table", film(3, two_at_a_table(), inside())),
        ("one still", film(3, one_still(), SceneFacts::default())),
        ("a walker", film(3, walker_round_a_corner(), SceneFacts::default())),
        ("three", film(3, three(), SceneFacts::default())),
        ("nobody", film(3, nobody(), inside())),
        ("two in a small room", film(3, two_at_a_table(), small.clone())),
        ("one in a small room", film(3, one_still(), small.clone())),
        ("two, one lens", film(1, two_at_a_table(), inside())),
        ("one, one lens, small room", film(1, one_still(), small)),
    ]
}

fn wish(shots: usize, pace: Pace, variant: u32) -> CoverageWish {
    CoverageWish { shots, pace, variant }
}

fn drafted(film: &Film, wish: &CoverageWish) -> Draft {
    draft(film, &film.scenes[0], wish, &mut FreshIds::starting_at(100))
}

/// How many entries of the first scene do not follow what is before them.
fn broken_in(film: &Film) -> usize {
    broken(&Ground::of_scene(film, &film.scenes[0])[0], &views(film))
}

/// The film with the draft in it.
fn put_in(film: &Film, draft: &Draft) -> Film {
    let mut film = film.clone();
    let command = draft.replaces(&film.scenes[0]);
    film.apply(command).expect("a draft can be put in");
    film
}

fn views(film: &Film) -> Vec<EntryView> {
    EntryView::of_cut(film, &film.scenes[0], &mut Rehearsals::default())
}

/// The lens that each shot is made on.
fn lenses(film: &Film) -> Vec<usize> {
    let scene = &film.scenes[0];
    let lens = |shot: &Arc<crate::Shot>| Rehearsal::of(film, scene, shot).expect("rehearsed").on.lens;
    scene.shots.iter().map(lens).collect()
}

fn told(film: &Film) -> String {
    let line = |view: &EntryView| {
        let shot = &view.shot;
        let at = view.stretch_s;
        format!(
            "{:?} {} from {:.0}° {:?} {:?} {:?} {:.1}-{:.1} s: {}",
            shot.of,
            shot.size.name(),
            shot.side.to_deg(),
            shot.height,
            shot.lens,
            shot.movement,
            at.0,
            at.1,
            shot.action
        )
    };
    views(film).iter().map(line).collect::<Vec<_>>().join("\n")
}
