//! When the weather turns: what it changes for every setup, what no longer matches, and what can still be told.

use film::{Severity, ShotLight, weather_change};
use language::{say, text};
use leptos::prelude::*;

use super::light_desk::LightDesk;
use crate::story::words::{capital, sentence_of};
use crate::widgets::{finding_class, live, when};

/// The notes, and the two ways on.
#[component]
pub(super) fn Turned(light: LightDesk) -> impl IntoView {
    let notes = Memo::new(move |_| notes(light).unwrap_or_default());
    let title = live(move || {
        say!("{} in place of {}", capital(text(light.weather().name())), text(light.planned_weather().name()))
    });
    let has_day = move || light.shooting().day.with(Option::is_some);
    let back = live(move || say!("Back to {}", text(light.planned_weather().name())));
    let keep = live(move || say!("Plan the day with {}", text(light.weather().name())));
    let items = move |are: fn(Severity) -> bool| {
        let item = |(severity, words): (Severity, String)| {
            view! { <li class=finding_class(severity)><p>{sentence_of(&words)}</p></li> }
        };
        notes.get().into_iter().filter(|(severity, _)| are(*severity)).map(item).collect_view()
    };
    let quiet = move || notes.with(|notes| notes.iter().filter(|(severity, _)| is_quiet(*severity)).count());
    view! {
        <section class="light-turned" aria-label=say!("If the weather turns")>
            <h2>{title}</h2>
            <div class="light-turned-ways">
                <button type="button" on:click=move |_| light.try_weather(untrack(|| light.planned_weather()))>{back}</button>
                <Show when=has_day>
                    <button type="button" class="next" on:click=move |_| light.keep_weather()>{keep}</button>
                </Show>
            </div>
            <ul class="findings">{move || items(|severity| !is_quiet(severity))}</ul>
            // The list has the new ND of each setup; what was planned and what still goes is one tap away.
            {when(move || quiet() > 0, move || view! {
                <details class="fold">
                    <summary>{live(move || say!("What changes, and what can still be told ({})", quiet()))}</summary>
                    <ul class="findings">{move || items(is_quiet)}</ul>
                </details>
            }.into_any())}
            <Show when=move || notes.with(Vec::is_empty)>
                <p class="quiet">{say!("Nothing changes: no setup of the day is lit by the sky.")}</p>
            </Show>
        </section>
    }
}

fn is_quiet(severity: Severity) -> bool {
    severity == Severity::Notes
}

/// What is to know, scene by scene, at the minutes that the list shows.
fn notes(light: LightDesk) -> Option<Vec<(Severity, String)>> {
    let (plan, day, now) = (light.plan().get()?, light.day().get()?, light.lights().get());
    let planned_day = film::ShootingDay { weather: light.planned_weather(), ..day.clone() };
    let daylights = light.shooting().daylights.get();
    light.desk().film.with(|film| {
        let film = film.as_ref()?;
        let mut notes = Vec::new();
        let lit: Vec<_> = plan.setups.iter().zip(now.iter()).collect();
        // Setups stand in story order, so those of a scene follow each other.
        for lit in lit.chunk_by(|(one, _), (other, _)| one.scene.id == other.scene.id) {
            let Some((first, _)) = lit.first() else { continue };
            let before = lit
                .iter()
                .filter_map(|(setup, lit)| setup.light_at(film, &planned_day, &daylights, lit.minute));
            let before: Vec<ShotLight> = before.collect();
            let after: Vec<ShotLight> = lit.iter().filter_map(|(_, lit)| lit.light.clone()).collect();
            let found = weather_change(&first.scene, &before, &after, &day.done);
            notes.extend(found.iter().map(|note| (note.severity(), note.words(film))));
        }
        Some(notes)
    })
}
