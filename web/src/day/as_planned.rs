//! The order as it would be if nobody ran late, to say what being late costs.

use film::{DayPlan, Film, ShotId};
use language::say;
use leptos::prelude::*;

use super::words;
use crate::films::Desk;
use crate::part::Part;
use crate::shooting::{Planning, Shooting};

/// A plan with what it was made from.
#[derive(Clone)]
pub(super) struct AsPlanned {
    planning: Planning,
    pub(super) plan: Part<DayPlan>,
}

impl PartialEq for AsPlanned {
    fn eq(&self, other: &Self) -> bool {
        self.plan == other.plan
    }
}

impl AsPlanned {
    /// The order without delays: the day's own while there are none; made once for all the delays that follow each other.
    pub(super) fn memo(desk: Desk, shooting: Shooting) -> Memo<Option<Self>> {
        Memo::new(move |before: Option<&Option<Self>>| {
            let (planning, plan) = (shooting.planning.get()?, shooting.plan.get()?);
            if planning.day.resumes_min.is_none() {
                return Some(Self { planning, plan });
            }
            let on_time = planning.on_time();
            let before = before.and_then(Option::as_ref).filter(|before| before.planning == on_time);
            Some(before.cloned().unwrap_or_else(|| Self { plan: on_time.plan(desk), planning: on_time }))
        })
    }
}

/// What is lost by a delay, in sentences.
pub(super) fn lost(film: &Film, plan: &DayPlan, as_planned: &DayPlan) -> Vec<String> {
    let late = plan.problem.call_min - as_planned.problem.call_min;
    let mut told = Vec::new();
    if late.abs() >= 0.5 {
        let (from, by) = (film::clock_of_day(plan.problem.call_min), words::span(late.abs()));
        told.push(if late > 0.0 {
            say!("The rest is planned from {from}, {by} later than planned.")
        } else {
            say!("The rest is planned from {from}, {by} earlier than planned.")
        });
    }
    let before = misses(as_planned);
    let person = |who| film.name_of(who).to_owned();
    let missed = plan.order.missed.iter().map(|missed| (missed.job, missed.why));
    let pinned = plan.order.placed.iter().filter_map(|placed| Some((placed.job, placed.late?)));
    let new = missed.chain(pinned).filter_map(|(job, why)| {
        let shot = plan.setup(job)?.shot.id;
        (!before.contains(&shot)).then(|| format!("{}: {}", words::shot(film, shot), why.words(person)))
    });
    let new: Vec<String> = new.collect();
    if new.is_empty() {
        let later = plan.order.ends_min - as_planned.order.ends_min;
        told.push(if later >= 0.5 {
            say!("Nothing is lost by it, and it ends {} later.", words::span(later))
        } else {
            say!("Nothing is lost by it.").to_owned()
        });
    } else {
        told.push(say!("Lost by it: {}.", new.join("; ")));
    }
    told
}

/// What an order misses, or shoots where it is late.
fn misses(plan: &DayPlan) -> Vec<ShotId> {
    let missed = plan.order.missed.iter().map(|missed| missed.job);
    let late = plan.order.placed.iter().filter(|placed| placed.late.is_some()).map(|placed| placed.job);
    missed.chain(late).filter_map(|job| Some(plan.setup(job)?.shot.id)).collect()
}

#[cfg(test)]
mod tests {
    use film::{Daylights, Rehearsals, ShootingDay};

    use super::*;

    fn plan_of(film: &Film, day: &ShootingDay) -> DayPlan {
        DayPlan::of(film, day, &Daylights::new(), &mut Rehearsals::default())
    }

    #[test]
    fn what_a_delay_costs_is_told() {
        let film = film::demo_film();
        let mut day = film.days[0].clone();
        let on_time = plan_of(&film, &day);
        day.resumes_min = Some(day.hours.from_min() + 30);
        let told = lost(&film, &plan_of(&film, &day), &on_time).join(" ");
        assert!(told.starts_with("The rest is planned from 09:30, 30 min later than planned."), "{told}");
        day.resumes_min = Some(day.hours.to_min() - 5);
        let late = plan_of(&film, &day);
        assert!(!late.order.missed.is_empty(), "{late:?}");
        let told = lost(&film, &late, &on_time).join(" ");
        assert!(told.contains("Lost by it: ") && told.contains("too short"), "{told}");
    }
}
