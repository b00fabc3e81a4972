//! What is done to a shot as one step, made of several changes: it and the cut that shows it change together.

use std::sync::Arc;

use super::{Command, EditError};
use crate::film::Film;
use crate::id::{EntryId, FreshIds, SceneId, ShotId};
use crate::scene::{Entry, Scene};
use crate::shot::Shot;

impl Film {
    /// What puts a shot into a scene and its cut: after the entry of `after` and that shot, or last.
    ///
    /// # Errors
    /// Says if there is no such scene.
    pub fn adds_shot(
        &self,
        scene: SceneId,
        after: Option<ShotId>,
        shot: Arc<Shot>,
        entry: Entry,
    ) -> Result<Command, EditError> {
        let place = self.scene(scene).ok_or(EditError::NoScene(scene))?;
        let behind = |list_at: Option<usize>, len: usize| list_at.map_or(len, |at| at + 1);
        let at = behind(place.shots.iter().position(|one| Some(one.id) == after), place.shots.len());
        let in_cut = behind(place.cut.iter().rposition(|one| Some(one.shot) == after), place.cut.len());
        let mut cut = place.cut.clone();
        cut.insert(in_cut, entry);
        Ok(Command::All(vec![Command::InsertShot { scene, at, shot }, Command::SetCut { scene, cut }]))
    }

    /// What takes a shot out of its scene's cut, and away.
    ///
    /// # Errors
    /// Says if there is no such shot.
    pub fn removes_shot(&self, id: ShotId) -> Result<Command, EditError> {
        let (scene, _) = self.shot(id).ok_or(EditError::NoShot(id))?;
        let cut = cut_without(scene, id);
        Ok(Command::All(vec![Command::SetCut { scene: scene.id, cut }, Command::RemoveShot(id)]))
    }

    /// What gives a shot up: it leaves its scene's cut and stays listed.
    ///
    /// # Errors
    /// Says if there is no such shot.
    pub fn drops_shot(&self, id: ShotId) -> Result<Command, EditError> {
        let (scene, shot) = self.shot(id).ok_or(EditError::NoShot(id))?;
        let cut = cut_without(scene, id);
        let shot = Arc::new(Shot { is_dropped: true, ..Shot::clone(shot) });
        Ok(Command::All(vec![Command::SetCut { scene: scene.id, cut }, Command::SetShot(shot)]))
    }

    /// What takes a shot up again that was given up: it comes back into the cut after what is listed before it, whole.
    ///
    /// # Errors
    /// Says if there is no such shot.
    pub fn takes_up_shot(&self, id: ShotId, entry: EntryId) -> Result<Command, EditError> {
        let (scene, shot) = self.shot(id).ok_or(EditError::NoShot(id))?;
        let before: Vec<ShotId> =
            scene.shots.iter().map(|shot| shot.id).take_while(|shot| *shot != id).collect();
        let mut cut = scene.cut.clone();
        let at = cut.iter().rposition(|entry| before.contains(&entry.shot)).map_or(0, |at| at + 1);
        cut.insert(at, Entry::whole(entry, id));
        let shot = Arc::new(Shot { is_dropped: false, ..Shot::clone(shot) });
        Ok(Command::All(vec![Command::SetShot(shot), Command::SetCut { scene: scene.id, cut }]))
    }

    /// What brings a shot into another scene, at the end of its cut. Whoever has no mark there is then found missing
    /// ([`NoRehearsal::NotInScene`](crate::NoRehearsal::NotInScene)).
    ///
    /// # Errors
    /// Says if there is no such shot or scene.
    pub fn brings_shot(
        &self,
        id: ShotId,
        to: SceneId,
        at: usize,
        fresh: &mut FreshIds,
    ) -> Result<Command, EditError> {
        let (from, shot) = self.shot(id).ok_or(EditError::NoShot(id))?;
        let scene = self.scene(to).ok_or(EditError::NoScene(to))?;
        if from.id == to {
            return Ok(Command::MoveShot { shot: id, to: at });
        }
        let (entries, left): (Vec<Entry>, Vec<Entry>) =
            from.cut.iter().copied().partition(|entry| entry.shot == id);
        // Two scenes may each have an entry of one id.
        let is_taken = |entry: &Entry| scene.cut.iter().any(|one| one.id == entry.id);
        let entries = entries.into_iter();
        let entries =
            entries.map(|entry| if is_taken(&entry) { Entry { id: fresh.fresh(), ..entry } } else { entry });
        let cut = scene.cut.iter().copied().chain(entries).collect();
        // Beats are the scene's own.
        let shot = Arc::new(Shot { beat: None, ..Shot::clone(shot) });
        Ok(Command::All(vec![
            Command::SetCut { scene: from.id, cut: left },
            Command::RemoveShot(id),
            Command::InsertShot { scene: to, at, shot },
            Command::SetCut { scene: to, cut },
        ]))
    }
}

/// A scene's cut without the entries of a shot.
fn cut_without(scene: &Scene, shot: ShotId) -> Vec<Entry> {
    scene.cut.iter().filter(|entry| entry.shot != shot).copied().collect()
}
