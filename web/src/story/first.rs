//! The film that somebody starts with: nothing said yet, two people on the floor who look at each other, and one scene.

use std::sync::Arc;

use film::{
    Beat, BeatId, CastMember, Command, EditError, Faces, Film, Kit, LineWish, Mark, PersonId, Scene,
    SceneBlocking, SceneId, Unknown,
};
use glam::DVec2;
use language::say;
use leptos::prelude::*;
use requests::USUAL_STATURE_M;
use staging::{Age, Colour, Posture};
use units::Length;

use crate::dressing::TAPES;
use crate::films::Desk;
use crate::session::Plan;

/// How far two people stand apart who talk: 1.2 m, chosen because arms do not reach and voices need not be raised.
const TALKING_M: f64 = 1.2;

/// A film of which nothing is said but that two people meet.
pub(super) fn first_film(kit: Arc<Kit>, desk: Desk) -> Film {
    let mut film = Film::empty(kit, Plan::first().shot.delivery.aspect.0);
    let people = [somebody(desk.fresh(), "A", 0), somebody(desk.fresh(), "B", 1)];
    let ids = people.each_ref().map(|person| person.id);
    film.cast = Arc::from(people);
    film.scenes.push(Arc::new(Scene::empty(desk.fresh(), two_who_talk(ids, desk.fresh()))));
    film
}

/// Somebody of usual stature, in one of the tapes' colours.
pub(super) fn somebody(id: PersonId, name: &str, tape: usize) -> CastMember {
    let clothes = TAPES.get(tape % TAPES.len()).map_or([0x6f, 0x6a, 0x60], |(_, bytes)| *bytes);
    CastMember {
        id,
        name: name.to_owned(),
        stature: Length::from_m(USUAL_STATURE_M),
        age: Age::Adult,
        clothes: Colour::from_srgb8(clothes),
        hours: None,
        consent: false,
        unknown: Unknown::default(),
    }
}

/// Two people who stand and look at each other.
fn two_who_talk([one, other]: [PersonId; 2], beat: BeatId) -> SceneBlocking {
    let mark = |who, x_m: f64, looked_at| Mark {
        who,
        place: DVec2::new(x_m, 0.0),
        faces: Faces::At(looked_at),
        posture: Posture::Standing,
        way: None,
    };
    SceneBlocking {
        marks: vec![mark(one, -TALKING_M / 2.0, other), mark(other, TALKING_M / 2.0, one)],
        beats: vec![Beat { id: beat, what: String::new(), starts_s: 0.0, line: LineWish::Auto }],
        ..SceneBlocking::default()
    }
}

/// Adds a scene with the film's first two people in it.
pub(super) fn add_scene(desk: Desk, at: usize) -> Result<SceneId, EditError> {
    let ids = desk.film.with_untracked(|film| {
        let mut people =
            film.as_ref().map(|film| film.cast.iter().map(|person| person.id)).into_iter().flatten();
        (people.next(), people.next())
    });
    let beat = desk.fresh();
    let blocking = match ids {
        (Some(one), Some(other)) => two_who_talk([one, other], beat),
        (Some(one), None) => SceneBlocking {
            marks: vec![Mark {
                who: one,
                place: DVec2::ZERO,
                faces: Faces::Towards(units::Angle::from_deg(180.0)),
                posture: Posture::Standing,
                way: None,
            }],
            beats: vec![Beat { id: beat, what: String::new(), starts_s: 0.0, line: LineWish::Auto }],
            ..SceneBlocking::default()
        },
        (None, _) => SceneBlocking::default(),
    };
    let id = desk.fresh();
    let scene = Arc::new(Scene::empty(id, blocking));
    desk.change(say!("Add a scene"), None, Command::InsertScene { at, scene }).map(|()| id)
}
