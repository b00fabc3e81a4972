//! Pins of a day's order: what is put somewhere by hand stays there.

use film::{DayPlan, Pinned, ShootingDay, ShotId};

/// The shots of an order, and how many are in the can before them: pins count over both.
pub(super) struct Places {
    order: Vec<ShotId>,
    done: usize,
}

impl Places {
    /// Those of a plan.
    pub(super) fn of(plan: &DayPlan) -> Self {
        Self {
            order: plan.shots_in_order().collect(),
            done: plan.setups.iter().filter(|setup| setup.is_done).count(),
        }
    }

    /// How many there are in the order.
    pub(super) const fn count(&self) -> usize {
        self.order.len()
    }

    /// Where a shot is in the order.
    pub(super) fn place_of(&self, shot: ShotId) -> Option<usize> {
        self.order.iter().position(|one| *one == shot)
    }

    /// Puts a shot at that place of the order, counted from 0, and pins it there. What others are pinned to moves up or down
    /// with them, as in any list.
    pub(super) fn put(&self, day: &mut ShootingDay, shot: ShotId, to: usize) {
        let from = self.place_of(shot);
        let to = to.min(self.order.len().saturating_sub(usize::from(from.is_some())));
        let is_here = |pin: &Pinned| self.place_of(pin.shot).is_some();
        for pin in day.pinned.iter_mut().filter(|pin| pin.shot != shot && is_here(pin)) {
            let Some(place) = pin.at.checked_sub(self.done) else { continue };
            match from {
                Some(from) if from < place && place <= to => pin.at -= 1,
                Some(from) if to <= place && place < from => pin.at += 1,
                None if to <= place => pin.at += 1,
                Some(_) | None => {}
            }
        }
        unpin(day, shot);
        day.pinned.push(Pinned { shot, at: self.done + to });
    }
}

/// Lets a shot go wherever it is best.
pub(super) fn unpin(day: &mut ShootingDay, shot: ShotId) {
    day.pinned.retain(|pin| pin.shot != shot);
}

#[cfg(test)]
mod tests {
    use film::{Daylights, Film, Rehearsals};

    use super::*;

    fn plan_of(film: &Film, day: &ShootingDay) -> DayPlan {
        DayPlan::of(film, day, &Daylights::new(), &mut Rehearsals::default())
    }

    fn demo() -> (Film, ShootingDay) {
        let film = film::demo_film();
        let day = film.days[0].clone();
        (film, day)
    }

    #[test]
    fn what_is_put_somewhere_is_there_in_the_next_order() {
        let (film, mut day) = demo();
        let places = Places::of(&plan_of(&film, &day));
        let shot = places.order[0];
        places.put(&mut day, shot, 3);
        assert_eq!(Places::of(&plan_of(&film, &day)).place_of(shot), Some(3));
    }

    #[test]
    fn after_some_are_done_places_are_counted_over_the_rest() {
        let (film, mut day) = demo();
        let first = Places::of(&plan_of(&film, &day));
        day.done = first.order[..2].to_vec();
        day.resumes_min = Some(660);
        let places = Places::of(&plan_of(&film, &day));
        let shot = places.order[0];
        places.put(&mut day, shot, 1);
        assert_eq!(day.pinned, [Pinned { shot, at: 3 }]);
        assert_eq!(Places::of(&plan_of(&film, &day)).place_of(shot), Some(1));
    }

    #[test]
    fn pins_in_between_make_room() {
        let (film, mut day) = demo();
        let places = Places::of(&plan_of(&film, &day));
        let [one, two, three] = [places.order[1], places.order[2], places.order[4]];
        day.pinned = vec![Pinned { shot: two, at: 2 }, Pinned { shot: three, at: 4 }];
        places.put(&mut day, one, 2);
        let at = |day: &ShootingDay, shot| day.pinned.iter().find(|pin| pin.shot == shot).map(|pin| pin.at);
        assert_eq!([one, two, three].map(|shot| at(&day, shot)), [Some(2), Some(1), Some(4)]);
        places.put(&mut day, three, 0);
        assert_eq!(at(&day, three), Some(0));
        unpin(&mut day, three);
        assert_eq!(at(&day, three), None);
    }

    #[test]
    fn what_was_left_out_comes_in_last() {
        let (film, mut day) = demo();
        let places = Places::of(&plan_of(&film, &day));
        let shot = places.order[0];
        let without = Places { order: places.order[1..].to_vec(), done: 0 };
        without.put(&mut day, shot, usize::MAX);
        assert_eq!(day.pinned, [Pinned { shot, at: without.order.len() }]);
    }
}
