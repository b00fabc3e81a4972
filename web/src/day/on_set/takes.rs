//! The takes of a setup: logged with one tap, said more of at leisure.

use std::sync::Arc;

use film::{Command, LoggedTake, ShotId, TakeId, Verdict};
use language::say;
use leptos::prelude::*;

use super::slate::Slate;
use crate::day::clock::Clock;
use crate::day::hand::Hand;
use crate::widgets::{Choice, Choices, live, when};

/// Logs the next take of a shot, now.
pub(super) fn log(hand: Hand, shot: ShotId, verdict: Verdict) {
    let number = next(hand, shot);
    let id: TakeId = hand.desk.fresh();
    let at = js_sys::Date::new_0().to_iso_string();
    let at = String::from(at).parse().ok();
    let take = Arc::new(LoggedTake { verdict, at, ..LoggedTake::new(id, shot, number) });
    let name = say!("Log take {number} of {}", hand.number(shot));
    hand.tell(hand.desk.change(&name, None, Command::AddTake { at: usize::MAX, take }));
    hand.desk.end_gesture();
}

/// The number of a shot's next take.
fn next(hand: Hand, shot: ShotId) -> u32 {
    hand.desk.film.with_untracked(|film| film.as_ref().map_or(1, |film| film.next_take(shot)))
}

/// One take, as it is now.
fn take(hand: Hand, id: TakeId) -> Option<Arc<LoggedTake>> {
    hand.desk
        .film
        .with_untracked(|film| film.as_ref()?.takes.iter().find(|take| take.id == id).map(Arc::clone))
}

/// Changes a take; what is typed in one go is one step.
fn alter(hand: Hand, id: TakeId, what: &str, change: impl FnOnce(&mut LoggedTake)) {
    let Some(before) = take(hand, id) else { return };
    let mut take = LoggedTake::clone(&before);
    change(&mut take);
    if take != *before {
        let target = Some(id.number());
        hand.tell(hand.desk.change(what, target, Command::SetTake(Arc::new(take))));
    }
}

/// The bar under the thumb: slate, good, not good.
#[component]
pub(super) fn LogBar(hand: Hand, shot: ShotId) -> impl IntoView {
    let is_slated = RwSignal::new(false);
    let last = live(move || {
        hand.read(|film, _, _| film.takes_of(shot).next_back().map(in_short)).flatten().unwrap_or_default()
    });
    let number = Memo::new(move |_| hand.read(|film, _, _| film.next_take(shot)).unwrap_or(1));
    view! {
        <div class="set-bar" role="group" aria-label=live(move || say!("Take {}", number.get()))>
            <p class="set-last" role="status">{last}</p>
            <button type="button" on:click=move |_| is_slated.set(true)>
                {live(move || say!("Slate {}", number.get()))}
            </button>
            <button type="button" class="next" on:click=move |_| log(hand, shot, Verdict::Good)>
                {say!("Good")}
            </button>
            <button type="button" on:click=move |_| log(hand, shot, Verdict::NotGood)>{say!("Not good")}</button>
            <button type="button" on:click=move |_| log(hand, shot, Verdict::Unsaid)>{say!("Only log")}</button>
        </div>
        {when(move || is_slated.get(), move || view! {
            <Slate hand shot take=number.get_untracked() done=move || is_slated.set(false) />
        }.into_any())}
    }
}

/// What was shot of it so far, the last take first.
#[component]
pub(super) fn Takes(hand: Hand, shot: ShotId) -> impl IntoView {
    let takes: Memo<Vec<TakeId>> = Memo::new(move |_| {
        hand.read(|film, _, _| film.takes_of(shot).rev().map(|take| take.id).collect()).unwrap_or_default()
    });
    let title = live(move || match takes.with(Vec::len) {
        0 => say!("No take yet").to_owned(),
        1 => say!("1 take").to_owned(),
        count => say!("{count} takes"),
    });
    view! {
        <section class="set-takes" aria-labelledby="set-takes">
            <h3 id="set-takes">{title}</h3>
            <ol>
                <For each=move || takes.get() key=|id| *id children=move |id| view! { <TakeRow hand id /> } />
            </ol>
        </section>
    }
}

/// One take: its number, what was said of it, and when; the rest unfolds.
#[component]
fn TakeRow(hand: Hand, id: TakeId) -> impl IntoView {
    let one = Memo::new(move |_| {
        hand.desk.film.with(|film| film.as_ref()?.takes.iter().find(|take| take.id == id).map(Arc::clone))
    });
    let read = move |read: fn(&LoggedTake) -> String| {
        live(move || one.with(|one| one.as_deref().map(read)).unwrap_or_default())
    };
    let verdict =
        Signal::derive(move || one.with(|one| one.as_ref().map(|one| one.verdict)).unwrap_or_default());
    let number = untrack(|| one.with(|one| one.as_ref().map_or(0, |one| one.number)));
    let is_open = RwSignal::new(false);
    let remove = move |_| {
        hand.tell(hand.desk.change(&say!("Remove take {number}"), None, Command::RemoveTake(id)));
        hand.desk.end_gesture();
    };
    let text = move |label: &'static str,
                     hint: &'static str,
                     value: Signal<String>,
                     set: fn(&mut LoggedTake, String)| {
        view! {
            <label class="field">
                <span>{label}</span>
                <input
                    type="text"
                    maxlength="300"
                    placeholder=hint
                    prop:value=value
                    on:input:target=move |event| {
                        let words = event.target().value();
                        alter(hand, id, &say!("Change take {number}"), |take| set(take, words));
                    }
                />
            </label>
        }
    };
    view! {
        <li class="set-take" class:good=move || verdict.get() == Verdict::Good>
            <details class="fold" on:toggle:target=move |event| is_open.set(event.target().open())>
                <summary>
                    <strong>{say!("Take {number}")}</strong>
                    <span>{read(told)}</span>
                </summary>
                {when(move || is_open.get(), move || view! {
                    <div class="set-take-fields">
                        <Choices
                            legend=say!("It is")
                            choices=[Verdict::Good, Verdict::NotGood, Verdict::Unsaid]
                                .map(|verdict| Choice::new(verdict, verdict.name()))
                            chosen=verdict
                            choose=move |verdict: Verdict| {
                                alter(hand, id, &say!("Change take {number}"), |take| take.verdict = verdict);
                                hand.desk.end_gesture();
                            }
                        />
                        {text(
                            say!("Why"),
                            say!("soft at the end, line missed"),
                            read(|take| take.why.clone()),
                            |take, words| take.why = words,
                        )}
                        {text(
                            say!("Clip"),
                            say!("as the camera app calls it"),
                            read(|take| take.clip.clone()),
                            |take, words| take.clip = words,
                        )}
                        {text(
                            say!("Focus slider"),
                            say!("where it stood"),
                            read(|take| take.focus.clone()),
                            |take, words| take.focus = words,
                        )}
                        <p><button type="button" on:click=remove>{say!("Remove this take")}</button></p>
                    </div>
                }.into_any())}
            </details>
        </li>
    }
}

/// What a take was, and when: `Take 1, good, 22:12`.
fn in_short(take: &LoggedTake) -> String {
    let number = take.number;
    let parts = std::iter::once(say!("Take {number}")).chain(was(take).into_iter().flatten());
    parts.collect::<Vec<_>>().join(", ")
}

/// What a take was, if that was said, and when.
fn was(take: &LoggedTake) -> [Option<String>; 2] {
    [
        Some(take.verdict.name().to_owned()).filter(|_| take.verdict != Verdict::Unsaid),
        take.at.map(|at| local(&at.to_string())),
    ]
}

/// What is known of a take, in a line.
fn told(take: &LoggedTake) -> String {
    let said = [
        Some(take.why.clone()).filter(|why| !why.is_empty()),
        Some(take.clip.clone()).filter(|clip| !clip.is_empty()),
        Some(take.focus.clone()).filter(|focus| !focus.is_empty()).map(|focus| say!("focus {focus}")),
    ];
    was(take).into_iter().chain(said).flatten().collect::<Vec<_>>().join(", ")
}

/// The time of a moment, as the device's clock shows it.
fn local(moment: &str) -> String {
    film::clock(Clock::at(&js_sys::Date::new(&moment.into())).minute)
}
