//! A setup looked at closely: all reasons, who is needed, what happens, how the phone is set then, cautions.

use film::ShotId;
use language::say;
use leptos::prelude::*;

use super::explanations::TIMES;
use super::hand::Hand;
use super::setup_row::Picture;
use super::words;
use crate::story::open_in_setup;
use crate::story::words::capital;
use crate::widgets::{label_and_text, live, when};

/// What is told of a setup.
#[derive(Debug, Clone, PartialEq, Default)]
struct Told {
    when: String,
    reasons: Vec<String>,
    people: String,
    action: String,
    notes: String,
    /// What to do to the phone, in order.
    steps: Vec<String>,
    /// What to look out for.
    cautions: Vec<String>,
}

/// The rest of what there is to say of a setup.
#[component]
pub(super) fn Detail(hand: Hand, shot: ShotId) -> impl IntoView {
    let told = Memo::new(move |_| told(hand, shot).unwrap_or_default());
    let list = move |title: &'static str, read: fn(&Told) -> &Vec<String>| {
        when(
            move || told.with(|told| !read(told).is_empty()),
            move || {
                let lines = told.with(|told| read(told).clone());
                view! {
                    <h4>{title}</h4>
                    <ul>{lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
                }
                .into_any()
            },
        )
    };
    let line = move |title: &'static str, read: fn(&Told) -> &String| {
        when(
            move || told.with(|told| !read(told).is_empty()),
            move || {
                let text = told.with(|told| read(told).clone());
                view! { <p><span class="quiet">{title}" "</span>{text}</p> }.into_any()
            },
        )
    };
    view! {
        <div class="day-detail">
            {times(told)}
            {list(say!("Because"), |told| &told.reasons)}
            {line(say!("Who"), |told| &told.people)}
            {line(say!("What happens"), |told| &told.action)}
            {list(say!("The phone, then"), |told| &told.steps)}
            {list(say!("Look out"), |told| &told.cautions)}
            {line(say!("Notes"), |told| &told.notes)}
            <p>
                <button type="button" on:click=move |_| open_in_setup(hand.session(), hand.desk, shot)>
                    {say!("Set it up")}
                </button>
            </p>
        </div>
    }
}

/// When it is worked on, and how long that takes.
fn times(told: Memo<Told>) -> AnyView {
    when(
        move || told.with(|told| !told.when.is_empty()),
        move || {
            let (label, explanation) = label_and_text(say!("When").into(), &TIMES);
            let text = told.with(|told| told.when.clone());
            view! {
                <p><span class="quiet">{label}" "</span>{text}</p>
                {explanation}
            }
            .into_any()
        },
    )
}

fn told(hand: Hand, shot: ShotId) -> Option<Told> {
    let daylights = hand.shooting().daylights.get();
    hand.read(|film, day, plan| {
        let (placed, setup) = (plan.placed(shot)?, plan.setup_of(shot)?);
        let light = setup.light_at(film, day, &daylights, placed.starts_min);
        let person = |who| film.name_of(who).to_owned();
        let sun =
            setup.sun_at(&daylights, placed.starts_min).and_then(|sun| sun.caution()).map(str::to_owned);
        let found = light.iter().flat_map(|light| &light.findings).map(film::LightFinding::to_finding);
        let found = found.filter(|finding| finding.severity != film::Severity::Notes);
        let found = found.map(|finding| capital(&finding.message));
        Some(Told {
            when: say!(
                "{}, {} of rehearsal and takes",
                words::between(placed.starts_min, placed.ends_min),
                words::span(placed.ends_min - placed.starts_min)
            ),
            reasons: placed.reasons.iter().map(|reason| capital(&reason.words(person))).collect(),
            people: words::people(film, setup),
            action: setup.shot.action.clone(),
            notes: setup.shot.notes.clone(),
            steps: light.iter().flat_map(|light| &light.how_to_set.steps).map(|step| capital(step)).collect(),
            cautions: sun.into_iter().chain(found).collect(),
        })
    })
    .flatten()
}

/// The setup that is looked at, or the next one: beside the order, where there is room.
#[component]
pub(super) fn Beside(hand: Hand) -> impl IntoView {
    let looked_at = Memo::new(move |_| {
        let chosen = hand.chosen.get();
        hand.read(|_, _, plan| {
            chosen.filter(|chosen| plan.placed(*chosen).is_some()).or_else(|| plan.shots_in_order().next())
        })
        .flatten()
    });
    let one = move || {
        looked_at.get().map(|shot| {
            let title =
                live(move || hand.read(|film, _, _| capital(&words::shot(film, shot))).unwrap_or_default());
            view! {
                <section class="day-part day-close" aria-label=say!("The setup that is looked at")>
                    <h3>{title}</h3>
                    <Picture hand shot />
                    <Detail hand shot />
                </section>
            }
        })
    };
    view! { {one} }
}
