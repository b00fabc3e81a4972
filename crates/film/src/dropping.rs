//! What giving a shot up costs its scene.

use crate::cut_view::EntryView;
use crate::edit::EditError;
use crate::film::Film;
use crate::findings::{PlacedFinding, Severity, check_cut, sort_findings};
use crate::id::{SceneId, ShotId};
use crate::rehearsal::Rehearsals;

/// What giving a shot up costs its scene.
#[derive(Debug, Clone, PartialEq)]
pub struct Dropping {
    /// The scene.
    pub scene: SceneId,
    /// Whether it was the only shot of its size in the scene's cut.
    pub was_only_of_its_size: bool,
    /// What is found on the scene without it and was not found with it, notes left out.
    pub found: Vec<PlacedFinding>,
}

impl Dropping {
    /// What it would cost to give a shot up.
    ///
    /// # Errors
    /// Says if there is no such shot.
    pub fn of(film: &Film, shot: ShotId, rehearsals: &mut Rehearsals) -> Result<Self, EditError> {
        let (scene, dropped) = film.shot(shot).ok_or(EditError::NoShot(shot))?;
        let is_like = |other: &ShotId| {
            *other != shot && scene.shot(*other).is_some_and(|other| other.size == dropped.size)
        };
        let in_cut: Vec<ShotId> = scene.cut.iter().map(|entry| entry.shot).collect();
        let was_only_of_its_size = in_cut.contains(&shot) && !in_cut.iter().any(is_like);
        let before = open(film, scene.id, rehearsals);
        let mut without = film.clone();
        without.apply(film.drops_shot(shot)?)?;
        let mut found = open(&without, scene.id, rehearsals);
        let was_found = |placed: &PlacedFinding| {
            before.iter().any(|old| old.at == placed.at && old.finding.rule() == placed.finding.rule())
        };
        found.retain(|placed| placed.finding.severity() > Severity::Notes && !was_found(placed));
        Ok(Self { scene: scene.id, was_only_of_its_size, found })
    }
}

/// What is open on a scene.
fn open(film: &Film, scene: SceneId, rehearsals: &mut Rehearsals) -> Vec<PlacedFinding> {
    let Some(scene) = film.scene(scene) else { return Vec::new() };
    let views = EntryView::of_cut(film, scene, rehearsals);
    sort_findings(scene, check_cut(film, scene, &views)).open
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::EntryId;

    /// Every shot of the demo film's cuts with what giving it up costs.
    fn all(film: &Film) -> Vec<(ShotId, Dropping)> {
        let shots = film.scenes.iter().flat_map(|scene| scene.shots.iter().map(|shot| shot.id));
        let mut rehearsals = Rehearsals::default();
        shots.map(|shot| (shot, Dropping::of(film, shot, &mut rehearsals).expect("it is there"))).collect()
    }

    #[test]
    fn giving_up_what_stands_between_two_alike_is_found() {
        let film = crate::demo_film();
        let costly: Vec<_> = all(&film).into_iter().filter(|(_, costs)| !costs.found.is_empty()).collect();
        assert!(!costly.is_empty(), "nothing of the demo film is missed");
        for (shot, costs) in costly {
            let mut without = film.clone();
            without.apply(film.drops_shot(shot).expect("it is there")).expect("it can be given up");
            let now = open(&without, costs.scene, &mut Rehearsals::default());
            assert!(costs.found.iter().all(|placed| now.contains(placed)), "{shot}");
        }
    }

    #[test]
    fn the_only_one_of_its_size_is_told() {
        let film = crate::demo_film();
        for (shot, costs) in all(&film) {
            let (scene, dropped) = film.shot(shot).expect("it is there");
            let like = scene.shots.iter().filter(|other| other.size == dropped.size).count();
            assert_eq!(costs.was_only_of_its_size, like == 1, "{shot}");
        }
    }

    #[test]
    fn a_shot_that_is_taken_up_again_stands_where_it_stood() {
        let film = crate::demo_film();
        let scene = &film.scenes[0];
        let shot = scene.cut[5].shot;
        assert_eq!(scene.cut.iter().filter(|entry| entry.shot == shot).count(), 1);
        let mut edited = film.clone();
        edited.apply(film.drops_shot(shot).expect("there")).expect("given up");
        assert!(edited.days[0].shots_of(&edited).iter().all(|(_, of_day)| of_day.id != shot));
        let entry = EntryId::new(crate::LARGEST_ID).expect("an id");
        let back = edited.takes_up_shot(shot, entry).expect("there");
        edited.apply(back).expect("taken up");
        let cut: Vec<_> = edited.scenes[0].cut.iter().map(|entry| entry.shot).collect();
        assert_eq!(cut, scene.cut.iter().map(|entry| entry.shot).collect::<Vec<_>>());
    }
}
