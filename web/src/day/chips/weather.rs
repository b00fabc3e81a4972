//! The weather that is counted on.

use language::say;
use leptos::prelude::*;
use optics::Weather;

use crate::day::hand::Hand;
use crate::widgets::{Choice, Choices};

/// The four of them.
#[component]
pub(super) fn WeatherChoice(hand: Hand) -> impl IntoView {
    let chosen = Signal::derive(move || hand.of_day(|day| day.weather).unwrap_or_default());
    view! {
        <Choices
            legend=say!("Counted on")
            choices=Weather::ALL.map(|weather| Choice::new(weather, language::text(weather.name())))
            chosen
            choose=move |weather: Weather| hand.change(say!("Change the weather"), |day| day.weather = weather)
        />
        <p class="quiet">
            {say!("It changes how much light there is, which filters are on and when the sun is where it is wanted.")}
        </p>
    }
}
