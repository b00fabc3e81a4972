//! When nobody works.

use film::{DaySpan, Hours};
use language::say;
use leptos::prelude::*;

use crate::day::hand::Hand;
use crate::shooting::{DAY_MIN, time_field, written};
use crate::widgets::{live, when};

/// A new break: half an hour, after the last one or in the middle of the day. Chosen, to be changed at once.
fn new_break(breaks: &[Hours], hours: Hours) -> Option<Hours> {
    let starts = match breaks.iter().map(|one| one.to_min()).max() {
        Some(last) => last.saturating_add(120),
        None => u16::midpoint(hours.from_min(), hours.to_min()) / 15 * 15,
    };
    let starts = starts.min(hours.to_min().max(DAY_MIN) - 30);
    Hours::new(starts, starts + 30)
}

/// Whether nobody would work then anyway.
const fn is_outside(one: Hours, work: Hours) -> bool {
    one.to_min() <= work.from_min() || one.from_min() >= work.to_min()
}

/// The breaks.
#[component]
pub(super) fn Breaks(hand: Hand) -> impl IntoView {
    let count = Memo::new(move |_| hand.of_day(|day| day.breaks.len()).unwrap_or(0));
    let add = move |_| {
        hand.change(say!("Add a break"), |day| day.breaks.extend(new_break(&day.breaks, day.hours)));
    };
    let rows = move || (0..count.get()).map(|at| view! { <Break hand at /> }).collect_view();
    view! {
        <ul class="day-breaks">{rows}</ul>
        {when(move || count.get() == 0, || {
            view! { <p class="quiet">{say!("Nobody rests on this day.")}</p> }.into_any()
        })}
        <p><button type="button" on:click=add>{say!("Add a break")}</button></p>
    }
}

/// One break.
#[component]
fn Break(hand: Hand, at: usize) -> impl IntoView {
    let told = move |read: &dyn Fn(Hours) -> String| {
        hand.of_day(|day| day.breaks.get(at).copied()).flatten().map(read).unwrap_or_default()
    };
    let hours = move |read: fn(Hours) -> u16| live(move || told(&|one| written(read(one))));
    let work = move || hand.of_day(|day| day.hours).unwrap_or(Hours::USUAL);
    let note = live(move || {
        told(&|one| {
            if is_outside(one, work()) {
                say!("Outside the hours of work: it changes nothing.").to_owned()
            } else if one.ends_next_day() {
                DaySpan::from(one).to_string()
            } else {
                String::new()
            }
        })
    });
    let set = move |from: Option<u16>, to: Option<u16>| {
        let day = hand.shooting().day.get_untracked();
        let now = day.and_then(|day| Some((day.hours, *day.breaks.get(at)?)));
        let Some((work, before)) = now else { return };
        let from = from.map_or(before.from_min(), |shown| work.minute_at(shown));
        // A break that starts later is as long as it was.
        let to = to.unwrap_or(from.saturating_add(before.to_min() - before.from_min()));
        if let Some(hours) = Hours::until(from, to) {
            hand.change(say!("Change a break"), |day| {
                if let Some(one) = day.breaks.get_mut(at) {
                    *one = hours;
                }
            });
        }
    };
    let remove = move |_| {
        hand.change(say!("Remove a break"), |day| {
            if at < day.breaks.len() {
                day.breaks.remove(at);
            }
        });
    };
    view! {
        <li class="day-break-row">
            {time_field(say!("From"), hours(Hours::from_min), Callback::new(move |minute| set(Some(minute), None)))}
            {time_field(say!("until"), hours(Hours::to_min), Callback::new(move |minute| set(None, Some(minute))))}
            <button type="button" aria-label=say!("Remove break {}", at + 1) on:click=remove>{say!("Remove")}</button>
            {when(move || !note.with(String::is_empty), move || view! { <p class="quiet">{note}</p> }.into_any())}
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
        let night = Hours::until(19 * 60, 3 * 60).expect("hours");
        assert_eq!(new_break(&[late], night).map(Hours::to_min), Some(1590));
    }

    #[test]
    fn a_break_before_or_after_work_is_outside_it() {
        let work = Hours::new(540, 1080).expect("hours");
        let is_outside = |from, to| is_outside(Hours::new(from, to).expect("a break"), work);
        assert!(is_outside(500, 540) && is_outside(1080, 1110));
        assert!(!is_outside(500, 541) && !is_outside(1079, 1110) && !is_outside(720, 750));
    }
}
