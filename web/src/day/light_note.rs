//! What is not known of the day's light, so that the order does not count with it.

use film::{Daylights, Film, Setting, ShootingDay};
use language::say;
use leptos::prelude::*;

use super::hand::Hand;
use crate::story::words::listed;
use crate::widgets::when;

/// What an order cannot count with.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Unknown {
    /// Nobody has said when the day is.
    Date,
    /// Nobody has said where these places are.
    Spots(Vec<String>),
    /// It has not been found out yet.
    Light,
}

impl Unknown {
    /// What is not known of the light of a day outside; none if all is, or if the day is inside.
    fn of(film: &Film, day: &ShootingDay, daylights: &Daylights) -> Option<Self> {
        let shots = day.shots_of(film);
        let outside: Vec<_> = shots
            .iter()
            .map(|(scene, _)| &scene.facts)
            .filter(|facts| matches!(facts.setting, Setting::Outside))
            .collect();
        if outside.is_empty() {
            return None;
        }
        if day.date.is_none() {
            return Some(Self::Date);
        }
        let places = outside.iter().map(|facts| facts.place.and_then(|place| film.place(place)));
        let mut without_spot: Vec<String> = Vec::new();
        let (mut is_asked, mut has_placeless) = (false, false);
        for place in places {
            match place {
                Some(place) if place.spot.is_some() => is_asked |= !daylights.contains_key(&place.id),
                Some(place) if !without_spot.contains(&place.name) => without_spot.push(place.name.clone()),
                Some(_) => {}
                None => has_placeless = true,
            }
        }
        if has_placeless {
            without_spot.push(say!("a scene outside").to_owned());
        }
        if is_asked {
            Some(Self::Light)
        } else {
            (!without_spot.is_empty()).then_some(Self::Spots(without_spot))
        }
    }

    fn words(&self) -> String {
        match self {
            Self::Date => say!("The day has no date, so nobody knows when there is which light.").to_owned(),
            Self::Spots(places) => {
                say!(
                    "Where on earth is {}? Light asks it; then the order counts with the sun.",
                    listed(places)
                )
            }
            Self::Light => {
                say!("The light of the day is not known yet; the order may change once it is.").to_owned()
            }
        }
    }
}

/// The line that says so.
#[component]
pub(super) fn LightNote(hand: Hand) -> impl IntoView {
    let unknown = Memo::new(move |_| {
        let daylights = hand.shooting().daylights.get();
        hand.read(|film, day, _| Unknown::of(film, day, &daylights)).flatten()
    });
    let is_light = move || unknown.with(|unknown| *unknown == Some(Unknown::Light));
    when(
        move || unknown.with(Option::is_some),
        move || {
            let words = move || unknown.with(|unknown| unknown.as_ref().map(Unknown::words));
            view! {
                <div class="day-light-note">
                    <p class="quiet">{words}</p>
                    {when(is_light, move || view! {
                        <button type="button" on:click=move |_| hand.shooting().almanac.try_again()>
                            {say!("Look again")}
                        </button>
                    }.into_any())}
                </div>
            }
            .into_any()
        },
    )
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;

    #[test]
    fn what_is_not_known_of_the_light_is_told_one_after_the_other() {
        let mut film = film::demo_film();
        let mut day = film.days[0].clone();
        let none = Daylights::new();
        assert_eq!(Unknown::of(&film, &day, &none), Some(Unknown::Light));
        let garden = film.places[1].name.clone();
        film.places = film.places.iter().cloned().map(|place| film::Place { spot: None, ..place }).collect();
        assert_eq!(Unknown::of(&film, &day, &none), Some(Unknown::Spots(vec![garden])));
        day.date = None;
        assert_eq!(Unknown::of(&film, &day, &none), Some(Unknown::Date));
        for scene in &mut film.scenes {
            let mut inside = film::Scene::clone(scene);
            inside.facts = Arc::new(film::SceneFacts { setting: Setting::Inside, ..(*inside.facts).clone() });
            *scene = Arc::new(inside);
        }
        assert_eq!(Unknown::of(&film, &day, &none), None);
    }

    #[test]
    fn a_scene_outside_that_has_no_place_is_told_beside_places_that_are_nowhere() {
        let mut film = film::demo_film();
        let day = film.days[0].clone();
        let (known, garden) = (film.places[1].id, film.places[1].name.clone());
        film.places = film.places.iter().cloned().map(|place| film::Place { spot: None, ..place }).collect();
        for (at, scene) in film.scenes.iter_mut().enumerate() {
            let mut outside = film::Scene::clone(scene);
            let place = (at == 0).then_some(known);
            outside.facts =
                Arc::new(film::SceneFacts { setting: Setting::Outside, place, ..(*outside.facts).clone() });
            *scene = Arc::new(outside);
        }
        let told = vec![garden, "a scene outside".to_owned()];
        assert_eq!(Unknown::of(&film, &day, &Daylights::new()), Some(Unknown::Spots(told)));
    }
}
