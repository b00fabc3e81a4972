//! A problem made ready for trying many orders: jobs in the story's order, and what each costs after each.

use super::costs::{CHANGE_WEIGHT, Dislike, Shortfall};
use super::problem::{Job, OrderProblem};
use super::starts::{Limit, first_start, merged, starts};
use crate::daylight::DaySpan;

/// A problem made ready.
///
/// Jobs are numbered anew, in the story's order, so that an answer does not depend on how they were listed. The number after
/// the last one is where the phone stood before.
#[derive(Debug, Clone)]
pub(super) struct Prepared<'p> {
    pub(super) problem: &'p OrderProblem,
    /// The jobs.
    pub(super) jobs: Vec<&'p Job>,
    /// Which job of the problem each one is.
    pub(super) listed: Vec<usize>,
    /// Those that somebody has put somewhere, with their places, in the order of these.
    pub(super) pins: Vec<(usize, usize)>,
    /// All others.
    pub(super) free: Vec<usize>,
    /// Breaks in order, none touching another.
    pub(super) breaks: Vec<DaySpan>,
    /// When each can start.
    pub(super) starts: Vec<Vec<DaySpan>>,
    /// When each can start if it must, outside breaks.
    anyhow: Vec<Vec<DaySpan>>,
    /// The minutes of each change: a row for each job, a column for each that it may come after.
    changes_min: Vec<f64>,
    /// What is disliked about the column's job coming before the row's.
    dislikes: Vec<Dislike>,
    /// The least that each adds to an order's minutes, wherever it is placed.
    pub(super) least_min: Vec<f64>,
}

/// When something is placed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Timing {
    pub(super) change_min: f64,
    pub(super) ready_min: f64,
    pub(super) start_min: f64,
    pub(super) end_min: f64,
    /// Whether it starts where it should not, because it is pinned.
    pub(super) is_late: bool,
}

impl<'p> Prepared<'p> {
    pub(super) fn new(problem: &'p OrderProblem) -> Self {
        let mut listed: Vec<usize> = (0..problem.jobs.len()).collect();
        listed.sort_by_key(|&at| problem.jobs.get(at).map(|job| (job.story, job.shot)));
        let jobs: Vec<&Job> = listed.iter().filter_map(|&at| problem.jobs.get(at)).collect();
        let breaks = merged(problem.breaks.clone());
        let numbered = || jobs.iter().enumerate();
        let mut pins: Vec<(usize, usize)> =
            numbered().filter_map(|(at, job)| Some((at, job.pinned?))).collect();
        pins.sort_by_key(|&(_, place)| place);
        let mut prepared = Self {
            problem,
            pins,
            free: numbered().filter(|(_, job)| job.pinned.is_none()).map(|(at, _)| at).collect(),
            starts: jobs.iter().map(|job| starts(problem, &breaks, job, &Limit::all_of(job))).collect(),
            anyhow: jobs.iter().map(|job| starts(problem, &breaks, job, &[Limit::Breaks])).collect(),
            changes_min: Vec::new(),
            dislikes: Vec::new(),
            least_min: Vec::new(),
            listed,
            jobs,
            breaks,
        };
        prepared.compare_all();
        prepared
    }

    /// Works out every row of what each costs after each.
    fn compare_all(&mut self) {
        let changes = &self.problem.changes;
        let before = self.problem.before.as_ref();
        for job in &self.jobs {
            let row = self.changes_min.len();
            self.changes_min
                .extend(self.jobs.iter().map(|from| changes.between(Some(&from.rig), &job.rig).minutes()));
            self.changes_min.push(changes.between(before, &job.rig).minutes());
            let least =
                self.changes_min.get(row..).unwrap_or_default().iter().fold(f64::INFINITY, |a, b| a.min(*b));
            self.least_min.push(job.takes_min + (1.0 + CHANGE_WEIGHT) * least);
            self.dislikes.extend(self.jobs.iter().map(|early| Dislike::of_pair(early, job)));
            let looks_as = before.is_some_and(|before| before.looks_as(&job.rig));
            self.dislikes.push(Dislike::default().marked(looks_as));
        }
    }

    /// How many jobs there are; also the number of where the phone stood before.
    pub(super) fn count(&self) -> usize {
        self.jobs.len()
    }

    /// Which job of the problem it is.
    pub(super) fn listed_as(&self, job: usize) -> usize {
        self.listed.get(job).copied().unwrap_or(job)
    }

    /// Whether the film cannot do without it.
    pub(super) fn is_must_have(&self, job: usize) -> bool {
        self.jobs.get(job).is_some_and(|job| job.must_have)
    }

    /// What it counts for where it is missed or late.
    pub(super) fn shortfall_of(&self, job: usize) -> Shortfall {
        if self.is_must_have(job) { Shortfall { must: 1, nice: 0 } } else { Shortfall { must: 0, nice: 1 } }
    }

    /// The job that is pinned where `placed` are placed already, `pins` of them pinned. One that had its place taken by another
    /// pinned one comes right after it.
    pub(super) fn pinned_at(&self, pins: usize, placed: usize) -> Option<usize> {
        self.pins.get(pins).filter(|(_, place)| *place <= placed).map(|(job, _)| *job)
    }

    /// How long the change from one to the other takes, minutes.
    pub(super) fn change_min(&self, last: usize, job: usize) -> f64 {
        self.changes_min.get(job * (self.count() + 1) + last).copied().unwrap_or_default()
    }

    /// When a job is shot that is turned to at `at_min`, after the job `last`; none if it does not fit and need not.
    pub(super) fn timing(&self, last: usize, job: usize, at_min: f64) -> Option<Timing> {
        let change_min = self.change_min(last, job);
        let ready_min = self.worked(at_min, change_min);
        let takes_min = self.jobs.get(job)?.takes_min;
        let in_time = first_start(self.starts.get(job)?, ready_min);
        let (start_min, is_late) = match in_time {
            Some(start_min) => (start_min, false),
            None if self.jobs.get(job)?.pinned.is_some() => {
                (first_start(self.anyhow.get(job)?, ready_min).unwrap_or(ready_min), true)
            }
            None => return None,
        };
        Some(Timing { change_min, ready_min, start_min, end_min: start_min + takes_min, is_late })
    }

    /// When so many minutes of changing are done that start at `at_min`: they stop for breaks and go on after them.
    pub(super) fn worked(&self, at_min: f64, minutes: f64) -> f64 {
        let (mut at_min, mut left_min) = (at_min, minutes);
        for rest in self.breaks.iter().filter(|rest| rest.from_min < rest.to_min) {
            if at_min >= rest.to_min {
                continue;
            }
            if at_min + left_min <= rest.from_min {
                break;
            }
            left_min -= (rest.from_min - at_min).max(0.0);
            at_min = rest.to_min;
        }
        at_min + left_min
    }

    /// How much of a stretch of time is no break, minutes.
    pub(super) fn outside_breaks(&self, from_min: f64, to_min: f64) -> f64 {
        let rests =
            self.breaks.iter().map(|rest| (rest.to_min.min(to_min) - rest.from_min.max(from_min)).max(0.0));
        (to_min - from_min - rests.sum::<f64>()).max(0.0)
    }

    /// What is disliked about one job coming before the other.
    pub(super) fn dislike(&self, early: usize, later: usize) -> Dislike {
        self.dislikes.get(later * (self.count() + 1) + early).copied().unwrap_or_default()
    }

    /// What is disliked about a job coming after all of `placed`, of which the last one is the last.
    pub(super) fn dislike_after(&self, placed: &[usize], job: usize) -> Dislike {
        let row = job * (self.count() + 1);
        let Some(row) = self.dislikes.get(row..=row + self.count()) else { return Dislike::default() };
        let of = |early: &usize| row.get(*early).copied().unwrap_or_default();
        let all = placed.iter().map(of).fold(Dislike::default(), Dislike::and);
        all.after(placed.last().map(of).unwrap_or_default())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::tests::{at, job};

    #[test]
    fn changing_stops_for_a_break_and_goes_on_after_it() {
        let lunch = DaySpan { from_min: 720.0, to_min: 780.0 };
        let day = OrderProblem { breaks: vec![lunch], ..at(9.0, 18.0) };
        let prepared = Prepared::new(&day);
        for (from_min, minutes, done_min) in [
            (700.0, 20.0, 720.0),
            (700.0, 25.0, 785.0),
            (720.0, 0.0, 720.0),
            (730.0, 0.0, 780.0),
            (730.0, 5.0, 785.0),
            (790.0, 5.0, 795.0),
        ] {
            let worked = prepared.worked(from_min, minutes);
            assert!((worked - done_min).abs() < 1e-12, "{from_min} + {minutes}: {worked} is not {done_min}");
        }
        assert!((prepared.outside_breaks(700.0, 790.0) - 30.0).abs() < 1e-12);
    }

    #[test]
    fn jobs_are_numbered_as_the_story_goes() {
        let jobs = vec![Job { story: 5, ..job(0) }, Job { story: 2, pinned: Some(0), ..job(1) }];
        let day = OrderProblem { jobs, ..at(9.0, 18.0) };
        let prepared = Prepared::new(&day);
        assert_eq!((prepared.listed, prepared.pins, prepared.free), (vec![1, 0], vec![(0, 0)], vec![1]));
    }
}
