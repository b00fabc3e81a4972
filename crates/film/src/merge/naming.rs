//! What the parts of a film are called when two copies are put side by side.
//!
//! The film is what comes of both without choices: mine's numbers stand in it, and what only theirs has bears those that it
//! would get.

use language::say;

use crate::film::Film;
use crate::id::{DayId, SceneId, ShotId};
use crate::merge::MergePart;
use crate::wording::titled;

/// What a part is called.
pub(super) fn name_of(film: &Film, part: MergePart) -> String {
    match part {
        MergePart::Facts => say!("The film").to_owned(),
        MergePart::Kit => say!("The kit").to_owned(),
        MergePart::Person(id) => {
            film.person(id).map_or_else(|| say!("Somebody").to_owned(), |person| person.name.clone())
        }
        MergePart::Place(id) => film
            .place(id)
            .map(|place| place.name.clone())
            .filter(|name| !name.is_empty())
            .unwrap_or_else(|| say!("A place").to_owned()),
        MergePart::Day(id) => titled_day(film, id).unwrap_or_else(|| say!("A day").to_owned()),
        MergePart::SceneOrder => say!("The order of the scenes").to_owned(),
        MergePart::Scene(id) => titled_scene(film, id).unwrap_or_else(|| say!("A scene").to_owned()),
        MergePart::SceneFacts(id) => say!("What {} is", scene_number(film, id)),
        MergePart::Blocking(id) => say!("Who and what is where in {}", scene_number(film, id)),
        MergePart::ShotOrder(id) => say!("The order of the shots of {}", scene_number(film, id)),
        MergePart::Shot(id) => say!("Shot {}", shot_number(film, id)),
        MergePart::Cut(id) => say!("The cut of {}", scene_number(film, id)),
        MergePart::Kept(id) => say!("What {} keeps anyway", scene_number(film, id)),
        MergePart::Take(id) => {
            let take = film.takes.iter().find(|take| take.id == id);
            take.map_or_else(
                || say!("A take").to_owned(),
                |take| say!("Take {} of shot {}", take.number, shot_number(film, take.shot)),
            )
        }
    }
}

/// A scene's number in a sentence.
pub(super) fn scene_number(film: &Film, id: SceneId) -> String {
    let at = film.scenes.iter().position(|scene| scene.id == id);
    at.map_or_else(|| say!("a scene").to_owned(), |at| say!("scene {}", at + 1))
}

/// A shot's number.
pub(super) fn shot_number(film: &Film, id: ShotId) -> String {
    film.numbered(id).unwrap_or_else(|| say!("that is gone").to_owned())
}

fn titled_scene(film: &Film, id: SceneId) -> Option<String> {
    let at = film.scenes.iter().position(|scene| scene.id == id)?;
    Some(titled(say!("Scene"), at + 1, &film.scenes.get(at)?.facts.title))
}

fn titled_day(film: &Film, id: DayId) -> Option<String> {
    let at = film.days.iter().position(|day| day.id == id)?;
    Some(titled(say!("Day"), at + 1, &film.days.get(at)?.title))
}
