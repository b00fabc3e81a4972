//! What is to be put in order: the setups of a day, when each can be shot, and how the phone stands for it.

use units::Angle;

use super::change::ChangeTimes;
use crate::daylight::DaySpan;
use crate::id::{PersonId, PlaceId, SceneId, ShotId};
use crate::scene_blocking::apart;

/// How the phone stands for a setup, and what is on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Rig {
    /// The place that its scene is shot at; scenes of which nothing is said are at one place.
    pub place: Option<PlaceId>,
    /// Its scene.
    pub scene: SceneId,
    /// The way the phone looks on its scene's floor, clockwise from north.
    pub direction: Angle,
    /// The lens, by its name in the kit.
    pub lens: String,
    /// The adapter that is on.
    pub adapter: Option<String>,
    /// The filters that are on, in any order.
    pub filters: Vec<String>,
    /// Whether the phone moves on a gimbal.
    pub gimbal: bool,
}

/// A setup to be shot.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// The shot that it is of.
    pub shot: ShotId,
    /// How the phone stands for it.
    pub rig: Rig,
    /// Who is in it, in any order.
    pub people: Vec<PersonId>,
    /// The height of the frame at whom it is of, metres, positive: larger is wider.
    pub wideness_m: f64,
    /// Rehearsal and takes together, minutes, not negative. They are not interrupted.
    pub takes_min: f64,
    /// When there is light for it: it is shot from start to end within one of these. Any time if nothing is said, never if
    /// there are none.
    pub light: Option<Vec<DaySpan>>,
    /// When the sun stands as it does for what this is cut against: it is shot from start to end within it. Any time if it need
    /// not match.
    pub one_sun: Option<DaySpan>,
    /// When people of it are there: it is shot from start to end while all of them are. Whoever is not in this list is there
    /// all day; whoever is in it twice comes twice.
    pub hours: Vec<(PersonId, DaySpan)>,
    /// Whether the film cannot do without it.
    pub must_have: bool,
    /// Whether its action is messy, or has one chance only: then it should be the last of its scene.
    pub last: bool,
    /// Its place in the story.
    pub story: usize,
    /// Its place in the day, counted from 0 over what is placed, if somebody has put it there.
    pub pinned: Option<usize>,
}

/// A day's setups to be put in order.
///
/// Nothing is NaN; otherwise any values go together. What is left of a day that runs over has its call after the wrap.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderProblem {
    /// The setups, in any order.
    pub jobs: Vec<Job>,
    /// When work starts.
    pub call_min: f64,
    /// When the last setup has to be in the can.
    pub wrap_min: f64,
    /// When nobody works.
    pub breaks: Vec<DaySpan>,
    /// What changes between setups take.
    pub changes: ChangeTimes,
    /// How the phone has last stood; nothing when the day starts, where the first setup's change is the setting up.
    pub before: Option<Rig>,
}

/// What is still to be put in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Rest {
    /// The setups that are left, from now on.
    pub problem: OrderProblem,
    /// Which job of the whole day each of them was.
    pub jobs: Vec<usize>,
}

/// Phones that look within 30 degrees of each other look the same way: chosen because background and light are then the same
/// for the most part, and because it is the turn that a cut between them needs.
const SAME_DIRECTION_DEG: f64 = 30.0;

/// Frames within 1.3 times of each other are of one size: chosen as about half a step of shot size.
pub(super) const ONE_SIZE_TIMES: f64 = 1.3;

impl Rig {
    /// Whether the phone looks the same way in the same scene as with `other`.
    pub fn looks_as(&self, other: &Self) -> bool {
        self.scene == other.scene
            && self.place == other.place
            && apart(self.direction, other.direction).to_deg() <= SAME_DIRECTION_DEG + 1e-9
    }

    /// Whether the same filters are on as with `other`.
    pub(super) fn filtered_as(&self, other: &Self) -> bool {
        same_members(&self.filters, &other.filters)
    }
}

impl Job {
    /// Whether the two see the same way in the same scene, and this one is more than a size wider.
    pub fn is_wider_than(&self, other: &Self) -> bool {
        self.wideness_m > other.wideness_m * ONE_SIZE_TIMES && self.rig.looks_as(&other.rig)
    }

    /// Whether one setup could serve both: the same people of the same scene, seen from the same side in about one size.
    pub fn joins(&self, other: &Self) -> bool {
        self.rig.looks_as(&other.rig)
            && same_members(&self.people, &other.people)
            && self.wideness_m <= other.wideness_m * ONE_SIZE_TIMES
            && other.wideness_m <= self.wideness_m * ONE_SIZE_TIMES
    }
}

impl OrderProblem {
    /// What is left when those of `done` are in the can, in the order in which they were shot, and it is `now_min`.
    ///
    /// Pins move up by as many places as are done. The phone stands as for the last of them. To see what being late would
    /// cost, pass a later time than it is.
    #[must_use]
    pub fn rest(&self, done: &[usize], now_min: f64) -> Rest {
        let jobs: Vec<usize> = (0..self.jobs.len()).filter(|job| !done.contains(job)).collect();
        let left = jobs.iter().filter_map(|&job| self.jobs.get(job)).map(|job| Job {
            pinned: job.pinned.map(|place| place.saturating_sub(done.len())),
            ..job.clone()
        });
        let last = done.last().and_then(|&job| self.jobs.get(job));
        let problem = Self {
            jobs: left.collect(),
            call_min: now_min.max(self.call_min),
            wrap_min: self.wrap_min,
            breaks: self.breaks.clone(),
            changes: self.changes,
            before: last.map(|job| job.rig.clone()).or_else(|| self.before.clone()),
        };
        Rest { problem, jobs }
    }
}

/// Whether two lists have the same members, however often and in whatever order.
fn same_members<T: PartialEq>(one: &[T], other: &[T]) -> bool {
    one.iter().all(|member| other.contains(member)) && other.iter().all(|member| one.contains(member))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::tests::{at, job};

    #[test]
    fn directions_are_compared_across_north() {
        let looks = |deg: f64| Rig { direction: Angle::from_deg(deg), ..job(0).rig };
        assert!(looks(350.0).looks_as(&looks(20.0)));
        assert!(looks(-10.0).looks_as(&looks(380.0)));
        assert!(!looks(350.0).looks_as(&looks(21.0)));
    }

    #[test]
    fn the_rest_starts_where_the_phone_is() {
        let jobs = vec![job(0), Job { pinned: Some(2), ..job(1) }, Job { pinned: Some(0), ..job(2) }];
        let day = OrderProblem { jobs, ..at(9.0, 18.0) };
        let rest = day.rest(&[2], 600.0);
        assert_eq!(rest.jobs, [0, 1]);
        assert_eq!(rest.problem.jobs[1].pinned, Some(1));
        assert_eq!(rest.problem.before.as_ref(), Some(&day.jobs[2].rig));
        assert!((rest.problem.call_min - 600.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_done_before_the_call_leaves_the_day_as_it_is() {
        let day = OrderProblem { jobs: vec![job(0), Job { pinned: Some(0), ..job(1) }], ..at(9.0, 18.0) };
        assert_eq!(day.rest(&[], 0.0).problem, day);
    }
}
