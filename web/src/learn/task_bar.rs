//! A task over its lesson: what is to be met, and how far it is.

use film::{Goal, Judged, LessonTask};
use language::{Number, say};
use leptos::prelude::*;

use super::Learning;
use super::hand_in::HandIn;
use crate::widgets::{plain, when};

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
                Some(judged.with(|judged| told(task, judged.as_ref())))
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
    let kit = learning.kit.get();
    learning.state.with(|state| task.judge(&task.answered("you", state, &kit)).ok())
}

/// What is to be met and how far it is, in words.
fn told(task: &LessonTask, judged: Option<&Judged>) -> String {
    let Goal { wish, value, .. } = &task.goal;
    let Some(Judged { figure, is_met, by, .. }) = judged else {
        return say!("This cannot be judged as it stands: move a handle.").to_owned();
    };
    let with_unit = |value: f64| format!("{} {}", Number(plain(value)), figure.unit).trim_end().to_owned();
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

    fn task(value: f64) -> LessonTask {
        let lesson = Lesson::SoftBackground;
        let goal = Goal::of(lesson, lesson.figure_words()[0], GoalWish::AtLeast, value).expect("a goal");
        LessonTask { state: LessonState::usual(lesson), goal, kit: None, note: String::new() }
    }

    fn told_of(value: f64) -> String {
        let kit = crate::session::first_kit().to_kit().expect("a preset");
        let task = task(value);
        let judged = task.judge(&task.answered("you", &task.state, &kit)).expect("an answer");
        told(&task, Some(&judged))
    }

    #[test]
    fn a_goal_is_told_with_how_far_it_is() {
        assert!(told_of(1.0e-3).contains("Met, with "), "{}", told_of(1.0e-3));
        assert!(told_of(500.0).ends_with(" short."), "{}", told_of(500.0));
        assert!(told_of(500.0).contains("at least 500 px"), "{}", told_of(500.0));
    }
}
