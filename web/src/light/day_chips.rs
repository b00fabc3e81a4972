//! Which day, in which weather, at which place: a row of chips, each with its sheet, and the weather as four buttons.

use language::{say, text};
use leptos::prelude::*;
use optics::Weather;

use super::Sheets;
use super::light_desk::LightDesk;
use crate::shooting::named_and_dated;
use crate::story::UndoRedo;
use crate::widgets::{live, open};

/// The weathers from the brightest on, with the class of each one's drawing.
const WEATHERS: [(Weather, &str); 4] = [
    (Weather::Clear, "sky-sun"),
    (Weather::Overcast, "sky-overcast"),
    (Weather::Fog, "sky-fog"),
    (Weather::Rain, "sky-rain"),
];

/// The chips and the weather.
#[component]
pub(super) fn DayChips(light: LightDesk, sheets: Sheets) -> impl IntoView {
    let day = live(move || {
        light.shooting().day.with(|day| match day {
            None => say!("No day yet").to_owned(),
            Some(day) => light
                .desk()
                .film
                .with(|film| film.as_ref().map(|film| named_and_dated(film, day)).unwrap_or_default()),
        })
    });
    let place = live(move || {
        let place = light.place().get();
        let name = light.desk().film.with(|film| {
            let place = film.as_ref()?.place(place?)?;
            Some(if place.name.is_empty() { say!("A place").to_owned() } else { place.name.clone() })
        });
        name.unwrap_or_else(|| say!("No place yet").to_owned())
    });
    let weathers = WEATHERS.map(|(weather, class)| {
        view! {
            <button
                type="button"
                class="light-weather"
                aria-pressed=live(move || (light.weather() == weather).to_string())
                on:click=move |_| light.try_weather(weather)
            >
                <span class=format!("drawing {class}") aria-hidden="true"></span>
                {text(weather.name())}
            </button>
        }
    });
    view! {
        <div class="light-chips" role="group" aria-label=say!("Day and place")>
            <button type="button" class="chip" aria-haspopup="dialog" on:click=move |_| open(sheets.day)>
                <span class="quiet">{say!("Day")}</span>
                <span>{day}</span>
            </button>
            <button type="button" class="chip" aria-haspopup="dialog" on:click=move |_| open(sheets.place)>
                <span class="quiet">{say!("Place")}</span>
                <span>{place}</span>
            </button>
            <UndoRedo desk=light.desk() />
        </div>
        <div class="light-weathers" role="group" aria-label=say!("Weather")>{weathers.collect_view()}</div>
    }
}
