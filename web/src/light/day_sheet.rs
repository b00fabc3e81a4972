//! The sheet of the day: which one, its date, from the call to the wrap, and its weather.

use film::{Hours, ShootingDay};
use leptos::html;
use leptos::prelude::*;
use optics::Weather;

use super::light_desk::LightDesk;
use crate::shooting::WhichDay;
use crate::story::minutes;
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
        <Sheet node title="The day">
            {when(has_day, move || view! {
                <WhichDay shooting=light.shooting() chosen=move |()| light.start_over() />
                <DayFields light />
            }.into_any())}
            <p>
                <button type="button" class:next=move || !has_day() on:click=add>
                    {live(move || if has_day() { "Add another day" } else { "Add a day" }.to_owned())}
                </button>
            </p>
        </Sheet>
    }
}

/// What can be said of the day that is looked at.
#[component]
fn DayFields(light: LightDesk) -> impl IntoView {
    let day = light.shooting().day;
    let read = move |read: fn(&ShootingDay) -> String| {
        live(move || day.with(|day| day.as_ref().map(read)).unwrap_or_default())
    };
    let change = move |what: &str, change: &dyn Fn(&mut ShootingDay)| light.shooting().alter(what, change);
    let refused = RwSignal::new(String::new());
    let set_hours = move |from: Option<u16>, to: Option<u16>| {
        let Some(before) = day.with_untracked(|day| day.as_ref().map(|day| day.hours)) else { return };
        let (from, to) = (from.unwrap_or(before.from_min()), to.unwrap_or(before.to_min()));
        match Hours::new(from, to) {
            Some(hours) => {
                refused.set(String::new());
                change("Change the day's hours", &|day| day.hours = hours);
            }
            None => refused.set(
                "The wrap comes after the call, on the same day: change the other one first.".to_owned(),
            ),
        }
    };
    view! {
        <div class="light-hours" role="group" aria-label="Hours of the day">
            <label class="field">
                <span>"Call"</span>
                <input
                    type="time"
                    prop:value=read(|day| shown(day.hours.from_min()))
                    on:change:target=move |event| set_hours(minutes(&event.target().value()), None)
                />
            </label>
            <label class="field">
                <span>"Wrap"</span>
                <input
                    type="time"
                    prop:value=read(|day| shown(day.hours.to_min()))
                    on:change:target=move |event| {
                        // Midnight is where a day ends, not where it starts.
                        let to = minutes(&event.target().value()).map(|to| if to == 0 { 24 * 60 } else { to });
                        set_hours(None, to);
                    }
                />
            </label>
        </div>
        {when(move || !refused.with(String::is_empty), move || view! {
            <p class="problem" role="alert">{live(move || refused.get())}</p>
        }.into_any())}
        <Choices
            legend="Weather that is counted on"
            choices=[Weather::Clear, Weather::Overcast, Weather::Fog, Weather::Rain].map(|weather| Choice::new(weather, weather.name()))
            chosen=Signal::derive(move || light.planned_weather())
            choose=move |weather: Weather| {
                change("Change the day's weather", &|day| day.weather = weather);
                light.try_weather(weather);
            }
        />
    }
}

fn shown(minutes: u16) -> String {
    film::clock(f64::from(minutes))
}
