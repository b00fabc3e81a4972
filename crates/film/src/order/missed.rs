//! What is missed, why, and what would make room for it: each tried, none guessed.

use language::say;

use super::costs::{Score, Shortfall};
use super::exact::Exact;
use super::prepared::Prepared;
use super::problem::Job;
use super::starts::{Limit, first_start, starts, within};
use super::walk::Walk;
use crate::daylight::DaySpan;
use crate::id::PersonId;

/// A setup that is not in the order.
#[derive(Debug, Clone, PartialEq)]
pub struct Missed {
    /// The number of its job in the problem.
    pub job: usize,
    /// Why.
    pub why: WhyMissed,
    /// What would make room for it, each by itself.
    pub would_do: Vec<WouldDo>,
}

/// Why a setup is not in the order, or is late in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WhyMissed {
    /// There is no light for it, or never for as long as it takes.
    NoLight,
    /// Somebody is never there for as long as it takes.
    PersonAway(PersonId),
    /// While there is light, somebody is away.
    LightWhileAway,
    /// It takes longer than there is between breaks.
    TooLong,
    /// The day ends first.
    DayEnds {
        /// By how many minutes, at the least, with the others in this order.
        by_min: f64,
    },
    /// Its light is gone while the others are shot.
    LightGone,
    /// Somebody is gone while the others are shot.
    PersonGone(PersonId),
    /// Wherever it were put, others would lose their light or their people.
    Crowded,
    /// It would fit; it was left out.
    LeftOut,
}

/// What would make room for a setup that is missed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WouldDo {
    /// To drop these, by their numbers in the problem. No fewer of them would do.
    Drop(Vec<usize>),
    /// To shoot it together with that one, whose setup serves both.
    JoinWith(usize),
}

impl WhyMissed {
    /// In words, as what follows its name; `person` says what somebody is called.
    pub fn words(&self, person: impl Fn(PersonId) -> String) -> String {
        match self {
            Self::NoLight => say!("there is no light for it for as long as it takes").to_owned(),
            Self::PersonAway(who) => say!("{} is never there for as long as it takes", person(*who)),
            Self::LightWhileAway => say!("while there is light for it, somebody is away").to_owned(),
            Self::TooLong => say!("it takes longer than there is between breaks").to_owned(),
            Self::DayEnds { by_min } => say!("the day is {} min too short", by_min.ceil()),
            Self::LightGone => say!("its light is gone while the others are shot").to_owned(),
            Self::PersonGone(who) => say!("{} is gone while the others are shot", person(*who)),
            Self::Crowded => {
                say!("wherever it went, others would lose their light or their people").to_owned()
            }
            Self::LeftOut => say!("it would fit, but it was left out").to_owned(),
        }
    }
}

/// Why what is pinned is late when it is shot then.
pub(super) fn why_late(prepared: &Prepared<'_>, job: &Job, shot: DaySpan) -> WhyMissed {
    if let Some(why) = why_never(prepared, job) {
        return why;
    }
    let is_broken = |limit: &Limit| {
        let allowed = starts(prepared.problem, &prepared.breaks, job, &[*limit]);
        first_start(&allowed, shot.from_min).is_none_or(|first| first > shot.from_min)
    };
    match Limit::all_of(job).into_iter().find(is_broken) {
        Some(Limit::Light | Limit::OneSun) => WhyMissed::LightGone,
        Some(Limit::HoursOf(who)) => WhyMissed::PersonGone(who),
        Some(Limit::Breaks | Limit::Wrap) | None => {
            WhyMissed::DayEnds { by_min: (shot.to_min - prepared.problem.wrap_min).max(0.0) }
        }
    }
}

/// Why a job does not fit into the day even by itself.
fn why_never(prepared: &Prepared<'_>, job: &Job) -> Option<WhyMissed> {
    let among = |limits: &[Limit]| starts(prepared.problem, &prepared.breaks, job, limits);
    let limits = Limit::all_of(job);
    let of_people: Vec<Limit> =
        limits.iter().copied().filter(|limit| matches!(limit, Limit::HoursOf(_))).collect();
    if among(&[Limit::Light, Limit::OneSun]).is_empty() {
        return Some(WhyMissed::NoLight);
    }
    if let Some(Limit::HoursOf(who)) = of_people.iter().find(|limit| among(&[**limit]).is_empty()) {
        return Some(WhyMissed::PersonAway(*who));
    }
    let lit: Vec<Limit> = [Limit::Light, Limit::OneSun].into_iter().chain(of_people).collect();
    if among(&lit).is_empty() {
        return Some(WhyMissed::LightWhileAway);
    }
    let outside_breaks: Vec<Limit> = lit.into_iter().chain([Limit::Breaks]).collect();
    let Some(first) = among(&outside_breaks).first().copied() else { return Some(WhyMissed::TooLong) };
    among(&limits).is_empty().then(|| {
        let by_min = first.from_min + job.takes_min - prepared.problem.wrap_min;
        WhyMissed::DayEnds { by_min: by_min.max(0.0) }
    })
}

/// What is in an order, for trying what else could be.
struct Day<'p> {
    prepared: &'p Prepared<'p>,
    /// What is placed and not pinned, in order.
    sequence: Vec<usize>,
    /// How much of what is pinned is late.
    late: Shortfall,
    exact: Option<&'p Exact>,
}

/// Everything that an order misses.
pub(super) fn missed(prepared: &Prepared<'_>, walk: &Walk, exact: Option<&Exact>) -> Vec<Missed> {
    let is_pinned = |job: &usize| prepared.pins.iter().any(|(pinned, _)| pinned == job);
    let sequence: Vec<usize> = walk.placed().iter().copied().filter(|job| !is_pinned(job)).collect();
    let left: Vec<usize> = prepared.free.iter().copied().filter(|job| !sequence.contains(job)).collect();
    if left.is_empty() {
        return Vec::new();
    }
    let late = Walk::through(prepared, sequence.clone()).score.shortfall;
    let day = Day { prepared, sequence, late, exact };
    left.into_iter()
        .filter_map(|number| {
            let job = *prepared.jobs.get(number)?;
            let never = why_never(prepared, job);
            Some(Missed {
                job: prepared.listed_as(number),
                why: never.unwrap_or_else(|| day.why_not_here(number, job)),
                would_do: if never.is_some() { Vec::new() } else { day.would_do(number, job) },
            })
        })
        .collect()
}

impl Day<'_> {
    /// Why a job that would fit by itself does not fit with the others.
    fn why_not_here(&self, number: usize, job: &Job) -> WhyMissed {
        if self.first_end(self.prepared, &self.sequence, number).is_some() {
            return WhyMissed::LeftOut;
        }
        let limits = Limit::all_of(job);
        let without = |dropped: &[Limit]| -> Vec<Limit> {
            limits.iter().copied().filter(|limit| !dropped.contains(limit)).collect()
        };
        let end_where = |relaxed: &Prepared<'_>| self.first_end(relaxed, &self.sequence, number);
        let unending = self.without_wrap();
        if let Some(end_min) = end_where(&unending) {
            return WhyMissed::DayEnds { by_min: (end_min - self.prepared.problem.wrap_min).max(0.0) };
        }
        let fits_without = |prepared: &Prepared<'_>, dropped: &[Limit]| {
            end_where(&with_starts(prepared, number, job, &without(dropped))).is_some()
        };
        let of_light_or_people = limits.iter().filter(|limit| !matches!(limit, Limit::Breaks | Limit::Wrap));
        for &limit in of_light_or_people {
            if fits_without(self.prepared, &[limit]) || fits_without(&unending, &[limit, Limit::Wrap]) {
                return match limit {
                    Limit::HoursOf(who) => WhyMissed::PersonGone(who),
                    Limit::Light | Limit::OneSun | Limit::Breaks | Limit::Wrap => WhyMissed::LightGone,
                };
            }
        }
        WhyMissed::Crowded
    }

    /// The same day without its end.
    fn without_wrap(&self) -> Prepared<'_> {
        let mut unending = self.prepared.clone();
        for (starts_of, job) in unending.starts.iter_mut().zip(&self.prepared.jobs) {
            let limits = Limit::all_of(job).into_iter().filter(|limit| *limit != Limit::Wrap);
            *starts_of =
                starts(self.prepared.problem, &self.prepared.breaks, job, &limits.collect::<Vec<_>>());
        }
        unending
    }

    /// The earliest end of a day with a job put somewhere into a sequence of which everything else stays in it, and in its
    /// order, and nothing gets late that was not.
    fn first_end(&self, prepared: &Prepared<'_>, sequence: &[usize], number: usize) -> Option<f64> {
        let walk = Walk::through(prepared, sequence.to_vec());
        let mut stack = Vec::new();
        let mut with = sequence.to_vec();
        with.push(number);
        let mut first: Option<f64> = None;
        for place in (0..with.len()).rev() {
            let tried = walk.tries(prepared, &with, place..usize::MAX, &self.no_later(), &mut stack);
            first = match (first, tried.end.filter(|end| end.shortfall <= self.late)) {
                (Some(one), Some(other)) => Some(one.min(other.at_min)),
                (one, other) => one.or(other.map(|end| end.at_min)),
            };
            with.swap(place.saturating_sub(1), place);
        }
        first
    }

    /// All else shot, and nothing late that was not.
    fn no_later(&self) -> Score {
        Score { shortfall: self.late, minutes: f64::INFINITY }
    }

    /// Whether all of these are shot in this order, and nothing gets late that was not.
    fn fits(&self, prepared: &Prepared<'_>, sequence: Vec<usize>) -> bool {
        let walk = Walk::through(prepared, sequence);
        walk.placed().len() == self.sequence.len() + prepared.pins.len() && walk.score.shortfall <= self.late
    }

    fn would_do(&self, number: usize, job: &Job) -> Vec<WouldDo> {
        let listed = |job: &usize| self.prepared.listed_as(*job);
        let dropped =
            self.fewest_to_drop(number).map(|drop| WouldDo::Drop(drop.iter().map(listed).collect()));
        let joined = self.sequence.iter().filter(|with| self.joins(job, **with));
        dropped.into_iter().chain(joined.map(|with| WouldDo::JoinWith(listed(with)))).collect()
    }

    /// The fewest nice-to-haves that make room when dropped; of a must-have, one other must-have if none of these do.
    fn fewest_to_drop(&self, number: usize) -> Option<Vec<usize>> {
        let (must, nice): (Vec<usize>, Vec<usize>) =
            self.sequence.iter().partition(|job| self.prepared.is_must_have(**job));
        let mut fewest = if self.exact.is_some() {
            self.fewest_of(&nice, number)
        } else {
            self.one_of(&nice, number).or_else(|| self.some_of(&nice, number))
        };
        if fewest.is_none() && self.prepared.is_must_have(number) {
            fewest = self.one_of(&must, number);
        }
        fewest
    }

    /// Whether there is room for a job if these are dropped; with all orders tried if the day is short.
    fn makes_room(&self, drop: &[usize], number: usize) -> bool {
        let left: Vec<usize> = self.sequence.iter().copied().filter(|job| !drop.contains(job)).collect();
        match self.exact {
            Some(exact) => {
                let pinned = self.prepared.pins.iter().map(|(job, _)| *job);
                exact.reaches(&left.into_iter().chain([number]).chain(pinned).collect::<Vec<_>>(), self.late)
            }
            None => self.first_end(self.prepared, &left, number).is_some(),
        }
    }

    fn one_of(&self, jobs: &[usize], number: usize) -> Option<Vec<usize>> {
        jobs.iter().map(|job| vec![*job]).find(|drop| self.makes_room(drop, number))
    }

    /// The smallest set that will do, all sets tried.
    fn fewest_of(&self, jobs: &[usize], number: usize) -> Option<Vec<usize>> {
        let mut sets: Vec<u32> = (1..1_u32 << jobs.len()).collect();
        sets.sort_by_key(|set| set.count_ones());
        let members = |set: u32| -> Vec<usize> {
            jobs.iter().enumerate().filter(|(at, _)| set >> at & 1 == 1).map(|(_, job)| *job).collect()
        };
        sets.into_iter().map(members).find(|drop| self.makes_room(drop, number))
    }

    /// A set that will do and of which nothing can stay: dropped from the day's end on until there is room, and then taken back
    /// one by one where there still is.
    fn some_of(&self, jobs: &[usize], number: usize) -> Option<Vec<usize>> {
        let mut drop = Vec::new();
        for &job in jobs.iter().rev() {
            drop.push(job);
            if self.makes_room(&drop, number) {
                let mut kept = drop.clone();
                for job in &drop {
                    let without: Vec<usize> = kept.iter().copied().filter(|other| other != job).collect();
                    if self.makes_room(&without, number) {
                        kept = without;
                    }
                }
                return Some(kept);
            }
        }
        None
    }

    /// Whether a job could be shot together with one that is placed, in its setup and by the limits of both.
    fn joins(&self, job: &Job, with: usize) -> bool {
        let Some(host) = self.prepared.jobs.get(with).filter(|host| job.joins(host)) else { return false };
        let takes_min = host.takes_min.max(job.takes_min);
        let longer = |job: &Job| Job { takes_min, ..job.clone() };
        let (host, guest) = (longer(host), longer(job));
        let [of_host, of_guest] = [&host, &guest]
            .map(|job| starts(self.prepared.problem, &self.prepared.breaks, job, &Limit::all_of(job)));
        let mut joined: Prepared<'_> = self.prepared.clone();
        if let (Some(starts_of), Some(place)) = (joined.starts.get_mut(with), joined.jobs.get_mut(with)) {
            (*starts_of, *place) = (within(&of_host, &of_guest), &host);
        }
        self.fits(&joined, self.sequence.clone())
    }
}

/// The same day with other limits of one job.
fn with_starts<'p>(prepared: &Prepared<'p>, number: usize, job: &Job, limits: &[Limit]) -> Prepared<'p> {
    let mut relaxed = prepared.clone();
    if let Some(starts_of) = relaxed.starts.get_mut(number) {
        *starts_of = starts(prepared.problem, &prepared.breaks, job, limits);
    }
    relaxed
}
