//! What the parts of a film are called when two copies are put side by side.

use language::say;

use crate::film::Film;
use crate::id::{DayId, SceneId, ShotId};
use crate::merge::MergePart;
use crate::merge::sides::Sides;
use crate::wording::titled;

impl Sides<'_> {
    /// What a part is called, with mine's numbers; with theirs where mine does not have it.
    pub(super) fn name_of(&self, part: MergePart) -> String {
        match part {
            MergePart::Facts => say!("The film").to_owned(),
            MergePart::Kit => say!("The kit").to_owned(),
            MergePart::Person(id) => {
                let person = self.mine.film.person(id).or_else(|| self.theirs.film.person(id));
                person.map_or_else(|| say!("Somebody").to_owned(), |person| person.name.clone())
            }
            MergePart::Place(id) => {
                let place = self.mine.film.place(id).or_else(|| self.theirs.film.place(id));
                place
                    .map(|place| place.name.clone())
                    .filter(|name| !name.is_empty())
                    .unwrap_or_else(|| say!("A place").to_owned())
            }
            MergePart::Day(id) => self.in_either(|film| numbered_day(film, id), say!("A day")),
            MergePart::SceneOrder => say!("The order of the scenes").to_owned(),
            MergePart::Scene(id) => self.in_either(|film| titled_scene(film, id), say!("A scene")),
            MergePart::SceneFacts(id) => say!("What {} is", self.scene(id)),
            MergePart::Blocking(id) => say!("Who and what is where in {}", self.scene(id)),
            MergePart::ShotOrder(id) => say!("The order of the shots of {}", self.scene(id)),
            MergePart::Shot(id) => say!("Shot {}", self.shot_number(id)),
            MergePart::Cut(id) => say!("The cut of {}", self.scene(id)),
            MergePart::Kept(id) => say!("What {} keeps anyway", self.scene(id)),
            MergePart::Take(id) => {
                let takes = self.mine.film.takes.iter().chain(self.theirs.film.takes.iter());
                let take = takes.into_iter().find(|take| take.id == id);
                take.map_or_else(
                    || say!("A take").to_owned(),
                    |take| say!("Take {} of shot {}", take.number, self.shot_number(take.shot)),
                )
            }
        }
    }

    /// A scene's number in a sentence.
    pub(super) fn scene(&self, id: SceneId) -> String {
        self.in_either(|film| numbered_scene(film, id), say!("a scene"))
    }

    /// A shot's number in mine, or else in theirs.
    pub(super) fn shot_number(&self, id: ShotId) -> String {
        self.in_either(|film| film.numbered(id), say!("that is gone"))
    }

    fn in_either(&self, told: impl Fn(&Film) -> Option<String>, otherwise: &str) -> String {
        told(self.mine.film).or_else(|| told(self.theirs.film)).unwrap_or_else(|| otherwise.to_owned())
    }
}

fn numbered_scene(film: &Film, id: SceneId) -> Option<String> {
    film.scenes.iter().position(|scene| scene.id == id).map(|at| say!("scene {}", at + 1))
}

fn titled_scene(film: &Film, id: SceneId) -> Option<String> {
    let at = film.scenes.iter().position(|scene| scene.id == id)?;
    Some(titled(say!("Scene"), at + 1, &film.scenes.get(at)?.facts.title))
}

fn numbered_day(film: &Film, id: DayId) -> Option<String> {
    let at = film.days.iter().position(|day| day.id == id)?;
    Some(titled(say!("Day"), at + 1, &film.days.get(at)?.title))
}
