//! The best order of a short day: every set of jobs with every last one, and the ways to it that may still be best.
//!
//! # Why it is exact
//! What placing a job costs depends on the set of jobs before it, on the last of them and on when the phone is free, and on
//! nothing else: changes on the last, preferences on the set and the last. Being free earlier never makes anything later or
//! late: changes, waiting for a window and breaks all keep the order of times. So of two ways to one set with one last job, one
//! that is free no later and costs no more, being late counted first, stays no worse whatever follows, and the other is dropped.
//! All that are not dropped are gone on with, and sets grow, so a way is complete before anything follows from it.

use super::costs::{CHANGE_WEIGHT, Dislike, Score, Shortfall};
use super::prepared::Prepared;

/// Days up to so many jobs are put in order exactly: chosen because ten take less than a blink, and each more job more than
/// twice as long.
pub const MOST_IN_EXACT_ORDER: usize = 10;

/// A way to have shot a set of jobs.
#[derive(Debug, Clone, Copy)]
struct Way {
    free_min: f64,
    /// What of it is late.
    late: Shortfall,
    /// Changes and preferences.
    cost_min: f64,
    /// The state and the way there that it follows from; none at the call.
    from: Option<(usize, usize)>,
}

/// A day with everything that can be shot in it.
#[derive(Debug, Clone)]
pub(super) struct Exact {
    /// The jobs that are not pinned, in the best order, without those that are missed.
    pub(super) sequence: Vec<usize>,
    /// For each set of jobs, as bits: what is least late if all of it and nothing else is shot, if it can be.
    reached: Vec<Option<Shortfall>>,
}

/// What is worked on: the ways to each state, which is a set of jobs and the last of them.
struct Table<'p> {
    prepared: &'p Prepared<'p>,
    ways: Vec<Vec<Way>>,
    /// For each set and each job, what is disliked about the job coming after all of the set.
    dislikes: Vec<Dislike>,
}

impl Exact {
    /// Whether these can all be shot, pinned ones included, with nothing later than `late`.
    pub(super) fn reaches(&self, jobs: &[usize], late: Shortfall) -> bool {
        let set = jobs.iter().fold(0, |set, job| set | 1 << job);
        self.reached.get(set).copied().flatten().is_some_and(|least| least <= late)
    }
}

/// The best order of a day that is short enough.
pub(super) fn exact(prepared: &Prepared<'_>) -> Option<Exact> {
    if prepared.count() > MOST_IN_EXACT_ORDER {
        return None;
    }
    let mut table = Table::new(prepared);
    let mut reached = vec![None; 1 << prepared.count()];
    let mut best: Option<(Score, (usize, usize))> = None;
    for set in 0..1_usize << prepared.count() {
        for last in 0..=prepared.count() {
            let state = set * (prepared.count() + 1) + last;
            for at in 0..table.ways.get(state).map_or(0, Vec::len) {
                let Some((score, whole, late)) = table.go_on(set, last, (state, at)) else { continue };
                if let Some(least) = reached.get_mut(whole) {
                    *least = Some(least.map_or(late, |least: Shortfall| least.min(late)));
                }
                if best.as_ref().is_none_or(|(best, _)| score.is_better_than(best)) {
                    best = Some((score, (state, at)));
                }
            }
        }
    }
    let sequence = best.map_or_else(Vec::new, |(_, way)| table.sequence(way));
    Some(Exact { sequence, reached })
}

impl<'p> Table<'p> {
    fn new(prepared: &'p Prepared<'p>) -> Self {
        let count = prepared.count();
        let mut dislikes: Vec<Dislike> = Vec::with_capacity(count << count);
        for set in 0..1_usize << count {
            for job in 0..count {
                let one = if set == 0 { count } else { lowest(set) };
                let rest = if set == 0 { None } else { dislikes.get((set & (set - 1)) * count + job) };
                dislikes.push(prepared.dislike(one, job).and(rest.copied().unwrap_or_default()));
            }
        }
        let mut ways = vec![Vec::new(); (count + 1) << count];
        if let Some(call) = ways.get_mut(count) {
            let free_min = prepared.problem.call_min;
            call.push(Way { free_min, late: Shortfall::default(), cost_min: 0.0, from: None });
        }
        Self { prepared, ways, dislikes }
    }

    /// Goes on from one way with every job that may follow. If the day may end there, gives what it then costs, with the set of
    /// all its jobs and how much of it is late.
    fn go_on(&mut self, set: usize, last: usize, at: (usize, usize)) -> Option<(Score, usize, Shortfall)> {
        let prepared = self.prepared;
        let way = *self.ways.get(at.0)?.get(at.1)?;
        let pins = prepared.pins.iter().filter(|(job, _)| holds(set, *job)).count();
        let placed = usize::try_from(set.count_ones()).unwrap_or_default();
        if let Some(pinned) = prepared.pinned_at(pins, placed) {
            self.follow(set, last, pinned, &way, at);
            // It may end the day, which its own state says.
            return None;
        }
        for &job in prepared.free.iter().filter(|job| !holds(set, **job)) {
            self.follow(set, last, job, &way, at);
        }
        let (mut whole, mut last, mut way) = (set, last, way);
        for &(pinned, _) in prepared.pins.get(pins..).unwrap_or_default() {
            way = self.after(whole, last, pinned, &way)?;
            (whole, last) = (whole | 1 << pinned, pinned);
        }
        Some((self.score(whole, &way), whole, way.late))
    }

    /// Adds what follows from a way with one more job.
    fn follow(&mut self, set: usize, last: usize, job: usize, way: &Way, at: (usize, usize)) {
        let Some(after) = self.after(set, last, job, way) else { return };
        let state = (set | 1 << job) * (self.prepared.count() + 1) + job;
        let Some(ways) = self.ways.get_mut(state) else { return };
        if ways.iter().any(|known| known.is_no_worse_than(&after)) {
            return;
        }
        ways.retain(|known| !after.is_no_worse_than(known));
        ways.push(Way { from: Some(at), ..after });
    }

    /// The way with one more job, if it fits.
    fn after(&self, set: usize, last: usize, job: usize, way: &Way) -> Option<Way> {
        let timing = self.prepared.timing(last, job, way.free_min)?;
        let all = self.dislikes.get(set * self.prepared.count() + job)?;
        let disliked = all.after(self.prepared.dislike(last, job));
        Some(Way {
            free_min: timing.end_min,
            late: if timing.is_late { way.late.and(self.prepared.shortfall_of(job)) } else { way.late },
            cost_min: way.cost_min + CHANGE_WEIGHT * timing.change_min + disliked.minutes(),
            from: None,
        })
    }

    fn score(&self, whole: usize, way: &Way) -> Score {
        let left = (0..self.prepared.count()).filter(|job| !holds(whole, *job));
        let shortfall = left.map(|job| self.prepared.shortfall_of(job)).fold(way.late, Shortfall::and);
        Score { shortfall, minutes: way.free_min - self.prepared.problem.call_min + way.cost_min }
    }

    /// The jobs along a way that are not pinned.
    fn sequence(&self, end: (usize, usize)) -> Vec<usize> {
        let mut sequence = Vec::new();
        let mut at = Some(end);
        while let Some((state, way)) = at {
            sequence.push(state % (self.prepared.count() + 1));
            at = self.ways.get(state).and_then(|ways| ways.get(way)).and_then(|way| way.from);
        }
        sequence.reverse();
        sequence.retain(|job| self.prepared.free.contains(job));
        sequence
    }
}

impl Way {
    fn is_no_worse_than(&self, other: &Self) -> bool {
        self.free_min <= other.free_min && (self.late, self.cost_min) <= (other.late, other.cost_min)
    }
}

/// Whether a set of jobs has that one.
const fn holds(set: usize, job: usize) -> bool {
    set >> job & 1 == 1
}

/// The first job of a set that is not empty.
fn lowest(set: usize) -> usize {
    usize::try_from(set.trailing_zeros()).unwrap_or_default()
}
