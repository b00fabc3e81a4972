//! On the set: the setup that is shot now, large, for one thumb outdoors; its takes, and what becomes of it.

mod agreed;
mod awake;
mod card;
mod fate;
mod keep_same;
mod left;
mod ready;
mod slate;
mod takes;

use film::ShotId;
use language::say;
use leptos::prelude::*;

use super::clock::clock;
use super::hand::Hand;
use super::setup_row::Picture;
use super::words;
use crate::light::{HOLDS, LEFT_OVER};
use crate::story::words::capital;
use crate::widgets::{explained, live, when};
use card::Card;

pub(super) use agreed::EverybodyAgreed;

/// The setup that is shot now, and its neighbours in the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Now {
    shot: Option<ShotId>,
    before: Option<ShotId>,
    after: Option<ShotId>,
    /// Its place among what is left, counted from 1; none if it is not among it.
    at: Option<usize>,
    left: usize,
    /// Whether it is in the can.
    is_done: bool,
}

impl Now {
    /// The chosen one if it is of the day, else the next one.
    fn of(
        order: &[ShotId],
        done: &[ShotId],
        of_day: impl Fn(ShotId) -> bool,
        chosen: Option<ShotId>,
    ) -> Self {
        let shot = chosen.filter(|shot| of_day(*shot)).or_else(|| order.first().copied());
        let at = shot.and_then(|shot| order.iter().position(|one| *one == shot));
        let beside = |at: Option<usize>| at.and_then(|at| order.get(at)).copied();
        Self {
            shot,
            before: beside(at.and_then(|at| at.checked_sub(1))),
            after: at.map_or_else(|| beside(Some(0)), |at| beside(Some(at + 1))),
            at: at.map(|at| at + 1),
            left: order.len(),
            is_done: shot.is_some_and(|shot| done.contains(&shot)),
        }
    }
}

/// The view.
#[component]
pub(super) fn OnSet(hand: Hand) -> impl IntoView {
    awake::keep_awake();
    let now = Memo::new(move |_| {
        let chosen = hand.chosen.get();
        hand.read(|film, day, plan| {
            let order: Vec<ShotId> = plan.shots_in_order().collect();
            let of_day = day.shots_of(film);
            Now::of(&order, &day.done, |shot| of_day.iter().any(|(_, one)| one.id == shot), chosen)
        })
        .unwrap_or_default()
    });
    // A film's copy has the same shots, but not what was ticked and photographed for them.
    let shown = Memo::new(move |_| {
        hand.desk.film.track();
        (hand.desk.open_film(), now.get().shot)
    });
    let one = move || match shown.get().1 {
        Some(shot) => view! { <OneSetup hand shot /> }.into_any(),
        None => view! { <p class="set-over">{say!("Nothing is left of this day.")}</p> }.into_any(),
    };
    view! {
        <section class="set" aria-label=say!("The setup that is shot now")>
            <Where hand now />
            {one}
        </section>
    }
}

/// Which setup of how many, how much light is left, and the way to its neighbours.
#[component]
fn Where(hand: Hand, now: Memo<Now>) -> impl IntoView {
    let place = live(move || match now.get() {
        Now { is_done: true, left, .. } => {
            format!("{}, {}", say!("In the can"), say!("{} left", words::setups(left)))
        }
        Now { at: Some(1), left, .. } => say!("Next of {left} left"),
        Now { at: Some(at), left, .. } => say!("{at} of {left} left"),
        Now { left, .. } => say!("{} left", words::setups(left)),
    });
    let clock = clock();
    let light = live(move || {
        let at = clock.get();
        now.get().shot.and_then(|shot| left::told(hand, shot, &at)).unwrap_or_default()
    });
    let go = move |to: fn(Now) -> Option<ShotId>| {
        if let Some(to) = to(now.get_untracked()) {
            hand.chosen.set(Some(to));
        }
    };
    view! {
        <div class="set-where">
            <button type="button" disabled=move || now.get().before.is_none() on:click=move |_| go(|now| now.before)>
                {say!("Before")}
            </button>
            <div class="set-where-told">
                <p><strong>{place}</strong></p>
                {when(move || !light.with(String::is_empty), move || explained(light, &HOLDS))}
            </div>
            <button type="button" disabled=move || now.get().after.is_none() on:click=move |_| go(|now| now.after)>
                {say!("After")}
            </button>
        </div>
    }
}

/// One setup.
#[component]
fn OneSetup(hand: Hand, shot: ShotId) -> impl IntoView {
    let card = Memo::new(move |_| card::card(hand, shot).unwrap_or_default());
    let title = live(move || hand.read(|film, _, _| capital(&words::shot(film, shot))).unwrap_or_default());
    let text = move |read: fn(&Card) -> &str| live(move || card.with(|card| read(card).to_owned()));
    let lines = move |read: fn(&Card) -> &[String], class: &'static str| {
        let lines = card.with(|card| read(card).to_vec());
        lines.into_iter().map(|line| view! { <li class=class>{line}</li> }).collect_view()
    };
    let has = move |read: fn(&Card) -> &[String]| card.with(|card| !read(card).is_empty());
    let happening = move || {
        let told = card.with(|card| card.happening.clone());
        let row = |(label, words)| view! { <div><dt>{label}</dt><dd>{words}</dd></div> };
        told.into_iter().map(row).collect_view()
    };
    view! {
        <h2 class="set-title">{title}</h2>
        <p class="set-when">{text(|card| &card.when)}</p>
        <Picture hand shot />
        <p class="set-sentence">{text(|card| &card.sentence)}</p>
        {when(move || card.with(|card| !card.light.is_empty()), move || {
            view! { <div class="set-light">{explained(text(|card| &card.light), &LEFT_OVER)}</div> }.into_any()
        })}
        {when(move || has(|card| &card.spoils) || has(|card| &card.cautions), move || view! {
            <section class="set-cautions" aria-label=say!("Look out")>
                <h3>{say!("Look out")}</h3>
                <ul>
                    {move || lines(|card| &card.spoils, "spoils")}
                    {move || lines(|card| &card.cautions, "")}
                </ul>
                {when(move || has(|card| &card.cautions), || view! {
                    <p>{language::text(film::WHO_DECIDES)}</p>
                }.into_any())}
            </section>
        }.into_any())}
        {when(move || has(|card| &card.warnings), move || view! {
            <section class="set-warnings" aria-label=say!("To know")>
                <h3>{say!("To know")}</h3>
                <ul>{move || lines(|card| &card.warnings, "")}</ul>
            </section>
        }.into_any())}
        <dl class="set-happening">{happening}</dl>
        <ready::Ready hand shot card />
        <takes::Takes hand shot />
        <keep_same::KeepSame hand shot />
        <agreed::AgreedHere hand shot />
        <fate::Fate hand shot />
        <takes::LogBar hand shot />
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shots(numbers: &[u64]) -> Vec<ShotId> {
        numbers.iter().map(|number| ShotId::new(*number).expect("an id")).collect()
    }

    #[test]
    fn the_next_setup_is_shown_until_another_is_chosen() {
        let order = shots(&[4, 2, 9]);
        let now = Now::of(&order, &[], |_| true, None);
        assert_eq!((now.shot, now.before, now.after), (Some(order[0]), None, Some(order[1])));
        let now = Now::of(&order, &[], |_| true, Some(order[1]));
        assert_eq!((now.at, now.before, now.after), (Some(2), Some(order[0]), Some(order[2])));
    }

    #[test]
    fn one_that_is_done_leads_to_what_is_left_and_one_of_another_day_is_not_shown() {
        let (order, done) = (shots(&[4, 2]), shots(&[7])[0]);
        let now = Now::of(&order, &[done], |_| true, Some(done));
        assert_eq!((now.shot, now.at, now.after), (Some(done), None, Some(order[0])));
        assert!(now.is_done && !Now::of(&order, &[done], |_| true, None).is_done);
        assert_eq!(Now::of(&order, &[done], |shot| shot != done, Some(done)).shot, Some(order[0]));
        assert_eq!(Now::of(&[], &[], |_| true, None).shot, None);
    }
}
