//! The sheet of the day: which one, its date, from the call to the wrap, and its weather.

use film::ShootingDay;
use language::{say, text};
use leptos::html;
use leptos::prelude::*;
use optics::Weather;

use super::light_desk::LightDesk;
use crate::shooting::{CallAndWrap, WhichDay};
use crate::widgets::{Choice, Choices, Sheet, live, when};

/// The sheet.
#[component]
pub(super) fn DaySheet(light: LightDesk, node: NodeRef<html::Dialog>) -> impl IntoView {
    let has_day = move || light.shooting().day.with(Option::is_some);
    let add = move |_| {
        light.shooting().add_day();
        light.start_over();
    };
    view! {
        <Sheet node title=say!("The day")>
            {when(has_day, move || view! {
                <WhichDay shooting=light.shooting() chosen=move |()| light.start_over() />
                <DayFields light />
            }.into_any())}
            <p>
                <button type="button" class:next=move || !has_day() on:click=add>
                    {live(move || if has_day() { say!("Add another day") } else { say!("Add a day") }.to_owned())}
                </button>
            </p>
        </Sheet>
    }
}

/// What can be said of the day that is looked at.
#[component]
fn DayFields(light: LightDesk) -> impl IntoView {
    let change = move |what: &str, change: &dyn Fn(&mut ShootingDay)| light.shooting().alter(what, change);
    view! {
        <CallAndWrap shooting=light.shooting() />
        <Choices
            legend=say!("Weather that is counted on")
            choices=[Weather::Clear, Weather::Overcast, Weather::Fog, Weather::Rain]
                .map(|weather| Choice::new(weather, text(weather.name())))
            chosen=Signal::derive(move || light.planned_weather())
            choose=move |weather: Weather| {
                change(say!("Change the day's weather"), &|day| day.weather = weather);
                light.try_weather(weather);
            }
        />
    }
}
