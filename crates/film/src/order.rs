//! The order of work of a shooting day: which setup comes when, and why.
//!
//! A day is setups (*jobs*) between a call and a wrap. Between two setups something changes, and that takes minutes. A setup
//! is not interrupted: it ends before a break or starts after it, while changing stops for a break and goes on after it. A
//! setup waits for its light, for the sun that it is to be cut under, and for its people. One that somebody has put
//! somewhere, a *pinned* one, is there whatever it costs, counted over what is placed; if it is shot without its light or
//! its people or after the wrap, it is late. One that is pinned beyond the last place comes last, and of two that are pinned
//! to one place, the later one of the story comes right after the other.
//!
//! # What is best
//! First as few must-haves as can be are missed or late, then as few nice-to-haves, then the order costs as little as can be:
//! see [`OrderCosts::minutes`]. That number is the length of the day and half of all changing, and what one would not like: going
//! back to a direction that was left, a tighter setup before a wider one, a messy action before others of its scene, a
//! nice-to-have before a must-have, and, where all that decides nothing, leaving the story's order. Waiting costs by the longer
//! day and not once more: else a day that fills a wait with needless changes would look better than one that rests.
//!
//! # How it is found
//! Up to ten setups, exactly (`exact`); more, by a search that is never worse than the story's order (`search`), from several
//! beginnings, of which one is built job by job (`beam`). The same problem always has the same answer, however its jobs are
//! listed, apart from jobs that nothing tells apart.

mod answer;
mod beam;
mod change;
mod costs;
mod exact;
mod missed;
mod prepared;
mod problem;
mod reason;
mod search;
mod starts;
#[cfg(test)]
mod tests;
mod walk;

pub use answer::{Order, Placed};
pub use change::{Change, ChangePart, ChangeTimes};
pub use costs::OrderCosts;
pub use exact::MOST_IN_EXACT_ORDER;
pub use missed::{Missed, WhyMissed, WouldDo};
pub use problem::{Job, OrderProblem, Rest, Rig};
pub use reason::Reason;

use answer::answer;
use exact::exact;
use prepared::Prepared;
use search::search;

impl OrderProblem {
    /// The best order of a day of ten setups or fewer, and a good one of a longer day.
    #[must_use]
    pub fn order(&self) -> Order {
        let prepared = Prepared::new(self);
        match exact(&prepared) {
            Some(exact) => answer(&prepared, exact.sequence.clone(), Some(&exact)),
            None => answer(&prepared, search(&prepared), None),
        }
    }

    /// The order that the search for long days finds, however short the day is: to see how good the search is.
    #[doc(hidden)]
    #[must_use]
    pub fn order_by_search(&self) -> Order {
        let prepared = Prepared::new(self);
        answer(&prepared, search(&prepared), None)
    }

    /// What comes of shooting these jobs in this order, by their numbers in the problem: each is shot as soon as it can be, and
    /// missed if it does not fit when it is its turn.
    ///
    /// Pinned jobs are at their places wherever they are in the sequence, and if they are not in it. Others that are not in it
    /// are missed.
    #[must_use]
    pub fn evaluate(&self, sequence: &[usize]) -> Order {
        let prepared = Prepared::new(self);
        let mut tried: Vec<usize> = Vec::with_capacity(sequence.len());
        for job in sequence {
            let number = prepared.listed.iter().position(|listed| listed == job);
            tried.extend(number.filter(|number| prepared.free.contains(number) && !tried.contains(number)));
        }
        answer(&prepared, tried, None)
    }

    /// What comes of shooting the day in the story's order, but for pinned jobs.
    #[must_use]
    pub fn in_story_order(&self) -> Order {
        let prepared = Prepared::new(self);
        answer(&prepared, prepared.free.clone(), None)
    }
}
