//! The minutes in which light changes by stops: low sun and glow, with light, ND and ISO at their start, middle and end.

use film::{DaySpan, DayTimes, LightAt, clock};
use language::{key, say, text};
use leptos::prelude::*;

use super::explanations::LOW_SUN;
use super::light_desk::LightDesk;
use super::words;
use crate::story::words::sentence_of;
use crate::widgets::{label_and_text, when};

/// One stretch of a day, as it is told.
#[derive(Debug, Clone, PartialEq)]
struct Told {
    name: &'static str,
    hours: String,
    fall: String,
    moments: [Moment; 3],
}

/// Its start, its middle or its end.
#[derive(Debug, Clone, PartialEq)]
struct Moment {
    time: String,
    light: String,
    filters: String,
    iso: String,
}

/// Where a day has a stretch.
type OfDay = fn(&DayTimes) -> Option<DaySpan>;

/// What a stretch is called, and where a day has it.
const STRETCHES: [(&str, OfDay); 4] = [
    (key!("Glow of the morning"), |times| times.dawn_glow),
    (key!("Low sun of the morning"), |times| times.morning),
    (key!("Low sun of the evening"), |times| times.evening),
    (key!("Glow of the evening"), |times| times.afterglow),
];
/// Light that changes by less than this does not fall: chosen, as no app is set finer.
const LEAST_FALL: f64 = 0.05;

/// The stretches of the day.
#[component]
pub(super) fn LowSun(light: LightDesk) -> impl IntoView {
    let told = Memo::new(move |_| {
        STRETCHES.iter().filter_map(|(name, of)| tell(light, name, *of)).collect::<Vec<_>>()
    });
    let cards = move || told.get().into_iter().map(card).collect_view();
    when(
        move || told.with(|told| !told.is_empty()),
        move || {
            let (label, explanation) = label_and_text(say!("Low sun and glow").into(), &LOW_SUN);
            view! {
                <section class="light-low" aria-label=say!("Low sun and glow")>
                    <h2>{label}</h2>
                    {explanation}
                    <div class="light-low-cards" role="group" aria-label=say!("Stretches of the day") tabindex="0">{cards}</div>
                </section>
            }
            .into_any()
        },
    )
}

fn tell(light: LightDesk, name: &'static str, of: OfDay) -> Option<Told> {
    let weather = light.weather();
    let (span, course) = light.of_daylight(|day| {
        let span = of(day.times())?;
        Some((span, day.course(span, weather)))
    })??;
    let chosen = light.chosen().get();
    // Light is told of just inside the stretch, and the clock of its very ends.
    let moment = |(minute, shown_min): (f64, f64), at: LightAt| {
        // A setup inside, or under lamps that give more, does not follow the sky.
        let of_sky = |setup: &film::ShotLight| matches!(setup.light.from, film::LightSource::Sky { .. });
        let setup = chosen.and_then(|shot| light.light_at(shot, minute)).filter(of_sky);
        let iso = |setup: &film::ShotLight| setup.guess.map_or(setup.iso.set, |guess| guess.iso);
        Moment {
            time: clock(shown_min),
            light: say!("{:.1}", at.exposure_value()),
            filters: setup.as_ref().map_or_else(String::new, words::filters),
            iso: setup.as_ref().map_or_else(String::new, |setup| {
                iso(setup).to_string().trim_start_matches("ISO ").to_owned()
            }),
        }
    };
    let [start, middle, end] = span.moments();
    let (start, end) = ((start, span.from_min), (end, span.to_min));
    let fall = course.fall().to_f64();
    let fall = match fall {
        fall if fall.abs() < LEAST_FALL => say!("the light stays").to_owned(),
        fall if fall > 0.0 => say!("the light falls by {fall:.1} stops"),
        fall => say!("the light grows by {:.1} stops", -fall),
    };
    Some(Told {
        name: text(name),
        hours: words::hours(&[span]),
        fall,
        moments: [
            moment(start, course.start),
            moment((middle, middle), course.middle),
            moment(end, course.end),
        ],
    })
}

fn card(told: Told) -> impl IntoView {
    let Told { name, hours, fall, moments } = told;
    let has_setup = moments.iter().any(|moment| !moment.iso.is_empty());
    let row = |label: &'static str, read: fn(&Moment) -> &String| {
        let cells: Vec<_> = moments.iter().map(|moment| view! { <td>{read(moment).clone()}</td> }).collect();
        view! {
            <tr>
                <th scope="row">{label}</th>
                {cells}
            </tr>
        }
    };
    view! {
        <article class="light-low-card">
            <h3>{name}</h3>
            <p>{sentence_of(&format!("{hours}: {fall}"))}</p>
            <table>
                <thead>
                    <tr>
                        <td></td>
                        <th scope="col">{say!("Start")}</th>
                        <th scope="col">{say!("Middle")}</th>
                        <th scope="col">{say!("End")}</th>
                    </tr>
                </thead>
                <tbody>
                    {row(say!("Time"), |moment| &moment.time)}
                    {row(say!("Light"), |moment| &moment.light)}
                    {has_setup.then(|| view! { {row("ND", |moment| &moment.filters)} {row("ISO", |moment| &moment.iso)} })}
                </tbody>
            </table>
        </article>
    }
}
