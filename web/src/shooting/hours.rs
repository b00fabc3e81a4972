//! When a day begins and ends: fields for times, and the hours that they leave.

use film::Hours;
use language::say;
use leptos::prelude::*;

use super::Shooting;
use crate::widgets::{live, when};

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

/// Midnight is where a day ends, where hours end.
pub(crate) const fn as_end(minute: u16) -> u16 {
    if minute == 0 { DAY_MIN } else { minute }
}

/// Hours with another start or end; `ends` is what the end is called.
///
/// # Errors
/// Says, in a sentence, why that cannot be.
pub(crate) fn other_hours(
    hours: Hours,
    from_min: Option<u16>,
    to_min: Option<u16>,
    ends: &str,
) -> Result<Hours, String> {
    let from_min = from_min.unwrap_or(hours.from_min());
    let to_min = as_end(to_min.unwrap_or(hours.to_min()));
    Hours::new(from_min, to_min)
        .ok_or_else(|| say!("{ends} has to be after {}, on the same day.", film::clock(f64::from(from_min))))
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

/// Why a time was not taken.
pub(crate) fn refused(why: RwSignal<String>) -> AnyView {
    when(
        move || !why.with(String::is_empty),
        move || view! { <p class="problem" role="alert">{why}</p> }.into_any(),
    )
}

/// The call and the wrap of the day that is looked at.
#[component]
pub(crate) fn CallAndWrap(shooting: Shooting) -> impl IntoView {
    let why = RwSignal::new(String::new());
    let hours = move |read: fn(Hours) -> u16| {
        live(move || {
            shooting.day.with(|day| day.as_ref().map(|day| written(read(day.hours)))).unwrap_or_default()
        })
    };
    let set = move |what: &'static str, from: Option<u16>, to: Option<u16>| {
        let Some(before) = shooting.day.with_untracked(|day| day.as_ref().map(|day| day.hours)) else {
            return;
        };
        match other_hours(before, from, to, say!("The wrap")) {
            Ok(hours) => {
                why.set(String::new());
                shooting.alter(what, |day| day.hours = hours);
                // Two times are two steps, however fast.
                shooting.desk.end_gesture();
            }
            Err(told) => why.set(told),
        }
    };
    let call = Callback::new(move |minute| set(say!("Change the call"), Some(minute), None));
    let wrap = Callback::new(move |minute| set(say!("Change the wrap"), None, Some(minute)));
    view! {
        <div class="hours" role="group" aria-label=say!("Hours of the day")>
            {time_field(say!("Call"), hours(Hours::from_min), call)}
            {time_field(say!("Wrap"), hours(Hours::to_min), wrap)}
        </div>
        {refused(why)}
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
    fn hours_end_after_they_start() {
        let until = |to| other_hours(Hours::USUAL, None, Some(to), "The wrap").map(Hours::to_min);
        assert_eq!(until(0), Ok(1440));
        assert_eq!(until(600), Ok(600));
        assert_eq!(until(500), Err("The wrap has to be after 09:00, on the same day.".to_owned()));
    }
}
