//! A day of shooting: when it is, in which weather, which shots, and how long the work takes.

use std::sync::Arc;

use jiff::civil::Date;
use optics::Weather;

use crate::daylight::{DAY_MIN, DaySpan};
use crate::film::{Film, Hours};
use crate::id::{DayId, ShotId};
use crate::order::ChangeTimes;
use crate::scene::Scene;
use crate::shot::Shot;
use crate::unknown::Unknown;

/// A day of shooting.
#[derive(Debug, Clone, PartialEq)]
pub struct ShootingDay {
    /// Known by this.
    pub id: DayId,
    /// What it is called.
    pub title: String,
    /// Its date, if it is known.
    pub date: Option<Date>,
    /// From the call to the wrap, which is on the day after where work goes past midnight.
    pub hours: Hours,
    /// When nobody works.
    pub breaks: Vec<Hours>,
    /// The weather that is counted on.
    pub weather: Weather,
    /// The shots that are made on it; all that no other day lists if nothing is said.
    ///
    /// One that is not in the film any more is passed over.
    pub shots: Option<Vec<ShotId>>,
    /// Which shots have a fixed place in its order.
    pub pinned: Vec<Pinned>,
    /// How long the work takes.
    pub work: WorkTimes,
    /// Shots that are in the can.
    pub done: Vec<ShotId>,
    /// The minute, from the day's midnight, from which the rest is planned, once the day goes on otherwise than planned.
    pub resumes_min: Option<u16>,
    /// What else to know.
    pub notes: String,
    /// What a newer program wrote beside these.
    pub unknown: Unknown,
}

/// A shot that has a fixed place in a day's order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pinned {
    /// The shot.
    pub shot: ShotId,
    /// Its place among the day's shots, counted from 0.
    pub at: usize,
}

/// How long the work of a day takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorkTimes {
    /// Minutes to rehearse a setup before its first take.
    pub rehearsal_min: f64,
    /// How many takes a setup is given.
    pub takes: f64,
    /// Minutes from the end of one take to the start of the next.
    pub reset_min: f64,
    /// What it takes to go from one setup to the next.
    pub changes: ChangeTimes,
}

impl From<Hours> for DaySpan {
    fn from(hours: Hours) -> Self {
        Self { from_min: f64::from(hours.from_min()), to_min: f64::from(hours.to_min()) }
    }
}

impl WorkTimes {
    /// Three minutes of rehearsal and three takes with a minute and a half between them: chosen, as friends who have read
    /// the scene need so long for a shot of some seconds. Everything of it is the crew's to change.
    pub const USUAL: Self =
        Self { rehearsal_min: 3.0, takes: 3.0, reset_min: 1.5, changes: ChangeTimes::usual() };

    /// Minutes that a shot takes once everything is in its place.
    ///
    /// ```text
    /// t = r + n p + (n − 1) b
    /// ```
    /// `r` rehearsal (min); `n` takes; `p` the shot as planned (min); `b` between two takes (min). A shot that says how long
    /// it takes on the set takes so long.
    ///
    /// # Source
    /// The sum of its parts.
    pub fn on_set_min(&self, shot: &Shot) -> f64 {
        shot.on_set_min.unwrap_or_else(|| {
            let Self { rehearsal_min, takes, reset_min, changes: _ } = *self;
            rehearsal_min + takes * shot.planned_s / 60.0 + (takes - 1.0).max(0.0) * reset_min
        })
    }
}

impl ShootingDay {
    /// The same day without what it says of other shots.
    pub(crate) fn within(&self, is_there: impl Fn(ShotId) -> bool) -> Self {
        let mut day = self.clone();
        day.shots.iter_mut().for_each(|shots| shots.retain(|shot| is_there(*shot)));
        day.pinned.retain(|pinned| is_there(pinned.shot));
        day.done.retain(|shot| is_there(*shot));
        day
    }

    /// Nine to five with an hour at one, in sun: chosen, to be changed at once.
    pub fn usual(id: DayId) -> Self {
        Self {
            id,
            title: String::new(),
            date: None,
            hours: Hours::USUAL,
            breaks: Hours::new(13 * 60, 14 * 60).into_iter().collect(),
            weather: Weather::Clear,
            shots: None,
            pinned: Vec::new(),
            work: WorkTimes::USUAL,
            done: Vec::new(),
            resumes_min: None,
            notes: String::new(),
            unknown: Unknown::default(),
        }
    }

    /// When somebody with these hours is there on it: the same hours of the clock come again on the day after, if the work goes on
    /// until then.
    pub fn presence(&self, hours: Hours) -> impl Iterator<Item = DaySpan> {
        let first = DaySpan::from(hours);
        let again = DaySpan { from_min: first.from_min + DAY_MIN, to_min: first.to_min + DAY_MIN };
        let comes_again = again.from_min < f64::from(self.hours.to_min());
        std::iter::once(first).chain(comes_again.then_some(again))
    }

    /// Its shots with their scenes, in story order, without those that were given up.
    pub fn shots_of<'film>(&self, film: &'film Film) -> Vec<(&'film Arc<Scene>, &'film Arc<Shot>)> {
        let elsewhere = || {
            let others = film.days.iter().filter(|day| day.id != self.id);
            let mut listed: Vec<ShotId> =
                others.filter_map(|day| day.shots.as_ref()).flatten().copied().collect();
            listed.sort_unstable();
            listed
        };
        let (listed, is_wanted) = match &self.shots {
            Some(shots) => {
                let mut shots = shots.clone();
                shots.sort_unstable();
                (shots, true)
            }
            None => (elsewhere(), false),
        };
        let of_film = film.scenes.iter().flat_map(|scene| scene.shots.iter().map(move |shot| (scene, shot)));
        let is_of_day = |shot: &Shot| !shot.is_dropped && listed.binary_search(&shot.id).is_ok() == is_wanted;
        of_film.filter(|(_, shot)| is_of_day(shot)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(number: u64, shots: Option<Vec<ShotId>>) -> ShootingDay {
        ShootingDay { shots, ..ShootingDay::usual(DayId::new(number).expect("an id")) }
    }

    fn film_on(days: Vec<ShootingDay>) -> Film {
        Film { days: Arc::from(days), ..crate::demo_film() }
    }

    #[test]
    fn a_day_that_lists_nothing_has_what_no_other_day_lists() {
        let demo = crate::demo_film();
        let first = demo.scenes[0].shots[0].id;
        let film = film_on(vec![day(1, Some(vec![first])), day(2, None)]);
        let all: usize = film.scenes.iter().map(|scene| scene.shots.len()).sum();
        let of = |at: usize| film.days[at].shots_of(&film);
        assert_eq!(of(0).iter().map(|(_, shot)| shot.id).collect::<Vec<_>>(), [first]);
        assert_eq!(of(1).len(), all - 1);
        assert!(of(1).iter().all(|(_, shot)| shot.id != first));
    }

    #[test]
    fn hours_of_the_clock_come_again_in_a_night() {
        let night = ShootingDay { hours: Hours::until(1140, 180).expect("hours"), ..day(1, None) };
        let there = |day: &ShootingDay, from_min, shown_min| -> Vec<(f64, f64)> {
            let hours = Hours::until(from_min, shown_min).expect("hours");
            day.presence(hours).map(|span| (span.from_min, span.to_min)).collect()
        };
        assert_eq!(there(&night, 30, 120), [(30.0, 120.0), (1470.0, 1560.0)]);
        assert_eq!(there(&night, 1200, 120), [(1200.0, 1560.0)]);
        assert_eq!(there(&day(1, None), 30, 120), [(30.0, 120.0)]);
    }

    #[test]
    fn a_shot_that_is_gone_is_passed_over() {
        let film = film_on(vec![day(1, ShotId::new(crate::LARGEST_ID).map(|id| vec![id]))]);
        assert_eq!(film.days[0].shots_of(&film), []);
    }

    #[test]
    fn a_shot_takes_its_takes_and_the_time_between_them_or_what_it_says() {
        let demo = crate::demo_film();
        let shot = Shot { planned_s: 60.0, on_set_min: None, ..Shot::clone(&demo.scenes[0].shots[0]) };
        let work = WorkTimes { rehearsal_min: 5.0, takes: 3.0, reset_min: 2.0, ..WorkTimes::USUAL };
        assert!((work.on_set_min(&shot) - 12.0).abs() < 1e-12);
        assert!((work.on_set_min(&Shot { on_set_min: Some(40.0), ..shot }) - 40.0).abs() < 1e-12);
    }
}
