//! The two copies side by side, with their shots in order of ids.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::film::Film;
use crate::id::{SceneId, ShotId};
use crate::scene::{Entry, Scene};
use crate::shot::Shot;

/// A copy of the film.
#[derive(Debug)]
pub(super) struct Side<'film> {
    pub(super) film: &'film Film,
    pub(super) shots: BTreeMap<ShotId, (SceneId, &'film Arc<Shot>)>,
    pub(super) scenes: BTreeMap<SceneId, &'film Arc<Scene>>,
}

/// Both copies.
#[derive(Debug)]
pub(super) struct Sides<'film> {
    pub(super) mine: Side<'film>,
    pub(super) theirs: Side<'film>,
}

impl<'film> Side<'film> {
    pub(super) fn of(film: &'film Film) -> Self {
        let of_scene = |scene: &'film Arc<Scene>| scene.shots.iter().map(|shot| (shot.id, (scene.id, shot)));
        Self {
            film,
            shots: film.scenes.iter().flat_map(of_scene).collect(),
            scenes: film.scenes.iter().map(|scene| (scene.id, scene)).collect(),
        }
    }

    /// A shot.
    pub(super) fn shot(&self, id: ShotId) -> Option<&'film Arc<Shot>> {
        self.shots.get(&id).map(|(_, shot)| *shot)
    }

    /// Which scene a shot is of.
    pub(super) fn scene_of(&self, id: ShotId) -> Option<SceneId> {
        self.shots.get(&id).map(|(scene, _)| *scene)
    }

    /// Whether an entry is of that copy alone: this one could not show its shot there, and has no other entry of its id.
    pub(super) fn lacks(&self, scene: &Scene, entry: &Entry) -> bool {
        let can_show = self.scenes.get(&scene.id).is_some_and(|here| here.can_show(entry));
        !can_show && scene.cut.iter().all(|one| one.id != entry.id)
    }
}

impl Scene {
    /// Whether a cut of it can show an entry's shot: it is of the scene, and was not given up.
    pub(super) fn can_show(&self, entry: &Entry) -> bool {
        self.shot(entry.shot).is_some_and(|shot| !shot.is_dropped)
    }

    /// The entries of a cut that a cut of this scene can show.
    pub(super) fn shown_of(&self, cut: &[Entry]) -> Vec<Entry> {
        cut.iter().copied().filter(|entry| self.can_show(entry)).collect()
    }
}

impl<'film> Sides<'film> {
    pub(super) fn of(mine: &'film Film, theirs: &'film Film) -> Self {
        Self { mine: Side::of(mine), theirs: Side::of(theirs) }
    }

    /// The one copy and the other: theirs first if that is chosen.
    pub(super) fn base_and_other(&self, theirs_first: bool) -> (&Side<'film>, &Side<'film>) {
        if theirs_first { (&self.theirs, &self.mine) } else { (&self.mine, &self.theirs) }
    }

    /// Whether both have a shot, and each in another scene.
    pub(super) fn is_moved(&self, id: ShotId) -> bool {
        let (mine, theirs) = (self.mine.scene_of(id), self.theirs.scene_of(id));
        mine.is_some() && theirs.is_some() && mine != theirs
    }

    /// Whether they share a scene or a shot.
    pub(super) fn are_of_one_film(&self) -> bool {
        self.mine.scenes.keys().any(|id| self.theirs.scenes.contains_key(id))
            || self.mine.shots.keys().any(|id| self.theirs.shots.contains_key(id))
    }

    /// How many things only mine has.
    pub(super) fn only_mine(&self) -> usize {
        let (mine, theirs) = (&self.mine, &self.theirs);
        let people = mine.film.cast.iter().filter(|one| theirs.film.person(one.id).is_none()).count();
        let places = mine.film.places.iter().filter(|one| theirs.film.place(one.id).is_none()).count();
        let days = mine.film.days.iter().filter(|one| theirs.film.day(one.id).is_none()).count();
        let scenes = mine.scenes.keys().filter(|id| !theirs.scenes.contains_key(id)).count();
        let shots = mine.shots.keys().filter(|id| !theirs.shots.contains_key(id)).count();
        let logged: std::collections::BTreeSet<_> = theirs.film.takes.iter().map(|take| take.id).collect();
        let takes = mine.film.takes.iter().filter(|take| !logged.contains(&take.id)).count();
        people + places + days + scenes + shots + takes
    }

    /// The scenes that both have, mine first, in mine's order.
    pub(super) fn shared_scenes(&self) -> impl Iterator<Item = (&'film Arc<Scene>, &'film Arc<Scene>)> {
        let scenes = self.mine.film.scenes.iter();
        scenes.filter_map(|scene| Some((scene, *self.theirs.scenes.get(&scene.id)?)))
    }
}
