//! The day as a table: what happens when, and every full hour; the same as the bar shows, to be read.

use film::{DaySpan, DayTimes, Daylight, clock};
use language::say;
use leptos::prelude::*;
use optics::Weather;

use super::hours::Hours;
use super::readout::Sky;
use crate::light::explanations::HAPPENS;
use crate::light::light_desk::LightDesk;
use crate::widgets::{label_and_text, when};

/// One row: when, what happens, and the sky then.
#[derive(Debug, Clone, PartialEq)]
struct Row {
    minute: f64,
    what: &'static str,
    sky: Sky,
}

/// The table, folded.
#[component]
pub(super) fn DayTable(light: LightDesk, hours: Memo<Option<Hours>>) -> impl IntoView {
    let is_open = RwSignal::new(false);
    let rows = Memo::new(move |_| {
        let weather = light.weather();
        light.of_daylight(|day| Some(rows(day, hours.get()?, weather))).flatten().unwrap_or_default()
    });
    let body = move || {
        let row = |Row { minute, what, sky }: Row| {
            let Sky { sun, height, shadow: _, in_sun, in_shade } = sky;
            view! {
                <tr>
                    <th scope="row">{clock(minute)}</th>
                    <td>{what}</td>
                    <td>{format!("{sun}, {height}")}</td>
                    <td>{in_sun}</td>
                    <td>{in_shade}</td>
                </tr>
            }
        };
        rows.get().into_iter().map(row).collect_view()
    };
    view! {
        <details class="fold" on:toggle:target=move |event| is_open.set(event.target().open())>
            <summary>{say!("The day as a table")}</summary>
            {when(move || is_open.get(), move || {
                let (happens, explanation) = label_and_text(say!("What happens").into(), &HAPPENS);
                view! {
                <div class="light-table" role="region" aria-label=say!("The day as a table") tabindex="0">
                    <table>
                        <thead>
                            <tr>
                                <th scope="col">{say!("Time")}</th>
                                <th scope="col">{happens}</th>
                                <th scope="col">{say!("Sun")}</th>
                                <th scope="col">{say!("In the sun")}</th>
                                <th scope="col">{say!("In shade")}</th>
                            </tr>
                        </thead>
                        <tbody>{body}</tbody>
                    </table>
                </div>
                {explanation}
                }.into_any()
            })}
        </details>
    }
}

/// What happens on a day, and its full hours, in order.
fn rows(day: &Daylight, hours: Hours, weather: Weather) -> Vec<Row> {
    let DayTimes { civil_dawn_min, sunrise_min, noon_min, sunset_min, civil_dusk_min, .. } = *day.times();
    let (morning, evening) = (day.times().morning, day.times().evening);
    let starts = |span: Option<DaySpan>| span.map(|span| span.from_min);
    let ends = |span: Option<DaySpan>| span.map(|span| span.to_min);
    let events = [
        (civil_dawn_min, say!("first light")),
        (sunrise_min, say!("sunrise over a level horizon")),
        (starts(morning), say!("the sun comes over what stands around")),
        (ends(morning), say!("the sun is no longer low")),
        (noon_min, say!("noon")),
        (starts(evening), say!("the sun is low again")),
        (ends(evening), say!("the sun drops behind what stands around")),
        (sunset_min, say!("sunset over a level horizon")),
        (civil_dusk_min, say!("last light")),
    ];
    let events = events.into_iter().filter_map(|(minute, what)| Some((minute?, what)));
    let mut rows: Vec<(f64, &str)> = events.chain(hours.full_hours().map(|hour| (hour, ""))).collect();
    rows.sort_by(|one, other| one.0.total_cmp(&other.0));
    rows.into_iter().map(|(minute, what)| Row { minute, what, sky: Sky::of(day, minute, weather) }).collect()
}
