//! Which day is looked at: chosen among the film's, named, dated.

use film::{DayId, ShootingDay};
use language::say;
use leptos::prelude::*;

use super::Shooting;
use super::day_names::named_and_dated;
use crate::widgets::{NamedChoices, live, when};

/// The film's days, if there are several, and what the one that is looked at is called.
#[component]
pub(crate) fn WhichDay(
    shooting: Shooting,
    /// What is done when another day has been chosen.
    #[prop(into)]
    chosen: Callback<()>,
) -> impl IntoView {
    let days: Memo<Vec<(DayId, String)>> = Memo::new(move |_| {
        shooting
            .desk
            .film
            .with(|film| {
                let film = film.as_ref()?;
                Some(film.days.iter().map(|day| (day.id, named_and_dated(film, day))).collect())
            })
            .unwrap_or_default()
    });
    let choose = Callback::new(move |id| {
        shooting.choose(id);
        chosen.run(());
    });
    let looked_at = Memo::new(move |_| shooting.day.with(|day| day.as_ref().map(|day| day.id)));
    let read = move |read: fn(&ShootingDay) -> String| {
        live(move || shooting.day.with(|day| day.as_ref().map(read)).unwrap_or_default())
    };
    view! {
        {when(move || days.with(|days| days.len() > 1), move || view! {
            <NamedChoices legend=say!("The film's days") choices=days chosen=looked_at.into() choose />
        }.into_any())}
        <label class="field">
            <span>{say!("What it is called")}</span>
            <input
                type="text"
                maxlength="200"
                placeholder=say!("Saturday in the garden")
                prop:value=read(|day| day.title.clone())
                on:input:target=move |event| {
                    let title = event.target().value();
                    shooting.alter(say!("Name the day"), |day| day.title = title);
                }
            />
        </label>
        <label class="field">
            <span>{say!("Date")}</span>
            <input
                type="date"
                min="1900-01-01"
                max="2100-12-31"
                prop:value=read(|day| day.date.map_or_else(String::new, |date| date.to_string()))
                on:change:target=move |event| {
                    // What is not a date is none: the light of the day is then not known.
                    let date = event.target().value().parse().ok();
                    shooting.alter(say!("Change the date"), |day| day.date = date);
                }
            />
        </label>
    }
}
