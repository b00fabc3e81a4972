//! A good order of a long day: from several beginnings, one thing is moved at a time for as long as it gets better.
//!
//! Nothing is left to chance, and how much is tried is bounded, so a day takes the same time and gives the same order always.

use std::ops::Range;

use super::beam::by_beam;
use super::costs::Score;
use super::prepared::Prepared;
use super::walk::Walk;
use crate::daylight::DaySpan;

/// How much is tried in all: a job at one place of one order or another counts 16, and 1 for each job before it, as it takes
/// that much longer. Chosen, to bound what a day takes; `benches/order.rs` tells how long that is.
const MOST_EFFORT: usize = 12_000_000;
/// The longest run of jobs that is moved as one: chosen as about the setups of one direction of a scene.
const LONGEST_RUN: usize = 4;
/// So many shakes in vain end the search: chosen.
const MOST_IN_VAIN: usize = 12;

struct Search<'p> {
    prepared: &'p Prepared<'p>,
    effort_left: usize,
    now: Walk,
    best: Walk,
    /// Whether nothing that is tried makes the best one better.
    is_settled: bool,
    /// The order that is tried, and where it is walked through.
    trial: Vec<usize>,
    stack: Vec<usize>,
}

/// A good order of those that are not pinned, never worse than the story's. Those that do not fit are among them.
pub(super) fn search(prepared: &Prepared<'_>) -> Vec<usize> {
    let beginnings = [
        prepared.free.clone(),
        by_place(prepared),
        by_end(prepared),
        by_insertion(prepared),
        by_beam(prepared),
    ];
    let mut walks = beginnings.map(|sequence| Walk::through(prepared, sequence));
    walks.sort_by(|one, other| one.score.compared(&other.score));
    let [best, ..] = &walks;
    let mut search = Search {
        prepared,
        effort_left: 0,
        now: best.clone(),
        best: best.clone(),
        is_settled: false,
        trial: Vec::new(),
        stack: Vec::new(),
    };
    // The best beginning most likely ends best, so it has half of all; what one leaves unused serves the next.
    for (walk, share) in walks.into_iter().zip([2, 8, 8, 8, 8]) {
        search.effort_left += MOST_EFFORT / share;
        search.now = walk;
        search.improve();
    }
    search.shake();
    search.best.sequence
}

/// Places in the order in which the story comes to them, scenes within them and directions within these, wide before tight.
fn by_place(prepared: &Prepared<'_>) -> Vec<usize> {
    let first = |job: usize, same: &dyn Fn(&super::Job, &super::Job) -> bool| {
        let Some(of) = prepared.jobs.get(job) else { return 0 };
        prepared.jobs.iter().position(|other| same(of, other)).unwrap_or(0)
    };
    let mut keyed: Vec<_> = prepared
        .free
        .iter()
        .filter_map(|&at| {
            let job = prepared.jobs.get(at)?;
            let place = first(at, &|one, other| one.rig.place == other.rig.place);
            let scene = first(at, &|one, other| one.rig.scene == other.rig.scene);
            let look = first(at, &|one, other| one.rig.looks_as(&other.rig));
            Some(((place, scene, job.last, look), job.wideness_m, at))
        })
        .collect();
    keyed.sort_by(|one, other| one.0.cmp(&other.0).then(other.1.total_cmp(&one.1)));
    keyed.into_iter().map(|(.., job)| job).collect()
}

/// The last minute at which each can start.
fn last_start(prepared: &Prepared<'_>, job: usize) -> f64 {
    prepared.starts.get(job).and_then(|starts| starts.last()).map_or(f64::INFINITY, |span| span.to_min)
}

/// Those first that have to be shot first.
fn by_end(prepared: &Prepared<'_>) -> Vec<usize> {
    let mut sequence = prepared.free.clone();
    sequence.sort_by(|&one, &other| last_start(prepared, one).total_cmp(&last_start(prepared, other)));
    sequence
}

/// Each put where it costs least among those before it: must-haves first, and of these those with the least time to start in.
fn by_insertion(prepared: &Prepared<'_>) -> Vec<usize> {
    let room = |job: usize| {
        let spans = prepared.starts.get(job).into_iter().flatten();
        spans.map(DaySpan::length_min).sum::<f64>()
    };
    let mut left = prepared.free.clone();
    left.sort_by(|&one, &other| {
        let by_need = prepared.is_must_have(other).cmp(&prepared.is_must_have(one));
        by_need.then(room(one).total_cmp(&room(other)))
    });
    let mut walk = Walk::through(prepared, Vec::new());
    let (mut trial, mut stack, mut effort) = (Vec::new(), Vec::new(), 0);
    for job in left {
        let mut best = Score::WORST;
        let mut place = walk.sequence.len();
        for at in (0..=walk.sequence.len()).rev() {
            if effort > MOST_EFFORT / 4 {
                break;
            }
            trial.clone_from(&walk.sequence);
            trial.insert(at, job);
            let tried = walk.tries(prepared, &trial, at..usize::MAX, &best, &mut stack);
            effort += tried.effort;
            if let Some(score) =
                tried.end.map(|end| end.score(prepared)).filter(|score| score.is_better_than(&best))
            {
                (best, place) = (score, at);
            }
        }
        trial.clone_from(&walk.sequence);
        trial.insert(place, job);
        walk.take_on(prepared, &trial, place);
    }
    walk.sequence
}

impl Search<'_> {
    /// Moves and swaps for as long as something gets better and effort is left, and keeps the best.
    fn improve(&mut self) {
        while !self.is_back() && (self.move_runs() || self.swap()) {}
        if self.now.score.is_better_than(&self.best.score) {
            self.best.clone_from(&self.now);
        }
        self.is_settled = true;
    }

    /// Whether this is the best order, of which it is known that nothing makes it better.
    fn is_back(&self) -> bool {
        self.is_settled && self.now.sequence == self.best.sequence
    }

    /// Changes two neighbouring runs of the best order for each other and goes on from there, here and there in turn, until
    /// that has long led to nothing better.
    fn shake(&mut self) {
        let count = self.best.sequence.len();
        let (mut shakes, mut in_vain) = (0, 0);
        while in_vain < MOST_IN_VAIN && self.effort_left > 0 && count > 2 {
            // Strides that have no common measure with most counts, so that all places and lengths come together in time.
            let length = (2 + shakes * 5 % 7).min(count / 2);
            let other = (2 + shakes * 3 % 8).min(count - length);
            let from = shakes * 61 % (count + 1 - length - other);
            shakes += 1;
            let before = self.best.score;
            self.trial.clone_from(&self.best.sequence);
            if let Some(runs) = self.trial.get_mut(from..from + length + other) {
                runs.rotate_left(length);
            }
            self.now.clone_from(&self.best);
            self.now.take_on(self.prepared, &self.trial, from);
            self.improve();
            in_vain = if self.best.score.is_better_than(&before) { 0 } else { in_vain + 1 };
        }
    }

    /// Moves runs of jobs elsewhere, each as it is found to be better. Whether any was.
    ///
    /// A run that goes back by as many places as another run is long is that one gone forward, and tried as such.
    fn move_runs(&mut self) -> bool {
        let count = self.now.sequence.len();
        let mut any = false;
        for length in 1..=LONGEST_RUN.min(count.saturating_sub(1)) {
            for from in 0..=count - length {
                for to in (0..from.saturating_sub(LONGEST_RUN)).chain(from + 1..=count - length) {
                    let (low, high) = (from.min(to), from.max(to) + length);
                    let by = if to < from { from - to } else { length };
                    let is_better = self.tries(low..high, |trial| {
                        if let Some(moved) = trial.get_mut(low..high) {
                            moved.rotate_left(by);
                        }
                    });
                    any |= is_better;
                    if self.effort_left == 0 {
                        return false;
                    }
                    if is_better && self.is_back() {
                        return any;
                    }
                }
            }
        }
        any
    }

    /// Swaps two jobs, each two as they are found to be better. Whether any were.
    fn swap(&mut self) -> bool {
        let count = self.now.sequence.len();
        let mut any = false;
        for one in 0..count {
            for other in one + 2..count {
                any |= self.tries(one..other + 1, |trial| trial.swap(one, other));
                if self.effort_left == 0 {
                    return false;
                }
            }
        }
        any
    }

    /// Tries the present order with something changed in a range, and takes it if it is better.
    fn tries(&mut self, changed: Range<usize>, change: impl FnOnce(&mut [usize])) -> bool {
        self.trial.clone_from(&self.now.sequence);
        change(&mut self.trial);
        let from = changed.start;
        let tried = self.now.tries(self.prepared, &self.trial, changed, &self.now.score, &mut self.stack);
        self.effort_left = self.effort_left.saturating_sub(tried.effort);
        let better = tried.end.is_some_and(|end| end.score(self.prepared).is_better_than(&self.now.score));
        if better {
            self.now.take_on(self.prepared, &self.trial, from);
        }
        better
    }
}
