//! Day: the order of work, from the call to the wrap.
//!
//! Nothing here finds an order: the film's own `DayPlan` does, and this shows it. Whatever is changed is a day in the place
//! of another, one command each.

mod as_planned;
mod calendar;
mod chips;
mod clock;
mod detail;
mod doing;
mod drag;
mod explanations;
mod hand;
mod late;
mod light_note;
mod misfit_list;
mod on_set;
mod order;
mod paper;
mod pins;
mod setup_row;
mod story_order;
mod timeline;
mod ways;
mod words;

use std::cell::Cell;

use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::pictures::Pictures;
use crate::session::Session;
use crate::shooting::Shooting;
use crate::story::{Problems, Saved, Start, UndoRedo, keep_in_step};
use crate::widgets::{follow_width, live};
#[cfg(test)]
pub(crate) use explanations::EXPLANATIONS;
use hand::Hand;

/// The Day screen.
#[component]
pub(crate) fn DayScreen(session: Session) -> impl IntoView {
    Pictures::provide(session);
    let desk = Desk::here();
    let shooting = Shooting::open(desk);
    keep_in_step(session);
    let has_film = Memo::new(move |_| desk.film.with(Option::is_some));
    let has_day = Memo::new(move |_| shooting.day.with(Option::is_some));
    view! {
        <link rel="stylesheet" href="story/story.css" />
        <link rel="stylesheet" href="day/day.css" />
        <link rel="stylesheet" href="day/set.css" />
        <link rel="stylesheet" href="story/explained.css" />
        {move || match (has_film.get(), has_day.get()) {
            (false, _) => view! {
                <div class="story">
                    <p class="sentence">{what_a_day_is()}</p>
                    <Start session desk />
                </div>
            }
            .into_any(),
            (true, false) => view! { <NoDay desk shooting /> }.into_any(),
            (true, true) => view! { <DayPage session desk shooting /> }.into_any(),
        }}
    }
}

/// Which side of the day is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum View {
    /// The order of work.
    #[default]
    Plan,
    /// The setup that is shot now.
    Set,
    /// What is printed.
    Paper,
}

thread_local! {
    /// What was looked at last, for when the screen is opened again.
    static LAST_VIEW: Cell<View> = const { Cell::new(View::Plan) };
}

/// The three sides of the day.
#[component]
fn Views(hand: Hand) -> impl IntoView {
    let views =
        [(View::Plan, say!("Plan")), (View::Set, say!("On the set")), (View::Paper, say!("On paper"))];
    let button = |(view, name): (View, &'static str)| {
        let pressed = live(move || (hand.view.get() == view).to_string());
        let show = move |_| {
            LAST_VIEW.set(view);
            hand.view.set(view);
        };
        view! { <button type="button" aria-pressed=pressed on:click=show>{name}</button> }
    };
    view! {
        <div class="day-views" role="group" aria-label=say!("What is shown of the day")>
            {views.map(button).collect_view()}
        </div>
    }
}

/// What there is to see here once there is something to plan.
fn what_a_day_is() -> &'static str {
    say!(
        "A day puts the film's setups in the order in which the work goes fastest, and says why each is where \
          it is."
    )
}

/// A film that has no day yet.
#[component]
fn NoDay(desk: Desk, shooting: Shooting) -> impl IntoView {
    let add = move |_| {
        shooting.add_day();
    };
    view! {
        <div class="day">
            <h1 class="sentence">{say!("This film has no day of shooting yet.")}</h1>
            <p>{what_a_day_is()}</p>
            <p class="day-buttons">
                <button type="button" class="next" on:click=add>{say!("Plan a day")}</button>
                <UndoRedo desk />
            </p>
            <Problems desk />
        </div>
    }
}

/// A day of the film.
#[component]
fn DayPage(session: Session, desk: Desk, shooting: Shooting) -> impl IntoView {
    let hand = Hand::new(session, desk, shooting, follow_width());
    let page = move || match hand.view.get() {
        View::Set => view! { <on_set::OnSet hand /> }.into_any(),
        View::Paper => view! { <paper::Paper hand /> }.into_any(),
        View::Plan if hand.is_wide.get() => view! {
            <div class="day-columns">
                <div class="day-main-column"><order::OrderList hand /></div>
                <div class="day-side">
                    <chips::Chips hand />
                    <late::Late hand />
                    <misfit_list::Misfits hand />
                    <detail::Beside hand />
                    <story_order::StoryOrder hand />
                </div>
            </div>
        }
        .into_any(),
        View::Plan => view! {
            <chips::Chips hand />
            <late::Late hand />
            <order::OrderList hand />
            <misfit_list::Misfits hand />
            <story_order::StoryOrder hand />
        }
        .into_any(),
    };
    view! {
        <div class="day">
            <Head hand />
            {page}
        </div>
    }
}

/// The answer, and the ways back.
#[component]
fn Head(hand: Hand) -> impl IntoView {
    let desk = hand.desk;
    let sentence = live(move || hand.read(words::sentence).unwrap_or_default());
    let left_out = Memo::new(move |_| hand.read(|_, _, plan| words::left_out(plan)).flatten());
    view! {
        <header class="day-head">
            // On the set the setup itself is the answer.
            <h1 class="sentence" class:unseen=move || hand.view.get() == View::Set aria-live="polite">
                {sentence}
                {move || left_out.get().map(|(words, fails)| {
                    view! { " "<span class="day-left-out" class:fails=fails>{words}</span> }
                })}
            </h1>
            <div class="day-tools" role="toolbar" aria-label=say!("The film")>
                <UndoRedo desk />
                <Saved desk />
            </div>
            <Views hand />
            <light_note::LightNote hand />
            <Problems desk />
        </header>
    }
}
