//! A place of the film with the shot that is looked at: who stands there, and where its phone is.

use std::sync::Arc;

use film::{Daylight, Film, PlaceId, Rehearsal, Scene, ShotId};
use glam::DVec2;
use leptos::prelude::*;
use staging::azimuth;

use super::paced::corners;
use super::taking_photo::Spot;
use super::where_taken::Floor;
use super::{Home, Looked, Recce};
use crate::films::Desk;
use crate::part::Part;
use crate::session::Session;

impl Recce {
    /// The place of a film's shot; none if the film is not open, or nobody has said where the scene plays.
    pub(crate) fn of_shot(session: Session, number: u64) -> Option<Self> {
        let shot = ShotId::new(number)?;
        let place =
            Memo::new(move |_| Desk::here().film.with(|film| film.as_ref()?.shot(shot)?.0.facts.place));
        Some(Self::of_place(session, place.get()?, Signal::stored(Some(shot)), Signal::stored(None)))
    }

    /// A place of the film, seen from one of the shots that are made there, if any is.
    pub(crate) fn of_place(
        session: Session,
        place: PlaceId,
        shot: Signal<Option<ShotId>>,
        daylight: Signal<Option<Part<Daylight>>>,
    ) -> Self {
        let desk = Desk::here();
        let looked_at = move |film: &Film| {
            let (scene, shot) = film.shot(shot.get()?)?;
            let is_there = scene.facts.place == Some(place);
            is_there.then(|| (Arc::clone(scene), desk.rehearsal(film, scene, shot)))
        };
        let spot = Signal::derive(move || {
            let found = desk.film.with(|film| {
                let (scene, rehearsal) = looked_at(film.as_ref()?)?;
                spot_of(&scene, rehearsal.as_ref().as_ref().ok()?)
            });
            found.unwrap_or(Spot::USUAL)
        });
        let floor = Signal::derive(move || {
            desk.film.with(|film| {
                let Some(film) = film else { return Floor::default() };
                let of_shot = looked_at(film);
                let scene =
                    of_shot.as_ref().map(|(scene, _)| &**scene).or_else(|| first_scene_at(film, place));
                let paced = film.place(place).and_then(|place| place.paced.as_deref());
                let outline = paced.map_or_else(Vec::new, corners);
                let is_closed = paced.is_some_and(|paced| paced.outline.is_closed);
                let bare = Floor { outline, is_closed, ..Floor::default() };
                let Some(scene) = scene else { return bare };
                let phone = of_shot.as_ref().and_then(|(scene, rehearsal)| {
                    let spot = spot_of(scene, rehearsal.as_ref().as_ref().ok()?)?;
                    Some((spot.at, spot.azimuth))
                });
                let (people, pieces) = standing(film, scene);
                Floor { people, pieces, phone, ..bare }
            })
        });
        Self(StoredValue::new_local(Looked {
            session,
            home: Home::Place(desk, place),
            spot,
            daylight,
            floor,
        }))
    }
}

/// Where the phone of a shot is on the place's floor.
fn spot_of(scene: &Scene, rehearsal: &Rehearsal) -> Option<Spot> {
    let camera = rehearsal.camera()?;
    Some(Spot {
        at: scene.blocking.on_place(camera.position().truncate()),
        azimuth: azimuth(camera.forward().truncate()) - scene.blocking.north,
        height: units::Length::from_m(camera.position().z),
    })
}

fn first_scene_at(film: &Film, place: PlaceId) -> Option<&Scene> {
    film.scenes.iter().map(|scene| &**scene).find(|scene| scene.facts.place == Some(place))
}

/// Who and what stands in a scene when it starts, on its place's floor.
fn standing(film: &Film, scene: &Scene) -> (Vec<(DVec2, String)>, Vec<DVec2>) {
    let name = |who| film.person(who).map_or_else(String::new, |person| person.name.clone());
    let blocking = &scene.blocking;
    let people = blocking.marks.iter().map(|mark| (blocking.on_place(mark.place), name(mark.who))).collect();
    let pieces = blocking.pieces.iter().map(|piece| blocking.on_place(piece.place)).collect();
    (people, pieces)
}
