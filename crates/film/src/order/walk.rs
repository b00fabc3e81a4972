//! A sequence of jobs walked through: when each is shot, what does not fit, and what it costs so far.

use std::ops::Range;

use super::costs::{CHANGE_WEIGHT, CLOSE_MIN, Dislike, Score, Shortfall};
use super::prepared::Prepared;

/// Where a day has come to.
#[derive(Debug, Clone, Copy)]
pub(super) struct State {
    pub(super) at_min: f64,
    pub(super) changes_min: f64,
    disliked: Dislike,
    /// What is missed so far, and what is pinned and late.
    pub(super) shortfall: Shortfall,
    /// How many are placed.
    placed: usize,
    /// Numbers that tell what is placed and what is missed, all but surely: only what is worth trying hangs on them.
    placed_mark: usize,
    missed_mark: usize,
    /// How many of them are pinned.
    pins: usize,
    /// The least minutes that all of the sequence still to come would add.
    left_min: f64,
}

/// A sequence walked through, so that another one which starts in the same way need not be walked from its start.
#[derive(Debug, Clone)]
pub(super) struct Walk {
    /// The jobs that are not pinned, in the order in which they are tried.
    pub(super) sequence: Vec<usize>,
    /// Where the day has come to before each of them, and after all.
    states: Vec<State>,
    /// Where the phone was before, and all jobs that are placed.
    placed: Vec<usize>,
    pub(super) score: Score,
}

/// How a walk that may be broken off has gone.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tried {
    /// Where the day has come to, if it was not broken off.
    pub(super) end: Option<State>,
    /// How much was done for it: 16 for each job that was tried, and 1 for each that was placed before it.
    pub(super) effort: usize,
}

impl State {
    pub(super) fn at_call(prepared: &Prepared<'_>, sequence: &[usize]) -> Self {
        let pinned = prepared.pins.iter().map(|(job, _)| job);
        let least = sequence.iter().chain(pinned).filter_map(|&job| prepared.least_min.get(job));
        Self {
            at_min: prepared.problem.call_min,
            changes_min: 0.0,
            disliked: Dislike::default(),
            shortfall: Shortfall::default(),
            placed: 0,
            placed_mark: 0,
            missed_mark: 0,
            pins: 0,
            left_min: least.sum(),
        }
    }

    /// After a job, if it fits or is pinned; `placed` is the stack of what was placed before.
    pub(super) fn after(&self, prepared: &Prepared<'_>, placed: &[usize], job: usize) -> Option<Self> {
        let last = *placed.last()?;
        let timing = prepared.timing(last, job, self.at_min)?;
        Some(Self {
            at_min: timing.end_min,
            changes_min: self.changes_min + timing.change_min,
            disliked: self.disliked.and(prepared.dislike_after(placed, job)),
            shortfall: if timing.is_late {
                self.shortfall.and(prepared.shortfall_of(job))
            } else {
                self.shortfall
            },
            placed: self.placed + 1,
            placed_mark: self.placed_mark.wrapping_add(mark(job)),
            left_min: self.left_min - prepared.least_min.get(job)?,
            ..*self
        })
    }

    /// Without a job that does not fit.
    fn without(&self, prepared: &Prepared<'_>, job: usize) -> Self {
        Self {
            shortfall: self.shortfall.and(prepared.shortfall_of(job)),
            missed_mark: self.missed_mark.wrapping_add(mark(job)),
            left_min: self.left_min - prepared.least_min.get(job).copied().unwrap_or_default(),
            ..*self
        }
    }

    /// The pinned job that comes now, if one does.
    pub(super) fn pinned_next(&self, prepared: &Prepared<'_>) -> Option<usize> {
        prepared.pinned_at(self.pins, self.placed)
    }

    /// Whether the same jobs are placed in both, all but surely.
    pub(super) const fn has_placed_as(&self, other: &Self) -> bool {
        self.placed_mark == other.placed_mark
    }

    pub(super) fn score(&self, prepared: &Prepared<'_>) -> Score {
        let day_min = self.at_min - prepared.problem.call_min;
        let minutes = day_min + CHANGE_WEIGHT * self.changes_min + self.disliked.minutes();
        Score { shortfall: self.shortfall, minutes }
    }

    /// Whether what follows, being the same and after the same job, makes this no better than `known`.
    fn is_no_better_than(&self, prepared: &Prepared<'_>, known: &Self) -> bool {
        let [one, other] = [self, known].map(|state| (state.placed, state.pins, state.missed_mark));
        let no_less = |one: f64, other: f64| one >= other - CLOSE_MIN;
        one == other
            && no_less(self.at_min, known.at_min)
            && self.shortfall >= known.shortfall
            && no_less(
                self.score(prepared).minutes - self.at_min,
                known.score(prepared).minutes - known.at_min,
            )
    }

    /// Whether nothing that may follow makes this better than `bound`.
    ///
    /// What is missed only grows. Where as much is missed as in `bound`, everything to come has to be placed, and each job adds
    /// its takes and the least change to it.
    fn is_hopeless(&self, prepared: &Prepared<'_>, bound: &Score) -> bool {
        let missed = self.shortfall.cmp(&bound.shortfall);
        missed.is_gt()
            || (missed.is_eq() && self.score(prepared).minutes + self.left_min >= bound.minutes - CLOSE_MIN)
    }
}

impl Walk {
    /// A sequence of jobs that are not pinned, walked through from the call.
    pub(super) fn through(prepared: &Prepared<'_>, sequence: Vec<usize>) -> Self {
        let state = State::at_call(prepared, &sequence);
        let mut walk = Self {
            sequence,
            states: vec![state],
            placed: vec![prepared.count()],
            score: state.score(prepared),
        };
        walk.go_on(prepared);
        walk
    }

    /// The jobs that are placed, in order.
    pub(super) fn placed(&self) -> &[usize] {
        self.placed.get(1..).unwrap_or_default()
    }

    /// Takes on another sequence that is the same before `from`.
    pub(super) fn take_on(&mut self, prepared: &Prepared<'_>, sequence: &[usize], from: usize) {
        self.sequence.clear();
        self.sequence.extend_from_slice(sequence);
        self.states.truncate(from + 1);
        let placed = self.states.last().map_or(0, |state| state.placed);
        self.placed.truncate(placed + 1);
        self.go_on(prepared);
    }

    /// Walks on from where the states end.
    fn go_on(&mut self, prepared: &Prepared<'_>) {
        let Some(&(mut state)) = self.states.last() else { return };
        for &job in self.sequence.get(self.states.len() - 1..).unwrap_or_default() {
            state = step(prepared, &mut self.placed, state, job);
            self.states.push(state);
        }
        self.score = finish(prepared, &mut self.placed, state).score(prepared);
    }

    /// Tries another sequence, which differs from this one only in `changed`; breaks off where it cannot be better than
    /// `bound`, nor than this one. If it is longer by a job, `changed` has no end.
    ///
    /// `stack` is a place to work in; what is in it does not matter.
    pub(super) fn tries(
        &self,
        prepared: &Prepared<'_>,
        sequence: &[usize],
        changed: Range<usize>,
        bound: &Score,
        stack: &mut Vec<usize>,
    ) -> Tried {
        let mut tried = Tried { end: None, effort: 16 };
        let Some(&(mut state)) = self.states.get(changed.start) else { return tried };
        // Where nothing of the range is placed, every job of it was tried at one and the same state, so their order is nothing.
        if self.states.get(changed.end).is_some_and(|end| end.placed == state.placed) {
            return tried;
        }
        stack.clear();
        stack.extend_from_slice(self.placed.get(..=state.placed).unwrap_or_default());
        for (at, &job) in sequence.iter().enumerate().skip(changed.start) {
            let known = if at > changed.end { self.states.get(at) } else { None };
            let is_no_better = known.is_some_and(|known| {
                stack.last() == self.placed.get(known.placed) && state.is_no_better_than(prepared, known)
            });
            if is_no_better || state.is_hopeless(prepared, bound) {
                return tried;
            }
            state = step(prepared, stack, state, job);
            tried.effort += 16 + stack.len();
        }
        tried.end = Some(finish(prepared, stack, state));
        tried
    }
}

/// What a job adds to the number that tells a set of them.
const fn mark(job: usize) -> usize {
    (job + 1) * (job + 1) * (job + 3)
}

/// Places what is pinned here, then a job of the sequence if it fits.
fn step(prepared: &Prepared<'_>, placed: &mut Vec<usize>, state: State, job: usize) -> State {
    let mut state = state;
    while let Some(pinned) = state.pinned_next(prepared) {
        state = place_pinned(prepared, placed, state, pinned);
    }
    if let Some(after) = state.after(prepared, placed, job) {
        placed.push(job);
        after
    } else {
        state.without(prepared, job)
    }
}

/// Places all that are still pinned.
fn finish(prepared: &Prepared<'_>, placed: &mut Vec<usize>, state: State) -> State {
    let left = prepared.pins.get(state.pins..).unwrap_or_default();
    left.iter().fold(state, |state, &(pinned, _)| place_pinned(prepared, placed, state, pinned))
}

pub(super) fn place_pinned(
    prepared: &Prepared<'_>,
    placed: &mut Vec<usize>,
    state: State,
    job: usize,
) -> State {
    let pins = state.pins + 1;
    let Some(after) = state.after(prepared, placed, job) else { return State { pins, ..state } };
    placed.push(job);
    State { pins, ..after }
}
