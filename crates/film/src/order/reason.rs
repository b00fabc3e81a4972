//! Why a setup is where it is in the day, as far as it is true of that day.

use language::{Number, say};

use super::answer::Placed;
use super::change::Change;
use super::costs::CLOSE_MIN;
use super::prepared::Prepared;
use super::problem::Job;
use super::walk::Walk;
use crate::clock::clock;
use crate::daylight::DaySpan;
use crate::id::PersonId;

/// Why a setup is where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reason {
    /// Somebody put it there.
    Pinned,
    /// This is when there is light for it.
    Light(DaySpan),
    /// This is when the sun matches what it is cut against.
    OneSun(DaySpan),
    /// Somebody of it leaves before the day is over.
    Leaves(PersonId, f64),
    /// Somebody of it comes after all else is ready for it.
    Comes(PersonId, f64),
    /// It is messy or has one chance: all others of its scene in this order are before it.
    MessyLast,
    /// The phone looks this way already, and turns elsewhere in the scene later.
    BeforeTurning,
    /// The phone is at this place already, and is at another later.
    BeforeLeaving,
    /// A tighter one of the same direction follows.
    WideFirst,
    /// The film cannot do without it, and nice-to-haves follow.
    MustHaveFirst,
    /// Nothing that follows would have been less to change to, and something would have been more.
    LeastChange {
        /// Its change, minutes.
        minutes: f64,
    },
    /// All that follow are later in the story.
    StoryOrder,
    /// With the next one before it, setups would be missed, or late where they are pinned.
    NextWouldMiss {
        /// How many more of them.
        setups: u32,
    },
    /// With the next one before it, the order would cost more: a longer day, more changes, or something that one would not like.
    NextWouldCost {
        /// How much more, minutes.
        minutes: f64,
    },
}

impl Reason {
    /// In words, as what follows "because"; `person` says what somebody is called.
    pub fn words(&self, person: impl Fn(PersonId) -> String) -> String {
        match self {
            Self::Pinned => say!("you put it here").to_owned(),
            Self::Light(span) => say!("it has its light from {span}"),
            Self::OneSun(span) => say!("the sun matches in the cut from {span}"),
            Self::Leaves(who, at_min) => say!("{} leaves at {}", person(*who), clock(*at_min)),
            Self::Comes(who, at_min) => say!("{} comes at {}", person(*who), clock(*at_min)),
            Self::MessyLast => say!("it is messy or has one chance: last of its scene").to_owned(),
            Self::BeforeTurning => say!("the phone looks this way already, and turns round later").to_owned(),
            Self::BeforeLeaving => say!("the phone is at this place already, and leaves it later").to_owned(),
            Self::WideFirst => say!("wide comes before tight").to_owned(),
            Self::MustHaveFirst => say!("must-haves come before nice-to-haves").to_owned(),
            Self::LeastChange { minutes } => say!("it is the least to change: {} min", Number(minutes)),
            Self::StoryOrder => say!("it is next in the story").to_owned(),
            Self::NextWouldMiss { setups: 1 } => {
                say!("with the next one first, a setup would be missed").to_owned()
            }
            Self::NextWouldMiss { setups } => {
                say!("with the next one first, {setups} setups would be missed")
            }
            Self::NextWouldCost { minutes } => {
                say!("with the next one first, the day would cost {} min more", minutes.ceil())
            }
        }
    }
}

/// A placed setup among those before and after it.
struct Here<'p> {
    prepared: &'p Prepared<'p>,
    number: usize,
    job: &'p Job,
    before: Vec<&'p Job>,
    after: &'p [usize],
    last: usize,
}

/// The reasons of each that is placed.
pub(super) fn reasons(prepared: &Prepared<'_>, walk: &Walk, placed: &[Placed]) -> Vec<Vec<Reason>> {
    let ends_min = placed.last().map_or(prepared.problem.call_min, |last| last.ends_min);
    let numbers = walk.placed();
    let mut all = Vec::with_capacity(placed.len());
    for (at, (&number, placed)) in numbers.iter().zip(placed).enumerate() {
        let Some(&job) = prepared.jobs.get(number) else { continue };
        let earlier = numbers.get(..at).unwrap_or_default();
        let here = Here {
            prepared,
            number,
            job,
            before: earlier.iter().filter_map(|&other| prepared.jobs.get(other).copied()).collect(),
            after: numbers.get(at + 1..).unwrap_or_default(),
            last: earlier.last().copied().unwrap_or(prepared.count()),
        };
        let mut reasons = here.of_times(placed, ends_min);
        reasons.extend(here.of_neighbours(&placed.change));
        // What the search alone has found is said where nothing simpler is true.
        if reasons.iter().all(|reason| matches!(reason, Reason::LeastChange { .. } | Reason::StoryOrder)) {
            reasons.extend(here.of_swapping(walk));
        }
        all.push(reasons);
    }
    all
}

impl Here<'_> {
    /// Pins, light, the sun of the cut and hours: first a pin, then what is waited for. Whoever has come by the time that all
    /// is ready keeps nobody waiting.
    fn of_times(&self, placed: &Placed, ends_min: f64) -> Vec<Reason> {
        let problem = self.prepared.problem;
        let shot = placed.span();
        let holds = |span: &DaySpan| {
            span.from_min <= shot.from_min + CLOSE_MIN && shot.to_min <= span.to_min + CLOSE_MIN
        };
        let is_waited_for = |span: &DaySpan| {
            placed.waits_min > CLOSE_MIN && (span.from_min - shot.from_min).abs() <= CLOSE_MIN
        };
        let binds =
            |span: &&DaySpan| holds(span) && (problem.call_min < span.from_min || span.to_min < ends_min);
        let mut reasons = Vec::new();
        let light = self.job.light.iter().flatten().find(binds);
        reasons.extend(light.map(|span| (is_waited_for(span), Reason::Light(*span))));
        let one_sun = self.job.one_sun.iter().find(binds);
        reasons.extend(one_sun.map(|span| (is_waited_for(span), Reason::OneSun(*span))));
        for (who, span) in self.job.hours.iter().filter(|(_, span)| holds(span)) {
            if span.to_min < ends_min {
                reasons.push((false, Reason::Leaves(*who, span.to_min)));
            }
            if placed.ready_min + CLOSE_MIN < span.from_min {
                reasons.push((is_waited_for(span), Reason::Comes(*who, span.from_min)));
            }
        }
        reasons.sort_by_key(|(is_waited_for, _)| !is_waited_for);
        let pinned = self.job.pinned.map(|_| Reason::Pinned);
        pinned.into_iter().chain(reasons.into_iter().map(|(_, reason)| reason)).collect()
    }

    /// What is true of it among the others.
    fn of_neighbours(&self, change: &Change) -> Vec<Reason> {
        let job = self.job;
        let follows = |holds: &dyn Fn(&Job) -> bool| {
            self.after.iter().filter_map(|&other| self.prepared.jobs.get(other)).any(|other| holds(other))
        };
        let last = self.prepared.jobs.get(self.last).map(|last| &last.rig);
        let last = last.or(self.prepared.problem.before.as_ref());
        let stays_at_place = last.is_some_and(|last| last.place == job.rig.place);
        let turns_later = follows(&|other| other.rig.scene == job.rig.scene && !other.rig.looks_as(&job.rig));
        let is_messy_last = job.last
            && !follows(&|other| other.rig.scene == job.rig.scene && !other.last)
            && self.before.iter().any(|other| other.rig.scene == job.rig.scene && !other.last);
        let minutes = change.minutes();
        let would_change = |other: usize| self.prepared.change_min(self.last, other);
        let is_least = self.after.iter().all(|&other| minutes <= would_change(other) + CLOSE_MIN)
            && self.after.iter().any(|&other| minutes < would_change(other) - CLOSE_MIN);
        [
            (is_messy_last, Reason::MessyLast),
            (last.is_some_and(|last| last.looks_as(&job.rig)) && turns_later, Reason::BeforeTurning),
            (stays_at_place && follows(&|other| other.rig.place != job.rig.place), Reason::BeforeLeaving),
            (follows(&|other| job.is_wider_than(other)), Reason::WideFirst),
            (job.must_have && follows(&|other| !other.must_have), Reason::MustHaveFirst),
            (is_least, Reason::LeastChange { minutes }),
            (!self.after.is_empty() && !follows(&|other| other.story <= job.story), Reason::StoryOrder),
        ]
        .into_iter()
        .filter(|(holds, _)| *holds)
        .map(|(_, reason)| reason)
        .collect()
    }

    /// What the next one before it would do: tried.
    fn of_swapping(&self, walk: &Walk) -> Option<Reason> {
        let next = *self.after.first()?;
        let mut sequence = walk.sequence.clone();
        let [here, next] = [self.number, next].map(|job| sequence.iter().position(|other| *other == job));
        sequence.swap(here?, next?);
        let swapped = Walk::through(self.prepared, sequence).score;
        let setups = swapped.shortfall.jobs().saturating_sub(walk.score.shortfall.jobs());
        if setups > 0 {
            return Some(Reason::NextWouldMiss { setups });
        }
        let minutes = swapped.minutes - walk.score.minutes;
        let same = swapped.shortfall == walk.score.shortfall;
        (same && minutes > CLOSE_MIN).then_some(Reason::NextWouldCost { minutes })
    }
}
