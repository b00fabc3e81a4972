//! Small films for tests: two people who face each other two metres apart, or one who walks.

use std::sync::Arc;

use glam::DVec2;
use optics::Aspect;
use staging::{Age, Colour, Look, PhoneHeight, Posture, ShotSize, Stand};
use units::{Angle, Length};

use super::{CutFinding, PlacedFinding, check_cut};
use crate::cut_view::EntryView;
use crate::film::{CastMember, Film};
use crate::id::{BeatId, EntryId, PersonId, SceneId, ShotId};
use crate::preset::kits;
use crate::rehearsal::Rehearsals;
use crate::scene::{Entry, KeptAt, Scene, Stretch};
use crate::scene_blocking::{Beat, Faces, LineWish, Mark, SceneBlocking, Way};
use crate::shot::{LensChoice, Shot, ShotOf};
use crate::unknown::Unknown;

pub(crate) fn person(number: u64) -> PersonId {
    PersonId::new(number).expect("small")
}

pub(crate) fn entry(number: u64) -> EntryId {
    EntryId::new(number).expect("small")
}

pub(crate) fn shot_id(number: u64) -> ShotId {
    ShotId::new(number).expect("small")
}

pub(crate) fn beat_id(number: u64) -> BeatId {
    BeatId::new(number).expect("small")
}

/// Ada and Ben, who is taller, and Cem.
fn cast() -> Arc<[CastMember]> {
    let member = |(number, name, stature): (u64, &str, f64)| CastMember {
        id: person(number),
        name: name.to_owned(),
        stature: Length::from_m(stature),
        age: Age::Adult,
        clothes: Colour([0.5; 3]),
        hours: None,
        consent: false,
        unknown: Unknown::default(),
    };
    [(1, "Ada", 1.66), (2, "Ben", 1.82), (3, "Cem", 1.74)].into_iter().map(member).collect()
}

pub(crate) fn mark(number: u64, place: DVec2, faces: Faces) -> Mark {
    Mark { who: person(number), place, faces, posture: Posture::Standing, way: None }
}

/// Ada in the west and Ben two metres east of her, who look at each other.
pub(crate) fn two() -> SceneBlocking {
    let marks =
        vec![mark(1, DVec2::ZERO, Faces::At(person(2))), mark(2, DVec2::new(2.0, 0.0), Faces::At(person(1)))];
    SceneBlocking { marks, ..SceneBlocking::default() }
}

/// Ada, who walks through these corners from where she is at 1 m/s.
pub(crate) fn walker(corners: &[(f64, f64)]) -> SceneBlocking {
    let corners = corners.iter().map(|(x, y)| DVec2::new(*x, *y)).collect();
    let way = Way { corners, pace: Length::from_m(1.0), starts_s: 0.0 };
    let mark = Mark { way: Some(way), ..mark(1, DVec2::ZERO, Faces::Towards(Angle::ZERO)) };
    SceneBlocking { marks: vec![mark], ..SceneBlocking::default() }
}

pub(crate) fn beat(number: u64, starts_s: f64, line: LineWish) -> Beat {
    Beat { id: beat_id(number), what: String::new(), starts_s, line }
}

/// A shot of somebody, with something happening.
pub(crate) fn single(number: u64, of: u64, size: ShotSize, side_deg: f64) -> Shot {
    let side = Angle::from_deg(side_deg);
    let action = "they listen".to_owned();
    Shot { action, ..Shot::of(shot_id(number), ShotOf::One(person(of)), size, side) }
}

/// A shot of Ada on the main lens from that far, level at her eyes: figures go as one over the distance.
pub(crate) fn level(number: u64, side_deg: f64, away_m: f64) -> Shot {
    Shot {
        height: PhoneHeight::At(staging::Landmark::Eyes),
        look: Look::Tilt(Angle::ZERO),
        stand: Stand::At(Length::from_m(away_m)),
        lens: LensChoice::Fixed { name: "main".to_owned(), in_sensor_zoom: 1.0 },
        ..single(number, 1, ShotSize::ChestUp, side_deg)
    }
}

/// A film of one scene with these shots, cut in their order.
pub(crate) fn film(blocking: SceneBlocking, shots: Vec<Shot>) -> Film {
    let numbers: Vec<u64> = shots.iter().map(|shot| shot.id.number()).collect();
    film_cut(blocking, shots, &numbers)
}

/// A film of one scene with these shots, cut in the order of those numbers.
pub(crate) fn film_cut(blocking: SceneBlocking, shots: Vec<Shot>, cut: &[u64]) -> Film {
    let kit = kits().into_iter().find(|kit| kit.lenses.len() == 3).expect("a kit of three");
    let mut film =
        Film::empty(Arc::new(kit.to_kit().expect("a kit")), "2.39".parse::<Aspect>().expect("a shape"));
    film.cast = cast();
    let mut scene = Scene::empty(SceneId::new(1).expect("small"), blocking);
    scene.shots = shots.into_iter().map(Arc::new).collect();
    scene.cut = (1..).zip(cut).map(|(at, number)| Entry::whole(entry(at), shot_id(*number))).collect();
    film.scenes.push(Arc::new(scene));
    film
}

/// The same film with these stretches of its entries.
pub(crate) fn stretched(mut film: Film, stretches: &[(f64, f64)]) -> Film {
    let scene = Arc::make_mut(&mut film.scenes[0]);
    for (entry, (from_s, to_s)) in scene.cut.iter_mut().zip(stretches) {
        entry.stretch = Stretch::new(*from_s, *to_s);
    }
    film
}

pub(crate) fn views(film: &Film) -> Vec<EntryView> {
    EntryView::of_cut(film, &film.scenes[0], &mut Rehearsals::default())
}

pub(crate) fn found(film: &Film) -> Vec<PlacedFinding> {
    check_cut(film, &film.scenes[0], &views(film))
}

/// What is found at cuts.
pub(crate) fn at_cuts(film: &Film) -> Vec<CutFinding> {
    let at_cut = |placed: &PlacedFinding| matches!(placed.at, KeptAt::Cut(..));
    found(film).into_iter().filter(at_cut).map(|placed| placed.finding).collect()
}

/// The rules found at cuts.
pub(crate) fn rules(film: &Film) -> Vec<&'static str> {
    at_cuts(film).iter().map(CutFinding::rule).collect()
}

/// Whether a rule is among what is found anywhere.
pub(crate) fn finds(film: &Film, rule: &str) -> bool {
    found(film).iter().any(|placed| placed.finding.rule() == rule)
}
