//! What plays when: the entries of the cuts of one or more scenes, one after the other.

use std::sync::Arc;

use film::{Entry, EntryView, Film, NoRehearsal, Rehearsal, Scene, SceneId, Shot};
use staging::Stage;

use crate::pictures::{Cue, RATE_FPS};

/// A shot walked through, or why that cannot be.
pub(super) type Rehearsed = Arc<Result<Rehearsal, NoRehearsal>>;

/// The entries that play, one after the other, of the film as it was when this was made.
///
/// **Invariant:** every turn lasts a while and starts where the one before it ends.
#[derive(Debug)]
pub(super) struct RunningOrder {
    film: Film,
    turns: Vec<Turn>,
    lasts_s: f64,
}

/// One entry in its turn.
#[derive(Debug)]
pub(super) struct Turn {
    /// The entry.
    pub(super) entry: Entry,
    /// Its scene.
    pub(super) scene: Arc<Scene>,
    /// The shot that it is a stretch of.
    pub(super) shot: Arc<Shot>,
    /// The scene's number in the film and the shot's in the scene, both from 1.
    pub(super) number: (usize, usize),
    /// When it starts, seconds from the start of all.
    pub(super) starts_s: f64,
    /// How long it lasts, seconds.
    pub(super) lasts_s: f64,
    /// The second of its shot at which it starts.
    pub(super) from_s: f64,
    /// Whether a scene begins with it.
    pub(super) opens_scene: bool,
    /// Its shot walked through.
    pub(super) rehearsed: Rehearsed,
    /// What there is to see.
    pub(super) shows: Shows,
}

/// What there is to see of an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shows {
    /// One picture for all of its seconds.
    Still,
    /// A picture for each frame.
    Moving,
    /// None: it cannot be framed.
    Nothing,
}

impl RunningOrder {
    /// The cuts of those scenes in that order; `rehearse` walks through a shot.
    ///
    /// What cannot be framed has its seconds all the same. An entry that lasts nothing is left out: its shot has become
    /// shorter than where it starts, and there is no moment at which it could be seen.
    pub(super) fn of(
        film: &Film,
        scenes: &[SceneId],
        rehearse: impl Fn(&Film, &Scene, &Arc<Shot>) -> Rehearsed,
    ) -> Self {
        let mut turns: Vec<Turn> = Vec::new();
        let mut starts_s = 0.0;
        for id in scenes {
            let Some(at) = film.scenes.iter().position(|scene| scene.id == *id) else { continue };
            let Some(scene) = film.scenes.get(at) else { continue };
            let mut opens_scene = true;
            for entry in &scene.cut {
                let Some(shot_at) = scene.shots.iter().position(|shot| shot.id == entry.shot) else {
                    continue;
                };
                let Some(shot) = scene.shots.get(shot_at) else { continue };
                let (from_s, to_s) = entry.stretch_of(shot);
                let lasts_s = to_s - from_s;
                if lasts_s <= 0.0 {
                    continue;
                }
                let rehearsed = rehearse(film, scene, shot);
                turns.push(Turn {
                    entry: *entry,
                    scene: Arc::clone(scene),
                    shot: Arc::clone(shot),
                    number: (at + 1, shot_at + 1),
                    starts_s,
                    lasts_s,
                    from_s,
                    opens_scene,
                    shows: shows(scene, shot, &rehearsed, (from_s, to_s)),
                    rehearsed,
                });
                starts_s += lasts_s;
                opens_scene = false;
            }
        }
        Self { film: film.clone(), turns, lasts_s: starts_s }
    }

    /// The film as it was.
    pub(super) const fn film(&self) -> &Film {
        &self.film
    }

    /// The entries in their turn.
    pub(super) fn turns(&self) -> &[Turn] {
        &self.turns
    }

    /// How long all of it lasts, seconds.
    pub(super) const fn lasts_s(&self) -> f64 {
        self.lasts_s
    }

    /// Which entry is due at that second, by its place: at a cut the one that begins, at the end the last one. None of none.
    pub(super) fn due(&self, seconds: f64) -> Option<usize> {
        let after = self.turns.partition_point(|turn| turn.starts_s <= seconds);
        (!self.turns.is_empty()).then(|| after.saturating_sub(1))
    }

    /// The entry that is due at that second.
    pub(super) fn turn_at(&self, seconds: f64) -> Option<&Turn> {
        self.turns.get(self.due(seconds)?)
    }

    /// When the entry so many places after the one that is due starts, if there is one.
    pub(super) fn step(&self, seconds: f64, by: isize) -> Option<f64> {
        let to = self.due(seconds)?.checked_add_signed(by)?;
        self.turns.get(to).map(|turn| turn.starts_s)
    }

    /// The cut that belongs to that second, by the place of the entry before it: the one that the entry ends with, or for
    /// the last entry the one that it begins with. None where there are no two.
    pub(super) fn cut_at(&self, seconds: f64) -> Option<usize> {
        let last = self.turns.len().checked_sub(2)?;
        self.due(seconds).map(|at| at.min(last))
    }

    /// What is seen at that second; none where the entry that is due cannot be framed.
    pub(super) fn stage(&self, seconds: f64) -> Option<Stage> {
        let turn = self.turn_at(seconds)?;
        self.stage_of(turn, turn.second_of_shot(seconds))
    }

    /// What is seen of an entry that many seconds into its shot.
    pub(super) fn stage_of(&self, turn: &Turn, at_s: f64) -> Option<Stage> {
        turn.rehearsed.as_ref().as_ref().ok()?.pictured(&self.film, &turn.scene, at_s)
    }

    /// The pictures of it all in their order.
    pub(super) fn cues(&self) -> impl Iterator<Item = Cue> {
        self.turns.iter().flat_map(|turn| {
            let (still, moving) = match turn.shows {
                Shows::Still => (Some(Cue::still(turn.starts_s)), 0),
                Shows::Moving => (None, turn.frames()),
                Shows::Nothing => (None, 0),
            };
            still.into_iter().chain(Cue::moving(turn.starts_s, moving, RATE_FPS))
        })
    }

    /// What the entries of a scene show as far as cutting them together is concerned.
    pub(super) fn views_of(&self, scene: &Arc<Scene>) -> Vec<EntryView> {
        let turns = self.turns.iter().filter(|turn| turn.scene.id == scene.id);
        let views = turns.map(|turn| {
            let beat = scene.blocking.beat(turn.shot.beat).map(|beat| beat.id);
            let line = scene.blocking.line(&self.film.cast, beat);
            let rehearsed = Arc::clone(&turn.rehearsed);
            EntryView::of(&self.film, scene, &turn.entry, &turn.shot, rehearsed, line)
        });
        views.collect()
    }
}

impl Turn {
    /// The second of its shot that is due at a second of the whole.
    pub(super) fn second_of_shot(&self, seconds: f64) -> f64 {
        self.from_s + (seconds - self.starts_s).clamp(0.0, self.lasts_s)
    }

    /// The second of its shot at which its last frame is seen.
    pub(super) fn last_second(&self) -> f64 {
        self.from_s + (self.lasts_s - 1.0 / RATE_FPS).max(0.0)
    }

    /// How many frames it lasts.
    fn frames(&self) -> u32 {
        // What lasts four seconds by a rounding more has no frame more.
        let frames = (self.lasts_s * RATE_FPS - 1e-6).ceil().max(1.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positive, and minutes")]
        let frames = frames as u32;
        frames
    }
}

/// What there is to see of a stretch of a shot.
fn shows(scene: &Scene, shot: &Shot, rehearsed: &Rehearsed, (from_s, to_s): (f64, f64)) -> Shows {
    let Ok(rehearsal) = rehearsed.as_ref() else { return Shows::Nothing };
    if rehearsal.result().outcome.is_err() {
        return Shows::Nothing;
    }
    let pulls = shot.pull.is_some_and(|pull| pull.starts_s < to_s && from_s < pull.starts_s + pull.lasts_s);
    let (starts_s, ends_s) = (rehearsal.starts_s + from_s, rehearsal.starts_s + to_s);
    let walks = scene.blocking.marks.iter().any(|mark| {
        let is_walked =
            |way: &film::Way| way.starts_s < ends_s && starts_s < way.starts_s + way.lasts_s(mark.place);
        mark.way.as_ref().is_some_and(is_walked)
    });
    if shot.movement.is_some() || pulls || walks { Shows::Moving } else { Shows::Still }
}

#[cfg(test)]
pub(super) mod tests;
