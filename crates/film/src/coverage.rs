//! A first draft of a scene's shots and cut, from where everybody is and what the phone can do.
//!
//! A draft is made in four steps: what each beat offers (`ground`), what would be proposed there in order (`proposal` and
//! the files of each kind of scene), which of that the phone can have and which cuts (`ways`, `candidate`, `cutting`), and the order
//! of entries (`assembly`). Nothing is left to chance: the same film, scene and wish give the same draft.
//!
//! Which sizes, sides and heights serve which scene is common practice in covering scenes; degrees and seconds are chosen
//! within it.

mod again;
mod alone;
mod assembly;
mod candidate;
mod cutting;
mod foreground;
mod free_floor;
mod ground;
mod group;
mod picking;
mod proposal;
mod talk;
#[cfg(test)]
mod tests;
mod things;
mod walk;
mod ways;
mod words;

use std::sync::Arc;

use crate::edit::Command;
use crate::film::Film;
use crate::id::{FreshIds, ShotId};
use crate::scene::{Entry, Kept, KeptAt, Scene};
use crate::shot::Shot;

pub use again::redraft;

/// What is wished of a draft.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CoverageWish {
    /// How many shots, [`CoverageWish::FEWEST_SHOTS`] to [`CoverageWish::MOST_SHOTS`]; what is beyond counts as the nearest.
    pub shots: usize,
    /// How the cut goes.
    pub pace: Pace,
    /// Which of many drafts: another number when it is asked for again.
    pub variant: u32,
}

/// How a cut goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Pace {
    /// Few entries that last, wider sizes, level heights, slow pushes.
    #[default]
    Calm,
    /// Many short entries that come back to a shot, tighter sizes, lower and higher phones, follows and pans.
    Restless,
}

/// A first draft of a scene.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The shots, in the order in which the cut first shows them.
    pub shots: Vec<Shot>,
    /// The cut.
    pub cut: Vec<Entry>,
}

impl CoverageWish {
    /// The fewest shots of a draft: chosen because fewer leave nothing to cut between.
    pub const FEWEST_SHOTS: usize = 3;
    /// The most shots of a draft: chosen because a crew of friends makes no more of one scene in a day.
    pub const MOST_SHOTS: usize = 12;
}

impl Pace {
    /// Both of them.
    pub const ALL: [Self; 2] = [Self::Calm, Self::Restless];

    /// In plain words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Calm => "calm",
            Self::Restless => "restless",
        }
    }
}

/// Drafts the shots and the cut of a scene.
///
/// The phone stays on one side of the line, reverses match, and neighbours of the cut differ enough wherever anything that
/// can be had does. There are fewer shots than wished for only where nothing more can be had; none if the kit is empty.
/// `ids` gives ids and nothing else.
pub fn draft(film: &Film, scene: &Scene, wish: &CoverageWish, ids: &mut FreshIds) -> Draft {
    let wanted = wish.shots.clamp(CoverageWish::FEWEST_SHOTS, CoverageWish::MOST_SHOTS);
    let shot_ids: Vec<ShotId> = (0..wanted).map(|_| ids.fresh()).collect();
    let grounds = ground::Ground::of_scene(film, scene);
    let mut picked = picking::pick(&grounds, wish, &shot_ids);
    let order = assembly::order(&grounds, &picked, wish);
    foreground::add(&grounds, &mut picked, wish);
    let (shots, cut) = assembly::assemble(&grounds, &picked, &order, ids);
    Draft { shots, cut }
}

impl Draft {
    /// What puts the draft behind what `scene` has.
    pub fn appends(&self, scene: &Scene) -> Command {
        let cut = scene.cut.iter().chain(&self.cut).copied().collect();
        let mut commands: Vec<Command> = self.insertions(scene, scene.shots.len()).collect();
        commands.push(Command::SetCut { scene: scene.id, cut });
        Command::All(commands)
    }

    /// What puts the draft in the place of every shot that `scene` has, and of their cut.
    ///
    /// Findings that were kept at those shots go with them.
    pub fn replaces(&self, scene: &Scene) -> Command {
        let mut commands = vec![Command::SetCut { scene: scene.id, cut: Vec::new() }];
        commands.extend(scene.shots.iter().map(|shot| Command::RemoveShot(shot.id)));
        commands.extend(self.insertions(scene, 0));
        commands.push(Command::SetCut { scene: scene.id, cut: self.cut.clone() });
        let still_there: Vec<Kept> =
            scene.kept.iter().filter(|kept| kept.at == KeptAt::Scene).cloned().collect();
        if still_there.len() < scene.kept.len() {
            commands.push(Command::SetKept { scene: scene.id, kept: still_there });
        }
        Command::All(commands)
    }

    fn insertions(&self, scene: &Scene, from: usize) -> impl Iterator<Item = Command> {
        self.shots.iter().enumerate().map(move |(at, shot)| Command::InsertShot {
            scene: scene.id,
            at: from + at,
            shot: Arc::new(shot.clone()),
        })
    }
}
