//! The filters that a day's order charges for, which are those that each setup needs when it is shot.

use super::{DayPlan, DaySetup, Daylights};
use crate::day::ShootingDay;
use crate::daylight::DaySpan;
use crate::film::Film;
use crate::order::Job;

/// So often the filters of one setup are looked at, each time at the start that the last ones led to. With their change and
/// without it there are two starts; what has not settled after both were seen twice goes back and forth between them.
const TRIES: usize = 4;

impl DayPlan {
    /// The same day with the filters that each setup needs when it is shot, put in order once more for them.
    ///
    /// Which filters are on hangs on when a setup is shot, and when it is shot on which are changed for it. So they are settled
    /// along an order, and of the order that was found, the one that is found for its filters, and the story's, the one that
    /// costs least with its own stays.
    pub(super) fn with_filters_as_shot(self, film: &Film, day: &ShootingDay, daylights: &Daylights) -> Self {
        let filters = |setup: &DaySetup, minute: f64| setup.filters_at(film, day, daylights, minute);
        let mut story = Self { order: self.story_order.clone(), ..self.clone() };
        story.problem.jobs.iter_mut().for_each(|job| job.one_sun = None);
        let story = story.settled(&filters);
        let found = self.clone().settled(&filters);
        let mut best = if found.problem == self.problem {
            found
        } else {
            let again = Self { order: found.problem.order(), ..found.clone() }.settled(&filters);
            let jumps = |plan: &Self| plan.sun_jumps(film, day, daylights).len();
            let is_worse =
                found.order.costs.is_less_than(&again.order.costs) || jumps(&again) > jumps(&found);
            if is_worse { found } else { again }
        };
        best.story_order = story.order.clone();
        let story_is_best = !best.keeps_one_sun() && story.order.costs.is_less_than(&best.order.costs);
        if story_is_best { Self { story_order: best.story_order, ..story } } else { best }
    }

    /// The same jobs tried in the same order, with the filters that each needs at its start.
    fn settled(mut self, filters: &impl Fn(&DaySetup, f64) -> Vec<String>) -> Self {
        let placed = self.order.placed.iter().map(|placed| placed.job);
        let sequence: Vec<usize> = placed.chain(self.order.missed.iter().map(|missed| missed.job)).collect();
        let mut at = 0;
        while at < self.order.placed.len() {
            let (mut latest_min, mut latest) = (f64::NEG_INFINITY, Vec::new());
            for tried in 0..=TRIES {
                let Some(placed) = self.order.placed.get(at) else { break };
                let (number, starts_min) = (placed.job, placed.starts_min);
                let Some(needed) = self.setup(number).map(|setup| filters(setup, starts_min)) else { break };
                if starts_min >= latest_min {
                    (latest_min, latest) = (starts_min, needed.clone());
                }
                let Some(job) = self.problem.jobs.get_mut(number).filter(|job| job.rig.filters != needed)
                else {
                    break;
                };
                if tried < TRIES {
                    job.rig.filters = needed;
                } else {
                    // At the later start it needs what is on before it: it waits for that in place of a change.
                    job.rig.filters.clone_from(&latest);
                    wait_until(job, latest_min);
                }
                self.order = self.problem.evaluate(&sequence);
            }
            at += 1;
        }
        self
    }
}

/// Keeps a job from being shot before then.
fn wait_until(job: &mut Job, minute: f64) {
    let whole = DaySpan { from_min: minute, to_min: f64::INFINITY };
    let light = job.light.take().unwrap_or_else(|| vec![whole]);
    let later = light.into_iter().map(|span| DaySpan { from_min: span.from_min.max(minute), ..span });
    job.light = Some(later.filter(|span| span.from_min <= span.to_min).collect());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::ChangePart;
    use crate::rehearsal::Rehearsals;

    /// Whether each setup has the filters that it needs when it is shot, and they are charged for where they are others than before.
    fn assert_settled(plan: &DayPlan, filters: impl Fn(&DaySetup, f64) -> Vec<String>, told: &str) {
        let mut before: Option<&Vec<String>> = None;
        for placed in &plan.order.placed {
            let on = &plan.problem.jobs[placed.job].rig.filters;
            let setup = plan.setup(placed.job).expect("a setup");
            assert_eq!(*on, filters(setup, placed.starts_min), "{told}: {placed:?}");
            let is_charged = placed.change.parts.iter().any(|(part, _)| *part == ChangePart::Filters);
            assert_eq!(is_charged, before.is_some_and(|before| before != on), "{told}: {placed:?}");
            before = Some(on);
        }
    }

    #[test]
    fn filters_that_come_and_go_by_the_clock_settle_along_an_order() {
        let film = crate::demo_film();
        let plan = DayPlan::of(&film, &film.days[0], &Daylights::new(), &mut Rehearsals::default());
        // Changed every few minutes, so that with the change itself it is time for others again.
        for half_min in 2..60 {
            let filters = |_: &DaySetup, minute: f64| {
                let is_odd = libm::fmod(libm::floor(minute * 2.0 / f64::from(half_min)), 2.0) > 0.5;
                vec![if is_odd { "ND 8" } else { "ND 64" }.to_owned()]
            };
            // From filters that are on in neither stretch, and from those of one.
            let alike = plan.clone().settled(&|_: &DaySetup, _: f64| vec!["ND 8".to_owned()]);
            for from in [&plan, &alike] {
                let settled = from.clone().settled(&filters);
                assert_eq!(settled.order.placed.len(), plan.order.placed.len(), "all fit");
                assert_settled(&settled, filters, &format!("{half_min} half minutes"));
            }
        }
    }

    #[cfg(feature = "sun")]
    #[test]
    fn what_is_charged_for_is_what_is_on_by_the_sun_of_the_day() {
        use crate::daylight::Daylight;
        use jiff::tz::{Offset, TimeZone};

        let film = crate::demo_film();
        let (date, zone) = (film.days[0].date.expect("a date"), TimeZone::fixed(Offset::constant(2)));
        let of_place = |place: &crate::film::Place| {
            let spot = place.spot.as_ref()?;
            Some((place.id, Daylight::of(&spot.coordinates, &spot.horizon, date, &zone).ok()?))
        };
        let daylights: Daylights = film.places.iter().filter_map(of_place).collect();
        let mut rehearsals = Rehearsals::default();
        for call_min in (240..1080).step_by(60) {
            let hours = crate::film::Hours::new(call_min, 1320).expect("hours");
            let day = ShootingDay { hours, ..film.days[0].clone() };
            let plan = DayPlan::of(&film, &day, &daylights, &mut rehearsals);
            let filters = |setup: &DaySetup, minute: f64| setup.filters_at(&film, &day, &daylights, minute);
            assert_settled(&plan, filters, &format!("call at {call_min}"));
            let story = &plan.story_order;
            assert!(plan.keeps_one_sun() || !story.costs.is_less_than(&plan.order.costs), "{call_min}");
        }
    }
}
