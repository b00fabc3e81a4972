//! A day put in order, from its call or from where it has got to.

use film::{DayPlan, Rehearsals, ShootingDay, ShotId};

use crate::failure::Failure;
use crate::shooting_day::ChosenDay;
use crate::shot_number::ShotNumber;

/// A day put in order.
pub(super) struct WorkedDay<'day> {
    pub(super) chosen: &'day ChosenDay,
    /// The day with what is done and from when the rest is planned.
    pub(super) day: ShootingDay,
    pub(super) plan: DayPlan,
    /// How much later than planned it is, minutes; none if neither a time nor what is done says so.
    pub(super) late_min: Option<f64>,
}

/// Minutes from midnight of a time such as `14:30`.
pub(super) fn clock_time(text: &str) -> Result<u16, String> {
    let count = |part: &str| {
        let is_count = part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
        is_count.then(|| part.parse::<u16>().ok()).flatten()
    };
    let parts = text.split_once(':').and_then(|(hour, minute)| Some((count(hour)?, count(minute)?)));
    match parts {
        Some((hour, minute)) if hour < 24 && minute < 60 => Ok(hour * 60 + minute),
        Some(_) | None => Err("a time from 00:00 to 23:59, such as 14:30".to_owned()),
    }
}

impl<'day> WorkedDay<'day> {
    /// The order of what is left.
    pub(super) fn of(
        chosen: &'day ChosenDay,
        from: Option<u16>,
        done: &[ShotNumber],
        rehearsals: &mut Rehearsals,
    ) -> Result<Self, Failure> {
        let ChosenDay { film, day, daylights, .. } = chosen;
        let mut in_can = day.done.clone();
        for number in done {
            let shot = chosen.shot_of(*number, "--done")?;
            if !in_can.contains(&shot) {
                in_can.push(shot);
            }
        }
        let from = from.map(|shown| day.hours.minute_at(shown));
        let day = ShootingDay { done: in_can, resumes_min: from.or(day.resumes_min), ..day.clone() };
        let plan = DayPlan::of(film, &day, daylights, rehearsals);
        let is_told = day.resumes_min.is_some();
        let late_min = is_told.then(|| late_min(chosen, &day, plan.problem.call_min, rehearsals));
        Ok(Self { chosen, day, plan, late_min })
    }

    /// Whether a must-have is missed, late or cannot be made.
    pub(super) fn asks(&self) -> bool {
        let is_must_have = |shot: ShotId| {
            let shot = self.chosen.film.shot(shot);
            shot.is_some_and(|(_, shot)| shot.is_must_have())
        };
        let order = &self.plan.order;
        let missed = order.missed.iter().map(|missed| missed.job);
        let late = order.placed.iter().filter(|placed| placed.late.is_some()).map(|placed| placed.job);
        let of_order = missed.chain(late).filter_map(|job| self.plan.setup(job)).map(|setup| setup.shot.id);
        of_order.chain(self.plan.unmade.iter().map(|unmade| unmade.shot)).any(is_must_have)
    }
}

/// How much later it is than in the order that was planned: since what is done should have ended, or since the call.
fn late_min(chosen: &ChosenDay, day: &ShootingDay, now_min: f64, rehearsals: &mut Rehearsals) -> f64 {
    if day.done.is_empty() {
        return now_min - f64::from(day.hours.from_min());
    }
    let from_call = ShootingDay { done: Vec::new(), resumes_min: None, ..chosen.planned.clone() };
    let planned = DayPlan::of(&chosen.film, &from_call, &chosen.daylights, rehearsals);
    let done: Vec<usize> = day.done.iter().filter_map(|shot| planned.job_of(*shot)).collect();
    planned.order.late_min(&done, now_min)
}

#[cfg(test)]
mod tests {
    use super::clock_time;

    #[test]
    fn a_time_is_two_digits_and_two_more() {
        assert_eq!(clock_time("14:30"), Ok(870));
        assert_eq!(clock_time("00:00"), Ok(0));
        for text in ["24:00", "12:60", "9:00", "+9:00", "1200", "12:00:00", "", "ab:cd"] {
            assert!(clock_time(text).is_err(), "{text}");
        }
    }
}
