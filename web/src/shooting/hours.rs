//! When a day begins and ends: fields for times, and the hours that they leave.

use film::{Hours, clock_of_day};
use language::{Number, say};
use leptos::prelude::*;

use super::Shooting;
use crate::widgets::live;

/// Minutes in a day.
pub(crate) const DAY_MIN: u16 = 24 * 60;

/// A minute of the day as a field for times writes it: the day's end is midnight.
pub(crate) fn written(minute: u16) -> String {
    film::clock_in_files(f64::from(minute))
}

/// Minutes from midnight, of a time as the browser writes it.
fn minutes(text: &str) -> Option<u16> {
    let (hours, minutes) = text.split_once(':')?;
    let (hours, minutes): (u16, u16) = (hours.parse().ok()?, minutes.get(..2)?.parse().ok()?);
    (hours < 24 && minutes < 60).then_some(hours * 60 + minutes)
}

/// A field for a time, which gives minutes from midnight.
pub(crate) fn time_field(label: &'static str, value: Signal<String>, set: Callback<u16>) -> AnyView {
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
    .into_any()
}

/// What is said of a wrap that is not on the day of the call; nothing of any other.
fn of_night(hours: Hours) -> String {
    if !hours.ends_next_day() {
        return String::new();
    }
    let lasts_min = f64::from(hours.to_min() - hours.from_min());
    let (wrap, lasts) = (clock_of_day(f64::from(hours.to_min())), Number((lasts_min / 6.0).round() / 10.0));
    say!("The wrap is at {wrap}: {lasts} h after the call.")
}

/// The call and the wrap of the day that is looked at. A wrap that is not later than the call is on the day after.
#[component]
pub(crate) fn CallAndWrap(shooting: Shooting) -> impl IntoView {
    let hours = move |read: fn(Hours) -> u16| {
        live(move || {
            shooting.day.with(|day| day.as_ref().map(|day| written(read(day.hours)))).unwrap_or_default()
        })
    };
    let set = move |what: &'static str, from: Option<u16>, to: Option<u16>| {
        let Some(before) = shooting.day.with_untracked(|day| day.as_ref().map(|day| day.hours)) else {
            return;
        };
        let (from, to) = (from.unwrap_or(before.from_min()), to.unwrap_or(before.to_min()));
        if let Some(hours) = Hours::until(from, to) {
            shooting.alter(what, |day| day.hours = hours);
            // Two times are two steps, however fast.
            shooting.desk.end_gesture();
        }
    };
    let call = Callback::new(move |minute| set(say!("Change the call"), Some(minute), None));
    let wrap = Callback::new(move |minute| set(say!("Change the wrap"), None, Some(minute)));
    let night = live(move || {
        shooting.day.with(|day| day.as_ref().map(|day| of_night(day.hours))).unwrap_or_default()
    });
    view! {
        <div class="hours" role="group" aria-label=say!("Hours of the day")>
            {time_field(say!("Call"), hours(Hours::from_min), call)}
            {time_field(say!("Wrap"), hours(Hours::to_min), wrap)}
        </div>
        <p class="quiet" role="status">{night}</p>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_minutes_from_midnight() {
        assert_eq!(minutes("09:30"), Some(570));
        assert_eq!(minutes("23:59:30"), Some(1439));
        assert_eq!([minutes(""), minutes("24:00"), minutes("7"), minutes("7:6")], [None; 4]);
    }

    #[test]
    fn a_wrap_on_the_day_after_is_told_as_one() {
        let told = |from, to| of_night(Hours::until(from, to).expect("hours"));
        assert_eq!(told(1140, 210), "The wrap is at 03:30, next day: 8.5 h after the call.");
        assert_eq!(told(540, 480), "The wrap is at 08:00, next day: 23 h after the call.");
        assert_eq!((told(1140, 0), told(540, 1020)), (String::new(), String::new()));
    }
}
