//! The day as a calendar for everyone's phone.

use film::{DayCalendar, HandedFile, PlaceId, calendar_file, plain_name};
use language::say;
use leptos::prelude::*;

use super::hand::Hand;
use crate::handing::{Handing, HandingTold};

/// The button, and what became of it.
#[component]
pub(super) fn Calendar(hand: Hand) -> impl IntoView {
    let handing = Handing::new();
    let make = move |_| handing.hand(move || file(hand).map(|file| vec![file]));
    view! {
        <div class="day-buttons">
            <button type="button" on:click=make>{say!("Calendar of the day")}</button>
            <HandingTold handing />
        </div>
    }
}

/// The calendar of the day that is looked at.
///
/// # Errors
/// In words: the day has no date, or the clock of one of its places is still being looked up.
fn file(hand: Hand) -> Result<HandedFile, String> {
    let shooting = hand.shooting();
    let daylights = shooting.daylights.get_untracked();
    let stamp = String::from(js_sys::Date::new_0().to_iso_string());
    let stamp =
        stamp.parse().map_err(|_none| say!("this device's clock shows no time that a calendar has"))?;
    let made = hand.read_once(|film, day, plan| {
        let places = day.shots_of(film).into_iter().filter_map(|(scene, _)| scene.facts.place);
        let is_asked = |place: &PlaceId| {
            let has_spot = film.place(*place).is_some_and(|place| place.spot.is_some());
            has_spot && !daylights.contains_key(place) && shooting.refusal(*place).is_none()
        };
        // Without a date nothing is looked up, and the calendar itself says what is missing.
        if day.date.is_some() && places.into_iter().any(|place| is_asked(&place)) {
            return Err(say!("the time zones are still being looked up; try again in a moment").to_owned());
        }
        let calendar = DayCalendar {
            film,
            day,
            plan: Some(plan),
            daylights: &daylights,
            film_key: &plain_name(&film.facts.title),
            stamp,
        };
        calendar_file(&calendar).map_err(|error| error.to_string())
    });
    made.unwrap_or_else(|| Err(say!("the film has no day").to_owned()))
}
