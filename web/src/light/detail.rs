//! The chosen setup: how to set it step by step, what is found, when its light holds, and its figures.

use std::sync::Arc;

use film::{CameraApp, Command, FilmFacts, Finding, LightFigure, SafeShutter};
use language::{say, text};
use leptos::prelude::*;

use super::explanations::{HOLDS, SAFE, of_figure};
use super::floor::FloorPlan;
use super::light_desk::LightDesk;
use super::words;
use crate::story::open_in_setup;
use crate::story::words::{capital, sentence_of};
use crate::widgets::{explained, explained_heading, finding_card, live, when};

/// The rule that finds lamps that flicker.
const FLICKER: &str = "flicker";

/// The detail.
#[component]
pub(super) fn Detail(light: LightDesk) -> impl IntoView {
    let title = live(move || {
        let shot = light.chosen().get();
        light
            .desk()
            .film
            .with(|film| {
                let film = film.as_ref()?;
                Some(say!("Shot {}", words::shot(film, film.shot(shot?)?.1)))
            })
            .unwrap_or_default()
    });
    let holds = live(move || {
        light
            .lit()
            .with(|lit| lit.as_ref().map(|lit| words::wanted(lit.wanted.as_deref())))
            .unwrap_or_default()
    });
    let how_much = live(move || {
        let words = light.lit().with(|lit| Some(lit.as_ref()?.light.as_ref()?.light.words()));
        words.map_or_else(String::new, |words| say!("Light: {words}."))
    });
    let set_up = move |_| {
        if let Some(shot) = light.chosen().get_untracked() {
            open_in_setup(light.session(), light.desk(), shot);
        }
    };
    let caution = Memo::new(move |_| light.lit().with(|lit| lit.as_ref()?.sun?.caution()));
    view! {
        <section class="light-detail" aria-label=say!("The chosen setup")>
            <header class="light-detail-head">
                <h2>{title}</h2>
                <button type="button" on:click=set_up>{say!("Set it up")}</button>
            </header>
            <p class="quiet">{how_much}</p>
            <ul class="findings">
                {move || caution.get().map(|words| view! { <li class="caution"><p>{words}</p></li> })}
                {found(light)}
            </ul>
            <div class="light-detail-parts">
                <HowTo light />
                <FloorPlan light />
            </div>
            {when(move || !holds.with(String::is_empty), move || view! { <div>{explained(holds, &HOLDS)}</div> }.into_any())}
            <SafeShutters light />
            <Figures light />
        </section>
    }
}

/// What is found on its light, each with what would mend it.
fn found(light: LightDesk) -> impl IntoView {
    let found = Memo::new(move |_| {
        light.lit().with(|lit| {
            let light = lit.as_ref().and_then(|lit| lit.light.as_ref());
            light.map(|light| light.findings.iter().map(film::LightFinding::to_finding).collect::<Vec<_>>())
        })
    });
    let steady = Memo::new(move |_| {
        light.lit().with(|lit| {
            let light_of_setup = lit.as_ref()?.light.as_ref()?;
            light.desk().film.with(|film| light_of_setup.against_flicker(film.as_ref()?))
        })
    });
    move || {
        let found = found.get().unwrap_or_default();
        let card = |finding: &Finding| {
            let steady = steady.get().filter(|_| finding.rule == FLICKER);
            finding_card(finding, steady.map(|shutter| steady_button(light, shutter)))
        };
        found.iter().map(card).collect_view()
    }
}

/// What gives the whole film a shutter under which lamps do not flicker.
fn steady_button(light: LightDesk, shutter: SafeShutter) -> AnyView {
    let set = move |_| {
        let facts =
            light.desk().film.with_untracked(|film| film.as_ref().map(|film| Arc::clone(&film.facts)));
        if let Some(facts) = facts {
            let facts = FilmFacts { shutter: shutter.angle, ..FilmFacts::clone(&facts) };
            let command = Command::SetFacts(Arc::new(facts));
            light.tell(light.desk().change(say!("Change the shutter"), None, command));
            light.desk().end_gesture();
        }
    };
    view! {
        <button type="button" on:click=set>
            {say!("Set the film's shutter to {}", shutter.time_words())}
        </button>
    }
    .into_any()
}

/// What to do to the phone, in order.
#[component]
fn HowTo(light: LightDesk) -> impl IntoView {
    let told = Memo::new(move |_| {
        light.lit().with(|lit| {
            let light = lit.as_ref()?.light.as_ref()?;
            Some((light.app, light.how_to_set.steps.clone()))
        })
    });
    let app = live(move || {
        told.with(|told| told.as_ref().map(|(app, _)| app_words(*app))).unwrap_or_default().to_owned()
    });
    let steps = move || {
        let steps = told.get().map(|(_, steps)| steps).unwrap_or_default();
        steps.into_iter().map(|step| view! { <li>{sentence_of(&step)}</li> }).collect_view()
    };
    view! {
        <div class="light-how">
            <h3>{say!("How to set it")}</h3>
            <p class="quiet">{app}</p>
            <ol>{steps}</ol>
        </div>
    }
}

/// What the kit's camera app allows, and where that is said.
fn app_words(app: CameraApp) -> &'static str {
    match app {
        CameraApp::FullManual => say!("The kit's camera app sets everything by hand."),
        CameraApp::LockOnly => say!("The kit's camera app locks focus and exposure, and no more."),
        CameraApp::Nothing => say!("The kit's camera app decides by itself."),
    }
}

/// The shutters under which lamps do not flicker; nothing without lamps.
#[component]
fn SafeShutters(light: LightDesk) -> impl IntoView {
    let safe = Memo::new(move |_| {
        light.lit().with(|lit| {
            let light = lit.as_ref()?.light.as_ref()?;
            Some(light.safe_shutters.iter().map(SafeShutter::words).collect::<Vec<_>>())
        })
    });
    let items = move || {
        safe.get().unwrap_or_default().into_iter().map(|words| view! { <li>{words}</li> }).collect_view()
    };
    when(
        move || safe.with(|safe| safe.as_ref().is_some_and(|safe| !safe.is_empty())),
        move || {
            view! {
                <div class="light-safe">
                    {explained_heading(say!("Safe under lamps"), &SAFE)}
                    <ul>{items}</ul>
                </div>
            }
            .into_any()
        },
    )
}

/// Its figures, folded: what moves among them.
#[component]
fn Figures(light: LightDesk) -> impl IntoView {
    let is_open = RwSignal::new(false);
    let figures = Memo::new(move |_| {
        light
            .lit()
            .with(|lit| lit.as_ref().and_then(|lit| lit.light.as_ref()).map(film::ShotLight::figures))
            .unwrap_or_default()
    });
    let rows = move || {
        let row = |LightFigure { label, value, unit }: LightFigure| {
            let value = if unit.is_empty() { value } else { format!("{value} {unit}") };
            let name = capital(text(label));
            let label = match of_figure(label) {
                Some(of) => explained(name, of),
                None => name.into_any(),
            };
            view! {
                <div>
                    <dt>{label}</dt>
                    <dd>{value}</dd>
                </div>
            }
        };
        figures.get().into_iter().map(row).collect_view()
    };
    view! {
        <details class="fold" on:toggle:target=move |event| is_open.set(event.target().open())>
            <summary>{say!("Figures of light and movement")}</summary>
            {when(move || is_open.get(), move || view! { <dl class="light-figures">{rows}</dl> }.into_any())}
        </details>
    }
}
