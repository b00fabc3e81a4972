//! When a day begins and ends, and when nobody works.

use film::Hours;
use leptos::prelude::*;

use crate::day::doing::{DAY_MIN, other_hours};
use crate::day::hand::Hand;
use crate::story::minutes;
use crate::widgets::{live, when};

/// A minute of the day as a field for times writes it: the day's end is midnight.
fn written(minute: u16) -> String {
    film::clock(f64::from(minute))
}

/// A time that can be changed.
fn time(label: &'static str, value: Signal<String>, set: Callback<u16>) -> impl IntoView {
    view! {
        <label class="field">
            <span>{label}</span>
            <input
                type="time"
                prop:value=value
                on:change:target=move |event| {
                    if let Some(minute) = minutes(&event.target().value()) {
                        set.run(minute);
                    }
                }
            />
        </label>
    }
}

/// Why a time was not taken.
fn problem(problem: RwSignal<String>) -> AnyView {
    when(
        move || !problem.with(String::is_empty),
        move || view! { <p class="problem" role="alert">{problem}</p> }.into_any(),
    )
}

/// Call and wrap.
#[component]
pub(super) fn CallAndWrap(hand: Hand) -> impl IntoView {
    let trouble = RwSignal::new(String::new());
    let hours = move |read: fn(Hours) -> u16| {
        live(move || hand.of_day(|day| written(read(day.hours))).unwrap_or_default())
    };
    let set = move |what: &'static str, from: Option<u16>, to: Option<u16>| {
        let Some(before) = hand.shooting().day.get_untracked().map(|day| day.hours) else { return };
        match other_hours(before, from, to, "The wrap") {
            Ok(hours) => {
                trouble.set(String::new());
                hand.change(what, |day| day.hours = hours);
            }
            Err(why) => trouble.set(why),
        }
    };
    view! {
        <div class="day-times">
            {time("Call", hours(Hours::from_min), Callback::new(move |minute| set("Change the call", Some(minute), None)))}
            {time("Wrap", hours(Hours::to_min), Callback::new(move |minute| set("Change the wrap", None, Some(minute))))}
        </div>
        {problem(trouble)}
    }
}

/// A new break: half an hour, after the last one or in the middle of the day. Chosen, to be changed at once.
fn new_break(breaks: &[Hours], hours: Hours) -> Option<Hours> {
    let starts = match breaks.iter().map(|one| one.to_min()).max() {
        Some(last) => last.saturating_add(120),
        None => u16::midpoint(hours.from_min(), hours.to_min()) / 15 * 15,
    };
    let starts = starts.min(DAY_MIN - 30);
    Hours::new(starts, starts + 30)
}

/// The breaks.
#[component]
pub(super) fn Breaks(hand: Hand) -> impl IntoView {
    let count = Memo::new(move |_| hand.of_day(|day| day.breaks.len()).unwrap_or(0));
    let add = move |_| {
        hand.change("Add a break", |day| day.breaks.extend(new_break(&day.breaks, day.hours)));
    };
    let rows = move || (0..count.get()).map(|at| view! { <Break hand at /> }).collect_view();
    view! {
        <ul class="day-breaks">{rows}</ul>
        {when(move || count.get() == 0, || view! { <p class="quiet">"Nobody rests on this day."</p> }.into_any())}
        <p><button type="button" on:click=add>"Add a break"</button></p>
    }
}

/// One break.
#[component]
fn Break(hand: Hand, at: usize) -> impl IntoView {
    let trouble = RwSignal::new(String::new());
    let hours = move |read: fn(Hours) -> u16| {
        live(move || {
            let one = hand.of_day(|day| day.breaks.get(at).copied()).flatten();
            one.map(|one| written(read(one))).unwrap_or_default()
        })
    };
    let set = move |from: Option<u16>, to: Option<u16>| {
        let day = hand.shooting().day.get_untracked();
        let Some(before) = day.and_then(|day| day.breaks.get(at).copied()) else { return };
        // A break that starts later is as long as it was.
        let to = to.or_else(|| Some(from?.saturating_add(before.to_min() - before.from_min()).min(DAY_MIN)));
        match other_hours(before, from, to, "The break's end") {
            Ok(hours) => {
                trouble.set(String::new());
                hand.change("Change a break", |day| {
                    if let Some(one) = day.breaks.get_mut(at) {
                        *one = hours;
                    }
                });
            }
            Err(why) => trouble.set(why),
        }
    };
    let remove = move |_| {
        hand.change("Remove a break", |day| {
            if at < day.breaks.len() {
                day.breaks.remove(at);
            }
        });
    };
    view! {
        <li class="day-break-row">
            {time("From", hours(Hours::from_min), Callback::new(move |minute| set(Some(minute), None)))}
            {time("until", hours(Hours::to_min), Callback::new(move |minute| set(None, Some(minute))))}
            <button type="button" aria-label=format!("Remove break {}", at + 1) on:click=remove>"Remove"</button>
            {problem(trouble)}
        </li>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_break_is_in_the_day_and_after_the_others() {
        let first = new_break(&[], Hours::USUAL).expect("a break");
        assert_eq!((first.from_min(), first.to_min()), (780, 810));
        let next = new_break(&[first], Hours::USUAL).expect("a break");
        assert_eq!(next.from_min(), 930);
        let late = Hours::new(1400, 1440).expect("hours");
        assert_eq!(new_break(&[late], Hours::USUAL).map(Hours::to_min), Some(1440));
    }
}
