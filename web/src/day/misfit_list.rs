//! What does not fit on the day or will not match in the cut, each with why and what would do.

use film::{Finding, SunJump};
use language::say;
use leptos::prelude::*;

use super::hand::Hand;
use super::ways::{Act, Misfit, misfits, unmade};
use crate::story::words::capital;
use crate::widgets::{finding_card, when};

/// What does not fit, what cannot be made, and where the sun jumps in a cut.
#[component]
pub(super) fn Misfits(hand: Hand) -> impl IntoView {
    let unit = Signal::derive(move || hand.session().unit());
    let left_out = Memo::new(move |_| hand.read(misfits).unwrap_or_default());
    let cannot = Memo::new(move |_| {
        let unit = unit.get();
        hand.read(|film, _, plan| unmade(film, plan, unit)).unwrap_or_default()
    });
    view! {
        {part(hand, say!("What does not fit"), "day-misfits", left_out)}
        {part(hand, say!("What cannot be made yet"), "day-unmade", cannot)}
        {sun_jumps(hand)}
    }
}

/// The scenes in whose cut the sun would jump, as the order has them.
fn sun_jumps(hand: Hand) -> AnyView {
    let jumps: Memo<Vec<Finding>> = Memo::new(move |_| {
        let daylights = hand.shooting().daylights.get();
        let jumps = hand.read(|film, day, plan| {
            let jumps = film.scenes.iter().filter_map(|scene| SunJump::of(scene, day, &daylights, plan));
            jumps.map(|jump| jump.to_finding(film)).collect()
        });
        jumps.unwrap_or_default()
    });
    when(
        move || jumps.with(|jumps| !jumps.is_empty()),
        move || {
            let cards =
                move || jumps.with(|jumps| jumps.iter().map(|jump| finding_card(jump, None)).collect_view());
            view! {
                <section class="day-part" aria-labelledby="day-sun-jumps">
                    <h3 id="day-sun-jumps">{say!("What will not match in the cut")}</h3>
                    <ul class="findings">{cards}</ul>
                </section>
            }
            .into_any()
        },
    )
}

fn part(hand: Hand, title: &'static str, id: &'static str, these: Memo<Vec<Misfit>>) -> AnyView {
    when(
        move || these.with(|these| !these.is_empty()),
        move || {
            let cards = move || these.get().into_iter().map(|one| card(hand, one)).collect_view();
            view! {
                <section class="day-part" aria-labelledby=id>
                    <h3 id=id>{title}</h3>
                    <ul class="day-misfit-list">{cards}</ul>
                </section>
            }
            .into_any()
        },
    )
}

fn card(hand: Hand, misfit: Misfit) -> impl IntoView {
    let Misfit { what, why, is_must_have, ways, .. } = misfit;
    let ways = ways.into_iter().map(|way| {
        let button = way.act.map(|Act { name, does }| {
            let label = name.clone();
            view! { <button type="button" on:click=move |_| hand.act(&name, &does)>{label}</button> }
        });
        view! { <li class="day-way"><p>{way.words}</p>{button}</li> }
    });
    view! {
        <li class="day-misfit" class:fails=is_must_have>
            <p>
                <strong>{capital(&what)}</strong>
                {if is_must_have { say!(", must have") } else { say!(", nice to have") }}
            </p>
            <p class=if is_must_have { "problem" } else { "" }>{capital(&why)}"."</p>
            <ul class="day-ways">{ways.collect_view()}</ul>
        </li>
    }
}
