//! What an order of work is made from: the order is found anew when some of that is another, and not at every edit.

use std::cell::RefCell;
use std::sync::Arc;

use film::{DayPlan, Daylights, Film, FilmFacts, ShootingDay};
use leptos::prelude::*;

use crate::films::Desk;
use crate::part::Part;

/// What an order of work is made from. Two are the same if the order is.
#[derive(Clone)]
pub(crate) struct Planning {
    film: Film,
    pub(crate) day: ShootingDay,
    daylights: Part<Daylights>,
}

/// As many orders as a hand goes to and fro between: on time and late, before and after what is taken back; chosen.
const MOST_FOUND: usize = 4;

thread_local! {
    /// The orders that were found last, and from what: Light and Day show the same one, each time that they are opened.
    static FOUND: RefCell<Vec<(Planning, Part<DayPlan>)>> = const { RefCell::new(Vec::new()) };
}

impl PartialEq for Planning {
    fn eq(&self, other: &Self) -> bool {
        // Each screen that is opened looks the light up for itself.
        (self.daylights == other.daylights || *self.daylights == *other.daylights)
            && works_the_same(&self.day, &other.day)
            && shoots_the_same(&self.film, &other.film)
    }
}

impl Planning {
    /// What the order of that day is made from, for as long as there is a film and a day.
    pub(crate) fn memo(
        desk: Desk,
        day: impl Fn() -> Option<ShootingDay> + Send + Sync + 'static,
        daylights: Memo<Part<Daylights>>,
    ) -> Memo<Option<Self>> {
        Memo::new(move |_| {
            let (day, daylights) = (day()?, daylights.get());
            desk.film.with(|film| Some(Self { film: film.clone()?, day, daylights }))
        })
    }

    /// The day's setups and their order; found once while it is one of the last that were asked for.
    pub(crate) fn plan(&self, desk: Desk) -> Part<DayPlan> {
        let found = FOUND
            .with_borrow(|found| found.iter().find(|(from, _)| from == self).map(|(_, plan)| plan.clone()));
        found.unwrap_or_else(|| {
            let plan = Part(Arc::new(desk.day_plan(&self.film, &self.day, &self.daylights)));
            FOUND.with_borrow_mut(|found| {
                found.truncate(MOST_FOUND - 1);
                found.insert(0, (self.clone(), plan.clone()));
            });
            plan
        })
    }

    /// The same if nobody ran late.
    pub(crate) fn on_time(&self) -> Self {
        Self { day: ShootingDay { resumes_min: None, ..self.day.clone() }, ..self.clone() }
    }
}

/// Whether a day is worked in the same way, whatever it is called.
fn works_the_same(one: &ShootingDay, other: &ShootingDay) -> bool {
    let unnamed =
        |day: &ShootingDay| ShootingDay { title: String::new(), notes: String::new(), ..day.clone() };
    unnamed(one) == unnamed(other)
}

/// Whether a day of both is the same, as far as its shots go; days themselves are compared apart.
fn shoots_the_same(one: &Film, other: &Film) -> bool {
    let lists = |film: &Film| film.days.iter().map(|day| (day.id, day.shots.clone())).collect::<Vec<_>>();
    let unnamed =
        |facts: &FilmFacts| FilmFacts { title: String::new(), line: String::new(), ..facts.clone() };
    (Arc::ptr_eq(&one.facts, &other.facts) || unnamed(&one.facts) == unnamed(&other.facts))
        && Arc::ptr_eq(&one.kit, &other.kit)
        && Arc::ptr_eq(&one.cast, &other.cast)
        && Arc::ptr_eq(&one.places, &other.places)
        && one.scenes.len() == other.scenes.len()
        && one.scenes.iter().zip(&other.scenes).all(|(one, other)| Arc::ptr_eq(one, other))
        && (Arc::ptr_eq(&one.days, &other.days) || lists(one) == lists(other))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_film_with_another_scene_does_not_shoot_the_same() {
        let film = film::demo_film();
        let mut other = film.clone();
        assert!(shoots_the_same(&film, &other));
        other.scenes.pop();
        assert!(!shoots_the_same(&film, &other));
    }

    #[test]
    fn a_film_with_another_name_does_and_one_exposed_otherwise_does_not() {
        let film = film::demo_film();
        let with = |change: fn(&mut FilmFacts)| {
            let mut facts = FilmFacts::clone(&film.facts);
            change(&mut facts);
            Film { facts: Arc::new(facts), ..film.clone() }
        };
        assert!(shoots_the_same(&film, &with(|facts| facts.title.push('!'))));
        assert!(!shoots_the_same(&film, &with(|facts| facts.bias = units::Stops::new(1.5))));
    }

    #[test]
    fn a_day_is_worked_the_same_whatever_it_is_called() {
        let day = film::demo_film().days[0].clone();
        assert!(works_the_same(&day, &ShootingDay { title: "Another".to_owned(), ..day.clone() }));
        assert!(!works_the_same(&day, &ShootingDay { resumes_min: Some(700), ..day.clone() }));
    }
}
