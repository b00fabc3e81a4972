//! Which day it is: chosen among the film's, added, removed, named, dated.

use language::say;
use leptos::prelude::*;

use crate::day::hand::Hand;
use crate::shooting;

/// The film's days, and what the chosen one is called.
#[component]
pub(super) fn WhichDay(hand: Hand) -> impl IntoView {
    let remove = move |_| {
        let Some(id) = untrack(|| hand.of_day(|day| day.id)) else { return };
        hand.change_days(say!("Remove a day"), |_, days| days.retain(|day| day.id != id));
    };
    view! {
        <shooting::WhichDay shooting=hand.shooting() chosen=|()| {} />
        <p class="quiet">
            {say!("With a date, and once Light knows where the places are, every setup has its hours of light.")}
        </p>
        <div class="day-buttons">
            <button type="button" on:click=move |_| hand.shooting().add_day()>{say!("Add a day")}</button>
            <button type="button" on:click=remove>{say!("Remove this day")}</button>
        </div>
    }
}
