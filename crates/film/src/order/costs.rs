//! What an order costs: what it misses, how long the day is, and what in it is not as one would like it.

use std::cmp::Ordering;

use super::problem::Job;

/// What a minute of changes costs beside the minute of the day that it takes: chosen because a crew tires of carrying more
/// than of waiting, and because of two orders that end together the one that carries less leaves room for delays.
pub(super) const CHANGE_WEIGHT: f64 = 0.5;
/// Going back to a direction that was left, in minutes: chosen because light, clutter and marks have to match what was shot
/// before, on top of the turn itself.
pub(super) const BACK_MIN: u16 = 10;
/// A tighter setup before a wider one of the same scene and direction, for each such pair, in minutes: common practice that
/// the wide one settles where everybody stands and how it is lit; the figure is chosen as less than a turn.
pub(super) const TIGHT_FIRST_MIN: u16 = 4;
/// A messy or one-chance action before another setup of its scene, for each such pair, in minutes: chosen because clothes and
/// floor have to be made good.
pub(super) const MESSY_EARLY_MIN: u16 = 30;
/// A nice-to-have before a must-have, for each such pair, in 1024ths of a minute, so half a minute: chosen because days run
/// late, but ten of them are not worth a turn.
const NICE_FIRST_1024: u32 = 512;
/// A setup before one that is earlier in the story, for each such pair, in 1024ths of a minute: chosen so that the story
/// decides only where nothing else does, since not even a day of forty has a minute of it.
const OUT_OF_STORY_1024: u32 = 1;
/// Parts of a minute in which preferences are counted: whole numbers, so that no order of adding them rounds.
const PARTS: u16 = 1024;

/// Minutes closer than this are the same: chosen as far more than sums round and far less than anybody sees.
pub(super) const CLOSE_MIN: f64 = 1e-6;

/// What an order costs, part by part.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct OrderCosts {
    /// Must-haves that are missed, or pinned where they are late.
    pub must_missed: u32,
    /// Nice-to-haves that are missed, or pinned where they are late.
    pub nice_missed: u32,
    /// From the call to the end of the last setup, minutes.
    pub day_min: f64,
    /// All changes, minutes.
    pub changes_min: f64,
    /// All waiting outside breaks, minutes. It costs through the day's length.
    pub waits_min: f64,
    /// How often the phone goes back to a direction that it had left.
    pub back: u32,
    /// Pairs in which the tighter one comes before the wider one.
    pub tight_first: u32,
    /// Pairs in which a messy or one-chance action comes before another setup of its scene.
    pub messy_early: u32,
    /// Pairs in which a nice-to-have comes before a must-have.
    pub nice_first: u32,
    /// Pairs in which the later one of the story comes first.
    pub out_of_story: u32,
}

/// How many jobs are missed, or late where they are pinned. Less is better: must-haves decide first, by the order of fields.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Shortfall {
    pub(super) must: u32,
    pub(super) nice: u32,
}

/// An order's costs as they are compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Score {
    pub(super) shortfall: Shortfall,
    pub(super) minutes: f64,
}

impl OrderCosts {
    /// Day, changes and preferences in one number of minutes; what is missed is not in it.
    ///
    /// ```text
    /// C = D + ½ K + 10 b + 4 t + 30 m + n / 2 + s / 1024
    /// ```
    /// `D` the day's length (min); `K` all changes (min); `b` goings back; `t` tighter before wider; `m` messy before others;
    /// `n` nice-to-haves before must-haves; `s` pairs out of the story's order.
    ///
    /// # Source
    /// Each weight is chosen; its constant says why.
    pub fn minutes(&self) -> f64 {
        let pairs = f64::from(self.tight_first) * f64::from(TIGHT_FIRST_MIN)
            + f64::from(self.messy_early) * f64::from(MESSY_EARLY_MIN)
            + f64::from(self.nice_first) * f64::from(NICE_FIRST_1024) / f64::from(PARTS)
            + f64::from(self.out_of_story) * f64::from(OUT_OF_STORY_1024) / f64::from(PARTS);
        self.day_min + CHANGE_WEIGHT * self.changes_min + f64::from(self.back) * f64::from(BACK_MIN) + pairs
    }

    /// Whether this is less than `other`: fewer must-haves missed, else fewer nice-to-haves, else fewer minutes.
    pub fn is_less_than(&self, other: &Self) -> bool {
        self.score().is_better_than(&other.score())
    }

    /// Whether more must-haves are missed or late than in `other`, else more nice-to-haves.
    pub(crate) fn misses_more_than(&self, other: &Self) -> bool {
        self.score().shortfall > other.score().shortfall
    }

    pub(super) fn score(&self) -> Score {
        let shortfall = Shortfall { must: self.must_missed, nice: self.nice_missed };
        Score { shortfall, minutes: self.minutes() }
    }

    /// Counts what is not as one would like it about `early` coming before `later`.
    pub(super) fn count_pair(&mut self, early: &Job, later: &Job) {
        self.tight_first += u32::from(later.is_wider_than(early));
        self.messy_early += u32::from(early.last && !later.last && early.rig.scene == later.rig.scene);
        self.nice_first += u32::from(!early.must_have && later.must_have);
        self.out_of_story += u32::from(later.story < early.story);
    }
}

impl Shortfall {
    /// Of both.
    pub(super) const fn and(self, other: Self) -> Self {
        Self { must: self.must + other.must, nice: self.nice + other.nice }
    }

    /// How many jobs it is of.
    pub(super) const fn jobs(self) -> u32 {
        self.must + self.nice
    }
}

impl Score {
    /// Worse than anything.
    pub(super) const WORST: Self =
        Self { shortfall: Shortfall { must: u32::MAX, nice: u32::MAX }, minutes: f64::INFINITY };

    /// Which of two is less, to the last digit.
    pub(super) fn compared(&self, other: &Self) -> Ordering {
        self.shortfall.cmp(&other.shortfall).then(self.minutes.total_cmp(&other.minutes))
    }

    /// Whether it is better by more than sums round.
    pub(super) fn is_better_than(&self, other: &Self) -> bool {
        self.shortfall < other.shortfall
            || (self.shortfall == other.shortfall && self.minutes < other.minutes - CLOSE_MIN)
    }
}

/// What is not as one would like it, in 1024ths of a minute, with a mark above them for each that looks the same way.
///
/// One number, because it is added up for every setup that is tried after every other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Dislike(u64);

impl Dislike {
    const LOOKS_AS: u64 = 1 << 44;

    /// Of `early` coming before `later`.
    pub(super) fn of_pair(early: &Job, later: &Job) -> Self {
        let mut costs = OrderCosts::default();
        costs.count_pair(early, later);
        let minutes =
            costs.tight_first * u32::from(TIGHT_FIRST_MIN) + costs.messy_early * u32::from(MESSY_EARLY_MIN);
        let parts = minutes * u32::from(PARTS)
            + costs.nice_first * NICE_FIRST_1024
            + costs.out_of_story * OUT_OF_STORY_1024;
        Self(u64::from(parts)).marked(early.rig.looks_as(&later.rig))
    }

    /// With a mark if it looks the same way.
    pub(super) const fn marked(self, looks_as: bool) -> Self {
        if looks_as { Self(self.0 + Self::LOOKS_AS) } else { self }
    }

    pub(super) const fn and(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }

    /// What is disliked alone.
    pub(super) const fn without_marks(self) -> Self {
        Self(self.0 % Self::LOOKS_AS)
    }

    /// Whether one of those that it is of looks the same way.
    pub(super) const fn looks_as_one(self) -> bool {
        self.0 >= Self::LOOKS_AS
    }

    /// With the going back, if this comes after a setup that looks another way.
    ///
    /// All marks go: what is added up over an order is minutes alone.
    pub(super) const fn after(self, last: Self) -> Self {
        let pairs = self.without_marks();
        if self.looks_as_one() && !last.looks_as_one() {
            Self(pairs.0 + (BACK_MIN as u64) * (PARTS as u64))
        } else {
            pairs
        }
    }

    #[expect(clippy::cast_precision_loss, reason = "below the marks, so below 2^44")]
    pub(super) fn minutes(self) -> f64 {
        self.0 as f64 / f64::from(PARTS)
    }
}
