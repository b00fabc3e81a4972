//! Light: how much of it each setup has, what the camera is set to, and where the sun is.
//!
//! Nothing here computes light: the film's own `DaySetup`, `ShotLight` and `Daylight` do, and this shows what they say.

mod bar;
mod day_chips;
mod day_sheet;
mod degrees;
mod detail;
mod explanations;
mod floor;
mod light_desk;
mod lit;
mod lock_list;
mod low_sun;
mod missing;
mod place_sheet;
mod row;
mod scenes;
mod turned;
mod without_film;
mod words;

use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::films::Desk;
use crate::session::Session;
use crate::shooting::Shooting;
use crate::story::{Problems, Start, keep_in_step};
use crate::widgets::{live, when};
#[cfg(test)]
pub(crate) use explanations::EXPLANATIONS;
pub(crate) use explanations::{HOLDS, LEFT_OVER};
use light_desk::LightDesk;
pub(crate) use words::{in_a_line, wind};

/// The Light screen.
#[component]
pub(crate) fn LightScreen(session: Session) -> impl IntoView {
    let desk = Desk::here();
    let shooting = Shooting::open(desk);
    keep_in_step(session);
    let has_film = Memo::new(move |_| desk.film.with(Option::is_some));
    view! {
        <link rel="stylesheet" href="story/story.css" />
        <link rel="stylesheet" href="light/light.css" />
        <link rel="stylesheet" href="story/explained.css" />
        {move || {
            if has_film.get() {
                view! { <FilmLight session desk shooting /> }.into_any()
            } else {
                view! {
                    <div class="light-none">
                        <without_film::WithoutFilm session />
                        <Start session desk />
                    </div>
                }
                .into_any()
            }
        }}
    }
}

/// The sheets of the screen, for whatever asks for them.
#[derive(Clone, Copy)]
struct Sheets {
    day: NodeRef<html::Dialog>,
    place: NodeRef<html::Dialog>,
}

/// The light of the film that is open.
#[component]
fn FilmLight(session: Session, desk: Desk, shooting: Shooting) -> impl IntoView {
    let light = LightDesk::provide(session, desk, shooting);
    let sheets = Sheets { day: NodeRef::new(), place: NodeRef::new() };
    let sentence = live(move || {
        desk.film
            .with(|film| {
                let film = film.as_ref()?;
                Some(light.lit().get().map_or_else(
                    || say!("No shot can be lit yet.").to_owned(),
                    |lit| words::sentence(film, &lit),
                ))
            })
            .unwrap_or_default()
    });
    let has_setups = Memo::new(move |_| {
        light.plan().with(|plan| plan.as_ref().is_some_and(|plan| !plan.setups.is_empty()))
    });
    view! {
        <div class="light">
            <h1 class="sentence" aria-live="polite">{sentence}</h1>
            <div class="light-now">
                <Problems desk />
                <day_chips::DayChips light sheets />
                <missing::Missing light sheets />
                <bar::DayBar light />
                {when(
                    move || light.weather() != light.planned_weather(),
                    move || view! { <turned::Turned light /> }.into_any(),
                )}
                // On a phone it unfolds in the list, under the setup that was tapped.
                {when(
                    move || has_setups.get() && light.is_wide().get(),
                    move || view! { <detail::Detail light /> }.into_any(),
                )}
                <low_sun::LowSun light />
            </div>
            <section class="light-setups" aria-label=say!("Setups of the day")>
                <scenes::Scenes light />
            </section>
            <day_sheet::DaySheet light node=sheets.day />
            <place_sheet::PlaceSheet light node=sheets.place />
        </div>
    }
}
