//! The setups of a day in the light of one minute: when each is planned, or the one that is looked at.

use film::{
    DayPlan, DaySetup, DaySpan, Daylights, Film, ShootingDay, ShotId, ShotLight, SunOnShot, wanted_light,
};
use optics::Weather;

/// A setup in the light of one minute.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lit {
    pub(super) shot: ShotId,
    pub(super) minute: f64,
    pub(super) light: Option<ShotLight>,
    /// The sun on it, if it throws shadows.
    pub(super) sun: Option<SunOnShot>,
    /// When it has the light that it wants, in the weather that is looked at; none if any time will do.
    pub(super) wanted: Wanted,
}

/// When a setup has the light that it wants; none if any time will do.
pub(super) type Wanted = Option<Vec<DaySpan>>;

/// What light is told from: the film, its day in some weather, and the day's light at its places.
#[derive(Clone, Copy)]
pub(super) struct Under<'a> {
    pub(super) film: &'a Film,
    pub(super) day: &'a ShootingDay,
    pub(super) daylights: &'a Daylights,
}

impl Lit {
    pub(super) fn of(under: Under<'_>, setup: &DaySetup, wanted: &Wanted, minute: f64) -> Self {
        let Under { film, day, daylights } = under;
        let daylight = setup.scene.facts.place.and_then(|place| daylights.get(&place));
        let has_shadows = daylight.is_some_and(|light| light.light_at(minute, day.weather).in_sun.is_some());
        Self {
            shot: setup.shot.id,
            minute,
            light: setup.light_at(film, day, daylights, minute),
            sun: if has_shadows { setup.sun_at(daylights, minute) } else { None },
            wanted: wanted.clone(),
        }
    }

    /// Whether this is a minute of the light that is wanted.
    pub(super) fn is_wanted(&self) -> bool {
        self.wanted.as_ref().is_none_or(|spans| spans.iter().any(|span| span.contains(self.minute)))
    }
}

/// Where a shot's setup is among those of the day.
pub(super) fn index_of(plan: &DayPlan, shot: ShotId) -> Option<usize> {
    plan.setups.iter().position(|setup| setup.shot.id == shot)
}

/// A day for a film that has none: nothing of it is kept.
pub(super) fn usual_day() -> Option<ShootingDay> {
    film::DayId::new(0).map(ShootingDay::usual)
}

/// The setup that was asked for while it is there, else the first to be shot, else the first.
pub(super) fn chosen_of(plan: &DayPlan, asked: Option<ShotId>) -> Option<ShotId> {
    let asked = asked.filter(|shot| index_of(plan, *shot).is_some());
    let first = || plan.setup(plan.order.placed.first()?.job).map(|setup| setup.shot.id);
    asked.or_else(first).or_else(|| plan.setups.first().map(|setup| setup.shot.id))
}

/// When each setup is shot: the middle of its time in the day's order, else a minute that stands for its light.
pub(super) fn planned_minutes(plan: &DayPlan, day: &ShootingDay) -> Vec<f64> {
    let mut minutes: Vec<f64> = plan.setups.iter().map(|setup| setup.usual_minute(day)).collect();
    for placed in &plan.order.placed {
        let minute = plan.jobs.get(placed.job).and_then(|at| minutes.get_mut(*at));
        if let Some(minute) = minute {
            *minute = f64::midpoint(placed.starts_min, placed.ends_min).round();
        }
    }
    minutes
}

/// When each setup has the light that it wants, whatever the minute.
pub(super) fn wanted(plan: &DayPlan, weather: Weather, daylights: &Daylights) -> Vec<Wanted> {
    let wanted = |setup: &DaySetup| {
        let daylight = setup.scene.facts.place.and_then(|place| daylights.get(&place));
        wanted_light(&setup.scene, &setup.shot, setup.made()?, daylight, weather)
    };
    plan.setups.iter().map(wanted).collect()
}

/// The light of each setup: at that minute, or when it is planned.
pub(super) fn lights(
    under: Under<'_>,
    plan: &DayPlan,
    planned: &[f64],
    wanted: &[Wanted],
    minute: Option<f64>,
) -> Vec<Lit> {
    let all = plan.setups.iter().zip(planned).zip(wanted);
    all.map(|((setup, planned), wanted)| Lit::of(under, setup, wanted, minute.unwrap_or(*planned))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::Rehearsals;

    fn planned() -> (Film, ShootingDay, DayPlan) {
        let film = film::demo_film();
        let day = usual_day().expect("a day");
        let plan = DayPlan::of(&film, &day, &Daylights::new(), &mut Rehearsals::default());
        (film, day, plan)
    }

    #[test]
    fn a_setup_is_planned_in_the_middle_of_its_time() {
        let (_, day, plan) = planned();
        let minutes = planned_minutes(&plan, &day);
        let first = plan.order.placed.first().expect("an order");
        let minute = minutes[plan.jobs[first.job]];
        assert!((first.starts_min..=first.ends_min).contains(&minute), "{minute} is not in {first:?}");
        assert_eq!(minutes.len(), plan.setups.len());
    }

    #[test]
    fn the_one_that_was_asked_for_is_shown_while_it_is_there() {
        let (_, _, plan) = planned();
        let last = plan.setups.last().expect("a setup").shot.id;
        assert_eq!(chosen_of(&plan, Some(last)), Some(last));
        let first = plan.setup(plan.order.placed[0].job).map(|setup| setup.shot.id);
        assert_eq!(chosen_of(&plan, None), first);
        assert_eq!(chosen_of(&plan, ShotId::new(film::LARGEST_ID)), first, "one that is gone");
    }

    #[test]
    fn without_a_sky_every_setup_is_lit_by_the_table_and_any_time_will_do() {
        let (film, day, plan) = planned();
        let minutes = planned_minutes(&plan, &day);
        let daylights = Daylights::new();
        let under = Under { film: &film, day: &day, daylights: &daylights };
        let wanted = wanted(&plan, day.weather, &daylights);
        for lit in lights(under, &plan, &minutes, &wanted, Some(600.0)) {
            assert!(lit.light.is_some() && lit.sun.is_none() && lit.is_wanted(), "{lit:?}");
            assert!((lit.minute - 600.0).abs() < 1e-12, "{lit:?}");
        }
    }
}
