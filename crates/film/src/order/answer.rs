//! An order of the day: what is shot when and why there, and what is missed.

use super::change::Change;
use super::costs::OrderCosts;
use super::exact::Exact;
use super::missed::{Missed, WhyMissed, missed, why_late};
use super::prepared::Prepared;
use super::reason::{Reason, reasons};
use super::walk::Walk;
use crate::daylight::DaySpan;

/// An order of the day.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// What is shot, in order.
    pub placed: Vec<Placed>,
    /// What is not, in the story's order.
    pub missed: Vec<Missed>,
    /// When the last setup is in the can; the call, if nothing is shot. Minutes from midnight.
    pub ends_min: f64,
    /// What it costs.
    pub costs: OrderCosts,
    /// Whether no other order costs less.
    pub is_exact: bool,
}

/// A setup in its place in the day. Times are minutes from midnight.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// The number of its job in the problem.
    pub job: usize,
    /// What has to change for it.
    pub change: Change,
    /// When the change is done.
    pub ready_min: f64,
    /// How long is waited then, breaks not counted, minutes.
    pub waits_min: f64,
    /// When rehearsal and takes start.
    pub starts_min: f64,
    /// When they end.
    pub ends_min: f64,
    /// What keeps it from being shot properly here; only what is pinned is shot in spite of it.
    pub late: Option<WhyMissed>,
    /// Why it is here. The one that binds most is first.
    pub reasons: Vec<Reason>,
}

impl Placed {
    /// From when rehearsal and takes start until they end.
    pub const fn span(&self) -> DaySpan {
        DaySpan { from_min: self.starts_min, to_min: self.ends_min }
    }
}

impl Order {
    /// How much later than in this order it is when `done` is in the can at `now_min`, minutes; negative if there is time in
    /// hand. 0 if nothing of what is done is in the order.
    pub fn late_min(&self, done: &[usize], now_min: f64) -> f64 {
        let planned = self.placed.iter().filter(|placed| done.contains(&placed.job));
        planned.map(|placed| placed.ends_min).reduce(f64::max).map_or(0.0, |planned| now_min - planned)
    }
}

/// What comes of trying these jobs, none of them pinned, in this order.
pub(super) fn answer(prepared: &Prepared<'_>, sequence: Vec<usize>, exact: Option<&Exact>) -> Order {
    let walk = Walk::through(prepared, sequence);
    let placed = placed(prepared, &walk);
    let costs = costs(prepared, &walk, &placed);
    Order {
        missed: missed(prepared, &walk, exact),
        ends_min: placed.last().map_or(prepared.problem.call_min, |placed| placed.ends_min),
        costs,
        placed,
        is_exact: exact.is_some(),
    }
}

fn placed(prepared: &Prepared<'_>, walk: &Walk) -> Vec<Placed> {
    let mut placed: Vec<Placed> = Vec::with_capacity(walk.placed().len());
    let mut last = prepared.count();
    let mut at_min = prepared.problem.call_min;
    for &number in walk.placed() {
        let (Some(job), Some(timing)) = (prepared.jobs.get(number), prepared.timing(last, number, at_min))
        else {
            continue;
        };
        let from = prepared.jobs.get(last).map(|job| &job.rig).or(prepared.problem.before.as_ref());
        let span = DaySpan { from_min: timing.start_min, to_min: timing.end_min };
        placed.push(Placed {
            job: prepared.listed_as(number),
            change: prepared.problem.changes.between(from, &job.rig),
            ready_min: timing.ready_min,
            waits_min: prepared.outside_breaks(timing.ready_min, timing.start_min),
            starts_min: timing.start_min,
            ends_min: timing.end_min,
            late: timing.is_late.then(|| why_late(prepared, job, span)),
            reasons: Vec::new(),
        });
        (last, at_min) = (number, timing.end_min);
    }
    for (at, reasons) in reasons(prepared, walk, &placed).into_iter().enumerate() {
        if let Some(placed) = placed.get_mut(at) {
            placed.reasons = reasons;
        }
    }
    placed
}

/// Counts what an order costs, apart from how the search adds it up.
fn costs(prepared: &Prepared<'_>, walk: &Walk, placed: &[Placed]) -> OrderCosts {
    let jobs: Vec<_> =
        walk.placed().iter().filter_map(|&number| prepared.jobs.get(number).copied()).collect();
    let late = placed.iter().zip(&jobs).filter(|(placed, _)| placed.late.is_some()).map(|(_, job)| *job);
    let left = prepared.jobs.iter().enumerate().filter(|(number, _)| !walk.placed().contains(number));
    let mut costs = OrderCosts {
        day_min: placed.last().map_or(0.0, |last| last.ends_min - prepared.problem.call_min),
        changes_min: placed.iter().map(|placed| placed.change.minutes()).sum(),
        waits_min: placed.iter().map(|placed| placed.waits_min).sum(),
        ..OrderCosts::default()
    };
    for job in late.chain(left.map(|(_, job)| *job)) {
        costs.must_missed += u32::from(job.must_have);
        costs.nice_missed += u32::from(!job.must_have);
    }
    for (at, later) in jobs.iter().enumerate() {
        let earlier = jobs.get(..at).unwrap_or_default();
        for early in earlier {
            costs.count_pair(early, later);
        }
        let rigs: Vec<_> =
            prepared.problem.before.iter().chain(earlier.iter().map(|early| &early.rig)).collect();
        let stays = rigs.last().is_some_and(|last| last.looks_as(&later.rig));
        costs.back += u32::from(!stays && rigs.iter().any(|rig| rig.looks_as(&later.rig)));
    }
    costs
}
