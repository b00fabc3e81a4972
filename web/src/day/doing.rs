//! What is done to a day: in the can, late, on it or off it.

use film::{DayPlan, Film, Hours, ShootingDay, ShotId};

/// A minute as a day keeps it.
pub(super) fn whole_minute(minutes: f64) -> u16 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within two days")]
    let minute = minutes.round().clamp(0.0, f64::from(Hours::LATEST_MIN)) as u16;
    minute
}

/// Says that a shot is in the can, or that it is not after all.
///
/// A day that goes on otherwise than planned goes on from where this shot ends.
pub(super) fn mark_done(day: &mut ShootingDay, plan: &DayPlan, shot: ShotId) {
    if day.done.contains(&shot) {
        day.done.retain(|one| *one != shot);
        return;
    }
    day.done.push(shot);
    if let (Some(from), Some(placed)) = (day.resumes_min, plan.placed(shot)) {
        let takes_min = placed.change.minutes() + placed.ends_min - placed.starts_min;
        let is_next = plan.shots_in_order().next() == Some(shot);
        let ends_min = if is_next { placed.ends_min } else { f64::from(from) + takes_min };
        day.resumes_min = Some(whole_minute(ends_min).max(from));
    }
}

/// Plans the rest from so many minutes later than it is planned now.
pub(super) fn run_late(day: &mut ShootingDay, plan: &DayPlan, minutes: f64) {
    day.resumes_min = Some(whole_minute(plan.problem.call_min + minutes));
}

/// The day's shots as a list, in the story's order.
fn as_list(day: &ShootingDay, film: &Film) -> Vec<ShotId> {
    day.shots_of(film).into_iter().map(|(_, shot)| shot.id).collect()
}

/// Takes shots off the day. What was pinned or in the can of them is forgotten.
pub(super) fn take_off(day: &mut ShootingDay, film: &Film, shots: &[ShotId]) {
    let mut left = as_list(day, film);
    left.retain(|shot| !shots.contains(shot));
    day.shots = Some(left);
    day.pinned.retain(|pin| !shots.contains(&pin.shot));
    day.done.retain(|shot| !shots.contains(shot));
}

/// Puts shots on the day, in the story's order; those that were given up stay off it.
pub(super) fn put_on(day: &mut ShootingDay, film: &Film, shots: &[ShotId]) {
    let listed = as_list(day, film);
    let all = film.scenes.iter().flat_map(|scene| &scene.shots);
    let all = all.filter_map(|shot| (!shot.is_dropped).then_some(shot.id));
    day.shots = Some(all.filter(|shot| listed.contains(shot) || shots.contains(shot)).collect());
}

#[cfg(test)]
mod tests {
    use film::{Daylights, Rehearsals};

    use super::*;

    fn demo() -> (Film, ShootingDay, DayPlan) {
        let film = film::demo_film();
        let day = film.days[0].clone();
        let plan = plan_of(&film, &day);
        (film, day, plan)
    }

    fn plan_of(film: &Film, day: &ShootingDay) -> DayPlan {
        DayPlan::of(film, day, &Daylights::new(), &mut Rehearsals::default())
    }

    fn shot_at(plan: &DayPlan, at: usize) -> ShotId {
        plan.setup(plan.order.placed[at].job).expect("a setup").shot.id
    }

    #[test]
    fn a_day_on_time_goes_on_as_it_was_planned() {
        let (_, mut day, plan) = demo();
        mark_done(&mut day, &plan, shot_at(&plan, 0));
        assert_eq!((day.done.as_slice(), day.resumes_min), (&[shot_at(&plan, 0)][..], None));
        mark_done(&mut day, &plan, shot_at(&plan, 0));
        assert_eq!(day.done, []);
    }

    #[test]
    fn a_late_day_goes_on_from_where_the_last_setup_ends() {
        let (film, mut day, plan) = demo();
        run_late(&mut day, &plan, 30.0);
        assert_eq!(day.resumes_min, Some(day.hours.from_min() + 30));
        let late = plan_of(&film, &day);
        mark_done(&mut day, &late, shot_at(&late, 0));
        assert_eq!(day.resumes_min, Some(whole_minute(late.order.placed[0].ends_min)));
        let rest = plan_of(&film, &day);
        assert_eq!(rest.order.placed.len() + rest.order.missed.len() + 1, rest.setups.len());
        assert!((rest.problem.call_min - late.order.placed[0].ends_min).abs() <= 0.5, "{rest:?}");
    }

    #[test]
    fn what_is_taken_off_is_off_and_comes_back_in_its_place() {
        let (film, mut day, plan) = demo();
        let (all, shot) = (as_list(&day, &film), shot_at(&plan, 2));
        day.pinned.push(film::Pinned { shot, at: 0 });
        take_off(&mut day, &film, &[shot]);
        assert_eq!((as_list(&day, &film).len(), day.pinned.len()), (all.len() - 1, 0));
        put_on(&mut day, &film, &[shot]);
        assert_eq!(as_list(&day, &film), all);
    }

    #[test]
    fn what_was_given_up_is_not_put_on() {
        let (mut film, mut day, plan) = demo();
        let shot = shot_at(&plan, 0);
        film.apply(film.drops_shot(shot).expect("it is there")).expect("it can be given up");
        put_on(&mut day, &film, &[shot]);
        assert!(day.shots.is_some_and(|shots| !shots.is_empty() && !shots.contains(&shot)));
    }
}
