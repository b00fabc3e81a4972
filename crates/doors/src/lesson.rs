//! Lessons, tasks and answers from links and texts.

use film::{
    Goal, GoalWish, Kit, LessonState, LessonTask, answer_text, class_table, kits, lesson_link, open_answer,
    open_lesson_link, open_task, task_link,
};

use units::LengthUnit;

use crate::has_words;

/// A text that may be a link to a lesson, a link that sets a task, or an answer.
pub(crate) fn lesson(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    match open_lesson_link(&text) {
        Ok(link) => {
            is_seen(&link.state, link.kit.as_ref());
            // Handles lose digits that nobody can see, so it is the second text that is the same.
            let written = lesson_link(&link.state, link.kit.as_ref());
            let again = open_lesson_link(&written).expect("a link that was written");
            assert_eq!(lesson_link(&again.state, again.kit.as_ref()), written);
        }
        Err(refusal) => has_words(refusal),
    }
    match open_task(&text) {
        Ok(task) => {
            is_seen(&task.state, task.kit.as_ref());
            let written = task_link(&task);
            let again = open_task(&written).expect("a task that was written");
            assert_eq!(task_link(&again), written);
        }
        Err(refusal) => has_words(refusal),
    }
    match open_answer(&text) {
        Ok(answer) => {
            is_seen(&answer.state, answer.kit.as_ref());
            let written = answer_text(&answer);
            let again = open_answer(&written).expect("an answer that was written");
            assert_eq!(answer_text(&again), written);
            let task = LessonTask {
                state: LessonState::usual(answer.state.lesson),
                goal: answer.goal.clone(),
                kit: None,
                note: String::new(),
            };
            if let Err(refusal) = task.judge(&answer, LengthUnit::Metres) {
                has_words(refusal);
            }
        }
        Err(refusal) => has_words(refusal),
    }
    let table = class_table(&usual_task(), [("answers.txt", &*text)], LengthUnit::Metres);
    assert!(table.judged.len() + table.refused.len() <= 501, "a class of more than all");
    for refused in &table.refused {
        has_words(&refused.why);
    }
}

/// Whatever is let in can be shown, on its own kit or on one that comes with the program.
fn is_seen(state: &LessonState, kit: Option<&Kit>) {
    let usual = usual_kit();
    let (kit, lens) = (kit.unwrap_or(&usual), state.lens.as_deref());
    for unit in [LengthUnit::Metres, LengthUnit::Feet] {
        if let Err(refusal) = state.lesson.seen(kit, lens, &state.values, unit) {
            has_words(refusal);
        }
    }
}

fn usual_kit() -> Kit {
    let record = kits().into_iter().next().expect("kits come with the program");
    record.to_kit().expect("a kit that comes with the program")
}

fn usual_task() -> LessonTask {
    let lesson = film::Lesson::SoftBackground;
    LessonTask {
        state: LessonState::usual(lesson),
        goal: Goal::of(lesson, "blur", GoalWish::AtLeast, 20.0).expect("a figure of that lesson"),
        kit: Some(usual_kit()),
        note: String::new(),
    }
}
