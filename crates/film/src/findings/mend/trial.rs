//! Trying a change on a copy of the film.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::{Candidate, Change, Mend};
use crate::cut_view::EntryView;
use crate::edit::Command;
use crate::film::Film;
use crate::findings::Severity;
use crate::findings::cut::{PlacedFinding, check_cut};
use crate::id::{BeatId, EntryId, ShotId};
use crate::rehearsal::Rehearsal;
use crate::scene::{Entry, KeptAt, Scene};
use crate::scene_blocking::Line;

/// A finding by what it is called and where it is.
type Called = (&'static str, KeptAt);

/// A scene before a change, and what is to be mended.
pub(super) struct Trial<'a> {
    film: &'a Film,
    scene: &'a Scene,
    views: BTreeMap<EntryId, &'a EntryView>,
    lines: BTreeMap<Option<BeatId>, Option<Line>>,
    before: BTreeSet<Called>,
    mended: Called,
}

impl<'a> Trial<'a> {
    pub(super) fn of(
        film: &'a Film,
        scene: &'a Scene,
        views: &'a [EntryView],
        placed: &PlacedFinding,
    ) -> Self {
        let before = check_cut(film, scene, views);
        let beat = |view: &EntryView| scene.blocking.beat(view.shot.beat).map(|beat| beat.id);
        Self {
            film,
            scene,
            views: views.iter().map(|view| (view.entry, view)).collect(),
            lines: views.iter().map(|view| (beat(view), view.line)).collect(),
            before: before.iter().map(|placed| (placed.finding.rule(), placed.at)).collect(),
            mended: (placed.finding.rule(), placed.at),
        }
    }

    /// The candidate as a mend, if it is one, and how many notes there are that were not there before.
    pub(super) fn mend(&self, candidate: Candidate) -> Option<(usize, Mend)> {
        let copied = match &candidate.change {
            Change::Own { entry, shot } => Some((shot.id, self.views.get(entry).map(|view| view.shot.id)?)),
            Change::Shots(_) | Change::Added { .. } => None,
        };
        let command = self.command(candidate.change)?;
        let mut film = self.film.clone();
        film.apply(command.clone()).ok()?;
        let scene = film.scene(self.scene.id)?;
        let found = check_cut(&film, scene, &self.views_of(&film, scene));
        let mut notes = 0;
        for placed in &found {
            let called = (placed.finding.rule(), as_before(placed.at, copied));
            if called == self.mended {
                return None;
            }
            if self.before.contains(&called) {
                continue;
            }
            if placed.finding.severity() >= Severity::Warns {
                return None;
            }
            notes += 1;
        }
        Some((notes, Mend { words: candidate.words, command }))
    }

    /// The views after a change: those of before, but for entries whose shot is another.
    fn views_of(&self, film: &Film, scene: &Scene) -> Vec<EntryView> {
        let shots: BTreeMap<ShotId, _> = scene.shots.iter().map(|shot| (shot.id, shot)).collect();
        let mut anew = BTreeMap::new();
        let views = scene.cut.iter().filter_map(|entry| {
            let shot = *shots.get(&entry.shot)?;
            let same = self.views.get(&entry.id).filter(|view| Arc::ptr_eq(&view.shot, shot));
            if let Some(view) = same {
                return Some(EntryView::clone(view));
            }
            let rehearsal = anew.entry(shot.id).or_insert_with(|| Arc::new(Rehearsal::of(film, scene, shot)));
            let beat = scene.blocking.beat(shot.beat).map(|beat| beat.id);
            let line = self.lines.get(&beat).copied();
            let line = line.unwrap_or_else(|| scene.blocking.line(&film.cast, beat));
            Some(EntryView::of(film, scene, entry, shot, Arc::clone(rehearsal), line))
        });
        views.collect()
    }

    /// The change as a command; none if the cut is not as it was.
    fn command(&self, change: Change) -> Option<Command> {
        let scene = self.scene.id;
        let mut cut = self.scene.cut.clone();
        let at = |entry: EntryId| self.scene.cut.iter().position(|one| one.id == entry);
        let behind = |shot: ShotId| Some(self.scene.shots.iter().position(|one| one.id == shot)? + 1);
        let (after, shot) = match change {
            Change::Shots(shots) => {
                let set = shots.into_iter().map(|shot| Command::SetShot(Arc::new(shot)));
                return Some(Command::All(set.collect()));
            }
            Change::Own { entry, shot } => {
                let place = cut.get_mut(at(entry)?)?;
                let before = std::mem::replace(&mut place.shot, shot.id);
                (before, shot)
            }
            Change::Added { after, entry, shot } => {
                let at = at(after)?;
                let before = cut.get(at)?.shot;
                cut.insert(at + 1, Entry::whole(entry, shot.id));
                (before, shot)
            }
        };
        let insert = Command::InsertShot { scene, at: behind(after)?, shot: Arc::new(shot) };
        Some(Command::All(vec![insert, Command::SetCut { scene, cut }]))
    }
}

/// Where a finding would have been before a shot was copied.
fn as_before(at: KeptAt, copied: Option<(ShotId, ShotId)>) -> KeptAt {
    match (at, copied) {
        (KeptAt::Shot(shot), Some((copy, original))) if shot == copy => KeptAt::Shot(original),
        _ => at,
    }
}

#[cfg(test)]
mod tests {
    use crate::findings::cut::example::{film, film_cut, level, person, shot_id, single, stretched, two};
    use crate::findings::mend::example::{mend_of, mended, with};
    use crate::shot::{Shot, ShotOf, Sound};
    use staging::ShotSize;

    #[test]
    fn what_is_found_on_a_shot_is_not_new_on_its_copy_and_stays_where_it_is_on_others() {
        let spoken = |shot: Shot| Shot { sound: Sound::Dialogue, ..shot };
        let far_ben = spoken(Shot { of: ShotOf::One(person(2)), ..level(2, 180.0, 8.0) });
        for (shots, cut) in [
            (vec![spoken(level(1, 180.0, 4.0))], vec![1, 1]),
            (vec![level(1, 180.0, 4.0), far_ben], vec![1, 1, 2]),
        ] {
            // The first shot jumps to a later stretch of itself, and in one of the shots whoever speaks is too far away.
            let jump = stretched(film_cut(two(), shots, &cut), &[(0.0, 1.0), (3.0, 4.0)]);
            let words = mended(&jump, "jump_cut");
            let round = "a new shot in place of shot 1 here: from 35° further round, clockwise".to_owned();
            assert!(words.contains(&round), "{words:?}");
        }
    }

    #[test]
    fn a_new_shot_is_listed_and_cut_in_behind_the_one_it_goes_with() {
        let jump =
            film(two(), vec![single(1, 1, ShotSize::Medium, 150.0), single(2, 1, ShotSize::ChestUp, 160.0)]);
        let insert = mend_of(&jump, "jump_cut", "an insert of Ada's hands between");
        let scene = &with(&jump, &insert).scenes[0];
        let listed: Vec<_> = scene.shots.iter().map(|shot| shot.id).collect();
        let cut: Vec<_> = scene.cut.iter().map(|entry| entry.shot).collect();
        assert_eq!(listed, [1, 100, 2].map(shot_id));
        assert_eq!(cut, listed);
    }
}
