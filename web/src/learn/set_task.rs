//! A teacher sets a task: which figure, at least or at most how much, on whose phone; the link that sets it.

use film::{FigureUnit, Goal, GoalWish, LessonTask, task_link};
use language::say;
use leptos::prelude::*;
use units::Length;

use super::Learning;
use crate::address::address;
use crate::widgets::{
    Choice, Choices, CopyField, Tick, TypedField, live, parse_length, parse_number, plain, when,
};

/// What goals can be typed: figures are pixels, degrees, shares, stops, metres.
const VALUE: (f64, f64) = (-100_000.0, 100_000.0);

/// The form.
#[component]
pub(super) fn SetTask(learning: Learning) -> impl IntoView {
    let figure = RwSignal::new(None::<&'static str>);
    let (wish, value) = (RwSignal::new(GoalWish::AtLeast), RwSignal::new(None::<f64>));
    let (with_kit, note) = (RwSignal::new(true), RwSignal::new(String::new()));
    // Of this lesson, the first until another is chosen.
    let word = Memo::new(move |_| {
        let words = learning.state.with(|state| state.lesson.figure_words());
        figure.get().filter(|word| words.contains(word)).or_else(|| words.first().copied())
    });
    let options = move || {
        let figures = learning.of_seen(|seen| {
            let named = seen.figures.iter().map(|figure| (figure.word, figure.name.clone()));
            named.collect::<Vec<_>>()
        });
        let option = |(one, name): (&'static str, String)| {
            view! { <option value=one prop:selected=move || word.get() == Some(one)>{name}</option> }
        };
        figures.unwrap_or_default().into_iter().map(option).collect_view()
    };
    let choose = move |value: String| {
        let words = learning.state.with_untracked(|state| state.lesson.figure_words());
        figure.set(words.iter().copied().find(|word| *word == value));
    };
    // Of which figure a value was typed that is none: what was there before it is no goal either.
    let refused = RwSignal::new(None::<&'static str>);
    let is_set = move || value.with(Option::is_some) && refused.with(|of| of.is_none() || *of != word.get());
    let unit = Memo::new(move |_| {
        let of = word.get()?;
        learning.of_seen(|seen| seen.figure(of).map(|figure| (of, figure.unit))).flatten()
    });
    let how_much = move || {
        let (of, unit) = unit.get().unzip();
        let (unit, lengths) = (unit.unwrap_or(FigureUnit::Shared("")), learning.unit.get());
        let take = move |text: String| {
            let typed = match unit {
                FigureUnit::Metres if text.trim().is_empty() => Ok(None),
                FigureUnit::Metres => parse_length(&text, lengths, VALUE).map(Some),
                FigureUnit::Shared(sign) => parse_number(&text, sign, VALUE),
            };
            refused.set(of.filter(|_| typed.is_err()));
            value.set(typed?);
            Ok(())
        };
        let in_field = move |value: f64| match unit {
            FigureUnit::Metres => Length::from_m(value).in_field(lengths),
            FigureUnit::Shared(_) => plain(value),
        };
        let sign = match unit {
            FigureUnit::Metres => lengths.beside_field(),
            FigureUnit::Shared(sign) => sign,
        };
        let shown = live(move || value.get().map_or_else(String::new, in_field));
        view! { <TypedField label=say!("How much") unit=sign shown take /> }
    };
    let now = move || {
        let told = learning.of_seen(|seen| seen.figure(word.get()?).map(|figure| figure.told.clone()));
        told.flatten().map(|told| say!("Now it is {told}."))
    };
    let link = live(move || {
        let task = word.get().zip(value.get()).and_then(|(word, value)| {
            let state = learning.state.get();
            let goal = Goal::of(state.lesson, word, wish.get(), value)?;
            let kit = with_kit.get().then(|| learning.kit.get().as_ref().clone());
            Some(LessonTask { state, goal, kit, note: note.get() })
        });
        task.map_or_else(String::new, |task| address(None, &task_link(&task)))
    });
    let take_note = move |text: String| {
        note.set(text);
        Ok(())
    };
    let wishes = GoalWish::ALL.map(|wish| Choice::new(wish, wish.name()));
    view! {
        <details class="fold learn-set">
            <summary>{say!("Set a task")}</summary>
            <p class="quiet">
                {say!("Put the handles where the learners shall begin, and say what they have to reach.")}
            </p>
            <label class="field">
                <span>{say!("Which figure")}</span>
                <select on:change:target=move |event| choose(event.target().value())>{options}</select>
            </label>
            <p class="quiet">{now}</p>
            <Choices
                legend=say!("It shall be")
                choices=wishes
                chosen=Signal::from(wish)
                choose=move |one| wish.set(one)
            />
            {how_much}
            <Tick words=say!("on this phone, the same for all") is_on=with_kit set=move |is_on| with_kit.set(is_on) />
            <TypedField
                label=say!("What you say of it")
                hint=say!("Stands over the lesson.")
                shown=Signal::derive(move || note.get())
                take=take_note
            />
            {when(is_set, move || view! {
                <CopyField label=say!("The task's link") text=link />
                <p class="quiet">{say!("Keep it: with it you read the answers below.")}</p>
            }.into_any())}
        </details>
    }
}
