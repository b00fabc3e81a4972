//! Every change of a film, as a value that can be kept, repeated and taken back.

mod refusal;
mod shot_changes;

use std::sync::Arc;

use crate::day::ShootingDay;
use crate::film::{CastMember, Film, FilmFacts, Place};
use crate::film_file::excess;
use crate::id::{PersonId, PlaceId, SceneId, ShotId, TakeId};
use crate::kit::Kit;
use crate::scene::{Entry, Kept, Scene, SceneFacts};
use crate::scene_blocking::SceneBlocking;
use crate::shot::Shot;
use crate::take_log::LoggedTake;

pub use refusal::EditError;

/// A change of a film.
///
/// A part is changed by putting another in its place, so every change is its own size and says nothing of what was there.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// What holds for all of the film.
    SetFacts(Arc<FilmFacts>),
    /// What the crew owns.
    SetKit(Arc<Kit>),
    /// Who is in it.
    SetCast(Arc<[CastMember]>),
    /// Where it is shot.
    SetPlaces(Arc<[Place]>),
    /// When it is shot.
    SetDays(Arc<[ShootingDay]>),
    /// A new scene, at that place in the film.
    InsertScene {
        /// Before which scene, counted from 0; last if there are not as many.
        at: usize,
        /// The scene.
        scene: Arc<Scene>,
    },
    /// A scene goes, with its shots.
    RemoveScene(SceneId),
    /// A scene comes elsewhere in the film.
    MoveScene {
        /// The scene.
        scene: SceneId,
        /// Where it is then, counted from 0.
        to: usize,
    },
    /// What a scene is.
    SetSceneFacts {
        /// The scene.
        scene: SceneId,
        /// What it is.
        facts: Arc<SceneFacts>,
    },
    /// Where everybody of a scene is.
    SetBlocking {
        /// The scene.
        scene: SceneId,
        /// Where they are.
        blocking: Arc<SceneBlocking>,
    },
    /// A new shot. It is in no cut until the cut says so.
    InsertShot {
        /// The scene.
        scene: SceneId,
        /// Before which shot, counted from 0; last if there are not as many.
        at: usize,
        /// The shot.
        shot: Arc<Shot>,
    },
    /// A shot goes. The cut has let go of it before.
    RemoveShot(ShotId),
    /// A shot as it is from now on, in the place of the one of its id.
    SetShot(Arc<Shot>),
    /// A shot comes elsewhere in its scene.
    MoveShot {
        /// The shot.
        shot: ShotId,
        /// Where it is then, counted from 0.
        to: usize,
    },
    /// The cut of a scene.
    SetCut {
        /// The scene.
        scene: SceneId,
        /// Its entries in order.
        cut: Vec<Entry>,
    },
    /// Which findings are kept anyway.
    SetKept {
        /// The scene.
        scene: SceneId,
        /// They, with their reasons.
        kept: Vec<Kept>,
    },
    /// A take is logged.
    AddTake {
        /// Before which take, counted from 0; last if there are not as many.
        at: usize,
        /// The take.
        take: Arc<LoggedTake>,
    },
    /// A take goes.
    RemoveTake(TakeId),
    /// A take as it is from now on, in the place of the one of its id.
    SetTake(Arc<LoggedTake>),
    /// Several changes that are one.
    All(Vec<Self>),
}

impl Film {
    /// Makes a change, and says what takes it back.
    ///
    /// # Errors
    /// Says why it cannot be made; the film is as it was. Where it would be larger than a film that can be opened, only what
    /// does not enlarge it can be made.
    pub fn apply(&mut self, command: Command) -> Result<Command, EditError> {
        // A film's parts are shared, so that keeping the one before costs next to nothing.
        let before = self.clone();
        let made = self.change(command).and_then(|inverse| {
            let beyond = excess(self);
            if beyond > 0 && beyond > excess(&before) { Err(EditError::TooLarge) } else { Ok(inverse) }
        });
        if made.is_err() {
            *self = before;
        }
        made
    }

    /// Makes a change, however large the film gets. After an error it may be half made.
    fn change(&mut self, command: Command) -> Result<Command, EditError> {
        match command {
            Command::SetFacts(facts) => Ok(Command::SetFacts(std::mem::replace(&mut self.facts, facts))),
            Command::SetKit(kit) => Ok(Command::SetKit(std::mem::replace(&mut self.kit, kit))),
            Command::SetCast(cast) => self.set_cast(cast),
            Command::SetPlaces(places) => self.set_places(places),
            Command::SetDays(days) => {
                if !all_differ(days.iter().map(|day| day.id)) {
                    return Err(EditError::TwoOfOneId);
                }
                Ok(Command::SetDays(std::mem::replace(&mut self.days, days)))
            }
            Command::InsertScene { at, scene } => self.insert_scene(at, scene),
            Command::RemoveScene(id) => {
                let at = self.scene_index(id)?;
                Ok(Command::InsertScene { at, scene: self.scenes.remove(at) })
            }
            Command::MoveScene { scene, to } => {
                let from = self.scene_index(scene)?;
                move_within(&mut self.scenes, from, to);
                Ok(Command::MoveScene { scene, to: from })
            }
            Command::SetSceneFacts { scene, facts } => {
                self.place_there(facts.place)?;
                self.all_there(facts.wants.iter().map(|want| want.who))?;
                let facts = std::mem::replace(&mut self.scene_mut(scene)?.facts, facts);
                Ok(Command::SetSceneFacts { scene, facts })
            }
            Command::SetBlocking { scene, blocking } => {
                self.all_there(blocking.people())?;
                let blocking = std::mem::replace(&mut self.scene_mut(scene)?.blocking, blocking);
                Ok(Command::SetBlocking { scene, blocking })
            }
            Command::InsertShot { scene, at, shot } => {
                if self.shot(shot.id).is_some() {
                    return Err(EditError::ShotThere(shot.id));
                }
                self.all_there(shot.of.people())?;
                let id = shot.id;
                let shots = &mut self.scene_mut(scene)?.shots;
                shots.insert(at.min(shots.len()), shot);
                Ok(Command::RemoveShot(id))
            }
            Command::RemoveShot(id) => {
                let scene = self.scene_of(id)?;
                if scene.cut.iter().any(|entry| entry.shot == id) {
                    return Err(EditError::ShotInCut(id));
                }
                let at = shot_index(scene, id)?;
                let scene_id = scene.id;
                Ok(Command::InsertShot { scene: scene_id, at, shot: scene.shots.remove(at) })
            }
            Command::SetShot(shot) => {
                self.all_there(shot.of.people())?;
                let scene = self.scene_of(shot.id)?;
                if shot.is_dropped && scene.cut.iter().any(|entry| entry.shot == shot.id) {
                    return Err(EditError::ShotInCut(shot.id));
                }
                let at = shot_index(scene, shot.id)?;
                let place = scene.shots.get_mut(at).ok_or(EditError::NoShot(shot.id))?;
                Ok(Command::SetShot(std::mem::replace(place, shot)))
            }
            Command::MoveShot { shot, to } => {
                let scene = self.scene_of(shot)?;
                let from = shot_index(scene, shot)?;
                move_within(&mut scene.shots, from, to);
                Ok(Command::MoveShot { shot, to: from })
            }
            Command::SetCut { scene, cut } => self.set_cut(scene, cut),
            Command::SetKept { scene, kept } => {
                let kept = std::mem::replace(&mut self.scene_mut(scene)?.kept, kept);
                Ok(Command::SetKept { scene, kept })
            }
            Command::AddTake { at, take } => self.add_take(at, take),
            Command::RemoveTake(id) => {
                let at = self.take_index(id)?;
                let mut takes = self.takes.to_vec();
                let take = takes.remove(at);
                self.takes = Arc::from(takes);
                Ok(Command::AddTake { at, take })
            }
            Command::SetTake(take) => {
                let at = self.take_index(take.id)?;
                let mut takes = self.takes.to_vec();
                let place = takes.get_mut(at).ok_or(EditError::NoTake(take.id))?;
                let before = std::mem::replace(place, take);
                self.takes = Arc::from(takes);
                Ok(Command::SetTake(before))
            }
            Command::All(commands) => self.change_all(commands),
        }
    }

    fn add_take(&mut self, at: usize, take: Arc<LoggedTake>) -> Result<Command, EditError> {
        let id = take.id;
        if self.take_index(id).is_ok() {
            return Err(EditError::TakeThere(id));
        }
        let mut takes = self.takes.to_vec();
        takes.insert(at.min(takes.len()), take);
        self.takes = Arc::from(takes);
        Ok(Command::RemoveTake(id))
    }

    fn take_index(&self, id: TakeId) -> Result<usize, EditError> {
        self.takes.iter().position(|take| take.id == id).ok_or(EditError::NoTake(id))
    }

    fn change_all(&mut self, commands: Vec<Command>) -> Result<Command, EditError> {
        let inverses: Result<Vec<Command>, EditError> =
            commands.into_iter().map(|command| self.change(command)).collect();
        let mut inverses = inverses?;
        inverses.reverse();
        Ok(Command::All(inverses))
    }

    fn insert_scene(&mut self, at: usize, scene: Arc<Scene>) -> Result<Command, EditError> {
        let id = scene.id;
        if self.scene(id).is_some() {
            return Err(EditError::SceneThere(id));
        }
        if let Some(shot) = scene.shots.iter().find(|shot| self.shot(shot.id).is_some()) {
            return Err(EditError::ShotThere(shot.id));
        }
        cut_is_of(&scene, &scene.cut)?;
        self.all_there(scene.people())?;
        self.place_there(scene.facts.place)?;
        self.scenes.insert(at.min(self.scenes.len()), scene);
        Ok(Command::RemoveScene(id))
    }

    fn set_cast(&mut self, cast: Arc<[CastMember]>) -> Result<Command, EditError> {
        let is_there = |id: PersonId| cast.iter().any(|member| member.id == id);
        if !all_differ(cast.iter().map(|member| member.id)) {
            return Err(EditError::TwoOfOneId);
        }
        let mut people = self.scenes.iter().flat_map(|scene| scene.people());
        if let Some(needed) = people.find(|id| !is_there(*id)) {
            return Err(EditError::PersonNeeded(needed));
        }
        Ok(Command::SetCast(std::mem::replace(&mut self.cast, cast)))
    }

    fn set_places(&mut self, places: Arc<[Place]>) -> Result<Command, EditError> {
        if !all_differ(places.iter().map(|place| place.id)) {
            return Err(EditError::TwoOfOneId);
        }
        let mut needed = self.scenes.iter().filter_map(|scene| scene.facts.place);
        if let Some(needed) = needed.find(|id| !places.iter().any(|place| place.id == *id)) {
            return Err(EditError::PlaceNeeded(needed));
        }
        Ok(Command::SetPlaces(std::mem::replace(&mut self.places, places)))
    }

    fn set_cut(&mut self, id: SceneId, cut: Vec<Entry>) -> Result<Command, EditError> {
        let scene = self.scene_mut(id)?;
        cut_is_of(scene, &cut)?;
        Ok(Command::SetCut { scene: id, cut: std::mem::replace(&mut scene.cut, cut) })
    }

    fn scene_index(&self, id: SceneId) -> Result<usize, EditError> {
        self.scenes.iter().position(|scene| scene.id == id).ok_or(EditError::NoScene(id))
    }

    fn scene_mut(&mut self, id: SceneId) -> Result<&mut Scene, EditError> {
        let scene = self.scenes.iter_mut().find(|scene| scene.id == id);
        scene.map(Arc::make_mut).ok_or(EditError::NoScene(id))
    }

    fn scene_of(&mut self, shot: ShotId) -> Result<&mut Scene, EditError> {
        let mut scenes = self.scenes.iter_mut();
        scenes.find(|scene| scene.shot(shot).is_some()).map(Arc::make_mut).ok_or(EditError::NoShot(shot))
    }

    fn place_there(&self, place: Option<PlaceId>) -> Result<(), EditError> {
        match place.filter(|id| self.place(*id).is_none()) {
            Some(gone) => Err(EditError::PlaceNeeded(gone)),
            None => Ok(()),
        }
    }

    fn all_there(&self, mut people: impl Iterator<Item = PersonId>) -> Result<(), EditError> {
        match people.find(|id| self.person(*id).is_none()) {
            Some(gone) => Err(EditError::PersonNeeded(gone)),
            None => Ok(()),
        }
    }
}

/// Whether no two are the same.
pub(crate) fn all_differ<Id: Ord>(ids: impl Iterator<Item = Id>) -> bool {
    let mut ids: Vec<Id> = ids.collect();
    ids.sort_unstable();
    ids.is_sorted_by(|one, next| one < next)
}

fn cut_is_of(scene: &Scene, cut: &[Entry]) -> Result<(), EditError> {
    let is_dropped = |entry: &&Entry| scene.shot(entry.shot).is_some_and(|shot| shot.is_dropped);
    if let Some(entry) = cut.iter().find(is_dropped) {
        return Err(EditError::ShotDropped(entry.shot));
    }
    let mut shots: Vec<ShotId> = scene.shots.iter().map(|shot| shot.id).collect();
    shots.sort_unstable();
    let is_of = |entry: &Entry| shots.binary_search(&entry.shot).is_ok();
    if cut.iter().all(is_of) && all_differ(cut.iter().map(|entry| entry.id)) {
        Ok(())
    } else {
        Err(EditError::CutNotOfScene(scene.id))
    }
}

fn shot_index(scene: &Scene, id: ShotId) -> Result<usize, EditError> {
    scene.shots.iter().position(|shot| shot.id == id).ok_or(EditError::NoShot(id))
}

/// Moves one of a list to another place in it; to the end if the list is shorter.
fn move_within<Item>(list: &mut Vec<Item>, from: usize, to: usize) {
    if from < list.len() {
        let item = list.remove(from);
        list.insert(to.min(list.len()), item);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::EntryId;
    use crate::preset::demo_film;

    /// What cuts the first scene of a film from its first shot so many times.
    fn cut_of(film: &Film, entries: u64) -> Command {
        let scene = &film.scenes[0];
        let entry = |number| Entry::whole(EntryId::new(number).expect("small"), scene.shots[0].id);
        Command::SetCut { scene: scene.id, cut: (0..entries).map(entry).collect() }
    }

    #[test]
    fn a_film_is_not_edited_past_what_can_be_opened() {
        let mut film = demo_film();
        // An entry of a cut counts 80, and a film that can be opened weighs a million.
        let too_many = Command::All(vec![cut_of(&film, 10), cut_of(&film, 13_000)]);
        assert_eq!(film.apply(too_many), Err(EditError::TooLarge));
        assert_eq!(film, demo_film(), "as it was");
        film.apply(cut_of(&film, 10_000)).expect("not too large");
        film.change(cut_of(&film, 13_000)).expect("not asked");
        film.apply(cut_of(&film, 12_900)).expect("too large, but less so");
    }
}
