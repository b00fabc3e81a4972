//! A film of many scenes of a conversation, for benches.

use std::sync::Arc;

use film::{
    CastMember, Entry, EntryId, EntryView, Faces, Film, Mark, PersonId, PlacedFinding, Rehearsals, Scene,
    SceneBlocking, SceneId, Shot, ShotId, ShotOf, Sound, Unknown, check_cut, kits,
};
use glam::DVec2;
use staging::{Age, Colour, Posture, ShotSize};
use units::{Angle, Length};

fn person(number: u64) -> PersonId {
    PersonId::new(number).expect("small")
}

/// Two who face each other.
fn two() -> SceneBlocking {
    let mark = |who: u64, east_m: f64, at: u64| Mark {
        who: person(who),
        place: DVec2::new(east_m, 0.0),
        faces: Faces::At(person(at)),
        posture: Posture::Standing,
        way: None,
    };
    SceneBlocking { marks: vec![mark(1, 0.0, 2), mark(2, 2.0, 1)], ..SceneBlocking::default() }
}

/// One of the shots of a conversation: wide, then in turn over shoulders and single, all from one side.
fn shot(number: u64, at: u64) -> Shot {
    let (one, other) = (1 + at % 2, 2 - at % 2);
    let (of, size) = match at % 5 {
        0 => (ShotOf::Two(person(1), person(2)), ShotSize::Wide),
        1 | 2 => (ShotOf::OverShoulder { facing: person(one), near: person(other) }, ShotSize::Medium),
        _ => (ShotOf::One(person(one)), ShotSize::ChestUp),
    };
    let side = if one == 1 { 120.0 + f64::from(u32::try_from(at % 4).expect("small")) * 12.0 } else { 225.0 };
    let id = ShotId::new(number).expect("small");
    Shot { sound: Sound::Dialogue, ..Shot::of(id, of, size, Angle::from_deg(side)) }
}

/// A film on a kit of three lenses, of `scenes` scenes with `shots` shots each.
pub(crate) fn film(scenes: u64, shots: u64) -> Film {
    let kit = kits().into_iter().find(|kit| kit.lenses.len() == 3).expect("a kit of three");
    let mut film = Film::empty(Arc::new(kit.to_kit().expect("a kit")), "2.39".parse().expect("a shape"));
    let member = |number: u64, stature_m: f64| CastMember {
        id: person(number),
        name: number.to_string(),
        stature: Length::from_m(stature_m),
        age: Age::Adult,
        clothes: Colour([0.5; 3]),
        hours: None,
        consent: false,
        unknown: Unknown::default(),
    };
    film.cast = Arc::from([member(1, 1.66), member(2, 1.82)]);
    for number in 0..scenes {
        let mut scene = Scene::empty(SceneId::new(number).expect("small"), two());
        for at in 0..shots {
            // Now and then the next shot is of the same person from nearly the same place.
            let shot = shot(number * shots + at, if at % 10 == 9 { at - 1 } else { at });
            scene.cut.push(Entry::whole(EntryId::new(shot.id.number()).expect("small"), shot.id));
            scene.shots.push(Arc::new(shot));
        }
        film.scenes.push(Arc::new(scene));
    }
    film
}

/// Everything from nothing: every shot walked through, every cut checked.
pub(crate) fn check_all(film: &Film, rehearsals: &mut Rehearsals) -> Vec<PlacedFinding> {
    let mut found = Vec::new();
    for scene in &film.scenes {
        let views = EntryView::of_cut(film, scene, rehearsals);
        found.extend(check_cut(film, scene, &views));
    }
    found
}
