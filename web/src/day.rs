//! Day: the order of work, from the call to the wrap.
//!
//! Nothing here finds an order: the film's own `DayPlan` does, and this shows it. Whatever is changed is a day in the place
//! of another, one command each.

mod as_planned;
mod chips;
mod detail;
mod doing;
mod drag;
mod hand;
mod late;
mod light_note;
mod misfit_list;
mod order;
mod pins;
mod setup_row;
mod story_order;
mod timeline;
mod ways;
mod words;

use leptos::prelude::*;

use crate::films::{Desk, Saving};
use crate::pictures::Pictures;
use crate::session::Session;
use crate::shooting::Shooting;
use crate::story::{Problems, Start, UndoRedo, keep_in_step};
use crate::widgets::{live, when};
use hand::Hand;

/// From this width on there are two columns, as in the styles.
const WIDE: &str = "(min-width: 1024px)";

/// The Day screen.
#[component]
pub(crate) fn DayScreen(session: Session) -> impl IntoView {
    Pictures::provide();
    let desk = Desk::here();
    let shooting = Shooting::open(desk);
    keep_in_step(session);
    let has_film = Memo::new(move |_| desk.film.with(Option::is_some));
    let has_day = Memo::new(move |_| shooting.day.with(Option::is_some));
    view! {
        <link rel="stylesheet" href="story/story.css" />
        <link rel="stylesheet" href="day/day.css" />
        {move || match (has_film.get(), has_day.get()) {
            (false, _) => view! { <div class="story"><Start session desk /></div> }.into_any(),
            (true, false) => view! { <NoDay desk shooting /> }.into_any(),
            (true, true) => view! { <DayPage session desk shooting /> }.into_any(),
        }}
    }
}

/// A film that has no day yet.
#[component]
fn NoDay(desk: Desk, shooting: Shooting) -> impl IntoView {
    let add = move |_| {
        shooting.add_day();
    };
    view! {
        <div class="day">
            <h1 class="sentence">"This film has no day of shooting yet."</h1>
            <p>"A day puts the film's setups in the order in which the work goes fastest, and says why each is where it is."</p>
            <p class="day-buttons">
                <button type="button" class="next" on:click=add>"Plan a day"</button>
                <UndoRedo desk />
            </p>
            {problems(desk)}
        </div>
    }
}

fn problems(desk: Desk) -> AnyView {
    when(move || !desk.problems.with(Vec::is_empty), move || view! { <Problems desk /> }.into_any())
}

/// Whether there is room for two columns.
fn is_wide() -> Signal<bool> {
    let look = || window().match_media(WIDE).ok().flatten().is_some_and(|media| media.matches());
    let is_wide = RwSignal::new(look());
    let listening = window_event_listener_untyped("resize", move |_| {
        let now = look();
        if is_wide.try_get_untracked().is_some_and(|before| before != now) {
            is_wide.set(now);
        }
    });
    on_cleanup(move || listening.remove());
    is_wide.into()
}

/// A day of the film.
#[component]
fn DayPage(session: Session, desk: Desk, shooting: Shooting) -> impl IntoView {
    let hand = Hand::new(session, desk, shooting, is_wide());
    let page = move || {
        if hand.is_wide.get() {
            view! {
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
            .into_any()
        } else {
            view! {
                <chips::Chips hand />
                <late::Late hand />
                <order::OrderList hand />
                <misfit_list::Misfits hand />
                <story_order::StoryOrder hand />
            }
            .into_any()
        }
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
    let saving = live(move || match desk.saving.get() {
        Saving::Saved => "Saved on this device".to_owned(),
        Saving::Saving => "Saving".to_owned(),
        Saving::NotKept(why) => why,
    });
    view! {
        <header class="day-head">
            <h1 class="sentence" aria-live="polite">
                {sentence}
                {move || left_out.get().map(|(words, fails)| {
                    view! { " "<span class="day-left-out" class:fails=fails>{words}</span> }
                })}
            </h1>
            <div class="day-tools" role="toolbar" aria-label="The film">
                <UndoRedo desk />
                <span class="quiet" role="status">{saving}</span>
            </div>
            <light_note::LightNote hand />
            {problems(desk)}
        </header>
    }
}
