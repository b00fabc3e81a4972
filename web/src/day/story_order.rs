//! The order beside the story's: what that would cost, a look at it, and whether there can be a better one.

use film::{DayPlan, Film, clock};
use language::say;
use leptos::prelude::*;

use super::explanations::COSTS;
use super::hand::Hand;
use super::words;
use crate::story::words::capital;
use crate::widgets::{label_and_text, live, when};

/// The comparison.
#[component]
pub(super) fn StoryOrder(hand: Hand) -> impl IntoView {
    let has_order = Memo::new(move |_| hand.read(|_, _, plan| plan.order.placed.len() > 1).unwrap_or(false));
    let compared = live(move || {
        hand.read(|_, _, plan| words::in_story_order(&plan.order, &plan.story_order)).unwrap_or_default()
    });
    let found = live(move || hand.read(|_, _, plan| words::how_found(plan)).unwrap_or_default());
    let costs = live(move || {
        hand.read(|_, _, plan| {
            let costs = &plan.order.costs;
            let waits = words::span(costs.waits_min);
            say!("This order changes for {} and waits for {waits}.", words::span(costs.changes_min))
        })
        .unwrap_or_default()
    });
    let lines = move || {
        let lines = hand.read(|film, _, plan| lines(film, plan)).unwrap_or_default();
        lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()
    };
    when(
        move || has_order.get(),
        move || {
            let (label, explanation) = label_and_text(say!("Beside story order").into(), &COSTS);
            view! {
                <section class="day-part" aria-label=say!("Beside story order")>
                    <h3>{label}</h3>
                    {explanation}
                    <p>{compared}</p>
                    <p class="quiet">{costs}" "{found}</p>
                    <details class="fold">
                        <summary>{say!("Look at story order")}</summary>
                        <ol class="day-story-order">{lines}</ol>
                    </details>
                </section>
            }
            .into_any()
        },
    )
}

/// The story's order, line by line, with what it misses at the end.
fn lines(film: &Film, plan: &DayPlan) -> Vec<String> {
    let order = &plan.story_order;
    let name = |job: usize| plan.setup(job).map(|setup| words::shot(film, setup.shot.id)).unwrap_or_default();
    let placed =
        order.placed.iter().map(|placed| format!("{} {}", clock(placed.starts_min), name(placed.job)));
    let ends = (!order.placed.is_empty()).then(|| say!("{} done", clock(order.ends_min)));
    let missed = order.missed.iter().map(|missed| {
        let why = missed.why.words(|who| film.name_of(who).to_owned());
        say!("{}: not shot, {why}", capital(&name(missed.job)))
    });
    placed.chain(ends).chain(missed).collect()
}
