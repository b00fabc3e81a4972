//! A task over its lesson: what is to be met, and how far it is.

use film::{Goal, Judged, LessonTask};
use language::say;
use leptos::prelude::*;
use units::LengthUnit;

use super::hand_in::HandIn;
use super::{Learning, amount};
use crate::widgets::when;

/// The task, if there is one, and the way to hand it in.
#[component]
pub(super) fn TaskBar(learning: Learning) -> impl IntoView {
    let has_task = move || learning.task.with(Option::is_some);
    let bar = move || {
        let note = move || {
            learning
                .task
                .with(|task| task.as_ref().map(|task| task.note.clone()).filter(|note| !note.is_empty()))
        };
        let judged = Memo::new(move |_| judged(learning));
        let is_met = move || judged.with(|judged| judged.as_ref().is_some_and(|judged| judged.is_met));
        let words = move || {
            learning.task.with(|task| {
                let task = task.as_ref()?;
                Some(judged.with(|judged| told(task, judged.as_ref(), learning.unit.get())))
            })
        };
        view! {
            <section class="learn-task" class:met=is_met aria-label=say!("Your task")>
                {move || note().map(|note| view! { <p>{note}</p> })}
                <p class="learn-goal" role="status">{words}</p>
                <HandIn learning />
            </section>
        }
        .into_any()
    };
    when(has_task, bar)
}

/// How the lesson does as it stands.
fn judged(learning: Learning) -> Option<Judged> {
    let task = learning.task.get()?;
    let (kit, unit) = (learning.kit.get(), learning.unit.get());
    learning.state.with(|state| task.judge(&task.answered("you", state, &kit), unit).ok())
}

/// What is to be met and how far it is, in words.
fn told(task: &LessonTask, judged: Option<&Judged>, unit: LengthUnit) -> String {
    let Goal { wish, value, .. } = &task.goal;
    let Some(Judged { figure, is_met, by, .. }) = judged else {
        return say!("This cannot be judged as it stands: move a handle.").to_owned();
    };
    let with_unit = |value: f64| amount(value, figure.unit, unit);
    let goal = format!("{}: {} {}.", figure.name, wish.name(), with_unit(*value));
    let so_far = match (is_met, by) {
        (_, None) => say!("Now: {}.", figure.told),
        (true, Some(by)) => say!("Met, with {} to spare: now {}.", with_unit(*by), figure.told),
        (false, Some(by)) => say!("Now {}: {} short.", figure.told, with_unit(-by)),
    };
    format!("{goal} {so_far}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::{GoalWish, Lesson, LessonState};

    /// The lesson's first figure, as somebody is told it who is to bring it to `value`.
    fn told_of(lesson: Lesson, value: f64, unit: LengthUnit) -> String {
        let kit = crate::session::first_kit().to_kit().expect("a preset");
        let goal = Goal::of(lesson, lesson.figure_words()[0], GoalWish::AtLeast, value).expect("a goal");
        let task = LessonTask { state: LessonState::usual(lesson), goal, kit: None, note: String::new() };
        let judged = task.judge(&task.answered("you", &task.state, &kit), unit).expect("an answer");
        told(&task, Some(&judged), unit)
    }

    #[test]
    fn a_goal_is_told_with_how_far_it_is() {
        let told_of = |value| told_of(Lesson::SoftBackground, value, LengthUnit::Metres);
        assert!(told_of(1.0e-3).contains("Met, with "), "{}", told_of(1.0e-3));
        assert!(told_of(500.0).ends_with(" short."), "{}", told_of(500.0));
        assert!(told_of(500.0).contains("at least 500 px"), "{}", told_of(500.0));
    }

    #[test]
    fn a_goal_in_metres_is_told_in_the_readers_unit() {
        let told_of = |unit| told_of(Lesson::WhereToStand, 100.0 * 0.3048, unit);
        let (metres, feet) = (told_of(LengthUnit::Metres), told_of(LengthUnit::Feet));
        assert!(metres.contains("at least 30.48 m. Now ") && metres.ends_with(" m short."), "{metres}");
        assert!(feet.contains("at least 100'0\". Now ") && feet.ends_with("\" short."), "{feet}");
        assert!(!feet.contains(" m"), "{feet}");
    }
}
