//! What the sky gives at the minute under the hand.

use film::{Daylight, clock};
use language::say;
use leptos::prelude::*;
use optics::Weather;

use crate::light::explanations::{HEIGHT, IN_SHADE, IN_SUN, SHADOW, SUN};
use crate::light::light_desk::LightDesk;
use crate::light::words::{shadow_times, wind};
use crate::widgets::{Explanation, explained, live};

/// What the sky gives at one minute, as it is told.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sky {
    /// Where the sun is, or that it is not up.
    pub(super) sun: String,
    /// How high.
    pub(super) height: String,
    /// How long shadows are; empty without any.
    pub(super) shadow: String,
    /// The light in the sun; empty where it does not shine.
    pub(super) in_sun: String,
    /// The light in open shade.
    pub(super) in_shade: String,
}

impl Sky {
    pub(super) fn of(daylight: &Daylight, minute: f64, weather: Weather) -> Self {
        let sun = daylight.sun_at(minute);
        let light = daylight.light_at(minute, weather);
        let degrees = sun.apparent_elevation.to_deg();
        let way = format!("{}, {:.0}°", wind(sun.azimuth), sun.azimuth.to_deg());
        let shadow = shadow_times(sun.azimuth, sun.apparent_elevation).filter(|_| light.in_sun.is_some());
        Self {
            sun: if degrees > 0.0 && !sun.shines { say!("{way}, hidden") } else { way },
            height: if degrees < 0.0 {
                say!(in "the sun's height", "{:.0}° down", -degrees)
            } else {
                say!("{degrees:.0}° up")
            },
            shadow: shadow.map_or_else(String::new, |times| {
                if times >= 100.0 { say!("over 100 times").to_owned() } else { say!("{times:.1} times") }
            }),
            in_sun: light.in_sun.map_or_else(String::new, |light| say!("{:.1}", light.exposure_value())),
            in_shade: say!("{:.1}", light.in_shade.exposure_value()),
        }
    }
}

fn sky(light: LightDesk) -> Option<Sky> {
    light.of_daylight(|day| Sky::of(day, light.minute().get(), light.weather()))
}

/// What is under the hand, in words.
pub(super) fn words(light: LightDesk) -> String {
    let time = clock(light.minute().get());
    let Some(Sky { sun, height, shadow, in_sun, in_shade }) = sky(light) else { return time };
    let shadow =
        if shadow.is_empty() { String::new() } else { say!(", shadows {shadow} as long as people are tall") };
    let in_sun = if in_sun.is_empty() { String::new() } else { say!("{in_sun} in the sun, ") };
    say!("{time}: sun {sun}, {height}{shadow}; {in_sun}{in_shade} in shade")
}

/// The figures under the bar.
#[component]
pub(super) fn Readout(light: LightDesk) -> impl IntoView {
    let shown = Memo::new(move |_| sky(light));
    let figure = move |label: &'static str, of: &'static Explanation, read: fn(&Sky) -> String| {
        let value = live(move || {
            let value = shown.with(|sky| sky.as_ref().map(read)).unwrap_or_default();
            if value.is_empty() { "–".to_owned() } else { value }
        });
        view! {
            <div>
                <dt>{explained(label, of)}</dt>
                <dd>{value}</dd>
            </div>
        }
    };
    view! {
        <dl class="light-readout">
            <div>
                <dt>{say!("Time")}</dt>
                <dd>{live(move || clock(light.minute().get()))}</dd>
            </div>
            <Show when=move || shown.with(Option::is_some)>
                {figure(say!("Sun"), &SUN, |sky| sky.sun.clone())}
                {figure(say!("Height"), &HEIGHT, |sky| sky.height.clone())}
                {figure(say!("Shadow"), &SHADOW, |sky| sky.shadow.clone())}
                {figure(say!("In the sun"), &IN_SUN, |sky| sky.in_sun.clone())}
                {figure(say!("In shade"), &IN_SHADE, |sky| sky.in_shade.clone())}
            </Show>
        </dl>
    }
}
